"""Pieces of a night: one action on one stretch, with what must go before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

MINUTE: Final = 60.0
LEAST_PIECE: Final = 20.0
"""Work shorter than this is done in passing [s]."""
LONGEST_PIECE: Final = 2700.0
"""Work longer than this is cut into stretches, so that a night can end between them [s]."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One action: its mean time [s], who and what it takes, where along a wall [m], its water [L].

    ``task`` is the id of the task of the hours whose time it is a part of, ``group`` the building it belongs to,
    ``along`` the wall that ``left`` and ``right`` are measured on.
    """

    id: str
    task: str
    seconds: float
    action: str
    words: str
    part: str
    group: str = ""
    along: str = ""
    left: float = 0.0
    right: float = 0.0
    treatment: int = 0
    workers: int = 1
    machine: bool = False
    doors: tuple[str, ...] = ()
    litres: float = 0.0


@dataclass(frozen=True, slots=True)
class Follow:
    """``after`` starts when ``before`` has ended."""

    before: str
    after: str


@dataclass(frozen=True, slots=True)
class RinseLag:
    """A rinse that comes after the dwell and before the film of its treatment dries [s]."""

    treat: str
    rinse: str
    dwell: float
    wet: float


@dataclass(frozen=True, slots=True)
class NightWork:
    """All pieces in the trade's order, what follows what, and the groups in the order they are taken."""

    pieces: tuple[Piece, ...]
    follows: tuple[Follow, ...]
    lags: tuple[RinseLag, ...]
    groups: tuple[str, ...]
    notes: tuple[str, ...]


def whole_minutes(pieces: Sequence[Piece]) -> dict[str, int]:
    """Return whole minutes for each piece, so that the pieces of one task keep its sum; none is below one minute."""
    reached: dict[str, float] = {}
    given: dict[str, int] = {}
    found: dict[str, int] = {}
    for piece in pieces:
        key = piece.task or piece.id
        reached[key] = reached.get(key, 0.0) + piece.seconds / MINUTE
        minutes = max(1, round(reached[key]) - given.get(key, 0))
        given[key] = given.get(key, 0) + minutes
        found[piece.id] = minutes
    return found
