"""What every template may use: the six questions, the sheet (day or night)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpRequest

from sightwash import __version__

SHEET_COOKIE: Final = "sheet"
SHEETS: Final = ("day", "night")


@dataclass(frozen=True, slots=True)
class Question:
    """One of the six questions asked of a property; its page stands at ``/properties/<id>/<slug>/``."""

    slug: str
    words: str


QUESTIONS: Final = (
    Question("who-sees-it", "Who sees it?"),
    Question("who-reaches-it", "Who reaches it?"),
    Question("with-what", "With what?"),
    Question("how-long", "How long?"),
    Question("what-does-it-cost", "What does it cost?"),
    Question("is-it-done", "Is it done?"),
)


def office(request: HttpRequest) -> dict[str, Any]:
    """Return what every template may use."""
    chosen = request.COOKIES.get(SHEET_COOKIE, "")
    return {
        "questions": QUESTIONS,
        "sheet": chosen if chosen in SHEETS else "",
        "version": __version__,
    }
