"""What really happened on a visit: who did what, which misses were looked at, water, chlorine, photographs."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.basis.errors import InputError, Problem
from sightwash.site.fields import (
    CalendarDay,
    ClockTime,
    Id,
    Number,
    Quantity,
    Record,
    SchemaVersion,
    Text,
    Volume,
)
from sightwash.site.site_file import record_from
from sightwash.site.tree import KeyPath, Parsed, key_text, parse, read_text

WaterUsed = Annotated[float, Quantity(units.VOLUME, "0 gal", "100000 gal")]


@dataclass(frozen=True, slots=True)
class DonePart(Record):
    """A wall or a surface: done as planned, done otherwise, or left, with the reason."""

    part: Id
    how: Literal["as planned", "otherwise", "not done"]
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class ClosedMiss(Record):
    """A missed strip that somebody looked at again: who, where they stood, and whether it was clean."""

    miss: Id
    looked_by: Text
    stood: Text
    clean: bool
    at: ClockTime | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class ChlorineReading(Record):
    """Free chlorine measured [mg/L] at a drain or another place, before or after; ``limit`` is the agreed one."""

    where: Text
    free_chlorine: Number
    method: Text
    at: ClockTime | None = None
    limit: Number | None = None


@dataclass(frozen=True, slots=True)
class Photograph(Record):
    """A photograph from an eye point, before or after: the file beside the record, and its day."""

    eye: Id
    when: Literal["before", "after"]
    file: Text
    on: CalendarDay
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class DoneRecord(Record):
    """The whole record of one visit."""

    kind: Literal["done"]
    schema: SchemaVersion
    site: Id
    on: CalendarDay
    crew: tuple[Text, ...]
    units: Literal["us", "metric"] = "us"
    start: ClockTime | None = None
    end: ClockTime | None = None
    parts: tuple[DonePart, ...] = ()
    misses: tuple[ClosedMiss, ...] = ()
    water: WaterUsed | None = None
    mix: WaterUsed | None = None
    bleach: Volume | None = None
    water_went: Text | None = None
    chlorine: tuple[ChlorineReading, ...] = ()
    photographs: tuple[Photograph, ...] = ()
    damage: tuple[Text, ...] = ()
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class PlannedIds:
    """The ids that a record may name: the plan's site, parts, misses and eyes."""

    site: str
    parts: Collection[str]
    misses: Collection[str]
    eyes: Collection[str]


def read_done(path: Path | str, planned: PlannedIds) -> DoneRecord:
    """Return the record in a file, or raise InputError with all that is wrong, each with its line and column."""
    return done_from(parse(read_text(Path(path)), str(path)), planned)


def done_from(parsed: Parsed, planned: PlannedIds) -> DoneRecord:
    """Return the record that a parsed text holds, checked against the plan of its visit."""
    tree = parsed.tree
    if not isinstance(tree, dict) or tree.get("kind") != "done":
        problem = Problem("wrong-kind", "this is no record of a visit", parsed.file, 1, expected="kind: done",
                          fix="begin with `kind: done`")  # fmt: skip
        raise InputError(problem)
    done = record_from(parsed, DoneRecord, "metric" if tree.get("units") == "metric" else "us")
    problems = [
        _problem(parsed, path, code, message, expected) for path, code, message, expected in _wrong(done, planned)
    ]
    if problems:
        raise InputError(problems)
    return done


def _problem(parsed: Parsed, path: KeyPath, code: str, message: str, expected: str) -> Problem:
    line, column = parsed.place(path) or (None, None)
    return Problem(code, message, parsed.file, line, column, key_text(path), expected, "mend the id, or plan again")


def _wrong(done: DoneRecord, planned: PlannedIds) -> Iterator[tuple[KeyPath, str, str, str]]:
    """Yield the place, code, words and what is expected of everything that the plan does not know."""
    if done.site != planned.site:
        yield ("site",), "wrong-site", f"the plan is for another site than {done.site!r}", planned.site
    named: list[tuple[KeyPath, str, str, Collection[str]]] = [
        *((("parts", i, "part"), each.part, "part", planned.parts) for i, each in enumerate(done.parts)),
        *((("misses", i, "miss"), each.miss, "missed strip", planned.misses) for i, each in enumerate(done.misses)),
        *((("photographs", i, "eye"), each.eye, "eye point", planned.eyes) for i, each in enumerate(done.photographs)),
    ]
    for path, name, what, known in named:
        if name not in known:
            expected = "one of: " + ", ".join(known) if known else f"the plan has no {what}"
            yield path, "unknown-id", f"the plan knows no {what} {name!r}", expected
    for key, names in (("parts", [p.part for p in done.parts]), ("misses", [m.miss for m in done.misses])):
        for index, name in enumerate(names):
            if name in names[:index]:
                yield (key, index), "doubled-id", f"{name!r} stands twice", "each id once"


def open_misses(done: DoneRecord, planned: PlannedIds) -> tuple[str, ...]:
    """Return the missed strips of the plan that nobody has seen clean."""
    closed = {miss.miss for miss in done.misses if miss.clean}
    return tuple(name for name in planned.misses if name not in closed)
