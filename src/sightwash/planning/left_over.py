"""What a standing plan leaves over: each piece with the reason and the cheapest equipment that would do it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.units import AREA, LENGTH, show
from sightwash.planning.candidates import Candidate
from sightwash.planning.methods import ARM_REACH
from sightwash.planning.missed import MissedStrip
from sightwash.planning.pieces import LookPiece, WashPiece, hand_height
from sightwash.planning.reach import NONE, PLAIN, Reach
from sightwash.site.rig import Rig


def unreached(
    washes: Sequence[WashPiece], places: Sequence[Candidate], reach: Reach, rig: Rig, system: str
) -> Iterator[str]:
    """Yield what no place reaches, one line for each surface and reason."""
    left: dict[tuple[str, str], list[WashPiece]] = {}
    spots = np.array([place.kind == "spot" for place in places], bool)
    for row, piece in enumerate(washes):
        if reach.levels[row].min(initial=NONE) >= NONE:
            left.setdefault((piece.target, _reason(piece, row, spots, reach)), []).append(piece)
    for (target, reason), pieces in left.items():
        highest = max(pieces, key=lambda piece: piece.top)
        ends = f"{show(pieces[0].left, LENGTH, system)} to {show(pieces[-1].right, LENGTH, system)} along"
        where = f"{target}, {ends}, {show(highest.top, LENGTH, system)} up"
        yield f"{where}: {reason}; cheapest: {_remedy(reason, highest, rig, system)}"


NO_TIP, NO_PLACE = "no tip on the rig does its work at a pressure that it bears", "no allowed place to stand before it"
LINE, LAPS = "too near an overhead line", "too steep at the laps from every allowed place"
EDGE = "no straight line to it past what stands before it"
FAN, FAR = "a fan breaks up before it gets there", "out of reach from every allowed place on the ground"


def _reason(piece: WashPiece, row: int, spots: NDArray[np.bool_], reach: Reach) -> str:
    """Return the first thing that stands against every place."""
    clear = spots & ~reach.fire.near[row]
    struck = clear & reach.fire.struck[row]
    tests = (
        (NO_TIP, not piece.tips),
        (NO_PLACE, not spots.any()),
        (LINE, not clear.any()),
        (EDGE, not struck.any()),
        (LAPS, not (struck & ~reach.steep[row]).any()),
        (FAN, any(tip.fan > PLAIN for tip in piece.tips)),
    )
    return next((words for words, holds in tests if holds), FAR)


def _remedy(reason: str, piece: WashPiece, rig: Rig, system: str) -> str:
    """Return the cheapest equipment or step that would do a piece."""
    step = f"by hand from a ladder with a step {show(max(piece.top - hand_height(rig), 0.0), LENGTH, system)} up"
    pole = f"a wand or pole {show(max(piece.top - ARM_REACH, 0.0), LENGTH, system)} long"
    return {
        NO_TIP: "a plain tip that stays within the pressure, or brushing by hand",
        NO_PLACE: f"{pole} from beside it, or the ground cleared first",
        LINE: "nothing by this crew while the line is live: ask its owner, who can cover it or cut it off",
        EDGE: step if piece.top <= hand_height(rig) + TALLEST_STEP else "a lift",
        LAPS: f"{pole}, held level with the laps",
        FAN: "a plain (fan 0) tip of the same size",
    }.get(reason, f"a larger plain tip, {pole}, or a lift")


TALLEST_STEP = 6.0
"""Above a step so high a lift is named instead of a ladder [m]; a judgement."""


def unseen(
    looks: Sequence[LookPiece], seen: NDArray[np.bool_], strips: Sequence[MissedStrip], system: str
) -> dict[str, str]:
    """Return what of the missed strips nobody looks at from any place, in words by the strip's id."""
    found: dict[str, str] = {}
    rest = [piece for piece, by_any in zip(looks, np.any(seen, axis=1).tolist(), strict=True) if not by_any]
    by_id = {strip.id: strip for strip in strips}
    for name in dict.fromkeys(piece.strip for piece in rest):
        area = sum(float(piece.shape.area) for piece in rest if piece.strip == name)
        low = min(float(piece.shape.bounds[1]) for piece in rest if piece.strip == name)
        ladders = [remedy.step for remedy in by_id[name].remedies if remedy.kind == "ladder"]
        answer = f"a ladder with a step {show(min(ladders), LENGTH, system)} up, or " if ladders else ""
        where = f"{show(area, AREA, system)} stay unseen from every allowed place"
        found[name] = f"{name}: {where}, the lowest {show(low, LENGTH, system)} up; cheapest: {answer}a mirror pole"
    return found
