"""A section through one missed strip: the crew's eye, a public eye, and what each sees over the edge."""

from __future__ import annotations

from functools import partial
from typing import Final

from sightwash.basis.units import INCH
from sightwash.papers.drawings import marks
from sightwash.papers.drawings.callouts import strip_lines
from sightwash.papers.drawings.canvas import ACCENT, HEAVY, INK, LIGHT, MEDIUM, PAPER, Pen, box, disc, group, line
from sightwash.papers.drawings.dimensions import dimension
from sightwash.papers.drawings.labels import Box as Area
from sightwash.papers.drawings.labels import around, box_around, centred, within_box
from sightwash.papers.drawings.legend import CREW_LINE, PUBLIC_LINE
from sightwash.papers.drawings.lettering import SMALL, apart, band_words, fitted, length_words, named, wrapped
from sightwash.papers.drawings.scale import PAGE, Scale, largest_scale
from sightwash.papers.drawings.section_view import (
    BREAK,
    SectionFrame,
    SectionView,
    SightEye,
    left_out,
    section_view,
)
from sightwash.papers.drawings.sheet import HEAD, Sheet, label_size
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site
from sightwash.site.shapes import projection_section

LEFT: Final = 196.0
"""Room for the heights to the left of the wall [pt]."""
RIGHT: Final = 40.0
BELOW: Final = 62.0
"""Room for the distances below the ground [pt]."""
THICK: Final = 9.0
"""How thick the wall is drawn; its true thickness is not known [pt]."""
LARGEST: Final = 70.0


def section(site: Site, plan: VisitPlan, strip_id: str) -> str:
    """Return a section through a missed strip as SVG; InputError if the plan has no such strip."""
    view = section_view(site, plan, strip_id)
    scale = largest_scale(plan.units, lambda scale: _fits(view, scale), LARGEST)
    rest = f": section through strip {view.strip.letter}"
    sheet = Sheet(
        PAGE[0], view.wall.name + rest, _description(view, plan.units), f"section-{strip_id}", plan.units, scale
    )
    words = f"drawn square to the wall at the middle of the strip; {named(site.name)}, {strip_id}; for {plan.on}"
    sheet.head(view.wall.name, rest, words)
    low = min(view.lowest, view.ground)
    bottom = HEAD + 30.0 + (view.top - low) * scale.points
    frame = SectionFrame(LEFT, bottom + low * scale.points, scale.points, view.near, view.far)
    sheet.labels.bounds = Area(2.0, HEAD, PAGE[0] - 2.0, bottom + BELOW)
    _wall(sheet, view, frame)
    _ground(sheet, view, frame)
    _heights(sheet, view, frame)
    sheet.labels.keep_clear(Area(0.0, HEAD, frame.x, frame.at(0.0, view.ground)[1]))
    for eye in view.eyes:
        _eye(sheet, eye, frame)
    end = _distances(sheet, view, frame, bottom)
    _words(sheet, view, frame, bottom)
    return sheet.finish(end)


def _fits(view: SectionView, scale: Scale) -> bool:
    width = view.width * scale.points + (BREAK if view.far is not None else 0.0)
    height = (view.top - min(view.lowest, view.ground)) * scale.points
    return width <= PAGE[0] - LEFT - RIGHT and height <= PAGE[1] - HEAD - 30.0 - BELOW - 40.0


