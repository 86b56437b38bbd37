"""Everything that lies or stands on the ground, as regions with a style, for the plan and the folded-down strip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.papers.drawings.canvas import GREY, INK, PALE, PAPER, Pen, Place, group, shape
from sightwash.papers.drawings.legend import EXCLUDED, TRIM
from sightwash.papers.drawings.sheet import Sheet
from sightwash.papers.drawings.views import WallView
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.regions import Region, region_of
from sightwash.planning.visit import VisitPlan
from sightwash.site.ground import Post
from sightwash.site.model import Site
from sightwash.site.walls import Projection

ON_THE_GROUND: Final = 0.3
"""What stands out and begins lower than this stands on the ground [m]."""

BROAD: Final = 0.7
"""A post broader than this is a bench or a planter and is drawn open [m]."""


@dataclass(frozen=True, slots=True)
class Style:
    """How a piece of ground is drawn, and what the legend calls it."""

    pen: Pen | None
    fill: str = "none"
    hatch: str = ""
    legend: str = ""


STYLES: Final[dict[str, Style]] = {
    "surface": Style(Pen(0.6), PAPER),
    "not-washed": Style(EXCLUDED, "none", legend="not-washed"),
    "cleaner": Style(None, hatch="cleaner", legend="cleaner"),
    "trim": Style(TRIM, TRIM.ink, legend="trim"),
    "corners": Style(Pen(1.2), INK, legend="corners"),
    "wand": Style(Pen(0.4), hatch="hand", legend="hand"),
    "parked": Style(Pen(0.5, GREY, "3 2"), "none"),
    "neighbour": Style(Pen(0.6, GREY, "1 2"), "none"),
    "planting": Style(Pen(0.5), hatch="planting", legend="planting"),
    "building": Style(Pen(0.7, GREY), PALE),
    "post": Style(Pen(0.4), INK),
    "object": Style(Pen(0.8), PALE),
    "keep-out": Style(Pen(1.6), PAPER, legend="keep-out"),
}


@dataclass(frozen=True, slots=True)
class GroundPiece:
    """One region of the ground: its style, its id, what it is in words, and what it lies along."""

    style: str
    id: str
    words: str
    region: Region
    along: str | None = None

    @property
    def corners(self) -> NDArray[np.float64]:
        """The corners of its outlines."""
        return np.array([corner for rings in self.region for corner in rings[0]])


def ground_pieces(site: Site, plan: VisitPlan, views: tuple[WallView, ...]) -> tuple[GroundPiece, ...]:
    """Return everything on the ground in the order in which it is drawn."""
    placed = {view.wall.id for view in views}
    strips = {surface.id: surface.along for surface in site.surfaces if surface.along in placed and not surface.outline}
    return (
        *(piece for takeoff in plan.ground for piece in _surface(takeoff, strips.get(takeoff.surface))),
        *(GroundPiece("parked", a.id, f"{a.id}: parked vehicles", ((a.outline,),)) for a in site.parked if a.present),
        *(GroundPiece("neighbour", n.id, f"{n.id}: {n.what}", ((n.outline,),)) for n in site.neighbours),
        *(GroundPiece("planting", p.id, f"{p.id}: {p.kind}", ((p.outline,),)) for p in site.planting),
        *(
            GroundPiece("building", b.id, f"{b.id}: {b.name or 'building'}", ((b.outline, *b.holes),))
            for b in site.buildings
        ),
        *(GroundPiece("post" if post.size < BROAD else "object", post.id, post.id, _post(post)) for post in site.posts),
        *(
            GroundPiece("post", item.id, f"{item.id}: {item.kind}", _footprint(view, item), view.wall.id)
            for view in views
            for item in view.wall.projections
            if item.bottom < ON_THE_GROUND
        ),
        *(GroundPiece("keep-out", k.id, f"{k.id}: keep out, {k.reason}", ((k.outline,),)) for k in site.keep_outs),
    )


def _surface(takeoff: GroundTakeoff, along: str | None) -> Iterator[GroundPiece]:
    washed = "surface" if takeoff.washed else "not-washed"
    words = takeoff.name if takeoff.washed else f"{takeoff.name}: not washed"
    yield GroundPiece(washed, takeoff.surface, words, takeoff.region, along)
    for part in takeoff.parts:
        if part.region:
            yield GroundPiece(part.how, part.id, f"{takeoff.name}: {part.why.rule}", part.region, along)


def _post(post: Post) -> Region:
    x, y, half = *post.at, post.size / 2
    if post.round:
        return region_of(shapely.Point(x, y).buffer(half, quad_segs=4))
    return region_of(shapely.box(x - half, y - half, x + half, y + half))


def _footprint(view: WallView, item: Projection) -> Region:
    ends, depths = (item.left, item.left + item.width), (item.gap, item.gap + item.depth)
    corners = ((ends[0], depths[0]), (ends[0], depths[1]), (ends[1], depths[1]), (ends[1], depths[0]))
    x_y = (view.placed.point(s, out) for s, out in corners)
    return ((tuple((float(p[0]), float(p[1])) for p in x_y),),)


def draw_piece(sheet: Sheet, parent: Element, piece: GroundPiece, region: Region, place: Place) -> Element:
    """Draw a piece of ground, or the part of it that ``region`` holds."""
    style = STYLES[piece.style]
    made = group(parent, f"ground-{piece.style}", piece.words, id=piece.id)
    fill = sheet.fill(style.hatch) if style.hatch else style.fill
    shape(made, region, place, style.pen, fill, ground=piece.style, part=piece.id)
    if style.legend:
        sheet.show(style.legend)
    return made
