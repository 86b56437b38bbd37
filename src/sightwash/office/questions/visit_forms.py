"""Forms of visits, offers, records and payments."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any, Final

from django import forms

from sightwash.basis.errors import InputError
from sightwash.office.bridge.documents import canonical, problem_words
from sightwash.site.conditions import Conditions

WEATHER: Final = (
    ("air_temperature", "Air", "Such as 76 F, at the hours of work."),
    ("humidity", "Humidity", "Such as 64 %."),
    ("wind_speed", "Wind", "Such as 4 mph."),
    ("gust", "Gusts", "Such as 8 mph."),
    ("wind_from", "Wind from", "A bearing such as 215 deg."),
    ("cloud", "Cloud", "Such as 20 %."),
    ("rain_chance", "Chance of rain", "Such as 10 %."),
    ("coldest_before_dry", "Coldest before it is dry", "Such as 60 F."),
)
DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
CLOCK = {"type": "time"}


class VisitForm(forms.Form):
    """A visit on a date, in conditions; ``conditions`` after validation is the document as canonical JSON."""

    on = forms.DateField(label="On", widget=DAY)
    start = forms.CharField(label="From", required=False, max_length=8, widget=forms.TextInput(attrs=CLOCK))
    end = forms.CharField(label="Until", required=False, max_length=8, widget=forms.TextInput(attrs=CLOCK))
    nights = forms.IntegerField(label="Nights in a row", min_value=1, max_value=14, initial=1)
    owner_visit = forms.CharField(
        label="The owner comes to look",
        required=False,
        max_length=20,
        help_text="Such as 2026-07-13 09:00; leave it empty if nobody does.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.conditions = ""
        for name, words, help_text in WEATHER:
            self.fields[name] = forms.CharField(label=words, help_text=help_text, required=False, max_length=24)

    def clean(self) -> dict[str, Any]:
        """Put the fields into a conditions document; the reader says what is wrong, beside the field."""
        found = super().clean() or self.cleaned_data
        if self.errors:
            return found
        weather = {name: found[name].strip() for name, _, _ in WEATHER if found.get(name, "").strip()}
        tree: dict[str, Any] = {"kind": "conditions", "schema": 1, "id": "visit", "date": found["on"].isoformat()}
        tree |= {key: found[key].strip() for key in ("start", "end", "owner_visit") if found[key].strip()}
        tree |= {"nights": found["nights"], **({"weather": weather} if weather else {})}
        try:
            self.conditions = canonical(json.dumps(tree), Conditions)
        except InputError as error:
            for problem in error.problems:
                name = (problem.key or "").rsplit(".", 1)[-1]
                self.add_error(
                    "on" if name == "date" else name if name in self.fields else None, problem_words(problem)
                )
        return found


class OfferForm(forms.Form):
    """For whom an offer is made: name and address, a line each."""

    customer = forms.CharField(
        label="For",
        max_length=600,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="Name and address as they stand on the agreement, a line each.",
    )


class AnswerForm(forms.Form):
    """What the customer said to an offer, and to which option."""

    answer = forms.ChoiceField(choices=[("accepted", "Accepted"), ("declined", "Declined")])
    option = forms.CharField(required=False, max_length=60)
    accepted_by = forms.CharField(label="Who said so", required=False, max_length=120)

    def clean(self) -> dict[str, Any]:
        """Ask for the name of whoever accepted."""
        found = super().clean() or self.cleaned_data
        if found.get("answer") == "accepted" and not (found.get("accepted_by") or "").strip():
            self.add_error("accepted_by", "Write who accepted it.")
        return found


class PaymentForm(forms.Form):
    """Money that came in."""

    amount = forms.DecimalField(label="Amount", min_value=Decimal("0.01"), max_digits=12, decimal_places=2)
    by = forms.CharField(label="How", max_length=60, help_text="Such as a transfer or a cheque number.")


class MissForm(forms.Form):
    """Somebody looked at a missed strip."""

    miss = forms.CharField(max_length=80)
    looked_by = forms.CharField(label="Who looked", max_length=120)
    stood = forms.CharField(label="From where", max_length=200)
    clean_now = forms.BooleanField(label="It is clean", required=False)


class ReadingForm(forms.Form):
    """A chlorine reading."""

    where = forms.CharField(label="Where", max_length=120, help_text="Such as the east drain, after.")
    free_chlorine = forms.FloatField(label="Free chlorine, mg/L", min_value=0, max_value=200_000)
    method = forms.CharField(label="Measured with", max_length=80, help_text="Such as a test strip.")
    limit = forms.FloatField(label="Agreed limit, mg/L", required=False, min_value=0, max_value=200_000)


class WordsForm(forms.Form):
    """What else is written down of a visit."""

    start = forms.CharField(label="Began", required=False, max_length=8, widget=forms.TextInput(attrs=CLOCK))
    end = forms.CharField(label="Ended", required=False, max_length=8, widget=forms.TextInput(attrs=CLOCK))
    water = forms.CharField(label="Water used", required=False, max_length=24, help_text="Such as 900 gal.")
    mix = forms.CharField(label="Mix used", required=False, max_length=24, help_text="Such as 45 gal.")
    water_went = forms.CharField(label="Where the water went", required=False, max_length=200)
    damage = forms.CharField(label="Damage", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 2}))
    note = forms.CharField(label="Note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 2}))


class PhotographForm(forms.Form):
    """A photograph from an eye point, before or after."""

    eye = forms.CharField(max_length=80)
    when = forms.ChoiceField(choices=[("before", "Before"), ("after", "After")])
    photograph = forms.FileField(label="Photograph", max_length=200)


class NextForm(forms.Form):
    """When the property is due again."""

    next_due = forms.DateField(label="Due again", widget=DAY)