def _wall(sheet: Sheet, view: SectionView, frame: SectionFrame) -> None:
    made = group(sheet.layers["walls"], "wall", view.wall.name, wall=view.wall.wall.id)
    x, top = frame.at(0.0, view.wall_top)
    foot = frame.at(0.0, view.ground)[1]
    box(made, (x - THICK, top), THICK, foot - top + 6.0, Pen(0.5), sheet.fill("cut"))
    line(made, [(x, foot + 6.0), (x, top), (x - THICK, top)], HEAVY)
    strip = view.strip.strip
    high, low = frame.at(0.0, strip.top)[1], frame.at(0.0, strip.bottom)[1]
    band = group(sheet.layers["walls"], "missed", strip.id, strip=strip.id)
    box(band, (x - THICK, high), THICK, low - high, Pen(0.8), PAPER)
    box(band, (x - THICK, high), THICK, low - high, Pen(0.8), sheet.fill("missed"))
    for item in view.items:
        made = group(sheet.layers["walls"], "projection", f"{item.id}: {item.kind}", id=item.id)
        corners = [frame.at(out, z) for out, z in projection_section(item)]
        line(made, corners, MEDIUM, closed=True, fill=sheet.fill("cut"))
        area = box_around(corners)
        sheet.labels.keep_clear(area)
        words = fitted(item.id, 90.0, SMALL)
        below = (area.middle[0], area.bottom + 6.0)
        places = [
            centred(below, *label_size([words])),
            *around(area.middle, *label_size([words]), area.height / 2 + 2.0),
        ]
        sheet.later(2, partial(sheet.label, [words], places, target=area.middle))
    sheet.show("cut", "missed")


def _ground(sheet: Sheet, view: SectionView, frame: SectionFrame) -> None:
    made = group(sheet.layers["ground"], "ground-line")
    places = sorted([(0.0, view.ground), *((eye.out, eye.foot) for eye in view.eyes)])
    places.append((view.end, places[-1][1]))
    for piece in frame.pieces(places):
        line(made, piece, Pen(1.6))
    if view.far is not None:
        for x in (frame.near_edge, frame.near_edge + BREAK):
            marks.break_line(made, (x, frame.at(0.0, view.top)[1]), (x, frame.at(0.0, view.lowest)[1] + 8.0))


def _eye(sheet: Sheet, eye: SightEye, frame: SectionFrame) -> None:
    kind = "public" if eye.public else "crew"
    sheet.show(f"{kind}-line")
    made = group(sheet.layers["lines"], f"sightline-{kind}", eye.name, eye=eye.id)
    pen = PUBLIC_LINE if eye.public else CREW_LINE
    for piece in frame.pieces([(0.0, eye.hit), (eye.out, eye.height)]):
        line(made, piece, pen)
        sheet.labels.avoid_line(piece)
    disc(made, frame.at(0.0, eye.hit), 1.6, None, INK)
    at = frame.at(eye.out, eye.height)
    foot = frame.at(eye.out, eye.foot)
    marks.eye(group(sheet.layers["marks"], "eye", eye.name, eye=eye.id), at)
    sheet.labels.keep_clear(Area(at[0] - 6.0, at[1] - 4.0, at[0] + 6.0, at[1] + 4.0))
    dimension(made, (at[0], foot[1]), (at[0], at[1] + 3.5), length_words(eye.height - eye.foot, sheet.units))
    lines = [apart(words) for words in wrapped(eye.name, 110.0, SMALL, 2)]
    size = label_size(lines)
    places = [*around((at[0], at[1] - 2.0), *size, 5.0)]
    over = [place for place in places if place.bottom <= at[1] - 3.0]
    sheet.label(lines, [*over, *places], target=at, bold=True, eye=eye.id)


def _heights(sheet: Sheet, view: SectionView, frame: SectionFrame) -> None:
    """Draw the missed band and what each eye does not see above the edge, to the left of the wall."""
    made = group(sheet.layers["marks"], "dimension")
    strip = view.strip.strip
    x = frame.x - THICK
    spans = [(strip.bottom, strip.top, f"missed: {_both(strip.top - strip.bottom, sheet.units)}", view.strip.open)]
    if view.edge is not None:
        edge = view.edge[1]
        for eye in view.eyes:
            who = "public" if eye.public else "crew"
            spans.append((edge, eye.hit, f"hidden from the {who}: {_small(eye.hit - edge, sheet.units)}", False))
        spans.append((view.ground, edge, f"edge: {length_words(edge - view.ground, sheet.units)} up", False))
    levels = {z for low, high, *_ in spans for z in (low, high)}
    for z in sorted(levels):
        y = frame.at(0.0, z)[1]
        line(made, [(x - 2.0, y), (x - 18.0 * len(spans), y)], Pen(0.25, LIGHT))
    _spans(sheet, spans, frame, x)


