"""Where to stand and where to look from, on the ground folded down before a wall."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import ACCENT, GREY, INK, Pen, Point, disc, group, line
from sightwash.papers.drawings.fold import Ground
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.labels import Box, along, centred, within_box
from sightwash.papers.drawings.lettering import SMALL, length_words, named, wrapped
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView, look_letters, place_words
from sightwash.planning.standing import LookSpot, StandingSpot

SPOT_KEYS: Final = {"sure": "spot-sure", "likely": "spot-likely"}
BEYOND: Final = 13.0
"""Height of the row of arrows to what lies beyond the fold [pt]."""
BAR: Final = 4.2
"""Height of one lane of bars that show what each spot serves [pt]."""
HEAD_ROOM: Final = 5.0


def bar_lanes(spots: Iterable[StandingSpot]) -> dict[str, int]:
    """Return the lane of each spot's bar, by its id: bars of one lane do not overlap."""
    ends: list[float] = []
    lanes: dict[str, int] = {}
    for spot in sorted(spots, key=lambda each: (each.left, each.right, each.id)):
        lane = next((lane for lane, end in enumerate(ends) if end <= spot.left + 1e-6), len(ends))
        ends[lane : lane + 1] = [spot.right]
        lanes[spot.id] = lane
    return lanes


def bars_height(view: WallView) -> float:
    """Return the height that the bars of a wall's spots take below the fold [pt]."""
    lanes = bar_lanes(view.standing.spots) if view.standing else {}
    return (max(lanes.values()) + 1) * BAR + HEAD_ROOM if lanes else 0.0


