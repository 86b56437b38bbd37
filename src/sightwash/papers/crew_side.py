"""One side of the building on the crew sheet: what is treated and how, where to stand and look, what to spare."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil
from typing import Any, Final

from sightwash.basis.units import LENGTH, PRESSURE, show
from sightwash.papers.drawings.views import strip_letters
from sightwash.papers.job import Job
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.scope_lines import wall_targets
from sightwash.papers.typesetter import JSON
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.standing import LookSpot, Standing
from sightwash.planning.tables import PERCENT
from sightwash.planning.tips import TipPoint
from sightwash.site.walls import Door, Wall

PAGE_HEIGHTS: Final = {"letter": 495.0, "a4": 478.0}
"""What a page holds below the heading of a side [pt]."""
LEAST_SHARE: Final = 0.55
"""Least size of a drawing as a share of its own for it to be readable [-]."""
LINE: Final = 13.5
LEFT: Final = ("sections", "not_done", "missed")
RIGHT: Final = ("looks", "spare", "drift")


def side_page(job: Job, book: PhraseBook, wall: Wall) -> JSON:
    """Return the words and figures of one side, and how high its drawing stands on the page."""
    side = _side(job, book, wall)
    own, page = job.drawings.height(job.drawings.wall(wall.id)), PAGE_HEIGHTS[job.paper]
    room = page - _words_height(side)
    return {**side, "height": min(room if room >= LEAST_SHARE * own else page, own)}


def _words_height(side: dict[str, list[Any]]) -> float:
    """Return about how high the words of a side stand below its drawing [pt]."""
    methods = sum(4.0 + LINE * max(2, ceil(len(row[0]) / 40)) for row in side["methods"]) + 1.5 * LINE
    lists = {name: sum(LINE * ceil(len(line) / 62) + 4.0 for line in side[name]) for name in LEFT + RIGHT}
    heads = {name: 1.6 * LINE if side[name] else 0.0 for name in LEFT + RIGHT}
    left = sum(lists[name] + heads[name] for name in LEFT) + 1.3 * LINE * (len(side["spots"]) + 2)
    return methods + max(left, sum(lists[name] + heads[name] for name in RIGHT))


def _side(job: Job, book: PhraseBook, wall: Wall) -> dict[str, Any]:
    words = job.words("crew")
    standing = next((each for each in job.plan.standing if each.wall == wall.id), None)
    return {
        "name": words["side"].format(name=wall.name or wall.id),
        "picture": f"wall-{wall.id}",
        "methods": _methods(job, book, wall.id),
        "spots": _spots(job, standing) if standing else [],
        "looks": list(_looks(job, book, standing)) if standing else [],
        "missed": list(_missed(job, wall)),
        "not_done": [book.say(line) for line in (*standing.unreached, *standing.unseen)] if standing else [],
        "spare": [*_doors(job, book, wall), *_fixtures(job, book, wall.id)],
        "drift": [book.say(drift.words) for drift in job.plan.drift if drift.wall == wall.id and drift.reaches],
        "sections": list(_sections(job, book, wall.id)),
    }


def _methods(job: Job, book: PhraseBook, wall: str) -> list[list[str]]:
    """Return a row for each way of washing, the surfaces that are washed so drawn into one."""
    units = job.plan.units
    rows: dict[tuple[str, ...], list[SurfaceMethod]] = {}
    for method in job.plan.methods:
        if method.wall == wall:
            key = (
                f"{method.strength / PERCENT:.2f} %" if method.strength else book.say(method.agent),
                str(method.passes),
                job.words("crew")["minutes"].format(count=f"{method.dwell / 60:.0f}") if method.dwell else "",
                *(_tip(job, tip) for tip in (method.treat, method.rinse, method.power_rinse)),
                show(method.highest_pressure, PRESSURE, units),
            )
            rows.setdefault(key, []).append(method)
    return [["; ".join(wall_targets(job, wall, methods)), *key] for key, methods in rows.items()]


def _tip(job: Job, tip: TipPoint | None) -> str:
    return "" if tip is None else f"{tip.tip}\n{show(tip.tip_pressure, PRESSURE, job.plan.units)}"


def _spots(job: Job, standing: Standing) -> list[list[str]]:
    words, units = job.words("crew"), job.plan.units
    found = []
    for number, spot in enumerate(standing.spots, 1):
        serves = words["stretch"].format(start=show(spot.left, LENGTH, units), end=show(spot.right, LENGTH, units))
        sure = words.get(spot.verdict, words["test"]) if spot.verdict in ("sure", "likely") else words["test"]
        places = (show(value, LENGTH, units) for value in (spot.s, spot.out))
        found.append([str(number), *places, serves, show(spot.needed, LENGTH, units), spot.tip, sure])
    return found


def _looks(job: Job, book: PhraseBook, standing: Standing) -> Iterator[str]:
    """Yield each way of looking with all the places along the wall where it is done."""
    words = job.words("crew")
    same: dict[str, list[LookSpot]] = {}
    for look in standing.looks:
        same.setdefault(look.words, []).append(look)
    for text, looks in same.items():
        places = ", ".join(show(look.s, LENGTH, job.plan.units) for look in sorted(looks, key=lambda each: each.s))
        if looks[0].kind == "eye point":
            yield book.say(text)
        elif len(looks) > 1:
            yield words["look_many"].format(count=len(looks), what=book.say(text), places=places)
        else:
            yield words["look_one"].format(what=book.say(text), places=places)


def _missed(job: Job, wall: Wall) -> Iterator[str]:
    words, units, letters = job.words("crew"), job.plan.units, strip_letters(job.plan)
    for strip in job.plan.missed:
        if strip.wall == wall.id:
            over = words["missed_over"].format(what=strip.over) if strip.over else ""
            ends = {name: show(getattr(strip, name), LENGTH, units) for name in ("bottom", "top", "left", "right")}
            yield words["missed_line"].format(letter=letters[strip.id], over=over, **ends)


def _doors(job: Job, book: PhraseBook, wall: Wall) -> Iterator[str]:
    tenants = {door.id: door_name(door) for door in wall.doors}
    rules = [(tenants.get(rule.door, rule.door), rule.words) for rule in job.plan.doors if rule.wall == wall.id]
    yield from _alike(book, rules)


def door_name(door: Door) -> str:
    """Return a door's id with its tenant."""
    return f"{door.id} ({door.tenant.strip('()')})" if door.tenant else door.id


def _fixtures(job: Job, book: PhraseBook, wall: str) -> Iterator[str]:
    yield from _alike(book, [(rule.fixture, rule.words) for rule in job.plan.fixtures if rule.wall == wall])


def _alike(book: PhraseBook, rules: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Yield each rule once with all that it holds for; a rule's own name at its beginning is left out."""
    same: dict[str, list[str]] = {}
    for name, words in rules:
        rest = words.split(": ", 1)[1] if ": " in words and words.split(": ", 1)[0] in name else words
        same.setdefault(rest, []).append(name)
    for rest, names in same.items():
        yield f"{', '.join(names)}: {book.say(rest)}"


def _sections(job: Job, book: PhraseBook, wall: str) -> Iterator[str]:
    words = job.words("crew")
    for turn in job.plan.drying.order:
        if turn.wall == wall:
            said = book.say(turn.words)
            if turn.sections == 1:
                yield words["sections_one"].format(words=said)
            else:
                length = show(turn.section, LENGTH, job.plan.units)
                yield words["sections_many"].format(count=turn.sections, length=length, words=said)