def _small(height: float, units: str) -> str:
    """Return a height that may be too small for whole inches or centimetres."""
    least = INCH if units == "us" else 0.01
    if 0.0 < height < least:
        return f"under 1 {'in' if units == 'us' else 'cm'}"
    return length_words(height, units) if units == "us" or height >= 1.0 else band_words(height, units)


def _both(height: float, units: str) -> str:
    """Return a height in inches, and in feet and inches where it has feet."""
    feet = length_words(height, units)
    return f"{band_words(height, units)} ({feet})" if units == "us" and "ft" in feet else band_words(height, units)


def _spans(sheet: Sheet, spans: list[tuple[float, float, str, bool]], frame: SectionFrame, right: float) -> None:
    """Draw upright dimensions side by side; their words stand to the left, apart from each other."""
    made = group(sheet.layers["marks"], "dimension")
    for number, (low, high, words, decides) in enumerate(spans):
        x = right - 10.0 - 9.0 * number
        a, b = frame.at(0.0, high)[1], frame.at(0.0, low)[1]
        dimension(made, (x, b), (x, a), "")
        middle = (x, (a + b) / 2)
        width, height = label_size([words], SMALL, decides)
        start = right - 14.0 - 9.0 * len(spans) - width / 2
        shifts = sorted((sign * step * 4.0 for step in range(60) for sign in (1, -1)), key=abs)
        places = (
            Area(start - width / 2, middle[1] + s - height / 2, start + width / 2, middle[1] + s + height / 2)
            for s in shifts
        )
        ink = ACCENT if decides else INK
        sheet.label([words], places, target=middle, bold=decides, ink=ink)


def _distances(sheet: Sheet, view: SectionView, frame: SectionFrame, bottom: float) -> float:
    """Draw the distances from the wall below the ground; return where they end."""
    made = group(sheet.layers["marks"], "dimension")
    spans = [
        (eye.out, f"{length_words(eye.out, sheet.units)} to {'the public' if eye.public else 'the crew'}")
        for eye in view.eyes
    ]
    if view.edge is not None:
        spans.append((view.edge[0], length_words(view.edge[0], sheet.units)))
    y = bottom + 14.0
    for out, words in sorted(spans):
        y += 13.0
        start, end = (frame.x, y), (frame.at(out, 0.0)[0], y)
        dimension(made, start, end, words if end[0] - start[0] > 40.0 else "")
        if end[0] - start[0] <= 40.0:
            sheet.label([words], [Area(end[0] + 5.0, y - 4.5, end[0] + 5.0 + label_size([words])[0], y + 4.5)])
        if view.far is not None and out > view.near:
            marks.break_line(made, (frame.near_edge + BREAK / 2, y - 5.0), (frame.near_edge + BREAK / 2, y + 5.0))
    return y + 12.0


def _words(sheet: Sheet, view: SectionView, frame: SectionFrame, bottom: float) -> None:
    """Write what is said of the strip, its remedies and what the section leaves out."""
    lines = strip_lines(view.wall, view.strip, sheet.units, every_remedy=True)
    lines += wrapped(left_out(view), 190.0, SMALL, 3)
    width, height = label_size(lines, SMALL, True)
    area = Area(frame.x + 20.0, HEAD + 4.0, PAGE[0] - 6.0, bottom)
    right = Area(area.right - width - 2.0, area.top, area.right, area.bottom)
    places = [*within_box(right, width, height), *within_box(area, width, height)]
    ink = ACCENT if view.strip.open else INK
    sheet.label(lines, sorted(places, key=lambda place: place.top), ink=ink, bold=True, plate=True)
    sheet.settle()


def _description(view: SectionView, units: str) -> str:
    words = [" ".join(strip_lines(view.wall, view.strip, units, every_remedy=True)) + "."]
    for eye in view.eyes:
        sees = f"sees the wall from {length_words(eye.hit - view.ground, units)} up"
        words.append(f"{eye.name}, {length_words(eye.out, units)} out, {sees}.")
    return " ".join(words)
