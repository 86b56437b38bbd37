"""The face of one wall: sight, dirt and hand work as hatches; openings, doors, what stands out, fixtures."""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import (
    GREY,
    HEAVY,
    MEDIUM,
    PALE,
    PAPER,
    THIN,
    Pen,
    box,
    group,
    line,
    shape,
)
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.labels import Box, centred
from sightwash.papers.drawings.legend import COVERED, EXCLUDED
from sightwash.papers.drawings.lettering import SMALL, named
from sightwash.papers.drawings.marks import FIXTURES, break_line
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView
from sightwash.site.walls import Fixture, Projection

GROUND: Final = Pen(2.2)
EXCLUDED_WORD: Final = "excluded"


def draw_face(sheet: Sheet, view: WallView, frame: WallFrame) -> Element:
    """Draw one stretch of wall and return its group."""
    made = group(sheet.layers["walls"], "wall", view.name, wall=view.wall.id)
    excluded = view.wall.excluded is not None
    shape(made, frame.cut(view.sight.outline), frame.up, None, PALE if excluded else PAPER)
    if not excluded:
        _soiling(sheet, made, view, frame)
    _sight(sheet, made, view, frame)
    _openings(made, view, frame)
    _doors(made, view, frame)
    _projections(made, view, frame, PALE if excluded else PAPER)
    shape(made, frame.cut(view.sight.covered), frame.up, COVERED, "none", sight="covered", wall=view.wall.id)
    if view.sight.covered:
        sheet.show("covered")
    _edges(made, frame, EXCLUDED if excluded else HEAVY)
    _fixtures(sheet, made, view, frame)
    if excluded:
        _excluded(sheet, view, frame)
    return made


def _soiling(sheet: Sheet, parent: Element, view: WallView, frame: WallFrame) -> None:
    for patch in view.takeoff.patches:
        if patch.given:
            words = f"{patch.soiling}, {patch.degree}"
            made = group(parent, "soiling", words, patch=patch.id)
            shape(made, frame.cut(patch.region), frame.up, None, sheet.fill(f"soiling-{patch.degree}"))
            sheet.show("soiling")


def _sight(sheet: Sheet, parent: Element, view: WallView, frame: WallFrame) -> None:
    made = group(parent, "sight")
    if view.wall.excluded is not None:
        made.set("opacity", "0.35")
    sight, wall = view.sight, view.wall.id
    shape(made, frame.cut(sight.public_seen), frame.up, None, "none", sight="seen", wall=wall)
    for name, region in (("hidden", sight.hidden), ("missed", sight.missed)):
        if region:
            fill = sheet.fill(name) if view.sight_known else "none"
            shape(made, frame.cut(region), frame.up, None, fill, sight=name, wall=wall)
            if view.sight_known:
                sheet.show(name)
    for patch in view.by_hand:
        shape(made, frame.cut(patch.region), frame.up, Pen(0.3), sheet.fill("hand"), work="hand", patch=patch.id)
        sheet.show("hand")


def _openings(parent: Element, view: WallView, frame: WallFrame) -> None:
    for opening in view.wall.openings:
        place = frame.bounds(
            opening.left, opening.left + opening.width, opening.bottom, opening.bottom + opening.height
        )
        if place.width <= 0.0:
            continue
        made = group(parent, "opening", f"{opening.id}: {opening.kind}", id=opening.id)
        box(made, (place.left, place.top), place.width, place.height, THIN)
        if opening.kind == "glass":
            size = min(place.width, place.height) * 0.3
            for start in (0.5, 1.0):
                line(
                    made,
                    [
                        (place.left + 1.5, place.top + size * start + 1.5),
                        (place.left + size * start + 1.5, place.top + 1.5),
                    ],
                    Pen(0.35, GREY),
                )
        else:
            for share in (0.25, 0.5, 0.75):
                y = place.top + share * place.height
                line(made, [(place.left, y), (place.right, y)], Pen(0.35))


def _doors(parent: Element, view: WallView, frame: WallFrame) -> None:
    for door in view.wall.doors:
        place = frame.bounds(door.left, door.left + door.width, door.bottom, door.bottom + door.height)
        if place.width <= 0.0:
            continue
        made = group(parent, "door", f"{door.id}: {door.tenant or 'door'}", door=door.id)
        box(made, (place.left, place.top), place.width, place.height, MEDIUM)
        if door.width > 1.5:
            line(made, [(place.middle[0], place.top), (place.middle[0], place.bottom)], THIN)


def _projections(parent: Element, view: WallView, frame: WallFrame, fill: str) -> None:
    for item in sorted(view.wall.projections, key=lambda each: each.gap + each.depth):
        place = projection_box(frame, item)
        if place.width <= 0.0:
            continue
        made = group(parent, "projection", f"{item.id}: {item.kind}", id=item.id)
        touches = item.gap <= 1e-9
        box(
            made,
            (place.left, place.top),
            place.width,
            place.height,
            MEDIUM if touches else THIN,
            fill if touches else "none",
        )
        if item.outer_drop > 0.0:
            y = place.top + item.outer_drop * frame.points
            line(made, [(place.left, y), (place.right, y)], THIN)


def projection_box(frame: WallFrame, item: Projection) -> Box:
    """Return the paper box of what stands out; where it overhangs the wall's end it does so on paper too."""
    left = frame.first if frame.cut_left else -1e9
    right = frame.last if frame.cut_right else 1e9
    a = frame.up(max(item.left, left), item.bottom + item.height)
    b = frame.up(min(item.left + item.width, right), item.bottom)
    return Box(a[0], a[1], b[0], b[1])


def _edges(parent: Element, frame: WallFrame, pen: Pen) -> None:
    top = frame.top_line()
    line(parent, top, pen)
    ends = ((frame.first, frame.cut_left, top[0]), (frame.last, frame.cut_right, top[-1]))
    for s, cut, head in ends:
        foot = frame.up(s, frame.placed.ground_at(s))
        if cut:
            break_line(parent, head, foot)
        else:
            line(parent, [head, foot], pen)
    feet = [frame.up(s, frame.placed.ground_at(s)) for s in (frame.first, frame.last)]
    line(parent, feet, GROUND)


def fixture_places(fixture: Fixture, length: float) -> list[float]:
    """Return where along the wall the pieces of a fixture sit."""
    places = [fixture.left + number * (fixture.spacing or 0.0) for number in range(fixture.count)]
    return [place for place in dict.fromkeys(places) if place <= length + 0.01]


def _fixtures(sheet: Sheet, parent: Element, view: WallView, frame: WallFrame) -> None:
    for fixture in view.wall.fixtures:
        mark, words = FIXTURES[fixture.kind]
        for s in fixture_places(fixture, view.placed.length):
            if not frame.holds(s):
                continue
            at = frame.up(s, fixture.height)
            mark(group(parent, "fixture", f"{fixture.id}: {fixture.kind}", id=fixture.id), at)
            sheet.labels.keep_clear(centred(at, 6.0, 6.0))
            sheet.show(words)


def _excluded(sheet: Sheet, view: WallView, frame: WallFrame) -> None:
    sheet.show("excluded")
    area = frame.bounds(frame.first, frame.last, 0.0, view.placed.outline.bounds[3])
    lines = [EXCLUDED_WORD]
    reason = named(view.wall.excluded or "", area.width - 24.0, SMALL)
    if reason and area.height > 24.0:
        lines.append(reason)
    width, height = label_size(lines, SMALL, True)
    sheet.label(lines, [centred(area.middle, width, height)], bold=True, wall=view.wall.id)
