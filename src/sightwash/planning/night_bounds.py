"""What no schedule of a night can beat: the machine's work and the whole crew's, one after the other."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sightwash.planning.night_pieces import Piece
from sightwash.planning.night_rules import Night, NightRules
from sightwash.planning.scheduling import Link

Array = NDArray[np.int64]
CLOSING: Final = "break-down"


def least_minutes(pieces: Sequence[Piece], minutes: Mapping[str, int], rules: NightRules) -> int:
    """Return minutes that no schedule can beat: what takes everybody, then the machine's work or the rest shared."""
    together = sum(minutes[p.id] for p in pieces if _takes_all(p, rules))
    machine = sum(minutes[p.id] for p in pieces if p.machine and not _takes_all(p, rules))
    labour = sum(minutes[p.id] * p.workers for p in pieces if not _takes_all(p, rules))
    return together + max(math.ceil(machine / rules.machines), math.ceil(labour / rules.people))


def _takes_all(piece: Piece, rules: NightRules) -> bool:
    return piece.action == "break" or piece.workers >= rules.people


def least_finish(
    pieces: Sequence[Piece],
    minutes: Mapping[str, int],
    links: Sequence[Link],
    nights: Sequence[Night],
    rules: NightRules,
) -> int:
    """Return a minute on the shared line before which the last night cannot end.

    With one machine its pieces and those of the whole crew stand one after the other: of any set of them none begins
    before the shortest way to it and none ends later than the longest way after it allows.
    """
    if rules.machines > 1:
        least = least_minutes(pieces, minutes, rules)
        return nights[-1].offset + max(least - sum(night.length for night in nights[:-1]), 0)
    chain = [piece.id for piece in pieces if piece.machine or _takes_all(piece, rules)]
    own_night = {name for name in chain if name.startswith(("break-", "set-up-night"))} - {CLOSING}
    chain = [name for name in chain if name not in own_night]
    heads, tails = _ways(minutes, links)
    need = _one_after_the_other(
        np.array([minutes[name] for name in chain]),
        np.array([heads[name] for name in chain]),
        np.array([tails[name] for name in chain]),
    )
    need += sum(minutes[name] for name in own_night)
    return nights[-1].offset + max(need - sum(night.length for night in nights[:-1]), 0)


def _one_after_the_other(minutes: Array, heads: Array, tails: Array) -> int:
    """Return the most that any set of pieces asks for: shortest way to it, its sum, shortest way after it."""
    if not len(minutes):
        return 0
    later = heads[:, None] >= np.unique(heads)[None, :]
    longer = tails[:, None] >= np.unique(tails)[None, :]
    inner = (later * minutes[:, None]).T @ longer
    asked = np.unique(heads)[:, None] + inner + np.unique(tails)[None, :]
    return int(asked[inner > 0].max(initial=0))


def _ways(minutes: Mapping[str, int], links: Sequence[Link]) -> tuple[dict[str, int], dict[str, int]]:
    """Return the longest way from the start to the start of each piece, and from its end to the finish [min]."""
    after: dict[str, list[Link]] = {}
    waiting = dict.fromkeys(minutes, 0)
    for link in links:
        after.setdefault(link.before, []).append(link)
        waiting[link.after] += 1
    ready = [name for name, count in waiting.items() if count == 0]
    heads, order = dict.fromkeys(minutes, 0), []
    while ready:
        name = ready.pop()
        order.append(name)
        for link in after.get(name, ()):
            heads[link.after] = max(heads[link.after], heads[name] + link.least)
            waiting[link.after] -= 1
            if waiting[link.after] == 0:
                ready.append(link.after)
    tails = dict.fromkeys(minutes, 0)
    for name in reversed(order):
        for link in after.get(name, ()):
            tails[name] = max(tails[name], link.least - minutes[name] + minutes[link.after] + tails[link.after])
    return heads, tails
