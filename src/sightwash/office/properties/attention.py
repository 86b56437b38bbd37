"""What needs attention, in plain words: due, not answered, not paid, stopped by weather."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from sightwash.office.models import Firm, Property, Visit

SOON: Final = timedelta(days=14)
_STATES: Final = (Visit.State.OFFERED, Visit.State.STOPPED, Visit.State.DONE)


@dataclass(frozen=True, slots=True)
class Matter:
    """One thing that needs attention: of which property, since when, in words."""

    property: int
    since: date
    words: str


def matters(firm: Firm, today: date) -> list[Matter]:
    """Return all that needs attention, the longest waiting first."""
    found = [
        Matter(visit.property_id, visit.on, _visit_words(visit, today))
        for visit in Visit.objects.of(firm).filter(state__in=_STATES, property__archived=False).defer("conditions")
    ]
    due = Property.objects.of(firm).filter(archived=False, next_due__lte=today + SOON).values_list("pk", "next_due")
    found += [Matter(pk, day, _due_words(day, today)) for pk, day in due]
    return sorted(found, key=lambda matter: (matter.since, matter.property))


def _visit_words(visit: Visit, today: date) -> str:
    day = day_words(visit.on)
    if visit.state == Visit.State.OFFERED:
        return f"Offer for {day} is not answered"
    if visit.state == Visit.State.STOPPED:
        return f"Stopped by weather on {day}: set a new day"
    late = (today - visit.on).days
    return f"Done on {day}, not paid" + (f" for {late} days" if late > 1 else "")


def _due_words(day: date, today: date) -> str:
    if day < today:
        return f"Due since {day_words(day)}"
    return "Due today" if day == today else f"Due on {day_words(day)}"


def day_words(day: date) -> str:
    """Return a day in words.

    >>> day_words(date(2026, 7, 1))
    '1 July 2026'
    """
    return f"{day.day} {day:%B %Y}"
