"""Gates before paint: surface dry after the wash, air and surface temperature, dew point margin, rain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.weather import Air
from sightwash.science.vapour import dew_point
from sightwash.site.conditions import Weather

COLDEST: Final = (40.0 - 32.0) / 1.8
HOTTEST: Final = (95.0 - 32.0) / 1.8
DEW_MARGIN: Final = 5.0 / 1.8
"""How far the surface should be above the dew point, 5 F [K]."""
RAIN: Final = 0.2
"""Chance of rain from which nothing is painted [-]; a judgement."""
CURE_DAYS: Final = 30


@dataclass(frozen=True, slots=True)
class PaintGate:
    """One thing that must hold before paint goes down; ``state`` is open, shut or measure."""

    id: str
    state: str
    words: str
    why: Why


@dataclass(frozen=True, slots=True)
class PaintGates:
    """All gates, and the earliest moment for paint: after the last water and the slow end of drying."""

    gates: tuple[PaintGate, ...]
    earliest: datetime | None
    may_paint: bool
    words: str


def plan_paint_gates(air: Air, weather: Weather, dry: datetime | None) -> PaintGates:
    """Return the gates; ``dry`` is when the ground is dry at the latest, None where that is not known or too far."""
    gates = tuple(_gates(air, weather, dry))
    shut = [gate.id for gate in gates if gate.state == "shut"]
    words = (
        f"no paint: {', '.join(shut)}"
        if shut
        else "paint after the wash, in a visit of its own or behind it, once every gate was measured open"
    )
    return PaintGates(gates, dry, not shut, words)


def _gates(air: Air, weather: Weather, dry: datetime | None) -> Iterator[PaintGate]:
    paint = ("ufgs-02763a",)
    when = "look again next day" if dry is None else f"not before {dry:%a %H:%M}"
    yield PaintGate(
        "dry surface", "measure", f"washed ground is dry to the hand and under taped film; {when}",
        Why("paint goes on clean, dry ground only; the slow end of the drying time counts", (*paint, "film-depths")),
    )  # fmt: skip
    known = weather.air_temperature is not None
    fits = COLDEST <= air.temperature <= HOTTEST
    yield PaintGate(
        "air temperature", ("open" if fits else "shut") if known else "measure",
        f"air between 40 and 95 F; reckoned with {air.temperature * 1.8 + 32:.0f} F",
        Why("limits of a public guide specification; the paint's own label comes first", paint),
    )  # fmt: skip
    yield PaintGate(
        "surface temperature", "measure", "pavement between 40 and 95 F by a surface thermometer",
        Why("limits of a public guide specification; the paint's own label comes first", paint),
    )  # fmt: skip
    point = dew_point(air.temperature, max(air.humidity, 0.01))
    close = known and weather.humidity is not None and air.temperature - point < DEW_MARGIN
    yield PaintGate(
        "dew point", "shut" if close else "measure",
        f"dew point {point * 1.8 + 32:.0f} F: pavement at {(point + DEW_MARGIN) * 1.8 + 32:.0f} F or more and rising",
        Why("5 F above the dew point and rising, as specifications often ask", ("mil-hdbk-1110",)),
    )  # fmt: skip
    yield from _sky(weather)
    yield PaintGate(
        "age", "measure", f"new asphalt or concrete is {CURE_DAYS} days old at least",
        Why("new pavement cures before paint", paint),
    )  # fmt: skip


def _sky(weather: Weather) -> Iterator[PaintGate]:
    chance = weather.rain_chance
    yield PaintGate(
        "rain", "measure" if chance is None else "shut" if chance >= RAIN else "open",
        "no rain until the paint is dry by its label",
        Why("rain takes fresh paint into the drains; a chance of 20 % shuts the gate", ("practice-add-ons",)),
    )  # fmt: skip
    coldest = weather.coldest_before_dry
    yield PaintGate(
        "cold before dry", "measure" if coldest is None else "shut" if coldest < COLDEST else "open",
        "above 40 F until the paint is dry",
        Why("no paint where 40 F may come before it is dry", ("mil-hdbk-1110",)),
    )  # fmt: skip
