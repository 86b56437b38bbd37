"""The standing plan of the demo site, recomputed piece by piece from the documents.

Reach: the search of ``reach_band`` for each distance. Straight lines and sight: segments clipped by the half-spaces of
convex hulls that scipy finds (independent program, qhull). Distances to lines: our own, 10 ft by 29 CFR 1910.333(c)(3).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from functools import cache
from typing import Any

import numpy as np
import pytest
import shapely
from scipy.spatial import ConvexHull

from sightwash.planning.pieces import LookPiece, WashPiece, look_pieces, wash_pieces
from sightwash.planning.regions import shape_of
from sightwash.planning.standing import Standing, StandingSpot
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.science.jet_reach import reach_band
from sightwash.science.orifice import jet_speed
from sightwash.site.shapes import PlacedWall, placed_walls, solids

FT, PSI = 0.3048, 6894.757
WAND, HAND, EYE = 4.5 * FT, 2.0 + 4 * FT, 5.25 * FT
"""Nozzle, tip of a wand held up, and eye of the demo's crew above their feet [m]."""
VERDICTS = ("sure", "likely", "test on site")


class Scene:
    """The demo's site with each wall's plan, pieces and the half-spaces of every body before it."""

    def __init__(self, documents: dict[str, Any], plan: VisitPlan) -> None:
        self.site, self.rig, self.plan = documents["site"], documents["rig"], plan
        self.walls = {placed.wall.id: placed for placed in placed_walls(self.site)}
        self.standing = {standing.wall: standing for standing in plan.standing}
        self.bodies = [(b.owner, ConvexHull(b.points).equations) for b in solids(self.site, tuple(self.walls.values()))]

    @cache  # noqa: B019  # one scene lives as long as the tests
    def washes(self, wall: str) -> dict[str, WashPiece]:
        methods = tuple(method for method in self.plan.methods if method.wall == wall)
        return {piece.id: piece for piece in wash_pieces(self.walls[wall], methods, self.rig)}

    @cache  # noqa: B019
    def looks(self, wall: str) -> dict[str, LookPiece]:
        strips = tuple(strip for strip in self.plan.missed if strip.wall == wall)
        return {piece.id: piece for piece in look_pieces(self.walls[wall], strips)}

    def surface(self, target: str) -> Any:
        """Return the surface of a patch in (s, z)."""
        (region,) = [patch.region for wall in self.plan.walls for patch in wall.patches if patch.id == target]
        return shape_of(region)

    def blocked(self, start: Any, ends: Any, wall: str) -> Any:
        """Return which segments from a point pass through some body, the last millimetre before the wall left out."""
        start, ends = np.asarray(start, float), np.asarray(ends, float).reshape(-1, 3)
        ends = ends + 1e-3 * self.walls[wall].outward
        found = np.zeros(len(ends), bool)
        for _, planes in self.bodies:
            a, b = planes[:, :3] @ start + planes[:, 3], ends @ planes[:, :3].T + planes[:, 3]
            with np.errstate(divide="ignore", invalid="ignore"):
                t = a / (a - b)
            enter = np.where(b < a, t, 0.0).max(axis=1).clip(0.0)
            leave = np.where(b > a, t, 1.0).min(axis=1).clip(None, 1.0)
            beside = ((a == b) & (a > 0.0)).any(axis=1)
            found |= (leave - enter > 1e-6) & ~beside
        return found

    def spots(self) -> Iterator[tuple[PlacedWall, StandingSpot]]:
        for standing in self.plan.standing:
            for spot in standing.spots:
                yield self.walls[standing.wall], spot


@pytest.fixture(scope="module")
def scene(demo: dict[str, Any], demo_plan: VisitPlan) -> Scene:
    return Scene(demo, demo_plan)


def bore(size: float) -> float:
    """Bore of a tip of a size number: gal/min at 4000 psi through an orifice with a coefficient of 0.95 [m]."""
    return math.sqrt(4 * size * 3.785411784e-3 / 60 / (0.95 * jet_speed(4000 * PSI)) / math.pi)


@cache
def bands(size: float, pressure: float, away: float, wind: float) -> tuple[float, ...]:
    return reach_band(bore(size), pressure, away, WAND, wind)[:3]


def against(scene: Scene, placed: PlacedWall, spot: StandingSpot, s: float) -> float:
    """Wind against a jet from a spot to a place on the wall, by the compass; wind from behind is not counted."""
    end = placed.point(s, 0.0)[:2]
    jet = math.degrees(math.atan2(end[0] - spot.place[0], end[1] - spot.place[1])) + scene.site.place.north
    air = scene.plan.air
    return max(0.0, -air.wind * math.cos(math.radians(jet - (air.wind_from + 180.0))))


