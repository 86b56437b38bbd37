"""What a trim strip costs that is wider than it has to be: minutes in all and minutes at the doors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import INCH, convert
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.production import rate_in_use
from sightwash.science.ground_time import wide_trim_time
from sightwash.site.rates import Rates
from sightwash.site.rig import SurfaceCleaner
from sightwash.site.shapes import PlacedWall

TOO_WIDE: Final = 12 * INCH
"""Width that is shown beside the rig's own: a foot is soon trimmed without a thought [m]."""


@dataclass(frozen=True, slots=True)
class TrimCost:
    """Trim of one surface: its length, and at the doors; what widths cost beyond what the shroud leaves [s]."""

    length: float
    door_length: float
    needed: float
    planned: float
    planned_time: float
    planned_door_time: float
    wide: float
    wide_time: float
    wide_door_time: float
    words: str
    why: Why


def plan_trim_cost(
    takeoff: GroundTakeoff,
    walls: tuple[PlacedWall, ...],
    doors: tuple[str, ...],
    strip: float,
    cleaner: SurfaceCleaner,
    rates: Rates,
    cleaner_rate: float,
) -> TrimCost | None:
    """Return what the rig's trim strip and one of a foot cost on a surface; None where there is nothing to trim."""
    length = sum(part.length for part in takeoff.parts if part.how == "trim")
    if length <= 0.0:
        return None
    before = sum(float(door.width) for placed in walls for door in placed.wall.doors if door.id in doors)
    found = rate_in_use(rates, "wand-ground")
    wand = convert(found.usual, found.unit, "m2/s")
    gap = float(cleaner.edge_gap)
    widths = (max(strip, gap), max(TOO_WIDE, strip, gap))
    times = [wide_trim_time(part, width, wand, cleaner_rate, gap) for width in widths for part in (length, before)]
    words = _words(gap, widths[0], times[0], times[1], "as the rig has it")
    if widths[1] > widths[0]:
        words += "; " + _words(gap, widths[1], times[2], times[3], "a foot")
    return TrimCost(
        length, before, gap, widths[0], times[0], times[1], widths[1], times[2], times[3], words,
        Why(
            "length of the trim times what is beyond the shroud's gap, by wand instead of by cleaner",
            ("practice-trim", "practice-production"),
        ),
    )  # fmt: skip


def _words(gap: float, width: float, time: float, door_time: float, name: str) -> str:
    size = f"{width / INCH:.3g} in ({name})"
    if width <= gap + 1e-9:
        return f"trim {size}: no wider than the shroud leaves, it costs nothing extra"
    return f"a trim {size} wide costs {time / 60:.0f} min more in all, {door_time / 60:.1f} min of them at the doors"
