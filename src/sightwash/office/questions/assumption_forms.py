"""The form of assumptions: each as it is typed, with what it is now."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from sightwash.office.bridge.assumptions import Assumed

FIELDS: Final = (
    ("wind", "Wind", "Such as 12 mph. It decides drift, reach and drying."),
    ("start", "Start", "On the site's clock, such as 22:00."),
    ("hose", "Length of the first hose", "Such as 200 ft. It decides what pressure is left at the tip."),
    ("tip", "Size of the long-throw tip", "Its size number. A field test of another size does not count for it."),
    ("people", "People on the crew", "Such as 3."),
    ("margin", "Margin of the price", "Such as 32 %."),
)


class AssumptionForm(forms.Form):
    """What may be assumed otherwise."""

    def __init__(self, data: Any = None, *, now: Assumed) -> None:
        super().__init__(data, initial={name: getattr(now, name) for name, _, _ in FIELDS})
        for name, words, help_text in FIELDS:
            self.fields[name] = forms.CharField(label=words, help_text=help_text, required=False, max_length=24)

    def assumed(self) -> Assumed:
        """Return what was typed."""
        return Assumed(**{name: str(self.cleaned_data.get(name, "")) for name, _, _ in FIELDS})
