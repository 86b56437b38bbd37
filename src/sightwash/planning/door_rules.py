"""Rules at doors and fixtures: bearings that keep water from a door, and no direct jet on any fixture."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import time
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT
from sightwash.science.doors import allowed_bearings, opening_share
from sightwash.site.conditions import Conditions
from sightwash.site.shapes import PlacedWall
from sightwash.site.walls import Door, Fixture

SPOT_BEFORE: Final = 4 * FOOT
JET_ANGLE: Final = 45.0
"""Usual tilt of the wand above the pavement [deg]; a judgement."""
GOOD_SHARE: Final = 0.1
"""A bearing is allowed where it sends into the door at most this share of what the worst bearing sends [-]."""
FLUSH: Final = 0.25 * 0.0254


@dataclass(frozen=True, slots=True)
class DoorRule:
    """How water is kept out of one door: allowed bearings from straight-at-it [deg], how much better they are."""

    door: str
    wall: str
    first_bearing: float | None
    last_bearing: float | None
    along_against_square: float
    away_against_square: float
    flush: bool
    in_use: bool
    words: str
    why: Why


@dataclass(frozen=True, slots=True)
class FixtureRule:
    """How one fixture is spared; ``live`` unless somebody who can isolate it is named."""

    fixture: str
    wall: str
    kind: str
    live: bool
    words: str
    why: Why


def plan_door_rules(walls: tuple[PlacedWall, ...], conditions: Conditions) -> tuple[DoorRule, ...]:
    """Return the rule of every door on a wall that is worked on."""
    return tuple(_door(placed, door, conditions) for placed in _worked(walls) for door in placed.wall.doors)


def plan_fixture_rules(walls: tuple[PlacedWall, ...]) -> tuple[FixtureRule, ...]:
    """Return the rule of every fixture on a wall that is worked on."""
    return tuple(_fixture(placed, fixture) for placed in _worked(walls) for fixture in placed.wall.fixtures)


def _worked(walls: tuple[PlacedWall, ...]) -> Iterator[PlacedWall]:
    return (placed for placed in walls if placed.wall.excluded is None)


def _door(placed: PlacedWall, door: Door, conditions: Conditions) -> DoorRule:
    width = float(door.width)
    bearings = allowed_bearings(JET_ANGLE, width, SPOT_BEFORE, 0.0, GOOD_SHARE)
    square, along, away = (opening_share(JET_ANGLE, b, width, SPOT_BEFORE) for b in (0.0, 90.0, 180.0))
    flush = door.threshold is None or door.threshold <= FLUSH
    used = _in_use(door, conditions)
    words = [f"{door.id}: never square at it; turn the jet along the wall or away"]
    if bearings is not None:
        words.append(f"from 4 ft before it point at least {bearings.start:.0f} degrees off straight-at-it")
    words.append("by hand rather than by jet" if bearings is None else "pass it quickly")
    if flush:
        words.append("the threshold is flush or unknown: lay a barrier, look inside first and after")
    if used:
        words.append("it may be in use while you work: one person minds it")
    return DoorRule(
        door.id,
        placed.wall.id,
        bearings.start if bearings else None,
        bearings.end if bearings else None,
        along / square,
        away / square,
        flush,
        used,
        "; ".join(words),
        Why(
            "share of an oblique jet's water that runs toward the opening, better against worse, not a forecast",
            ("oblique-round-jet", "practice-doors"),
        ),
    )


def _in_use(door: Door, conditions: Conditions) -> bool:
    """Return whether a door's opening hours and the working window overlap; unknown hours count as in use."""
    if door.hours is None:
        return door.tenant is None or "empty" not in door.tenant.lower()
    if conditions.start is None:
        return True
    end = conditions.end or conditions.start
    opened, work = _minutes(door.hours.open, door.hours.close), _minutes(conditions.start, end)
    return bool(opened & work)


def _minutes(start: time, end: time) -> set[int]:
    """Return the minutes of a window as numbers of the day; it may cross midnight, or last the whole day."""
    first, last = start.hour * 60 + start.minute, end.hour * 60 + end.minute
    return set(range(first, last)) if last > first else {*range(first, 1440), *range(last)}


def _fixture(placed: PlacedWall, fixture: Fixture) -> FixtureRule:
    electric = fixture.kind in ("luminaire", "outlet", "lit sign", "sign transformer", "camera", "speaker", "alarm")
    live = (electric or fixture.kind == "weatherhead") and fixture.isolated_by is None
    words = [f"{fixture.id}: no direct jet"]
    if electric:
        words.append(
            "taken as live: no water near it" if live else f"isolated by {fixture.isolated_by}, locked and tested"
        )
        words.append(
            f"rated {fixture.rating}: bears drift and rinse only so far"
            if fixture.rating
            else "rating unknown: damp at most"
        )
    if fixture.kind in ("intake", "vent"):
        words.append("close and cover before treating")
    if fixture.kind == "weatherhead":
        words.append("only the owner of the service makes it dead: keep wand and water 10 ft and more away")
    if fixture.kind in ("gas riser", "meter"):
        words.append("rinse past it by hand")
    return FixtureRule(
        fixture.id,
        placed.wall.id,
        fixture.kind,
        live,
        "; ".join(words),
        Why(
            "a rating says how a fixture bears rain and splash, none covers a washer's jet at close range",
            ("iec-60529", "lockout-1910"),
        ),
    )
