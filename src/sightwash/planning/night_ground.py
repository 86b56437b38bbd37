"""The ground and the glass of a night: after the walls above; gum by hand first, then the machine, the glass last."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

import shapely

from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.hours import Task
from sightwash.planning.night_pieces import LEAST_PIECE, LONGEST_PIECE, Follow, Piece
from sightwash.planning.regions import shape_of
from sightwash.site.shapes import PlacedWall

ADJOINS: Final = 1.5
"""A surface nearer to a wall than this gets its water [m]."""
ORDER: Final = ("gum-hand", "gum-machine", "gum-wand", "trim", "cleaner-small", "cleaner-large", "wand-ground")
ACTIONS: Final = {
    "gum-hand": "gum by hand",
    "gum-machine": "gum by low-water machine",
    "gum-wand": "gum by hot wand",
    "trim": "trim",
    "cleaner-small": "surface clean",
    "cleaner-large": "surface clean",
    "wand-ground": "wash by wand",
}
DRY_GUM: Final = ("gum by hand", "gum by low-water machine")
"""Gum that is taken without the rig's water."""
WORDS: Final = {
    "gum by hand": "scrape gum at the doors of {name}",
    "gum by low-water machine": "take gum at the doors of {name} with the low-water machine",
    "gum by hot wand": "lift gum in the open of {name}",
    "trim": "trim {name} along walls and posts",
    "surface clean": "surface clean {name} from the doors outward, rinse to the agreed place",
    "wash by wand": "wash the rest of {name} by wand, rinse to the agreed place",
}


def adjoining(surface: GroundTakeoff, walls: Sequence[PlacedWall]) -> tuple[PlacedWall, ...]:
    """Return the walls whose water runs onto a surface; the nearest one where none adjoins."""
    if not walls:
        return ()
    shape = shape_of(surface.region)
    apart = {wall.wall.id: float(shape.distance(shapely.LineString([wall.start, wall.end]))) for wall in walls}
    near = tuple(wall for wall in walls if apart[wall.wall.id] <= ADJOINS)
    return near or (min(walls, key=lambda wall: apart[wall.wall.id]),)


def ground_pieces(surface: GroundTakeoff, near: Sequence[PlacedWall], group: str, tasks: Sequence[Task]) -> list[Piece]:
    """Return the pieces of one surface in order."""
    own = sorted((task for task in tasks if task.part == surface.surface), key=lambda task: ORDER.index(task.work))
    return [piece for task in own for piece in _cut(task, ACTIONS[task.work], surface, near, group)]


def _doors(surface: GroundTakeoff, near: Sequence[PlacedWall], left: float, right: float) -> tuple[str, ...]:
    """Return the doors that open onto a stretch; those of further walls onto the whole surface."""
    shape = shape_of(surface.region)
    return tuple(
        door.id
        for number, wall in enumerate(near)
        for door in wall.wall.doors
        if (number > 0 or (door.left < right and door.left + door.width > left))
        and shape.distance(shapely.Point(*wall.point(door.left + door.width / 2, 0.0)[:2])) <= ADJOINS
    )


def _cut(task: Task, action: str, surface: GroundTakeoff, near: Sequence[PlacedWall], group: str) -> Iterator[Piece]:
    if task.mean < LEAST_PIECE:
        return
    count = max(1, math.ceil(task.mean / LONGEST_PIECE))
    length = near[0].length
    for number in range(count):
        left, right = length * number / count, length * (number + 1) / count
        yield Piece(
            f"{surface.surface}-{task.work}-{number + 1}",
            task.id,
            task.mean / count,
            action,
            WORDS[action].format(name=surface.name),
            surface.surface,
            group,
            near[0].wall.id,
            left,
            right,
            machine=task.wet,
            doors=_doors(surface, near, left, right),
        )


def glass_pieces(placed: PlacedWall, group: str, tasks: Mapping[str, Task]) -> list[Piece]:
    """Return the last rinse of the glass of one wall."""
    task = tasks.get("glass-rinse")
    if task is None or task.mean < LEAST_PIECE:
        return []
    count = max(1, math.ceil(task.mean / LONGEST_PIECE))
    size = placed.length / count
    return [
        Piece(
            f"{placed.wall.id}-glass-{number + 1}",
            task.id,
            task.mean / count,
            "rinse glass",
            f"last rinse of glass and frames, {placed.wall.name or placed.wall.id}",
            placed.wall.id,
            group,
            placed.wall.id,
            number * size,
            (number + 1) * size,
            machine=task.wet,
            doors=tuple(
                door.id
                for door in placed.wall.doors
                if door.left < (number + 1) * size and door.left + door.width > number * size
            ),
        )
        for number in range(count)
    ]


def in_turn(pieces: Sequence[Piece]) -> list[Follow]:
    """Return that each piece follows the one before it."""
    return [Follow(a.id, b.id) for a, b in pairwise(pieces)]


def share_a_stretch(a: Piece, b: Piece) -> bool:
    """Tell whether two pieces lie one above the other along their wall."""
    return min(a.right, b.right) - max(a.left, b.left) > 0.05
