"""The ground on the crew sheet: the cleaner's paths, gum at doors, drains and wash water."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.papers.crew_side import door_name
from sightwash.papers.job import Job
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.typesetter import JSON
from sightwash.planning.ground_path import GroundPath
from sightwash.planning.gum import GumSpot


def ground_page(job: Job, book: PhraseBook) -> JSON:
    """Return the words of the ground page."""
    words, wash = job.words("crew"), job.plan.wash_water
    washed = any(surface.washed for surface in job.plan.ground)
    drains = [book.say(line) for line in job.plan.water.drains]
    drains += [f"{book.say(measure.what)}: {book.say(measure.words)}" for measure in wash.measures]
    drains += [f"{flow.drain}: {book.say(flow.words)}" for flow in wash.drains]
    drains += [f"{flow.plant}: {book.say(flow.words)}" for flow in wash.planting]
    return {
        "height": job.drawings.height(job.drawings.ground()),
        "paths": list(_paths(job, book)),
        "gum": list(_gum(job, book)),
        "drains": drains,
        "agreed": wash.allowed or job.plan.water.discharge or "",
        "not_agreed": words["not_agreed"] if washed and not job.plan.water.agreed else "",
        "dry": book.say(job.plan.drying.walk.words) if job.plan.drying.walk else "",
    }


def _paths(job: Job, book: PhraseBook) -> Iterator[str]:
    words = job.words("crew")
    for path in job.plan.ground_paths:
        lines = [book.say(line) for line in _path_words(path)]
        head = words["path_line"].format(
            name=path.name, passes=path.passes, turns=path.turns, minutes=f"{path.time / 60:.0f}"
        )
        yield "\n".join((head, *lines))
    for surface in job.plan.ground:
        if not surface.washed:
            yield words["not_washed"].format(name=surface.name)


def _path_words(path: GroundPath) -> Iterator[str]:
    yield path.hose.words
    yield from (door.words for door in path.doors if not door.within)
    if path.trim is not None:
        yield path.trim.words
    yield from path.notes


def _gum(job: Job, book: PhraseBook) -> Iterator[str]:
    words = job.words("crew")
    doors = {door.id: door_name(door) for wall in job.site.walls for door in wall.doors}
    for spot in job.plan.gum_spots:
        yield words["gum_line"].format(
            gum=_gum_name(spot, doors, words["gum_at"]),
            how=book.say(spot.how),
            minutes=f"{spot.time / 60:.0f}",
            words=book.say(spot.words),
        )


def _gum_name(spot: GumSpot, doors: dict[str, str], at: str) -> str:
    return spot.id if spot.door is None else at.format(gum=spot.id, door=doors.get(spot.door, spot.door))
