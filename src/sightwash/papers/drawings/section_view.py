"""What a section through a missed strip shows: the edge, the eyes, and where their lines meet the wall."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import shapely

from sightwash.papers.drawings.canvas import Point
from sightwash.papers.drawings.lettering import plain_words
from sightwash.papers.drawings.views import StripView, WallView, strip_view
from sightwash.planning.sight import crew_walk, eye_points
from sightwash.planning.visit import VisitPlan
from sightwash.science.sightlines import hidden_height
from sightwash.site.eyes import Eye
from sightwash.site.model import Site
from sightwash.site.walls import Projection

BREAK: Final = 34.0
"""Width on paper of what is left out between the crew and a far eye [pt]."""
FAR: Final = 16.0
"""An eye farther out than this, and than twice the crew, stands behind a break [m]."""
BESIDE: Final = 2.0
"""How much ground is shown beyond the outermost eye, and before one behind a break [m]."""
OVER: Final = 0.6
ROUND_THE_END: Final = 0.05
"""Where a line meets the wall this far from the strip's edge, the strip was seen from another place [m]."""


@dataclass(frozen=True, slots=True)
class SightEye:
    """An eye in a section: how far out, how high, its foot, where its line over the edge meets the wall [m]."""

    id: str
    name: str
    public: bool
    out: float
    height: float
    foot: float
    hit: float


@dataclass(frozen=True, slots=True, eq=False)
class SectionView:
    """Everything in a section, square to the wall at the middle of the strip [m]."""

    wall: WallView
    strip: StripView
    ground: float
    wall_top: float
    items: tuple[Projection, ...]
    edge: tuple[float, float] | None
    eyes: tuple[SightEye, ...]
    near: float
    far: float | None

    @property
    def end(self) -> float:
        """How far out the section runs."""
        return max([self.near, *(eye.out + BESIDE for eye in self.eyes)])

    @property
    def width(self) -> float:
        """How much of the ground is drawn; what a break leaves out does not count."""
        return self.near if self.far is None else self.near + self.end - self.far

    @property
    def top(self) -> float:
        """The highest place that is drawn."""
        return max([self.wall_top, *(eye.height for eye in self.eyes)]) + OVER

    @property
    def lowest(self) -> float:
        """The lowest place that is drawn."""
        return min([self.ground, *(eye.foot for eye in self.eyes)])


@dataclass(frozen=True, slots=True)
class SectionFrame:
    """Places of a section on paper: out to ``near``, then from ``far`` on behind a break."""

    x: float
    level: float
    points: float
    near: float
    far: float | None

    @property
    def near_edge(self) -> float:
        """Where on paper the part before the break ends."""
        return self.x + self.near * self.points

    def at(self, out: float, z: float) -> Point:
        """Return the paper place of a point."""
        y = self.level - z * self.points
        if self.far is None or out <= self.near:
            return self.x + out * self.points, y
        return self.near_edge + BREAK + (out - self.far) * self.points, y

    def pieces(self, places: Sequence[tuple[float, float]]) -> Iterator[list[Point]]:
        """Yield a line through places on paper, cut where the section is broken."""
        spans = ((0.0, self.near), (self.far, 1e9)) if self.far is not None else ((0.0, 1e9),)
        for first, last in spans:
            part = list(_clipped(places, float(first or 0.0), last))
            if len(part) > 1:
                yield [self._in(first, out, z) for out, z in part]

    def _in(self, first: float | None, out: float, z: float) -> Point:
        if self.far is not None and first == self.far:
            return self.near_edge + BREAK + (out - self.far) * self.points, self.level - z * self.points
        return self.x + out * self.points, self.level - z * self.points


def _clipped(places: Sequence[tuple[float, float]], first: float, last: float) -> Iterator[tuple[float, float]]:
    """Yield a line's corners between two distances, with new ones where it is cut."""
    for (a, low), (b, high) in itertools.pairwise(places):
        if b <= first or a >= last or b <= a:
            continue
        start, end = max(a, first), min(b, last)
        yield start, low + (high - low) * (start - a) / (b - a)
        yield end, low + (high - low) * (end - a) / (b - a)


