"""Forms of properties."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from sightwash.basis.errors import InputError
from sightwash.office.bridge import starting
from sightwash.office.bridge.documents import problem_words
from sightwash.office.models import Property

if TYPE_CHECKING:
    _OfProperty = forms.ModelForm[Property]
else:
    _OfProperty = forms.ModelForm

UNITS = (("us", "feet and inches"), ("metric", "metres"))


class _NewForm(forms.Form):
    """What every way to add a property asks; ``site_text`` after validation is its site."""

    name = forms.CharField(max_length=120, label="Name of the property", help_text="As you and the crew call it.")
    address = forms.CharField(max_length=200, label="Address", required=False)
    units = forms.ChoiceField(choices=UNITS, label="Measured in", initial="us")
    site_text = ""

    def clean(self) -> dict[str, Any]:
        """Make the site; what is wrong stands beside its field."""
        found = super().clean() or self.cleaned_data
        if not self.errors:
            self.site_text = self.made(found)
        return found

    def made(self, found: dict[str, Any]) -> str:
        """Return the site's text, or put what is wrong beside the fields."""
        try:
            return starting.site_of_nothing(found["name"], found["units"])
        except InputError as error:
            for problem in error.problems:
                self.add_error("name", problem_words(problem))
            return ""


class DrawForm(_NewForm):
    """A name alone; the rest is drawn."""


class WallsForm(_NewForm):
    """Walls as typed."""

    walls = forms.CharField(
        max_length=6000,
        label="Walls, in the order you walk them",
        help_text="One to a line: a name if you like, the length, x, the height. Bare numbers are in the unit above.",
        widget=forms.Textarea(attrs={"rows": 5, "placeholder": "Front 120 ft x 14 ft\nEast end 60 ft x 14 ft"}),
    )
    walk = forms.CharField(
        max_length=40,
        required=False,
        label="Width of the walk before the first wall",
        help_text="Such as 8 ft. Empty: none.",
    )

    def made(self, found: dict[str, Any]) -> str:
        """Return the site's text, or put what is wrong beside the fields."""
        walls: tuple[starting.TypedWall, ...] = ()
        try:
            walls = starting.typed_walls(found["walls"])
            return starting.site_of_walls(found["name"], found["units"], walls, found["walk"])
        except InputError as error:
            for field, words in starting.wall_problems(error, walls):
                self.add_error(field, words)
            return ""


class FootprintForm(_NewForm):
    """A footprint file."""

    file = forms.FileField(
        label="Footprint file",
        help_text="GeoJSON with the outline of each building, from a map or a survey. Up to 5 MB; nothing is sent on.",
        widget=forms.FileInput(attrs={"accept": ".geojson,.json,application/geo+json"}),
        max_length=200,
    )
    crs = forms.CharField(
        max_length=40,
        required=False,
        label="Coordinate system of the file",
        help_text="Empty when it holds longitude and latitude. Else its code, such as EPSG:2278.",
    )

    def made(self, found: dict[str, Any]) -> str:
        """Return the site's text, or put what is wrong beside the file."""
        file = found["file"]
        try:
            data = file.read(starting.LARGEST_FILE + 1)
            return starting.site_of_footprint(data, str(file.name), found["units"], found["crs"])
        except InputError as error:
            for problem in error.problems[:10]:
                self.add_error("crs" if problem.code in ("bad-crs", "unknown-crs") else "file", problem_words(problem))
            return ""


class PropertyForm(_OfProperty):
    """What is written on the folder of a property."""

    next_due = forms.DateField(
        required=False,
        label="Next visit due",
        help_text="From two weeks before, it stands under what needs you.",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    archived = forms.BooleanField(required=False, label="Put away: not shown in the list, nothing is lost")

    class Meta:
        """Which fields."""

        model = Property
        fields = ("name", "address", "next_due", "archived")