def test_every_spot_reaches_what_it_covers(scene: Scene) -> None:
    """Every struck piece, its farther end, its weakest tip, the wind's share; 2 % is the search's own error in wind."""
    checked = 0
    for placed, spot in scene.spots():
        for name in spot.covers:
            piece = scene.washes(spot.wall)[name]
            rise = piece.level - placed.ground_at(spot.s)
            far = max((piece.left, piece.right), key=lambda end: abs(end - spot.s))
            away, wind = math.hypot(spot.out, far - spot.s), against(scene, placed, spot, far)
            level = VERDICTS.index(spot.verdict)
            for tip in piece.tips:
                assert tip.fan < 1.0
                assert bands(tip.size, tip.tip_pressure, away, wind)[level] * 1.02 >= rise, (spot.id, name)
            checked += 1
    assert checked > 100


def before_face(item: Any, name: str, out: float, height: float) -> bool:
    """Return whether a nozzle lies on the outer side of a face's plane: its normal times the way to it."""
    inner, edge, top = item.gap, item.gap + item.depth, item.bottom + item.height
    across, up = {"front": (1.0, 0.0), "underside": (0.0, -1.0), "top": (item.outer_drop, edge - inner)}[name]
    corner = (edge, item.bottom) if name == "underside" else (edge, top - item.outer_drop)
    return bool(across * (out - corner[0]) + up * (height - corner[1]) > 0.0)


def test_every_spot_strikes_what_it_covers_or_says_that_it_only_rains_on_it(scene: Scene) -> None:
    for placed, spot in scene.spots():
        rained = False
        nozzle = placed.point(spot.s, spot.out, placed.ground_at(spot.s) + WAND)
        for name in spot.covers:
            piece = scene.washes(spot.wall)[name]
            if piece.face is None:
                drop = min(0.25 * FT, (piece.top - piece.bottom) / 2)
                aims = [piece.left + share * (piece.right - piece.left) for share in (0.25, 0.5, 0.75)]
                surface = scene.surface(piece.target).buffer(1e-6)
                on_it = [s for s in aims if surface.covers(shapely.Point(s, piece.level - drop))]
                ends = [placed.point(s, 0.0, piece.level - drop) for s in on_it]
                clear = bool(ends) and not scene.blocked(nozzle, ends, spot.wall).any()
            else:
                height = placed.ground_at(spot.s) + WAND
                clear = before_face(piece.face.item, piece.face.name, spot.out, height)
            assert clear or not piece.power
            rained |= not clear
        assert rained == ("rain from above" in spot.why.rule), spot.id


def covered_pieces(standing: Standing) -> set[str]:
    return {name for spot in (*standing.spots, *standing.looks) for name in spot.covers}


def test_every_surface_out_of_hands_reach_is_served_or_named(scene: Scene) -> None:
    """Foot by foot along every method's stretch: a piece that some place covers, or a line that names it and why."""
    asked = 0
    for method in scene.plan.methods:
        placed, standing = scene.walls[method.wall], scene.standing[method.wall]
        covered = [scene.washes(method.wall).get(name) for name in covered_pieces(standing)]
        own = [piece for piece in covered if piece is not None and piece.target == method.target]
        named = [line for line in standing.unreached if line.startswith(f"{method.target},")]
        patch = next((p for w in scene.plan.walls for p in w.patches if p.id == method.target), None)
        for s in np.arange(method.left + 0.15, method.left + method.length, FT):
            top = method.top
            if patch is not None:
                column = shape_of(patch.region).intersection(shapely.LineString([(s, -9.0), (s, 99.0)]))
                if column.is_empty:
                    continue
                top = column.bounds[3]
            if top - placed.ground_at(float(s)) > HAND + 0.01:
                asked += 1
                served = any(piece.left <= s <= piece.right for piece in own)
                assert served or named, (method.target, s / FT)
                if not served:
                    assert all("; cheapest: " in line for line in named)
    assert asked > 400


def test_every_missed_part_is_looked_at_from_where_it_is_seen(scene: Scene) -> None:
    """Sample points of every piece by clipped segments: 97 % and more seen from the place, or from along the road."""
    for wall, standing in scene.standing.items():
        looked = {name: look for look in standing.looks for name in look.covers}
        for name, piece in scene.looks(wall).items():
            if name not in looked:
                assert any(line.startswith(f"{piece.strip}:") for line in standing.unseen)
                continue
            look, placed = looked[name], scene.walls[wall]
            left, low, right, high = piece.shape.bounds
            grid = [(s, z) for s in np.linspace(left, right, 9)[1:-1] for z in np.linspace(low, high, 7)[1:-1]]
            ends = [placed.point(s, 0.0, z) for s, z in grid if piece.shape.covers(shapely.Point(s, z))]
            eyes = [placed.point(look.s, look.out, placed.ground_at(look.s) + look.step + EYE)]
            if look.kind == "eye point":
                (eye,) = [eye for eye in scene.site.eyes if eye.kind == "road"]
                (ax, ay), (bx, by) = eye.path
                eyes = [np.array([ax + t * (bx - ax), ay + t * (by - ay), eye.height]) for t in np.linspace(0, 1, 41)]
            unseen = np.all([scene.blocked(eye, ends, wall) for eye in eyes], axis=0)
            assert unseen.mean() <= 0.03, name


