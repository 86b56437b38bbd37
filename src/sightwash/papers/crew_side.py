"""One side of the building on the crew sheet: what is treated and how, where to stand and look, what to spare."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from sightwash.basis.units import LENGTH, PRESSURE, show
from sightwash.papers.crew_layout import Part, laid_out, method_table
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

METHOD_HEADS: Final = ("what", "mix", "times", "dwell", "treat", "rinse", "power", "highest")


def side_page(job: Job, book: PhraseBook, wall: Wall) -> tuple[JSON, bytes]:
    """Return the words and figures of one side and its drawing, laid out for the page."""
    words = job.words("crew")
    name, methods = words["side"].format(name=wall.name or wall.id), _methods(job, book, wall.id)
    page = laid_out(job, wall.id, name, methods, list(_parts(job, book, wall)))
    side: JSON = {
        "name": name,
        "more": words["side_more"].format(name=wall.name or wall.id),
        "picture": f"wall-{wall.id}",
        "width": page.width,
        "height": page.height,
        "beside": page.beside,
        "methods": method_table([words[f"method_{head}"] for head in METHOD_HEADS], methods) if methods else None,
        "here": page.here,
        "next": page.next_page,
    }
    return side, page.drawing


def _parts(job: Job, book: PhraseBook, wall: Wall) -> Iterator[Part]:
    """Yield what is said of a side, each with its title: where to stand first, then what to spare, then the rest."""
    standing = next((each for each in job.plan.standing if each.wall == wall.id), None)
    words, spots = job.words("crew"), _spots(job, standing) if standing else []
    if spots:
        yield {"title": words["stand"], "rows": spots, "items": []}
    drift = [book.say(drift.words) for drift in job.plan.drift if drift.wall == wall.id and drift.reaches]
    not_done = [book.say(line) for line in (*standing.unreached, *standing.unseen)] if standing else []
    for title, items in (
        ("section", list(_sections(job, book, wall.id))),
        ("not_done", not_done),
        ("missed", list(_missed(job, wall))),
        ("look", list(_looks(job, book, standing)) if standing else []),
        ("spare", [*_doors(job, book, wall), *_fixtures(job, book, wall.id)]),
        ("drift", drift),
    ):
        if items:
            yield {"title": words[title], "items": items}


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
    return "" if tip is None else f"{tip.tip} {show(tip.tip_pressure, PRESSURE, job.plan.units)}"


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
