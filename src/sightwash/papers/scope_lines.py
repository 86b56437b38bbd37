"""The scope of a visit as plain lines, one surface after another: what is done there, how often, over what area."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from sightwash.basis.units import AREA, LENGTH, show
from sightwash.papers.drawings.lettering import length_words
from sightwash.papers.job import Job
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.takeoff import ProjectionFace, WallPatch, WallTakeoff


@dataclass(frozen=True, slots=True)
class ScopeLine:
    """One surface of the scope: its name, what is done there, its area in words, its part of the price."""

    name: str
    work: tuple[str, ...]
    area: str
    amount: Decimal


def scope_lines(job: Job) -> tuple[ScopeLine, ...]:
    """Return a line for every part of the plan's price, in its order."""
    takeoffs = {takeoff.wall: takeoff for takeoff in job.plan.walls}
    ground = {surface.surface: surface for surface in job.plan.ground}
    words = job.words("agreement")
    found = []
    for part in job.plan.price.scope:
        work: tuple[str, ...] = ()
        area = 0.0
        name = part.words if part.part in takeoffs or part.part in ground else words["scope_visit"]
        if part.part in takeoffs:
            work = tuple(_wall_work(job, takeoffs[part.part]))
            area = sum(method.area for method in _washed(job, part.part))
        elif part.part in ground:
            work = tuple(_ground_work(job, ground[part.part]))
            area = ground[part.part].area
        found.append(
            ScopeLine(
                name,
                tuple(capital(line) for line in work),
                show(area, AREA, job.plan.units) if area else "",
                part.amount,
            )
        )
    return tuple(found)


def _washed(job: Job, wall: str) -> list[SurfaceMethod]:
    return [method for method in job.plan.methods if method.wall == wall and method.agent != "special"]


def _wall_work(job: Job, takeoff: WallTakeoff) -> Iterator[str]:
    """Yield a line for each way of washing, with all that is washed so."""
    words = job.words("agreement")
    ways: dict[str, list[SurfaceMethod]] = {}
    for method in _washed(job, takeoff.wall):
        ways.setdefault(_way(job, method), []).append(method)
    for way, methods in ways.items():
        targets = "; ".join(_targets(job, takeoff, methods))
        yield f"{targets}: {way}"
    if takeoff.glass_length > 0:
        yield words["glass"].format(length=length_words(takeoff.glass_length, job.plan.units))


def _way(job: Job, method: SurfaceMethod) -> str:
    words = job.words("agreement")
    if method.agent == "hypochlorite":
        how = words["by_hypochlorite"]
    elif method.agent.startswith("brush"):
        how = words["by_brush"]
    else:
        how = words["by_other"].format(agent=method.agent)
    times = {1: words["once"], 2: words["twice"]}.get(method.passes, words["times"].format(count=method.passes))
    return ", ".join([how, times, *([words["power_rinse"]] if method.power_rinse is not None else [])])


def wall_targets(job: Job, wall: str, methods: list[SurfaceMethod]) -> list[str]:
    """Return what some methods of a wall wash, as a person says it."""
    takeoff = next(takeoff for takeoff in job.plan.walls if takeoff.wall == wall)
    return list(_targets(job, takeoff, methods))


def _targets(job: Job, takeoff: WallTakeoff, methods: list[SurfaceMethod]) -> Iterator[str]:
    words = job.words("agreement")
    names = {method.target for method in methods}
    for patch in takeoff.patches:
        if patch.id not in names:
            continue
        if patch.given or patch.id != f"{takeoff.wall}-rest":
            yield patch_words(job, patch)
        else:
            yield words["patch_all" if len(takeoff.patches) == 1 else "patch_rest"]
    yield from _faces(job, [face for face in takeoff.faces if face.id in names])


def patch_words(job: Job, patch: WallPatch) -> str:
    """Return a patch as a person says it: how dirty with what, from how high to how high."""
    words, kinds, units = job.words("agreement"), job.words("kinds"), job.plan.units
    low = length_words(patch.bottom, units) if patch.bottom > 0.0 else words["ground_level"]
    dirt = {"degree": kinds[patch.degree], "soiling": kinds[patch.soiling]}
    return words["patch"].format(bottom=low, top=length_words(patch.top, units), **dirt)


def capital(words: str) -> str:
    """Return words with a capital at their beginning."""
    return words[:1].upper() + words[1:]


def _faces(job: Job, faces: list[ProjectionFace]) -> Iterator[str]:
    kinds = job.words("kinds")
    found: dict[str, list[ProjectionFace]] = {}
    for face in faces:
        found.setdefault(face.projection, []).append(face)
    for same in found.values():
        sides = ", ".join(kinds[face.face] for face in same)
        yield job.words("agreement")["face"].format(what=kinds[same[0].kind], faces=sides)


def _ground_work(job: Job, surface: GroundTakeoff) -> Iterator[str]:
    words, units = job.words("agreement"), job.plan.units
    by_disc = any(part.how == "cleaner" for part in surface.parts)
    for part in surface.parts:
        if part.how == "cleaner":
            yield words["cleaner"]
        elif part.how == "trim" and part.length > 0:
            yield words["trim"].format(length=show(part.length, LENGTH, units))
        elif part.how == "wand" and not by_disc:
            yield words["wand"]
    for gum in surface.gum:
        if gum.open_spots > 0:
            yield words["gum_open"].format(count=f"{gum.open_spots:.0f}")
        if gum.door_spots > 0:
            yield words["gum_doors"].format(count=gum.door_spots)
