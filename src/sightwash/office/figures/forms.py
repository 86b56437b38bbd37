"""The short form and the whole text of a document."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from sightwash.basis.errors import InputError
from sightwash.office.bridge.documents import canonical_kind, problem_path, problem_words, value_at, with_values
from sightwash.office.figures.asked import ASKED

LONGEST: Final = 200_000


class FiguresForm(forms.Form):
    """The figures of a document that matter most; ``text`` after validation is the whole document with them."""

    revision = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, kind: str, text: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.kind, self.text = kind, text
        self.paths: dict[str, str] = {}
        for figure in ASKED[kind]:
            name = figure.path.replace(".", "_")
            self.paths[figure.path] = name
            self.fields[name] = forms.CharField(
                label=figure.words,
                help_text=figure.help,
                required=False,
                max_length=400,
                initial=value_at(text, figure.path),
                widget=forms.Textarea(attrs={"rows": 3}) if figure.long else forms.TextInput(),
            )

    def clean(self) -> dict[str, Any]:
        """Put the figures into the document; the reader says what is wrong, and each stands beside its field."""
        found = super().clean() or self.cleaned_data
        if self.errors:
            return found
        values = {path: str(found[name]) for path, name in self.paths.items()}
        changed = {path: value for path, value in values.items() if value.strip() != value_at(self.text, path)}
        try:
            self.text = with_values(self.text, self.kind, changed)
        except InputError as error:
            for problem in error.problems:
                self.add_error(self.paths.get(problem_path(problem)), self._words(problem_path(problem), problem))
        return found

    def _words(self, path: str, problem: Any) -> str:
        words = problem_words(problem)
        return words if path in self.paths else f"{path}: {words}" if path else words


class WholeForm(forms.Form):
    """A whole document, as JSON or YAML."""

    revision = forms.IntegerField(widget=forms.HiddenInput)
    text = forms.CharField(
        label="The document",
        max_length=LONGEST,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 24, "class": "document", "spellcheck": "false", "autocapitalize": "off"}),
    )

    def __init__(self, *args: Any, kind: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.kind = kind

    def clean_text(self) -> str:
        """Return the text as canonical JSON; say what is wrong with its line."""
        try:
            return canonical_kind(str(self.cleaned_data["text"]), self.kind)
        except InputError as error:
            raise forms.ValidationError([_with_line(problem) for problem in error.problems]) from None


def _with_line(problem: Any) -> str:
    line = f"Line {problem.line}: " if problem.line else ""
    key = f"{problem.key}: " if problem.key else ""
    return f"{line}{key}{problem_words(problem)}"
