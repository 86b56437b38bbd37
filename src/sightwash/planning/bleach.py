"""The bleach on hand: its strength as its label says and its strength on the day, with a band.

A test of the stock replaces the estimate: from its day on the law runs from what was read.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from sightwash.basis.errors import InputError, OutOfRange, OutsidePublishedRange, Problem
from sightwash.basis.sources import Why
from sightwash.planning.storage import DAY, storage_from
from sightwash.science import strength as terms
from sightwash.science.hypochlorite import aged_salt_factor
from sightwash.science.storage import strength_band
from sightwash.site.fields import Strength
from sightwash.site.rig import Bleach, StrengthReading

ASSUMED_GRAVITY: Final = 1.16
ASSUMED_AGE: Final = 60 * DAY
FRESH_SALT: Final = 2.0
SALTY: Final = 3.1
MOST_SALT: Final = 10.0
"""Ionic strength per mole of hypochlorite: as made, salty or old, and the most that is reckoned with [-]."""
TEST_ERRORS: Final = {"titration": 0.02, "test kit": 0.10, "test strip": 0.25}
"""How far off a test may be as a share, where the user says nothing [-]; a judgement."""


@dataclass(frozen=True, slots=True)
class ReadingToday:
    """A test of the stock as it was noted: what it read [mg/L], when, how, how far off it may be [-]."""

    typed: str
    strength: float
    on: date
    by: str
    error: float


@dataclass(frozen=True, slots=True)
class BleachToday:
    """Strength of the stock as labelled and on the day, low, likely and high [mg/L available chlorine]."""

    typed: str
    labelled: float
    low: float
    likely: float
    high: float
    age: float
    storage_temperature: float
    specific_gravity: float
    volume: float | None
    assumed: tuple[str, ...]
    reading: ReadingToday | None
    estimate: float
    history: str
    beyond: tuple[str, ...]
    why: Why


def labelled_strength(strength: Strength, specific_gravity: float) -> float:
    """Return a label's strength as available chlorine [mg/L]."""
    if strength.term == "trade %":
        return terms.strength_from_trade_percent(strength.value)
    if strength.term == "g/L":
        return terms.strength_from_grams_per_litre(strength.value)
    if strength.term == "wt % chlorine":
        return terms.strength_from_weight_percent_chlorine(strength.value, specific_gravity)
    return terms.strength_from_weight_percent_hypochlorite(strength.value, specific_gravity)


def plan_bleach(bleach: Bleach | None, on: date) -> BleachToday | None:
    """Return the strength of the bleach on the day of the visit; None without bleach.

    Raises InputError when the bleach or its test is dated after the visit.
    """
    if bleach is None:
        return None
    gravity = ASSUMED_GRAVITY if bleach.specific_gravity is None else bleach.specific_gravity
    labelled = _labelled(bleach.strength, gravity, "bleach.strength")
    dated = on - timedelta(days=ASSUMED_AGE // DAY) if bleach.dated is None else bleach.dated
    _not_after(dated, on, "bleach.dated", "the bleach")
    stored = storage_from(bleach, dated, on)
    salts: tuple[float, ...] = (SALTY if bleach.salty else FRESH_SALT, SALTY)
    low, likely, high, beyond = _band(labelled, bleach, dated, on, salts)
    if bleach.dated is None:
        high = labelled  # it may be fresh
    estimate = likely
    reading = _reading(bleach.reading, gravity, on)
    rule = "loses strength with age and heat; a test on the day beats this estimate"
    if reading is not None:
        salts = tuple(_salt_now(labelled, reading.strength, salt) for salt in salts)
        low, likely, high, beyond = _band(reading.strength, bleach, reading.on, on, salts)
        low, high = low * (1.0 - reading.error), min(high * (1.0 + reading.error), 200_000.0)
        rule = f"{reading.by} of {reading.on}: {reading.typed}, good to {reading.error:.0%}; it replaces the estimate"
    assumed = _assumed(bleach, stored.assumed and (dated if reading is None else reading.on) < on)
    if assumed:
        rule += f"; assumed: {', '.join(assumed)}"
    sources = ("adam-gordon-1999",) if reading is None else ("user-document", "adam-gordon-1999")
    volume = None if bleach.volume is None else float(bleach.volume)
    return BleachToday(
        bleach.strength.typed, labelled, low, likely, high, (on - dated).days * DAY, stored.mean, gravity, volume,
        assumed, reading, estimate, stored.words, beyond, Why(rule, sources),
    )  # fmt: skip


def _labelled(strength: Strength, specific_gravity: float, key: str) -> float:
    try:
        return labelled_strength(strength, specific_gravity)
    except OutOfRange as error:
        message = f"{strength.typed} is stronger than liquid bleach exists"
        raise InputError(
            Problem("out-of-range", message, key=key, expected=error.expected, fix="read the label again")
        ) from None


def _band(
    strength: float, bleach: Bleach, start: date, on: date, salts: tuple[float, ...]
) -> tuple[float, float, float, tuple[str, ...]]:
    """Return low, likely and high on the day, and where the law runs beyond what was measured."""
    if start >= on:
        return strength, strength, strength, ()
    stored = storage_from(bleach, start, on)
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always", OutsidePublishedRange)
        band = strength_band(strength, stored.temperatures, stored.durations, min(salts), max(salts))
    return band.low, band.likely, band.high, tuple(dict.fromkeys(str(warning.message) for warning in caught))


def _salt_now(made: float, present: float, salt: float) -> float:
    """Return the salt factor of stock that tested weaker than it was made; its salt has stayed."""
    return min(aged_salt_factor(made, min(present, made), salt), MOST_SALT)


def _reading(reading: StrengthReading | None, gravity: float, on: date) -> ReadingToday | None:
    if reading is None:
        return None
    _not_after(reading.date, on, "bleach.reading.date", "the test")
    error = TEST_ERRORS[reading.by] if reading.error is None else float(reading.error)
    strength = _labelled(reading.strength, gravity, "bleach.reading.strength")
    return ReadingToday(reading.strength.typed, strength, reading.date, reading.by, error)


def _assumed(bleach: Bleach, warmth: bool) -> tuple[str, ...]:
    by_weight = any(
        strength.term.startswith("wt")
        for strength in (bleach.strength, *((bleach.reading.strength,) if bleach.reading else ()))
    )
    gravity = "specific gravity 1.16" + ("" if by_weight else " (bears on the load only)")
    return tuple(
        words
        for missing, words in (
            (bleach.specific_gravity is None, gravity),
            (warmth, "stored at 90 F"),
            (bleach.dated is None and bleach.reading is None, "60 days old"),
        )
        if missing
    )


def _not_after(day: date, on: date, key: str, what: str) -> None:
    if day > on:
        raise InputError(
            Problem(
                "dated-after-visit",
                f"{what} is dated {day}, after the visit on {on}",
                key=key,
                expected="a date on or before the visit",
                fix="read the date again",
            )
        )
