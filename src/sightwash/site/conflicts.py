"""When two people change one property: what an operation touches, and who must choose.

An operation is made against a revision. If a later operation touched the same key of the same element, it is refused
with both sides shown; otherwise it is done on top of what is there now. Nothing is merged without a word.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from sightwash.basis.errors import InputError, Problem
from sightwash.site.element_tree import steps_of
from sightwash.site.moves import touched_by_move
from sightwash.site.operations import SITE, Add, Change, Move, Operation, Remove, Together

ALL: Final = "*"
"""Every key of an element: it was added or removed whole."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """An operation that was done: the revision that it led to, by whom, and which revision it took back, if any."""

    revision: int
    operation: Operation
    person: str = ""
    undoes: int | None = None


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a conflict: what it wants of a key; ``gone`` where it removes the element."""

    value: Any
    gone: bool = False


@dataclass(frozen=True, slots=True)
class Clash:
    """One key of one element that two operations want; ``person`` did theirs, which led to ``revision``."""

    id: str | None
    key: str
    yours: Side
    theirs: Side
    revision: int
    person: str


class Conflict(InputError):
    """An operation was made against an older revision and touches what a later one touched."""

    def __init__(self, clashes: Sequence[Clash]) -> None:
        self.clashes = tuple(clashes)
        super().__init__([_problem(clash) for clash in clashes])

    def __reduce__(self) -> tuple[Any, ...]:
        """Let the error cross to another process whole."""
        return type(self), (self.clashes,)


def refuse_conflict(operation: Operation, base: int, history: Sequence[Recorded]) -> None:
    """Raise Conflict if a later operation than ``base`` still stands and touches the same key of an element."""
    later = [done for done in standing(history) if done.revision > base]
    yours = list(touched(operation))
    clashes = [
        Clash(id, _shorter(key, other_key), side, other, done.revision, done.person)
        for done in later
        for other_id, other_key, other in touched(done.operation)
        for id, key, side in yours
        if id == other_id and _meet(key, other_key) and not _agree(key, other_key, side, other)
    ]
    if clashes:
        newest = {(clash.id, clash.key): clash for clash in clashes}
        raise Conflict(list(newest.values()))


def standing(history: Sequence[Recorded]) -> list[Recorded]:
    """Return the operations that still stand: one that was taken back goes together with what took it back."""
    gone: set[int] = set()
    for done in sorted(history, key=lambda each: -each.revision):
        if done.undoes is not None and done.revision not in gone:
            gone |= {done.revision, done.undoes}
    return [done for done in history if done.revision not in gone]


def touched(operation: Operation) -> Iterator[tuple[str | None, str, Side]]:
    """Yield each (element, key) that an operation touches, with what it wants of it."""
    match operation:
        case Add(_, new, _, _):
            yield str(new.get("id")), ALL, Side(new)
        case Change(id, keys):
            for key, value in keys.items():
                yield id, key, Side(value)
        case Move(id, by):
            for key in touched_by_move():
                yield id, key, Side(f"moved by {by[0]}, {by[1]}")
        case Remove(id):
            yield id, ALL, Side(None, gone=True)
        case Together(operations):
            for each in operations:
                yield from touched(each)


def _meet(key: str, other: str) -> bool:
    """Whether two keys are one, or one lies within the other."""
    if ALL in (key, other):
        return True
    steps, others = steps_of(key), steps_of(other)
    shared = min(len(steps), len(others))
    return steps[:shared] == others[:shared]


def _agree(key: str, other_key: str, side: Side, other: Side) -> bool:
    """Whether both sides want the very same, so that nobody needs to choose."""
    return key == other_key and key != ALL and side == other and not isinstance(side.value, dict)


def _shorter(key: str, other: str) -> str:
    return other if key == ALL or (other != ALL and len(other) > len(key)) else key


def _problem(clash: Clash) -> Problem:
    name = clash.id or SITE
    who = clash.person or "somebody else"
    theirs = "removed it" if clash.theirs.gone else f"made it {_said(clash.theirs)}"
    yours = "you remove it" if clash.yours.gone else f"you make it {_said(clash.yours)}"
    key = name if clash.key == ALL else f"{name}.{clash.key}"
    message = f"{who} {theirs} at revision {clash.revision}; {yours}"
    return Problem(
        "conflict", message, key=key, expected="a choice between the two", fix="keep theirs, or send yours anew"
    )


def _said(side: Side) -> str:
    if side.value is None:
        return "nothing"
    return str(side.value) if isinstance(side.value, (str, int, float)) else "other than it was"
