"""What to relax when a night does not hold the work: each rule alone, then two and three together, with amounts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import combinations
from typing import Final

from sightwash.planning.night_bounds import least_minutes
from sightwash.planning.night_model import NightModel, night_model
from sightwash.planning.night_pieces import NightWork
from sightwash.planning.night_rules import NightRules, free_windows, quiet_minutes
from sightwash.planning.night_water import Refills
from sightwash.planning.scheduling import Schedule, solve_schedule

STEP: Final = 30
"""Steps in which a start or an end is moved [min]."""
MOST_MOVED: Final = 240
CHANGES: Final = {"earlier": 1, "later": 1, "person": 2, "quiet": 2, "night": 3, "nights": 5, "machine": 4}
"""Rules that can be relaxed and how unwelcome each is; a judgement. The longest shift is never among them."""
APART: Final = (("earlier", "later"), ("night", "nights"))
ENOUGH: Final = 3
MOST_ASKED: Final = 12
MOST_SOLVED: Final = 2
LIMIT: Final = 0.5
"""Deterministic work for each set of rules that is tried."""


@dataclass(frozen=True, slots=True)
class Relaxation:
    """A set of rules to relax, how far, and whether the work then fits; ``lacks`` is what is still short [s]."""

    asks: tuple[str, ...]
    fits: bool
    nights: int
    lacks: float
    words: str


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A relaxation with the rules it leads to, and the schedule that was found under them."""

    relaxation: Relaxation
    rules: NightRules
    model: NightModel | None
    schedule: Schedule | None
    solved: int


def lacking(model: NightModel, rules: NightRules) -> int:
    """Return minutes of work that the rules leave no room for, by counting alone; 0 where counting shows none."""
    room = sum(night.length for night in model.nights)
    least = least_minutes(model.pieces, model.minutes, rules)
    machine = sum(model.minutes[piece.id] for piece in model.pieces if piece.machine)
    quiet = () if rules.quiet_leave else quiet_minutes(rules, model.nights)
    free = sum(high - low for low, high in free_windows(model.nights, quiet))
    over = model.problem.least_finish - model.problem.horizon
    return max(least - room, -(-machine // rules.machines) - free, over, 0)


def plan_relaxations(work: NightWork, rules: NightRules, refills: Refills) -> tuple[Relaxed, ...]:
    """Return what was tried, from the least unwelcome change on, until a few sets of changes are found that do."""
    found: list[Relaxed] = []
    asked = 0
    for names in _sets(rules):
        tried = _tried(work, rules, refills, names)
        found.append(tried)
        asked += tried.solved
        if sum(each.relaxation.fits for each in found) >= ENOUGH or asked >= MOST_ASKED:
            break
    return tuple(each for each in found if each.relaxation.fits or len(each.relaxation.asks) == 1)


def _sets(rules: NightRules) -> list[tuple[str, ...]]:
    """Return sets of changes, the least unwelcome first; each single one stands before any pair."""
    names = [name for name in CHANGES if name != "quiet" or rules.quiet is not None]
    sets = [chosen for size in (1, 2, 3) for chosen in combinations(names, size) if not _contradict(chosen)]
    return sorted(sets, key=lambda chosen: (len(chosen) > 1, sum(CHANGES[name] for name in chosen), len(chosen)))


def _contradict(chosen: tuple[str, ...]) -> bool:
    return any(a in chosen and b in chosen for a, b in APART)


def _tried(work: NightWork, rules: NightRules, refills: Refills, names: tuple[str, ...]) -> Relaxed:
    """Return what comes of a set of changes; a moved start or end is moved as little as does."""
    changed, lacks, solved = rules, 0, 0
    amounts = _amounts(names)
    most = _changed(rules, names, amounts[-1])
    if (short := lacking(night_model(work, most, refills), most)) > 0:
        return Relaxed(_relaxation(rules, most, names, amounts[-1], short, False), most, None, None, 0)
    for moved in amounts:
        changed = _changed(rules, names, moved)
        model = night_model(work, changed, refills)
        lacks = lacking(model, changed)
        if lacks > 0:
            continue
        answer = solve_schedule(model.problem, LIMIT, any_will_do=True)
        solved += 1
        if isinstance(answer, Schedule):
            return Relaxed(_relaxation(rules, changed, names, moved, 0, True), changed, model, answer, solved)
        if solved == MOST_SOLVED:
            break
    return Relaxed(_relaxation(rules, changed, names, moved, lacks, False), changed, None, None, solved)


def _amounts(names: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(range(STEP, MOST_MOVED + 1, STEP)) if {"earlier", "later"} & {*names} else (0,)


def _changed(rules: NightRules, names: tuple[str, ...], moved: int) -> NightRules:
    for name in names:
        if name in ("earlier", "later"):
            rules = _moved(rules, name, moved)
        elif name == "quiet":
            rules = replace(rules, quiet_leave=True)
        elif name == "person":
            rules = replace(rules, people=rules.people + 1)
        elif name == "machine":
            rules = replace(rules, machines=rules.machines + 1)
        else:
            rules = replace(rules, nights=rules.nights + (1 if name == "night" else 2))
    return rules


def _moved(rules: NightRules, name: str, minutes: int) -> NightRules:
    if name == "earlier":
        start = (datetime.combine(rules.on, rules.start) - timedelta(minutes=minutes)).time()
        return replace(rules, start=start)
    if rules.end is None:
        return rules
    return replace(rules, end=(datetime.combine(rules.on, rules.end) + timedelta(minutes=minutes)).time())


def _relaxation(
    rules: NightRules, changed: NightRules, names: tuple[str, ...], moved: int, lacks: int, fits: bool
) -> Relaxation:
    asks = tuple(_words(rules, changed, name, moved) for name in names)
    short = f": still {lacks} min short" if lacks else ": no order was found that fits"
    words = f"{'; '.join(asks)}{'' if fits else short}"
    return Relaxation(asks, fits, changed.nights, lacks * 60.0, words)


def _words(rules: NightRules, changed: NightRules, name: str, moved: int) -> str:
    hours = f"{moved // 60} h {moved % 60:02d} min" if moved >= 60 else f"{moved} min"
    quiet = f"{rules.quiet.start:%H:%M} to {rules.quiet.end:%H:%M}" if rules.quiet else ""
    return {
        "earlier": f"start {hours} earlier, at {changed.start:%H:%M}",
        "later": f"end {hours} later{f', at {changed.end:%H:%M}' if changed.end else ''}",
        "person": f"one more person, {changed.people} in all",
        "machine": f"one more machine, {changed.machines} in all",
        "quiet": f"leave in writing to run the machine in the quiet hours, {quiet}",
        "night": f"one more night, {changed.nights} in all",
        "nights": f"two more nights, {changed.nights} in all",
    }[name]