def draw_spots(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Draw the standing spots of a stretch, each tied to a bar below the fold: the stretch of wall that it serves."""
    if view.standing is None:
        return
    lanes = bar_lanes(view.standing.spots)
    top = frame.out(0.0, ground.depth)[1] + HEAD_ROOM
    for spot in view.standing.spots:
        left, right = max(spot.left, frame.first), min(spot.right, frame.last)
        if left >= right:
            continue
        made = group(sheet.layers["marks"], "spot", spot_words(spot, sheet.units), spot=spot.id, verdict=spot.verdict)
        bar = [(frame.out(s, 0.0)[0], top + lanes[spot.id] * BAR) for s in (left, right)]
        _bar(sheet, made, bar)
        if frame.holds(spot.s):
            at = frame.out(spot.s, spot.out)
            line(made, [at, (at[0], bar[0][1])], Pen(0.5))
            disc(made, (at[0], bar[0][1]), 1.5, None, INK)
            marks.spot(made, at, spot_number(spot), spot.verdict)
            sheet.labels.keep_clear(centred(at, 10.0, 10.0))
            sheet.labels.avoid_line([at, (at[0], bar[0][1])])
        sheet.show(SPOT_KEYS.get(spot.verdict, "spot-test"), "serves")
    _out_words(sheet, view.standing.spots, frame)


def _bar(sheet: Sheet, parent: Element, ends: list[Point]) -> None:
    a, b = (ends[0][0] + 1.0, ends[0][1]), (ends[1][0] - 1.0, ends[1][1])
    line(parent, [a, b], Pen(0.7))
    for x, y in (a, b):
        line(parent, [(x, y - 1.6), (x, y + 1.6)], Pen(0.7))
    sheet.labels.keep_clear(Box(a[0], a[1] - 1.0, b[0], b[1] + 1.0))


def spot_words(spot: StandingSpot, units: str) -> str:
    """Return what a spot serves in words."""
    out, stretch, up = (length_words(value, units) for value in (spot.out, spot.right - spot.left, spot.needed))
    return f"stand {out} out: serves {stretch} of wall, {spot.verdict} to {up} up"


def spot_number(spot: StandingSpot) -> str:
    """Return the number that a spot bears on a drawing: the one at the end of its id."""
    return spot.id.rsplit("-", 1)[-1]


def _out_words(sheet: Sheet, spots: tuple[StandingSpot, ...], frame: WallFrame) -> None:
    """Say how far out the spots of a stretch lie, once for each distance."""
    shown: dict[str, StandingSpot] = {}
    for spot in spots:
        if frame.holds(spot.s):
            shown.setdefault(f"{length_words(spot.out, sheet.units)} out", spot)
    for words, spot in shown.items():
        width, height = label_size([words])
        if width > frame.width:
            continue
        x, y = frame.out(spot.s, spot.out)
        ends = frame.out(frame.first, 0.0)[0] + width / 2, frame.out(frame.last, 0.0)[0] - width / 2
        rows = (y - 10.6, y + 10.6, y - 16.0)
        free = [place for row in rows for place in along((ends[0], row), (ends[1], row), width, height, 25)]
        free.sort(key=lambda place: round(abs(place.middle[0] - x) + 2.0 * abs(place.middle[1] - y), 3))
        sheet.later(1, partial(sheet.label, [words], free, ink=GREY))


def draw_looks(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Draw the places to look at missed strips from; those beyond the fold as an arrow with their distance."""
    told: set[str] = set()
    for look in view.standing.looks if view.standing else ():
        if not frame.holds(min(max(look.s, 0.0), frame.placed.length)):
            continue
        words = place_words(view, look, sheet.units)
        if 0.0 < look.out <= ground.depth:
            _look_here(sheet, look, words, frame.out(look.s, look.out), words not in told)
            told |= {words} if not look_letters(view, look) else set()
        else:
            s = min(max(look.s, frame.first), frame.last)
            _look_beyond(sheet, look, words, frame.out(s, ground.depth), bars_height(view))


def _look_here(sheet: Sheet, look: LookSpot, words: str, at: Point, labelled: bool) -> None:
    ink = INK if look.allowed else ACCENT
    marks.eye(group(sheet.layers["marks"], "look", words, look=look.id), at, ink)
    sheet.labels.keep_clear(centred(at, 11.0, 7.0))
    sheet.show("eye")
    if not labelled:
        return
    size = label_size([words])
    offsets = [(0.0, 9.0), (0.0, -9.0), (size[0] / 2 + 8, 0.0), (-size[0] / 2 - 8, 0.0), (0.0, 18.0), (0.0, -18.0)]
    places = [centred((at[0] + x, at[1] + y), *size) for x, y in offsets]
    sheet.later(1, partial(sheet.label, [words], places, target=at, ink=ink, look=look.id))


def _look_beyond(sheet: Sheet, look: LookSpot, words: str, edge: Point, bars: float) -> None:
    width, height = label_size([words])
    middle = edge[1] + bars + BEYOND / 2
    shifts = sorted((sign * step * 8.0 for step in range(60) for sign in (1, -1)), key=abs)
    ink = INK if look.allowed else ACCENT
    places = (centred((edge[0] + shift, middle), width + 14.0, height) for shift in shifts)
    place = sheet.label([words], places, ink=ink, look=look.id)
    if place is None:
        sheet.note(words)
        return
    made = group(sheet.layers["marks"], "look", words)
    start = (place.left + 3.0, middle - 5.0)
    marks.arrow(made, start, (start[0], middle + 5.0), Pen(0.8, ink))


def draw_unreached(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Say in the fold what no place reaches or shows: somebody has to decide."""
    if view.standing is None or not frame.holds(0.0):
        return
    corner = frame.out(frame.first, 0.0)
    area = Box(corner[0], corner[1], corner[0] + frame.width, corner[1] + ground.depth * frame.points)
    for words in (*view.standing.unreached, *view.standing.unseen):
        lines = wrapped(words, max(area.width - 22.0, 40.0), SMALL, 3)
        width, height = label_size(lines)
        free = list(within_box(area, width + 12.0, height))
        sheet.later(2, partial(_decide, sheet, view, words, lines, free))


def _decide(sheet: Sheet, view: WallView, words: str, lines: list[str], places: list[Box]) -> None:
    place = sheet.label(lines, places, ink=ACCENT, wall=view.wall.id)
    if place is None:
        sheet.note(f"{named(view.name)}: {words}", decide=True)
    else:
        marks.decision(sheet.layers["words"], (place.right - 4.0, place.middle[1]))
    sheet.show("decision")