def test_nobody_stands_where_nobody_may(scene: Scene) -> None:
    site, hose = scene.site, sum(float(h.length) for h in scene.rig.hoses)
    shut = [*site.keep_outs, *(p for p in site.planting if p.kind != "lawn"), *(a for a in site.parked if a.present)]
    shut += [*site.buildings, *site.neighbours]
    roads = [shapely.LineString(eye.path) for eye in site.eyes if eye.kind == "road"]
    places = [(scene.walls[s.wall], s.place, s.s, "spot") for _, s in scene.spots()]
    places += [
        (scene.walls[w], look.place, look.s, look.kind)
        for w, standing in scene.standing.items()
        for look in standing.looks
        if look.kind != "eye point"
    ]
    assert len(places) > 12
    for placed, place, s, kind in places:
        at = shapely.Point(place)
        assert not any(shapely.Polygon(area.outline).intersects(at) for area in shut)
        assert min(math.dist(place, rig.at) for rig in site.rig_places) <= hose
        way = shapely.LineString([placed.point(s, 0.1)[:2], place])
        assert all(way.distance(road) >= 6.0 for road in roads)
        if kind != "step back":
            assert not any(d.left <= s <= d.left + d.width for d in placed.wall.doors)


def wire(line: Any) -> Any:
    share = np.linspace(0, 1, 301)[:, None]
    points = np.array(line.start) + share * (np.array(line.end) - np.array(line.start))
    points[:, 2] -= 4 * line.sag * (share * (1 - share))[:, 0]
    return points


def test_people_and_jets_keep_ten_feet_off_the_service_drop(scene: Scene) -> None:
    (line,) = scene.site.overhead_lines
    points, close = wire(line), []
    for placed, spot in scene.spots():
        foot = placed.point(spot.s, spot.out, placed.ground_at(spot.s))
        paths = [foot + np.linspace(0, HAND, 41)[:, None] * np.array([0, 0, 1.0])]
        nozzle = foot + np.array([0, 0, WAND])
        for name in spot.covers:
            piece = scene.washes(spot.wall)[name]
            ends = [placed.point(s, 0.0, piece.level) for s in (piece.left, piece.s, piece.right)]
            paths += [nozzle + np.linspace(0, 1, 61)[:, None] * (end - nozzle) for end in ends]
        close.append(min(np.linalg.norm(path[:, None] - points[None], axis=2).min() for path in paths))
    assert min(close) >= 10 * FT
    assert any("too near an overhead line" in text for text in scene.standing["row-east"].unreached)


def test_order_numbers_and_proof(scene: Scene) -> None:
    for standing in scene.plan.standing:
        for found in (standing.spots, standing.looks):
            assert [place.s for place in found] == sorted(place.s for place in found)
        assert [spot.id for spot in standing.spots] == [
            f"{standing.wall}-spot-{n}" for n in range(1, len(standing.spots) + 1)
        ]
        assert standing.gap == 0.0
        assert standing.bound == pytest.approx(standing.seconds, rel=1e-6)


def test_quick_and_proven_choose_alike(demo: dict[str, Any], demo_plan: VisitPlan) -> None:
    proven = plan_visit(*demo.values(), demo_plan.on, "proven")  # type: ignore[arg-type]
    assert proven.standing == demo_plan.standing


def test_walls_left_out_are_not_stood_at(scene: Scene) -> None:
    assert {wall for wall, placed in scene.walls.items() if placed.wall.excluded is None} == set(scene.standing)


def test_ladders_serve_hands_only_at_hand_height(scene: Scene) -> None:
    """The demo's step is 3 ft: a wand held up from it reaches 3 ft higher than from the ground."""
    hands = 0
    for wall, standing in scene.standing.items():
        for look in standing.looks:
            for piece in filter(None, (scene.washes(wall).get(name) for name in look.covers)):
                assert look.kind == "ladder"
                assert look.step == pytest.approx(3 * FT)
                assert piece.level - scene.walls[wall].ground_at(look.s) <= 3 * FT + HAND + 1e-9
                assert "hand work only" in look.words
                hands += 1
    assert hands > 10


def test_no_two_places_of_one_plan_could_be_one(scene: Scene) -> None:
    """A weak form of least cost that needs no solver: no chosen place covers all that another one does."""
    for standing in scene.plan.standing:
        covers = [set(place.covers) for place in (*standing.spots, *standing.looks)]
        assert not any(one <= other for one, other in itertools.permutations(covers, 2))
