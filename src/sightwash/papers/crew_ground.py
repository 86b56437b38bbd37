"""The ground on the crew sheet: the cleaner's paths, gum at doors, drains and wash water."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sightwash.papers.crew_layout import GROUND_HEIGHTS, Part, balanced
from sightwash.papers.crew_side import door_name
from sightwash.papers.drawings.gum_marks import LETTERS
from sightwash.papers.job import Job
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.typesetter import JSON
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.ground_path import GroundPath
from sightwash.planning.gum import GumSpot

COLUMN: Final = 350.0


def ground_pages(job: Job, book: PhraseBook) -> tuple[JSON, dict[str, bytes]]:
    """Return the words of the pages of the ground, and their drawings: the whole, then each washed surface alone."""
    words, page = job.words("crew"), GROUND_HEIGHTS[job.paper]
    washed = [surface for surface in job.plan.ground if surface.washed]
    whole = job.drawings.ground(height=page)
    drawn = {"ground": whole}
    surfaces: list[JSON] = []
    for surface in washed:
        name, drawing = f"ground-{surface.surface}", job.drawings.ground(surface.surface, page)
        drawn[name] = drawing
        height = min(job.drawings.height(drawing), page)
        surfaces.append({"name": words["surface"].format(name=surface.name), "picture": name, "height": height})
    data: JSON = {
        "height": min(job.drawings.height(whole), page),
        "surfaces": surfaces,
        "columns": balanced(list(_parts(job, book)), COLUMN)[1],
        "not_agreed": words["not_agreed"] if washed and not job.plan.water.agreed else "",
    }
    return data, drawn


def _parts(job: Job, book: PhraseBook) -> Iterator[Part]:
    """Yield what is said of the ground: each surface, then drains and wash water, each with its title."""
    words, wash = job.words("crew"), job.plan.wash_water
    for surface in job.plan.ground:
        if surface.washed:
            lines = [*_path(job, book, surface), *_gum(job, book, surface.surface)]
            yield {"title": words["surface"].format(name=surface.name), "items": lines}
    drains = [book.say(line) for line in job.plan.water.drains]
    drains += [f"{book.say(measure.what)}: {book.say(measure.words)}" for measure in wash.measures]
    drains += [f"{flow.drain}: {book.say(flow.words)}" for flow in wash.drains]
    drains += [f"{flow.plant}: {book.say(flow.words)}" for flow in wash.planting]
    agreed = wash.allowed or job.plan.water.discharge
    unwashed = [words["not_washed"].format(name=each.name) for each in job.plan.ground if not each.washed]
    walk = job.plan.drying.walk
    for title, items in (
        ("agreed", [agreed] if agreed else []),
        ("drains", drains),
        ("walk_dry", [book.say(walk.words)] if walk else []),
        ("ground_text", unwashed),
    ):
        if items:
            yield {"title": words[title], "items": items}


def _path(job: Job, book: PhraseBook, surface: GroundTakeoff) -> Iterator[str]:
    path = next((path for path in job.plan.ground_paths if path.surface == surface.surface), None)
    if path is not None:
        minutes = f"{path.time / 60:.0f}"
        yield job.words("crew")["path_line"].format(passes=path.passes, turns=path.turns, minutes=minutes)
        yield from (book.say(line) for line in _path_words(path))
    yield from (book.say(line) for line in surface.notes)


def _path_words(path: GroundPath) -> Iterator[str]:
    yield from path.push.notes if path.push.allowed else (path.push.condition,)
    yield from path.push.drains
    yield path.hose.words
    yield from (door.words for door in path.doors if not door.within)
    if path.trim is not None:
        yield path.trim.words
    yield from path.notes


def _gum(job: Job, book: PhraseBook, surface: str) -> Iterator[str]:
    """Yield one line for all gum of a surface that is taken in one way and for the same reason."""
    words = job.words("crew")
    doors = {door.id: door_name(door) for wall in job.site.walls for door in wall.doors}
    alike: dict[tuple[str, str], list[str]] = {}
    minutes: dict[tuple[str, str], float] = {}
    for number, spot in enumerate((each for each in job.plan.gum_spots if each.surface == surface), 1):
        key = spot.how, spot.words
        mark = f"{LETTERS[spot.how]}{number}" if spot.at else words["gum_no_mark"]
        alike.setdefault(key, []).append(_gum_name(mark, spot, doors, words["gum_at"]))
        minutes[key] = minutes.get(key, 0.0) + spot.time / 60.0
    for (how, why), names in alike.items():
        yield words["gum_line"].format(
            gum=", ".join(names), how=book.say(how), minutes=f"{max(minutes[how, why], 1.0):.0f}", words=book.say(why)
        )


def _gum_name(mark: str, spot: GumSpot, doors: dict[str, str], at: str) -> str:
    return mark if spot.door is None else at.format(gum=mark, door=doors.get(spot.door, spot.door))
