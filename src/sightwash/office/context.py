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
    says: str


QUESTIONS: Final = (
    Question("who-sees-it", "Who sees it?", "What the public sees, what is hidden, what the crew would miss."),
    Question(
        "who-reaches-it", "Who reaches it?", "Where to stand, how far water carries, ladders, what must stay dry."
    ),
    Question("with-what", "With what?", "Methods, pressures, mixes, how long it stays wet, where the water goes."),
    Question("how-long", "How long?", "Hours with their spread, and the night by the clock."),
    Question("what-does-it-cost", "What does it cost?", "The price and what makes it, options, the chance of a loss."),
    Question("is-it-done", "Is it done?", "Ticks, photographs, readings, and the next visit."),
)


def office(request: HttpRequest) -> dict[str, Any]:
    """Return what every template may use."""
    chosen = request.COOKIES.get(SHEET_COOKIE, "")
    return {
        "questions": QUESTIONS,
        "sheet": chosen if chosen in SHEETS else "",
        "version": __version__,
    }
