"""The work of a night in the trade's order, from the walk with lights to the rig packed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import time
from itertools import pairwise
from typing import Final

from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.hours import Hours, Task
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.night_ground import DRY_GUM, adjoining, glass_pieces, ground_pieces, in_turn, share_a_stretch
from sightwash.planning.night_pieces import Follow, NightWork, Piece, RinseLag
from sightwash.planning.night_walls import wall_work
from sightwash.planning.standing import Standing
from sightwash.planning.water import WaterPlan
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

WET: Final = ("treat", "rinse", "power rinse")
ROUND: Final = 1500.0
"""Looks from neighbouring spots are one round of at most so long [s]."""
FOOTING: Final = "; rinse and try the footing first"
LOOKS_AT: Final = 10.0
"""How far along a wall, each way, one look takes in [m]."""
SITE: Final = "site"
"""Group of what belongs to no building."""


@dataclass(slots=True)
class _Makings:
    """What has been put together so far."""

    pieces: list[Piece]
    follows: list[Follow]
    lags: list[RinseLag]
    notes: list[str]


def night_work(
    site: Site,
    walls: tuple[PlacedWall, ...],
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    hours: Hours,
    water: WaterPlan,
) -> NightWork:
    """Return all pieces of the visit with their order."""
    worked = [wall for wall in walls if any(method.wall == wall.wall.id for method in methods)]
    made = _Makings([], [], [], [])
    groups = _groups(worked)
    firsts: list[Piece] = []
    for group in groups:
        own = [wall for wall in worked if _group(wall) == group]
        firsts += _building(made, group, own, methods, ground, worked, hours)
    _looks(made, site, standings, walls, hours)
    _around(made, hours, groups, firsts, {standing.wall: len(standing.spots) for standing in standings})
    return NightWork(
        tuple(_with_water(made.pieces, water)), tuple(made.follows), tuple(made.lags), groups, tuple(made.notes)
    )


def _group(wall: PlacedWall) -> str:
    return wall.wall.building or SITE


def _groups(walls: Sequence[PlacedWall]) -> tuple[str, ...]:
    """Return the buildings, the one whose doors close first in front."""
    last: dict[str, time] = {}
    for wall in walls:
        closes = max((door.hours.close for door in wall.wall.doors if door.hours), default=time.min)
        last[_group(wall)] = max(last.get(_group(wall), time.min), closes)
    return tuple(sorted(last, key=lambda name: last[name]))


def _task(hours: Hours, work: str) -> Task | None:
    return next((task for task in hours.tasks if task.work == work), None)


def _building(
    made: _Makings,
    group: str,
    walls: Sequence[PlacedWall],
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    worked: Sequence[PlacedWall],
    hours: Hours,
) -> list[Piece]:
    """Add walls, then the ground before them, then their glass; return the first piece of each wall."""
    firsts: list[Piece] = []
    last: dict[str, list[Piece]] = {}
    for wall in walls:
        name = wall.wall.id
        own = tuple(method for method in methods if method.wall == name)
        tasks = {task.work: task for task in hours.tasks if task.part == name}
        found = wall_work(wall, group, own, tasks)
        made.pieces += found.pieces
        made.follows += found.follows
        made.lags += found.lags
        if found.misted:
            made.notes.append(f"{wall.wall.name or name}: mist it, the film may dry before the dwell is over")
        firsts += found.pieces[:1]
        before = {follow.before for follow in found.follows} | {lag.treat for lag in found.lags}
        last[name] = [piece for piece in found.pieces if piece.id not in before]
    floors = _floors(made, group, ground, worked, hours, last)
    for wall in walls:
        name = wall.wall.id
        glass = glass_pieces(wall, group, {task.work: task for task in hours.tasks if task.part == name})
        made.pieces += glass
        for piece in glass:
            above = (*last[name], *floors.get(name, ()))
            made.follows += [Follow(each.id, piece.id) for each in above if share_a_stretch(each, piece)]
    return firsts


def _floors(
    made: _Makings,
    group: str,
    ground: tuple[GroundTakeoff, ...],
    worked: Sequence[PlacedWall],
    hours: Hours,
    last: dict[str, list[Piece]],
) -> dict[str, list[Piece]]:
    """Add the ground of a building; return by wall the last pieces of each surface that adjoins it."""
    floors: dict[str, list[Piece]] = {}
    for surface in ground:
        near = adjoining(surface, worked) if surface.washed else ()
        if not near or _group(near[0]) != group:
            continue
        pieces = ground_pieces(surface, near, group, hours.tasks)
        made.pieces += pieces
        made.follows += in_turn(pieces)
        wet = [piece for piece in pieces if piece.action not in DRY_GUM]
        for number, wall in enumerate(near):
            name = wall.wall.id
            if wet:
                made.follows += [Follow(piece.id, wet[0].id) for piece in last.get(name, ())]
            floors.setdefault(name, []).extend(piece for piece in pieces[-1:] if number > 0)
        floors[near[0].wall.id] += pieces
    return floors


def _looks(
    made: _Makings, site: Site, standings: Sequence[Standing], walls: Sequence[PlacedWall], hours: Hours
) -> None:
    """Add a look from every look spot, after the washing of what it shows; then, after all, from each public eye."""
    task, ladder = _task(hours, "look"), _task(hours, "ladder-set")
    spots = [(standing.wall, look) for standing in standings for look in standing.looks if look.kind != "eye point"]
    eyes = [eye for eye in site.eyes if eye.kind != "crew"]
    count = len(spots) + len(eyes)
    if task is None or count == 0:
        return
    on_ladders = sum(look.kind == "ladder" for _, look in spots)
    by_id = {wall.wall.id: wall for wall in walls}
    looks: list[tuple[Piece, list[str]]] = []
    for wall_id, look in spots:
        group = _group(by_id[wall_id])
        extra = ladder.mean / on_ladders if ladder is not None and look.kind == "ladder" else 0.0
        seconds = task.mean / count + extra
        last = looks[-1][0] if looks else None
        words = f"{look.words}{FOOTING if look.kind == 'ladder' else ''}"
        piece = Piece(look.id, task.id, seconds, "look", words, wall_id, group, wall_id, look.s, look.s)
        if last is not None and last.along == wall_id and last.seconds + seconds <= ROUND:
            looks.pop()
            piece = _joined(last, piece)
        looks.append((piece, [each.id for each in made.pieces if _shows(each, piece)]))
    before = [piece.id for piece in made.pieces]
    for eye in eyes:
        words = f"drive past on {eye.name or eye.id}" if eye.kind == "road" else f"look from {eye.name or eye.id}"
        people = min(2, hours.people) if eye.kind == "road" else 1
        piece = Piece(f"look-{eye.id}", task.id, task.mean / count, "look", words, SITE, workers=people)
        looks.append((piece, before))
        before = [piece.id]
    for piece, earlier in looks:
        made.pieces.append(piece)
        made.follows += [Follow(each, piece.id) for each in earlier]


def _joined(a: Piece, b: Piece) -> Piece:
    """Return two looks as one round."""
    words = a.words if b.words in a.words else f"{a.words}; {b.words}"
    ends = min(a.left, b.left), max(a.right, b.right)
    return replace(a, seconds=a.seconds + b.seconds, words=words, left=ends[0], right=ends[1])


def _shows(piece: Piece, look: Piece) -> bool:
    """Tell whether a piece of wet work on a wall is looked at from a round of look spots."""
    wet = piece.part == look.part and piece.action in WET
    return wet and piece.left < look.right + LOOKS_AT and piece.right > look.left - LOOKS_AT


def _around(
    made: _Makings, hours: Hours, groups: Sequence[str], firsts: Sequence[Piece], spots: Mapping[str, int]
) -> None:
    """Add what stands around the work: walk, set-up, hoses, planting, moves of the rig, the walk after, break-down."""
    inner = list(made.pieces)
    walk, plants = _task(hours, "walk-round"), _task(hours, "plants")
    before: list[Piece] = []
    if walk is not None:
        words = "walk round with lights, note damage, photographs before"
        before.append(Piece("walk-before", walk.id, walk.mean / 2, "walk", words, SITE))
    before += _crew_piece(hours, "set-up", "set up", "cones, lights, taps, hoses: set up the rig")
    made.pieces[:0] = before
    made.follows += in_turn(before)
    ready = before[-1:]
    if plants is not None:
        soak = Piece("plants-soak", plants.id, plants.mean / 2, "plants", "soak planting and soil", SITE,
                     machine=plants.wet)  # fmt: skip
        made.pieces.insert(len(before), soak)
        made.follows += [Follow(each.id, soak.id) for each in ready]
        made.follows += [Follow(soak.id, each.id) for each in inner if each.action == "treat" and each.treatment == 1]
    made.follows += [Follow(each.id, piece.id) for each in ready for piece in inner]
    _hoses(made, hours, firsts, ready, spots)
    _moves(made, hours, groups)
    _ending(made, hours, walk, plants)


def _crew_piece(hours: Hours, work: str, action: str, words: str) -> list[Piece]:
    task = _task(hours, work)
    return [] if task is None else [Piece(work, task.id, task.mean, action, words, SITE, workers=task.workers)]


def _hoses(
    made: _Makings, hours: Hours, firsts: Sequence[Piece], ready: Sequence[Piece], spots: Mapping[str, int]
) -> None:
    """Add the hose laid out along each wall before its first water; moves are shared by the walls' standing spots."""
    task = _task(hours, "hose-move")
    whole = sum(spots.get(first.part, 0) for first in firsts)
    if task is None or whole == 0:
        return
    for first in firsts:
        if not spots.get(first.part):
            continue
        words = f"lay and move hose along {first.part}"
        seconds = task.mean * spots[first.part] / whole
        name = first.part
        piece = Piece(f"{name}-hose", task.id, seconds, "hose", words, name, first.group, name)
        made.pieces.append(piece)
        made.follows.append(Follow(piece.id, first.id))
        made.follows += [Follow(each.id, piece.id) for each in ready]


