"""The walls of a night: tier by tier from the top, in stretches short enough to be rinsed before they dry."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from sightwash.planning.hours import Task
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.night_pieces import LEAST_PIECE, LONGEST_PIECE, Follow, Piece, RinseLag
from sightwash.science.dwell import stretches
from sightwash.site.shapes import PlacedWall

MISTED: Final = 1.25
"""Where the film dries sooner than this times the dwell, it is misted and kept wet so long [-]."""
TREATING: Final = 0.8
"""Share of the wet time that treating one stretch may take; the rest is in hand [-]; a judgement."""
WETTEST: Final = 7200.0
"""A film that does not dry in the air of the night is rinsed within this time all the same [s]; a judgement."""
DOOR_MARGIN: Final = 0.3
ORDINALS: Final = ("", "first", "second", "third")


@dataclass(frozen=True, slots=True)
class WallWork:
    """Pieces of one wall, what follows what, the rinses that must come in time, and whether a film must be misted."""

    pieces: tuple[Piece, ...]
    follows: tuple[Follow, ...]
    lags: tuple[RinseLag, ...]
    misted: bool


@dataclass(frozen=True, slots=True)
class _Tier:
    """What is treated together: the methods above a canopy, or below it, or a wall without one."""

    name: str
    words: str
    methods: tuple[SurfaceMethod, ...]

    @property
    def left(self) -> float:
        return min(method.left for method in self.methods)

    @property
    def right(self) -> float:
        return max(method.left + method.length for method in self.methods)

    @property
    def passes(self) -> int:
        return max(method.passes for method in self.methods)

    @property
    def dwell(self) -> float:
        return max((method.dwell for method in self.methods if method.strength > 0), default=0.0)

    @property
    def stays_wet(self) -> float:
        films = [method.stays_wet for method in self.methods if method.strength > 0]
        return min((film for film in films if film is not None), default=WETTEST)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """One stretch of a tier: its number, its ends and the doors it lies over."""

    name: str
    left: float
    right: float
    doors: tuple[str, ...]
    share: float


def wall_work(
    placed: PlacedWall, group: str, methods: tuple[SurfaceMethod, ...], tasks: Mapping[str, Task]
) -> WallWork:
    """Return the pieces of one wall; ``tasks`` are the wall's own by work."""
    pieces: list[Piece] = []
    follows: list[Follow] = []
    lags: list[RinseLag] = []
    above: list[tuple[_Stretch, list[Piece]]] = []
    misted = False
    for tier in _tiers(placed, methods):
        wet = max(tier.stays_wet, MISTED * tier.dwell)
        misted |= wet > tier.stays_wet
        done = []
        for stretch in _stretches(placed, tier, methods, tasks, wet):
            made = list(_stretch_pieces(placed, group, tier, stretch, methods, tasks))
            wetted = [piece for piece in made if piece.action != "brush"]
            follows += [Follow(a.id, b.id) for a, b in pairwise(made) if not _is_lag(a, b)]
            lags += [RinseLag(a.id, b.id, tier.dwell, wet) for a, b in pairwise(made) if _is_lag(a, b)]
            pieces += made
            if wetted:
                follows += [Follow(p[-1].id, wetted[0].id) for s, p in above if _overlap(s, stretch)]
                done.append((stretch, wetted))
        for (_, earlier), (_, later) in pairwise(done):
            follows += [Follow(a.id, b.id) for a, b in zip(earlier, later, strict=True)]
        above += done
    return WallWork(tuple(pieces), tuple(follows), tuple(lags), misted)


def _is_lag(a: Piece, b: Piece) -> bool:
    return a.action == "treat" and b.action == "rinse"


def _overlap(a: _Stretch, b: _Stretch) -> bool:
    return min(a.right, b.right) - max(a.left, b.left) > 0.05


