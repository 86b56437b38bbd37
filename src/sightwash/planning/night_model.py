"""A night as a scheduling problem: windows from the rules, order from the work, people and machines as means."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from sightwash.planning.night_bounds import CLOSING, least_finish, least_minutes
from sightwash.planning.night_pieces import MINUTE, NightWork, Piece, whole_minutes
from sightwash.planning.night_rules import (
    Interval,
    Night,
    NightRules,
    door_minutes,
    free_windows,
    plan_nights,
    quiet_minutes,
)
from sightwash.planning.night_water import Refills
from sightwash.planning.scheduling import Activity, Link, ScheduleProblem, Store
from sightwash.science.dwell import rinse_window

PEOPLE: Final = "people"
MACHINE: Final = "machine"
BREAK_SLACK: Final = 90
"""A break begins at most so long before it must [min]."""
OPENING: Final = ("walk-before", "set-up")


@dataclass(frozen=True, slots=True)
class NightModel:
    """The problem, its pieces (with those that each further night and the breaks add) and its nights."""

    problem: ScheduleProblem
    pieces: tuple[Piece, ...]
    minutes: Mapping[str, int]
    nights: tuple[Night, ...]
    lags: Mapping[str, tuple[str, int, int]]


def night_model(work: NightWork, rules: NightRules, refills: Refills) -> NightModel:
    """Return the problem of these nights, with every break that the least possible time on site asks for."""
    model = _model(work, rules, refills)
    for count in range(1, model.nights[-1].length // rules.break_before + 1):
        if breaks_short(model, rules, model.problem.least_finish):
            model = _model(work, replace(rules, breaks=max(count, rules.breaks)), refills)
    return model


def _model(work: NightWork, rules: NightRules, refills: Refills) -> NightModel:
    pieces, follows = _for_machines(work, rules)
    minutes = whole_minutes(pieces)
    lags = {
        lag.rinse: (lag.treat, *_lag(lag.dwell, lag.wet, minutes[lag.treat], minutes[lag.rinse])) for lag in work.lags
    }
    nights = plan_nights(rules, 1 + max((most for _, _, most in lags.values()), default=0))
    added = [*_more_nights(pieces, nights), *_breaks(pieces, minutes, rules, nights), *_fills(refills)]
    pieces = (*pieces, *(piece for piece, _, _ in added))
    minutes.update({piece.id: time for piece, time, _ in added})
    fixed = {piece.id: windows for piece, _, windows in added if windows is not None}
    windows = _windows(pieces, rules, nights, fixed)
    activities = tuple(
        Activity(piece.id, minutes[piece.id], _uses(piece, rules), windows[piece.id]) for piece in pieces
    )
    links = [Link(before, after, minutes[before]) for before, after in follows]
    links += [Link(treat, rinse, least, most) for rinse, (treat, least, most) in lags.items()]
    names = [piece.id for piece, _, windows in added if piece.action == "fill tank"]
    links += [Link("set-up", name, minutes["set-up"]) for name in names if "set-up" in minutes]
    links += [Link(name, CLOSING, minutes[name]) for name in names if CLOSING in minutes]
    store = _store(pieces, names, refills) if names else None
    capacity = ((PEOPLE, rules.people), (MACHINE, rules.machines))
    horizon = nights[-1].offset + nights[-1].length
    least = least_finish(pieces, minutes, links, nights, rules)
    problem = ScheduleProblem(activities, tuple(links), capacity, horizon, store, least)
    return NightModel(problem, pieces, minutes, nights, lags)


def _for_machines(work: NightWork, rules: NightRules) -> tuple[tuple[Piece, ...], list[tuple[str, str]]]:
    """Return pieces and order; with more than one machine nobody waits for the rig to move."""
    moves = {piece.id for piece in work.pieces if piece.action == "move rig"} if rules.machines > 1 else set()
    pieces = tuple(piece for piece in work.pieces if piece.id not in moves)
    return pieces, [(f.before, f.after) for f in work.follows if f.before not in moves and f.after not in moves]


def _lag(dwell: float, wet: float, treat: int, rinse: int) -> tuple[int, int]:
    """Return the earliest and latest start of a rinse after the start of its treatment, in whole minutes."""
    window = rinse_window(
        treat * MINUTE, rinse * MINUTE, dwell, max(wet, dwell + abs(treat - rinse) * MINUTE, treat * MINUTE)
    )
    least = math.ceil(window.least / MINUTE - 1e-9)
    return least, max(least, math.floor(window.most / MINUTE + 1e-9))


def _uses(piece: Piece, rules: NightRules) -> tuple[tuple[str, int], ...]:
    people = rules.people if piece.action == "break" else min(piece.workers, rules.people)
    return ((PEOPLE, people), (MACHINE, 1)) if piece.machine else ((PEOPLE, people),)


Added = tuple[Piece, int, tuple[Interval, ...] | None]


def _more_nights(pieces: Sequence[Piece], nights: Sequence[Night]) -> Iterator[Added]:
    """Yield a set-up at the start of each further night and a break-down at the end of each but the last."""
    minutes = whole_minutes(pieces)
    by_id = {piece.id: piece for piece in pieces}
    for number, night in enumerate(nights):
        end = night.offset + night.length
        if number > 0 and "set-up" in by_id:
            time = minutes["set-up"]
            yield _again(by_id["set-up"], number), time, ((night.offset, night.offset + time),)
        if number < len(nights) - 1 and CLOSING in by_id:
            time = minutes[CLOSING]
            yield _again(by_id[CLOSING], number), time, ((end - time, end),)


def _again(piece: Piece, number: int) -> Piece:
    return Piece(f"{piece.id}-night-{number + 1}", piece.task, piece.seconds, piece.action, piece.words, piece.part,
                 workers=piece.workers)  # fmt: skip


def _breaks(
    pieces: Sequence[Piece], minutes: Mapping[str, int], rules: NightRules, nights: Sequence[Night]
) -> Iterator[Added]:
    """Yield a break of the whole crew in each night that is longer than may be worked without one."""
    left = least_minutes(pieces, minutes, rules)
    for number, night in enumerate(nights):
        last = number == len(nights) - 1
        stay = min(left, night.length) if last else night.length
        left -= stay
        count = max(math.ceil(stay / rules.break_before) - 1, rules.breaks if last else 0)
        for turn in range(1, count + 1):
            due = night.offset + turn * rules.break_before
            words = "break for everybody: eat, drink, warm up or cool down"
            piece = Piece(f"break-{number + 1}-{turn}", "", rules.break_length * MINUTE, "break", words, "site")
            until = min(due + rules.break_length, night.offset + night.length)
            yield piece, rules.break_length, ((due - BREAK_SLACK, until),)


def breaks_short(model: NightModel, rules: NightRules, finish: int) -> bool:
    """Tell whether the last night turns out so long that it lacks a break."""
    night = model.nights[-1]
    count = sum(piece.id.startswith(f"break-{len(model.nights)}-") for piece in model.pieces)
    return finish - night.offset > (count + 1) * rules.break_before + rules.break_length * count


def _fills(refills: Refills) -> Iterator[Added]:
    for number in range(refills.count):
        piece = Piece(
            f"fill-{number + 1}", "", refills.seconds, "fill tank", "fill the water tank", "site", machine=True
        )
        yield piece, max(1, round(refills.seconds / MINUTE)), None


def _store(pieces: Sequence[Piece], names: Sequence[str], refills: Refills) -> Store:
    uses = tuple((piece.id, math.ceil(piece.litres)) for piece in pieces if piece.machine and piece.litres >= 1.0)
    return Store(tuple(names), uses, math.floor(refills.tank))


def _windows(
    pieces: Sequence[Piece],
    rules: NightRules,
    nights: Sequence[Night],
    fixed: Mapping[str, tuple[Interval, ...]],
) -> dict[str, tuple[Interval, ...]]:
    """Return when each piece may be done: inside a night, doors shut, no machine in quiet hours."""
    doors = door_minutes(rules, nights)
    quiet = () if rules.quiet_leave else quiet_minutes(rules, nights)
    edges = [window for name in fixed if name.startswith(("set-up", CLOSING)) for window in fixed[name]]
    found = {}
    for piece in pieces:
        if piece.id in fixed:
            found[piece.id] = fixed[piece.id]
            continue
        taken = [*edges, *(interval for door in piece.doors for interval in doors.get(door, ()))]
        if piece.machine:
            taken += quiet
        among = nights[:1] if piece.id in OPENING else nights[-1:] if piece.id == CLOSING else nights
        found[piece.id] = free_windows(among, taken)
    return found