def _moves(made: _Makings, hours: Hours, groups: Sequence[str]) -> None:
    """Add a move of the rig before each building but the first."""
    task = _task(hours, "rig-move")
    if task is None:
        return
    for earlier, group in pairwise(groups):
        move = Piece(
            f"{group}-rig-move", task.id, task.mean / (len(groups) - 1), "move rig", f"move the rig to {group}", SITE,
            group, machine=True,
        )  # fmt: skip
        at_last = [piece.id for piece in made.pieces if piece.group == earlier and piece.machine]
        at_first = [piece.id for piece in made.pieces if piece.group == group and piece.machine]
        made.follows += [Follow(each, move.id) for each in at_last] + [Follow(move.id, each) for each in at_first]
        made.pieces.append(move)


def _ending(made: _Makings, hours: Hours, walk: Task | None, plants: Task | None) -> None:
    wet = [piece for piece in made.pieces if piece.machine]
    ends: list[Piece] = []
    if plants is not None:
        ends.append(Piece("plants-rinse", plants.id, plants.mean / 2, "plants", "rinse planting and soil", SITE,
                          machine=plants.wet))  # fmt: skip
        made.follows += [Follow(each.id, "plants-rinse") for each in wet]
    if walk is not None:
        words = "walk round, photographs after, taps locked, mats back"
        ends.append(Piece("walk-after", walk.id, walk.mean / 2, "walk", words, SITE))
        made.follows += [Follow(each.id, "walk-after") for each in made.pieces]
    made.pieces += ends
    down = _crew_piece(hours, "break-down", "break down", "break down the rig; cones stay until dry")
    made.follows += [Follow(each.id, piece.id) for each in made.pieces for piece in down]
    made.pieces += down


def _with_water(pieces: Sequence[Piece], water: WaterPlan) -> list[Piece]:
    """Return the pieces with the share of the water plan that each uses."""
    volumes = {use.work: use.volume for use in water.uses}
    works = {piece.task: piece.task.split("-", 2)[-1] for piece in pieces}
    seconds: dict[str, float] = {}
    for piece in pieces:
        seconds[works[piece.task]] = seconds.get(works[piece.task], 0.0) + piece.seconds
    treat = seconds.get("wall-treat", 0.0)
    volumes["wall-treat"] = water.mix_water if treat > 0 else 0.0
    return [
        replace(piece, litres=volumes.get(works[piece.task], 0.0) * piece.seconds / seconds[works[piece.task]])
        if seconds[works[piece.task]] > 0
        else piece
        for piece in pieces
    ]
