"""What eyes see of random walls, held against rays that are clipped by half-spaces.

Independent way: a ray from eye to wall point is cut to the stretch that lies on the inner side of every face of a
convex body (M. Cyrus and J. Beck, Generalized two- and three-dimensional clipping, Computers and Graphics 3, 1978;
from memory, the method is its own proof). It shares no code with the planner, which projects bodies onto the wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sightwash.planning.regions import shape_of
from sightwash.planning.sight import WallSight, plan_sight
from sightwash.site.shapes import placed_walls, solids

Floats = NDArray[np.float64]
EDGE = 0.004
"""Wall points nearer to the edge of a region than this are not asked about [m]."""


@dataclass(frozen=True)
class Scene:
    """A wall from (0, 0) to (length, 0), seen from negative y; everything in metres along, out and up."""

    length: float
    height: float
    base: float
    turn: float
    projections: tuple[dict[str, float], ...]
    boxes: tuple[tuple[float, float, float, float, float], ...]
    eyes: tuple[tuple[tuple[float, float, float], ...], ...]

    def place(self, s: float, out: float) -> list[str]:
        """Return the site point of a place before the wall, the whole scene being turned and shifted."""
        c, sn = math.cos(self.turn), math.sin(self.turn)
        x, y = s, -out
        return [f"{7.0 + c * x - sn * y!r} m", f"{-3.0 + sn * x + c * y!r} m"]


def metres(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100)


@st.composite
def projection(draw: st.DrawFn, length: float, height: float) -> dict[str, float]:
    left = draw(metres(0.0, length - 0.6))
    bottom = draw(metres(0.0, height - 0.6))
    depth = draw(metres(0.05, 2.5))
    tall = draw(metres(0.1, min(height - bottom, 2.5)))
    drop = draw(st.sampled_from((0.0, 0.0, tall / 2)))
    gap = draw(st.sampled_from((0.0, 0.0, 0.15, 1.0)))
    width = draw(metres(0.1, length - left))
    sizes = {"bottom": bottom, "height": tall, "depth": depth, "gap": gap, "outer_drop": drop}
    return {"left": left, "width": width, **sizes}


def eye_point(length: float) -> st.SearchStrategy[tuple[float, float, float]]:
    return st.tuples(metres(-8.0, length + 8.0), metres(0.8, 40.0), metres(0.5, 6.0))


@st.composite
def scenes(draw: st.DrawFn, corners: int = 1) -> Scene:
    length, height = draw(metres(4.0, 18.0)), draw(metres(2.5, 8.0))
    boxes = st.tuples(metres(-6, 18), metres(2.6, 20), metres(0.3, 6), metres(0.3, 3), metres(0.5, 4))
    eyes = st.lists(st.tuples(*[eye_point(length)] * corners), min_size=1, max_size=3 if corners == 1 else 1)
    return Scene(
        length,
        height,
        draw(st.sampled_from((0.0, -0.4, 1.2))),
        draw(st.sampled_from((0.0, 0.7, math.pi / 2, 3.9))),
        tuple(draw(st.lists(projection(length, height), max_size=4))),
        tuple(draw(st.lists(boxes, max_size=2))),
        tuple(draw(eyes)),
    )


def documented(make: Any, scene: Scene) -> Any:
    """Return the scene as a site document, with its units written out."""
    things = [
        {"id": f"thing-{k}", "kind": "other", **{key: f"{value!r} m" for key, value in item.items()}}
        for k, item in enumerate(scene.projections)
    ]
    wall = {
        "id": "front", "start": scene.place(0.0, 0.0), "end": scene.place(scene.length, 0.0),
        "height": f"{scene.height!r} m", "base": [f"{scene.base!r} m"] * 2, "projections": things,
    }  # fmt: skip
    parked = [
        {
            "id": f"box-{k}", "height": f"{h!r} m",
            "outline": [scene.place(*p) for p in ((s, o), (s + w, o), (s + w, o + d), (s, o + d))],
        }
        for k, (s, o, w, d, h) in enumerate(scene.boxes)
    ]  # fmt: skip
    eyes = [
        {
            "id": f"eye-{k}", "kind": "walk", "height": f"{path[0][2]!r} m",
            "path": [scene.place(s, out) for s, out, _ in path],
        }
        for k, path in enumerate(scene.eyes)
    ]  # fmt: skip
    return make("site", walls=[wall], parked=parked, eyes=eyes)


def half_spaces(scene: Scene) -> list[tuple[Floats, Floats]]:
    """Return every body as (normals, offsets): the points x with n . x <= c for all its faces."""
    bodies = []
    for p in scene.projections:
        inner, outer, top = p["gap"], p["gap"] + p["depth"], p["bottom"] + p["height"]
        slope = p["outer_drop"] / p["depth"]
        bodies.append(
            (
                [(-1, 0, 0), (1, 0, 0), (0, -1, 0), (0, 1, 0), (0, 0, -1), (0, slope, 1)],
                [-p["left"], p["left"] + p["width"], -inner, outer, -p["bottom"], top + slope * inner],
            )
        )
    for s, out, w, d, h in scene.boxes:
        faces = [(-1, 0, 0), (1, 0, 0), (0, -1, 0), (0, 1, 0), (0, 0, -1), (0, 0, 1)]
        bodies.append((faces, [-s, s + w, -out, out + d, scene.base, h - scene.base]))
    return [(np.array(n, float), np.array(c, float)) for n, c in bodies]


def blocked(eye: Floats, points: Floats, bodies: list[tuple[Floats, Floats]]) -> NDArray[np.bool_]:
    """Return which wall points no ray from the eye reaches."""
    hit = np.zeros(len(points), bool)
    for normals, offsets in bodies:
        at_eye = offsets - normals @ eye
        step = (points - eye) @ normals.T
        with np.errstate(divide="ignore", invalid="ignore"):
            t = at_eye / step
        enter = np.where(step < 0, t, -np.inf).max(axis=1, initial=0.0)
        leave = np.where(step > 0, t, np.inf).min(axis=1, initial=1.0)
        outside = ((step == 0) & (at_eye < 0)).any(axis=1)
        hit |= (leave - enter > 1e-9) & ~outside
    return hit


def inside_a_body(eye: Floats, bodies: list[tuple[Floats, Floats]]) -> bool:
    return any(bool((normals @ eye <= offsets + 0.01).all()) for normals, offsets in bodies)


def touched(scene: Scene, points: Floats) -> NDArray[np.bool_]:
    """Return which wall points something stands against."""
    s, z = points[:, 0], points[:, 2]
    found = np.zeros(len(points), bool)
    for p in scene.projections:
        if p["gap"] == 0.0:
            along = (s >= p["left"]) & (s <= p["left"] + p["width"])
            found |= along & (z >= p["bottom"]) & (z <= p["bottom"] + p["height"])
    return found


def wall_points(scene: Scene, count: int, seed: int) -> Floats:
    chance = np.random.default_rng(seed)
    s, z = chance.uniform(0, scene.length, count), chance.uniform(0, scene.height, count)
    return np.column_stack([s, np.zeros(count), z])


def sight_of(make: Any, scene: Scene) -> WallSight:
    site = documented(make, scene)
    (placed,) = placed_walls(site)
    return plan_sight(placed, solids(site, (placed,)), site.eyes, site.crew_eye)


def off_edges(points: Floats, *shapes: Any) -> NDArray[np.bool_]:
    """Return which wall points lie clear of the edges of all shapes."""
    dots = shapely.points(points[:, [0, 2]])
    clear = np.ones(len(points), bool)
    for shape in shapes:
        if not shape.is_empty:
            clear &= shapely.distance(dots, shape.boundary) > EDGE
    return clear


@settings(max_examples=60)
@given(scene=scenes())
def test_standing_eyes_against_rays(make: Any, scene: Scene) -> None:
    bodies = half_spaces(scene)
    eyes = [np.array([s, out, z - scene.base]) for ((s, out, z),) in scene.eyes]
    assume(not any(inside_a_body(eye, bodies) for eye in eyes))
    sight = sight_of(make, scene)
    points = wall_points(scene, 1200, 7)
    covered = touched(scene, points)
    for eye, view in zip(eyes, sight.views, strict=False):
        seen = shape_of(view.seen_region)
        asked = off_edges(points, seen, shape_of(sight.covered))
        expected = ~blocked(eye, points, bodies) & ~covered
        found = shapely.contains_xy(seen, points[:, 0], points[:, 2])
        wrong = asked & (found != expected)
        assert not wrong.any(), (view.eye, points[wrong][:3], expected[wrong][:3])


def seen_from_somewhere(path: Floats, points: Floats, bodies: list[tuple[Floats, Floats]], places: int) -> Any:
    seen = np.zeros(len(points), bool)
    for share in np.linspace(0.0, 1.0, places):
        rest = np.flatnonzero(~seen)
        if not len(rest):
            break
        seen[rest] = ~blocked(path[0] + share * (path[1] - path[0]), points[rest], bodies)
    return seen


@settings(max_examples=25)
@given(scene=scenes(corners=2))
def test_walking_eyes_against_rays(make: Any, scene: Scene) -> None:
    """What is surely seen along a path is seen from some place on it; what is surely hidden, from none."""
    bodies = half_spaces(scene)
    ((one, two),) = scene.eyes
    path = np.array([[s, out, one[2] - scene.base] for s, out, _ in (one, two)])
    steps = np.linspace(0.0, 1.0, 40)[:, None]
    assume(not any(inside_a_body(eye, bodies) for eye in path[0] + steps * (path[1] - path[0])))
    assume(math.dist(path[0], path[1]) > 0.01)
    sight = sight_of(make, scene)
    points = wall_points(scene, 500, 11)
    covered = touched(scene, points)
    sure, hidden = shape_of(sight.public_seen), shape_of(sight.hidden)
    asked = off_edges(points, sure, hidden, shape_of(sight.covered)) & ~covered
    seen = seen_from_somewhere(path, points, bodies, 160)
    in_hidden = shapely.contains_xy(hidden, points[:, 0], points[:, 2])
    assert not (asked & in_hidden & seen).any()
    doubtful = asked & shapely.contains_xy(sure, points[:, 0], points[:, 2]) & ~seen
    again = seen_from_somewhere(path, points[doubtful], bodies, 8000)
    assert again.all(), points[doubtful][~again][:3]
    (view,) = (view for view in sight.views if view.public)
    assert view.doubt <= 0.001 * sight.area + 1e-9 or not view.proven


@settings(max_examples=25)
@given(scene=scenes())
def test_the_parts_of_random_walls_add_up(make: Any, scene: Scene) -> None:
    sight = sight_of(make, scene)
    for view in sight.views:
        assert math.isclose(
            view.seen + view.hidden + view.doubt + sight.covered_area, sight.area, rel_tol=1e-6, abs_tol=1e-6
        )
    for view in sight.views[: len(scene.eyes)]:
        assert sight.public_area >= view.seen - 1e-6
    missed = shape_of(sight.public_seen).difference(shape_of(sight.crew_seen)).area
    doubt = sum(view.doubt for view in sight.views)
    assert missed - 1e-4 <= sight.missed_area <= missed + doubt + 1e-4