def section_view(site: Site, plan: VisitPlan, strip_id: str) -> SectionView:
    """Return what a section through a missed strip shows; InputError if the plan has no such strip."""
    wall, strip = strip_view(site, plan, strip_id)
    middle = (strip.strip.left + strip.strip.right) / 2
    items = tuple(item for item in wall.wall.projections if item.left <= middle <= item.left + item.width)
    edge = _edge(wall, strip)
    eyes = tuple(_eyes(site, wall, strip, edge, middle))
    crew = max((eye.out for eye in eyes if not eye.public), default=0.0)
    public = max((eye.out for eye in eyes if eye.public), default=0.0)
    inner = max([crew, *(item.gap + item.depth for item in items)]) + BESIDE
    far = public - BESIDE if public > max(FAR, 2 * crew) else None
    near = inner if far is not None else max(inner, public + BESIDE)
    top = max(z for s, z in wall.placed.outline.exterior.coords)
    return SectionView(
        wall, strip, wall.placed.ground_at(middle), _top_at(wall, middle, top), items, edge, eyes, near, far
    )


def _top_at(wall: WallView, s: float, highest: float) -> float:
    """Return the height of the wall's top at a place along it."""
    cut = wall.placed.outline.intersection(shapely.LineString([(s, -1e3), (s, highest + 1.0)]))
    return float(cut.bounds[3])


def _edge(wall: WallView, strip: StripView) -> tuple[float, float] | None:
    """Return the outer top edge that the strip lies over, as (out, height)."""
    under = next((item for item in wall.wall.projections if item.id == strip.strip.over), None)
    if under is None:
        return None
    return float(under.gap + under.depth), float(under.bottom + under.height - under.outer_drop)


def _eyes(
    site: Site, wall: WallView, strip: StripView, edge: tuple[float, float] | None, middle: float
) -> Iterator[SightEye]:
    """Yield the crew's eye and the public eye that see lowest over the edge."""
    declared = Eye(id="crew-at-work", kind="crew", path=(wall.placed.start, wall.placed.end), name="the crew at work")
    walks = [(declared, crew_walk(wall.placed, site.crew_eye).tolist(), float(site.crew_eye.height))]
    for eye in site.eyes:
        if eye.kind == "crew" or eye.id in strip.strip.seen_by:
            points = eye_points(eye)
            levels = eye.levels or (0.0,) * len(eye.path)
            walks.append((eye, points.tolist(), float(points[0][2]) - float(levels[0])))
    for public in (False, True):
        found = [
            sight
            for eye, points, height in walks
            if (eye.kind != "crew") == public
            for sight in _sights(wall, eye, points, height, edge, strip, middle)
        ]
        if found:
            yield min(found, key=lambda sight: (round(sight.hit, 6), sight.out))


def _sights(
    wall: WallView,
    eye: Eye,
    points: list[list[float]],
    height: float,
    edge: tuple[float, float] | None,
    strip: StripView,
    middle: float,
) -> Iterator[SightEye]:
    """Yield an eye at each corner of its path, and where the path passes the middle of the strip."""
    for x, y, z in [*points, *_passing(wall, points, middle)]:
        out = wall.placed.local((x, y))[1]
        up = z - wall.placed.datum
        if edge is None:
            hit = strip.strip.bottom if eye.kind != "crew" else strip.strip.top
        elif out > edge[0] + 0.01:
            hit = edge[1] + hidden_height(edge[1], up, edge[0], out)
        else:
            continue
        if out > 0.01:
            yield SightEye(eye.id, plain_words(eye.name or eye.id), eye.kind != "crew", out, up, up - height, hit)


def _passing(wall: WallView, points: list[list[float]], middle: float) -> Iterator[list[float]]:
    for a, b in itertools.pairwise(points):
        first, last = wall.placed.local((a[0], a[1]))[0], wall.placed.local((b[0], b[1]))[0]
        if min(first, last) < middle < max(first, last):
            share = (middle - first) / (last - first)
            yield [p + share * (q - p) for p, q in zip(a, b, strict=True)]


def left_out(view: SectionView) -> str:
    """Return in words what the section cannot show; empty if nothing."""
    if view.edge is None:
        return "what hides the strip from the crew stands beside this line: see the elevation"
    if all(eye.public for eye in view.eyes):
        return f"the crew's eye is under {view.strip.strip.over} and sees nothing over its edge"
    ends = {False: view.strip.strip.top, True: view.strip.strip.bottom}
    if any(abs(eye.hit - ends[eye.public]) > ROUND_THE_END for eye in view.eyes):
        return f"from farther along, past the end of {view.strip.strip.over}, an eye sees more than these lines show"
    return ""
