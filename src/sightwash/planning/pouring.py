"""What to pour, in measures that a crew has: gallons, quarts and ounces, or litres and millilitres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sightwash.basis.units import GALLON
from sightwash.science.measures import measured_volume

OUNCE: Final = GALLON / 128
_US_STEPS: Final = ((0.25 * GALLON, 0.5 * OUNCE), (GALLON, OUNCE), (5 * GALLON, 4 * OUNCE), (1e9, 16 * OUNCE))
_METRIC_STEPS: Final = ((0.5, 0.01), (4.0, 0.025), (20.0, 0.1), (1e9, 0.5))
"""Up to which volume which mark of a measure is read [L]; about one part in a hundred."""


@dataclass(frozen=True, slots=True)
class Pour:
    """One thing to pour: its place in the order, what it is, how much [L], and that in measures."""

    order: int
    what: str
    volume: float
    words: str


def measured(volume: float, system: str) -> float:
    """Return a volume at the nearest mark of the measure that a crew would take [L]."""
    steps = _US_STEPS if system == "us" else _METRIC_STEPS
    step = next(step for most, step in steps if volume <= most)
    return measured_volume(volume, step)


def measured_words(volume: float, system: str) -> str:
    """Return a measured volume in words.

    >>> measured_words(3.5 * GALLON + 11 * OUNCE, "us"), measured_words(2.025, "metric")
    ('3 gal 2 qt 11 fl oz', '2 L 25 mL')
    """
    if system != "us":
        litres, rest = divmod(round(volume * 1000), 1000)
        parts = [f"{litres} L" if litres else "", f"{rest} mL" if rest else ""]
        return " ".join(part for part in parts if part) or "none"
    halves = round(volume / OUNCE * 2)
    gallons, rest = divmod(halves, 256)
    quarts, ounces = divmod(rest, 64)
    parts = [
        f"{gallons} gal" if gallons else "",
        f"{quarts} qt" if quarts else "",
        f"{ounces / 2:g} fl oz" if ounces else "",
    ]
    return " ".join(part for part in parts if part) or "none"


def pours(amounts: tuple[tuple[str, float], ...], system: str) -> tuple[Pour, ...]:
    """Return what to pour in order, each at a mark of a measure; what comes to nothing is left out."""
    marked = [(what, measured(volume, system)) for what, volume in amounts]
    kept = [(what, volume) for what, volume in marked if volume > 0.0]
    return tuple(
        Pour(order, what, volume, measured_words(volume, system)) for order, (what, volume) in enumerate(kept, 1)
    )