def _tiers(placed: PlacedWall, methods: Sequence[SurfaceMethod]) -> Iterator[_Tier]:
    """Yield the tiers from the top: what is above a canopy or awning is finished before what is below it."""
    washed = [method for method in methods if method.strength > 0 or method.rinsed]
    upper = tuple(method for method in washed if _is_above(placed, method))
    lower = tuple(method for method in washed if method not in upper)
    name = placed.wall.name or placed.wall.id
    if upper and lower:
        yield _Tier("above", f"{name}, above the canopy", upper)
        yield _Tier("below", f"{name}, below the canopy", lower)
    elif washed:
        yield _Tier("wall", name, tuple(washed))


def _is_above(placed: PlacedWall, method: SurfaceMethod) -> bool:
    middle = (method.bottom + method.top) / 2
    return any(
        middle >= item.bottom + item.height - 0.01
        for item in placed.wall.projections
        if item.kind in ("canopy", "awning")
        and min(item.left + item.width, method.left + method.length) - max(item.left, method.left) > method.length / 4
    )


def _seconds(
    tier: _Tier, treatment: int, work: str, methods: Sequence[SurfaceMethod], tasks: Mapping[str, Task]
) -> float:
    """Return how long one treatment of a whole tier takes at one work, as its share of the wall's task [s]."""
    task = tasks.get(work)
    if task is None:
        return 0.0
    whole = sum(_quantity(method, work) * method.passes for method in methods)
    own = sum(_quantity(method, work) for method in tier.methods if method.passes >= treatment)
    return task.mean * own / whole if whole > 0 else 0.0


def _quantity(method: SurfaceMethod, work: str) -> float:
    if work == "wall-treat":
        return method.area if method.strength > 0 else 0.0
    if work == "wall-rinse":
        return method.area if method.rinsed else 0.0
    if work == "band-power-rinse":
        return method.length if method.banded else 0.0
    return method.length if method.agent.startswith("brush") else 0.0


def _stretches(
    placed: PlacedWall, tier: _Tier, methods: Sequence[SurfaceMethod], tasks: Mapping[str, Task], wet: float
) -> Iterator[_Stretch]:
    treat, rinse, power = (
        _seconds(tier, 1, work, methods, tasks) for work in ("wall-treat", "wall-rinse", "band-power-rinse")
    )
    count = max(1, math.ceil(max(treat, rinse, power) / LONGEST_PIECE))
    if treat > 0:
        count = max(count, stretches(treat, rinse, tier.dwell, wet, TREATING))
    size = (tier.right - tier.left) / count
    for number in range(count):
        left, right = tier.left + number * size, tier.left + (number + 1) * size
        doors = tuple(
            door.id
            for door in placed.wall.doors
            if door.left - DOOR_MARGIN < right and door.left + door.width + DOOR_MARGIN > left
        )
        yield _Stretch(f"{placed.wall.id}-{tier.name}-{number + 1}", left, right, doors, 1.0 / count)


def _stretch_pieces(
    placed: PlacedWall,
    group: str,
    tier: _Tier,
    stretch: _Stretch,
    methods: Sequence[SurfaceMethod],
    tasks: Mapping[str, Task],
) -> Iterator[Piece]:
    """Yield brushing, then for each treatment: treat, rinse, power rinse."""
    steps = [("brush", "brush-webs", 1)] + [
        (action, work, treatment)
        for treatment in range(1, tier.passes + 1)
        for action, work in (("treat", "wall-treat"), ("rinse", "wall-rinse"), ("power rinse", "band-power-rinse"))
    ]
    for action, work, treatment in steps:
        seconds = _seconds(tier, treatment, work, methods, tasks) * stretch.share
        if seconds < LEAST_PIECE and not (action in ("treat", "rinse") and seconds > 0):
            continue
        again = f", {ORDINALS[treatment]} time" if treatment > 1 and action != "brush" else ""
        yield Piece(
            f"{stretch.name}-{action.replace(' ', '-')}-{treatment}",
            tasks[work].id,
            seconds,
            action,
            f"{action} {tier.words}{again}",
            placed.wall.id,
            group,
            placed.wall.id,
            stretch.left,
            stretch.right,
            treatment,
            machine=tasks[work].wet,
            doors=stretch.doors,
        )
