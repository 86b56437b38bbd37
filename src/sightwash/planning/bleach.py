"""The bleach on hand: its strength as its label says and its strength on the day, with a band."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from datetime import date
from typing import Final

from sightwash.basis.errors import InputError, OutOfRange, OutsidePublishedRange, Problem
from sightwash.basis.sources import Why
from sightwash.science import strength as terms
from sightwash.science.storage import strength_band
from sightwash.site.fields import Strength
from sightwash.site.rig import Bleach

DAY: Final = 86_400.0
ASSUMED_GRAVITY: Final = 1.16
ASSUMED_AGE: Final = 60 * DAY
ASSUMED_STORAGE: Final = 32.2
"""Worst case taken for an unknown storage temperature [degC] (90 F)."""
COLDEST_STORAGE: Final = -30.0
"""Colder storage counts as this [degC]: no stock is liquid there."""


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

    Raises InputError when the bleach is dated after the visit or stronger than any bleach.
    """
    if bleach is None:
        return None
    assumed = tuple(
        words
        for value, words in (
            (bleach.specific_gravity, "specific gravity 1.16"),
            (bleach.storage_temperature, "stored at 90 F"),
            (bleach.dated, "60 days old"),
        )
        if value is None
    )
    gravity = ASSUMED_GRAVITY if bleach.specific_gravity is None else bleach.specific_gravity
    warmth = ASSUMED_STORAGE if bleach.storage_temperature is None else float(bleach.storage_temperature)
    age = ASSUMED_AGE if bleach.dated is None else _age(bleach.dated, on)
    labelled = _labelled(bleach.strength, gravity)
    low, likely, high, doubts = _today(bleach, labelled, warmth, age)
    rule = "loses strength with age and heat; a test on the day beats this estimate"
    if assumed:
        rule += f"; assumed: {', '.join(assumed)}"
    rule = "; ".join((rule, *doubts))
    volume = None if bleach.volume is None else float(bleach.volume)
    return BleachToday(
        bleach.strength.typed,
        labelled,
        low,
        likely,
        high,
        age,
        warmth,
        gravity,
        volume,
        assumed,
        Why(rule, ("adam-gordon-1999",)),
    )


def _labelled(strength: Strength, specific_gravity: float) -> float:
    try:
        return labelled_strength(strength, specific_gravity)
    except OutOfRange as error:
        message = f"{strength.typed} is stronger than liquid bleach exists"
        raise InputError(
            Problem("out-of-range", message, key="bleach.strength", expected=error.expected, fix="read the label again")
        ) from None


def _today(bleach: Bleach, labelled: float, warmth: float, age: float) -> tuple[float, float, float, tuple[str, ...]]:
    """Return low, likely and high strength on the day [mg/L], and what makes the estimate doubtful.

    Salty stock takes the lower edge of the band; stock of unknown date may also be as fresh as its label says.
    """
    if age <= 0:
        return labelled, labelled, labelled, ()
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always", OutsidePublishedRange)
        band = strength_band(labelled, (max(warmth, COLDEST_STORAGE),), (age,))
    doubts = tuple(dict.fromkeys(str(warning.message) for warning in caught))
    high = labelled if bleach.dated is None else band.high
    return band.low, band.low if bleach.salty else band.likely, high, doubts


def _age(dated: date, on: date) -> float:
    if dated > on:
        raise InputError(
            Problem(
                "dated-after-visit",
                f"the bleach is dated {dated}, after the visit on {on}",
                key="bleach.dated",
                expected="a date on or before the visit",
                fix="read the date on the drum again",
            )
        )
    return (on - dated).days * DAY
