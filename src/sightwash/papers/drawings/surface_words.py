"""What the foot of a surface's plan says: the path in figures, water, hose, doors, trim and gum, spot by spot."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.papers.drawings.gum_marks import LETTERS
from sightwash.papers.drawings.lettering import counted, length_words
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.ground_path import GroundPath
from sightwash.planning.gum import GumSpot
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


def surface_words(
    site: Site, plan: VisitPlan, takeoff: GroundTakeoff, path: GroundPath | None, spots: tuple[GumSpot, ...]
) -> Iterator[tuple[str, bool]]:
    """Yield the lines below a surface's plan, each with whether it has to be decided before the work."""
    if not takeoff.washed:
        yield f"{takeoff.name} is not washed", False
        return
    if site.local.discharge is None:
        yield "no place for wash water is agreed: not allowed until one is, in writing", True
    if path is not None:
        yield from ((words, False) for words in _path(path, plan.units))
    if takeoff.notes:
        yield "; ".join(takeoff.notes), False
    yield from ((words, False) for words in _gum(spots))


def _path(path: GroundPath, units: str) -> Iterator[str]:
    yield (
        f"{counted(path.passes, 'pass', 'passes')}, {counted(path.turns, 'turn')}, {length_words(path.length, units)} "
        f"of path, {path.over:+.0%} against the length that the overlap alone takes; {path.time / 60:.0f} min; "
        f"from START to FINISH in the order of the numbers"
    )
    water = [path.push.condition, *path.push.notes, *path.push.drains] if path.push.allowed else path.push.drains
    if water:
        yield f"water: {'; '.join(water)}"
    said = [path.hose.words, *([path.trim.words] if path.trim else [])]
    yield "; ".join(said)
    yield from (door.words for door in path.doors if not door.within)
    if path.notes:
        yield "; ".join(path.notes)


def _gum(spots: tuple[GumSpot, ...]) -> Iterator[str]:
    """Yield one line for all marked spots that are taken in one way and for the same reason, then the others."""
    alike: dict[tuple[str, str], list[int]] = {}
    for number, spot in enumerate(spots):
        alike.setdefault((spot.how, spot.words) if spot.at else (spot.how, spot.id), []).append(number)
    for numbers in alike.values():
        own = [spots[number] for number in numbers]
        first, minutes = own[0], sum(spot.time for spot in own) / 60.0
        names = ", ".join(f"{LETTERS[first.how]}{number + 1}" for number in numbers) if first.at else "without a place"
        doors = ", ".join(dict.fromkeys(spot.door for spot in own if spot.door))
        yield f"gum {names}{f' at {doors}' if doors else ''}: {first.how}, {max(minutes, 1.0):.0f} min; {first.words}"
