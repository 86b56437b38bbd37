"""What eyes see of walls, held against similar triangles worked by hand.

Closed form: with a canopy's outer top edge at height t and depth d, an eye at height e and distance D hides
(t - e) d / (D - d) of wall above the edge (Euclid, The Elements, Book VI, Proposition 4). The numbers below are
worked in fractions of a foot beside each check.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
import shapely

from sightwash.planning.regions import Region, shape_of
from sightwash.planning.sight import WallSight, plan_sight, with_parapets
from sightwash.planning.visit import VisitPlan
from sightwash.site.shapes import placed_walls, solids

FOOT = 0.3048


def looked_at(
    make: Any, eyes: list[dict[str, Any]], canopy: dict[str, Any], crew: dict[str, Any] | None = None
) -> WallSight:
    """Return the sight of a wall of 300 by 24 ft with one canopy."""
    wall = {"id": "front", "start": [0, 0], "end": [300, 0], "height": 24, "projections": [canopy]}
    more = {} if crew is None else {"crew_eye": crew}
    site = make("site", walls=[wall], eyes=eyes, **more)
    (placed,) = placed_walls(site)
    return plan_sight(placed, solids(site, (placed,)), site.eyes, site.crew_eye)


def canopy(bottom: str, height: str) -> dict[str, Any]:
    return {"id": "canopy", "kind": "canopy", "left": 0, "width": 300, "bottom": bottom, "height": height, "depth": 6}


def eye(x: float, out: float, height: str, kind: str = "entrance") -> dict[str, Any]:
    return {"id": f"eye-{x:g}-{out:g}".replace(".", "-"), "kind": kind, "path": [[x, -out]], "height": height}


def runs_at(region: Region, s: float) -> list[tuple[float, float]]:
    """Return the stretches of height that a region holds at one place along the wall [ft], from below."""
    line = shapely.LineString([(s * FOOT, -10), (s * FOOT, 100)])
    parts = shapely.get_parts(shape_of(region).intersection(line))
    return sorted((part.bounds[1] / FOOT, part.bounds[3] / FOOT) for part in parts if part.length > 0)


def over_edge(top: str, height: str, depth: int, distance: int) -> float:
    return float(Fraction(top) + (Fraction(top) - Fraction(height)) * depth / (distance - depth))


def test_what_a_driver_sees_over_a_canopy(make: Any) -> None:
    """Eye 3.5 ft high at 60 ft: 10 + 6.5 x 6 / 54 = 10.722222 ft."""
    sight = looked_at(make, [eye(150, 60, "3.5 ft")], canopy("9 ft 6 in", "6 in"))
    assert over_edge("10", "3.5", 6, 60) == pytest.approx(10.722222, abs=1e-6)
    below, above = runs_at(sight.public_seen, 150)
    assert below == pytest.approx((0.0, 9.5), abs=1e-6)
    assert above == pytest.approx((10.722222, 24.0), abs=1e-6)


def test_what_the_crew_misses(make: Any) -> None:
    """Crew eye 5.25 ft high at 12 ft: from 10 + 4.75 x 6 / 6 = 14.75 ft; missed: 14.75 - 10.722222 = 4.027778 ft."""
    sight = looked_at(make, [eye(150, 60, "3.5 ft")], canopy("9 ft 6 in", "6 in"))
    assert runs_at(sight.crew_seen, 150)[1][0] == pytest.approx(14.75, abs=1e-6)
    ((low, high),) = runs_at(sight.missed, 150)
    assert high - low == pytest.approx(4.027778, abs=1e-6)


@pytest.mark.parametrize(
    ("height", "distance", "hidden"),
    [("3.5", 30, 1.6250), ("3.5", 100, 0.4149), ("7.6", 60, 0.2667), ("5", 20, 2.1429), ("5", 40, 0.8824)],
)
def test_the_table_of_hidden_heights(make: Any, height: str, distance: int, hidden: float) -> None:
    sight = looked_at(make, [eye(150, distance, f"{height} ft")], canopy("9 ft 6 in", "6 in"))
    assert over_edge("10", height, 6, distance) - 10 == pytest.approx(hidden, abs=6e-5)
    assert runs_at(sight.public_seen, 150)[-1][0] == pytest.approx(over_edge("10", height, 6, distance), abs=1e-6)


def test_an_eye_above_the_canopy(make: Any) -> None:
    """Eye 24 ft high at 60 ft: hidden below the canopy's bottom, (24 - 10) x 6 / 54 = 1.555556 ft."""
    window = [eye(150, 60, "24 ft", "window")]
    sight = looked_at(make, window, canopy("10 ft", "6 in"))
    below, above = runs_at(sight.public_seen, 150)
    assert below[1] == pytest.approx(10 - 14 * 6 / 54, abs=1e-6)
    assert above == pytest.approx((10.5, 24.0), abs=1e-6)


def test_covered_and_hidden_area(make: Any) -> None:
    """A canopy from 10 to 10.5 ft over 300 ft, eye 3.5 ft high at 60 ft: 300 (0.5 + 7 x 6 / 54) = 383.3333 ft2."""
    sight = looked_at(make, [eye(150, 60, "3.5 ft")], canopy("10 ft", "6 in"))
    (view,) = (view for view in sight.views if view.public)
    assert sight.covered_area / FOOT**2 == pytest.approx(150.0, abs=1e-6)
    assert (sight.covered_area + view.hidden) / FOOT**2 == pytest.approx(1150 / 3, abs=1e-4)
    assert view.doubt == pytest.approx(0.0, abs=1e-9)


def test_a_road_sees_what_its_best_place_sees(make: Any) -> None:
    """Along a road parallel to the wall every eye hides the same height over a canopy that runs past the wall."""
    long = {**canopy("10 ft", "6 in"), "width": 300}
    road = {"id": "road", "kind": "road", "path": [[-150, -60], [450, -60]], "height": "3.5 ft", "speed": "30 mph"}
    sight = looked_at(make, [road], long)
    ((view),) = (view for view in sight.views if view.public)
    low = runs_at(sight.public_seen, 150)[-1][0]
    assert low == pytest.approx(10.5 + 7 * 6 / 54, abs=1e-3)
    assert view.time_in_view == pytest.approx(600 * FOOT / (30 * 0.44704), rel=1e-6)
    assert view.proven


def parts_sum(sight: WallSight) -> None:
    """Seen, hidden and covered partition a wall, up to what is in doubt along a path."""
    outline = shape_of(sight.outline)
    for view in sight.views:
        seen = shape_of(view.seen_region)
        assert seen.area == pytest.approx(view.seen, abs=1e-4)
        assert seen.difference(outline.buffer(1e-6)).is_empty
        assert seen.intersection(shape_of(sight.covered)).area < 1e-4
        assert view.seen + view.hidden + view.doubt + sight.covered_area == pytest.approx(sight.area, rel=1e-6)
        assert 0.0 <= view.doubt <= 0.0011 * sight.area
    public, hidden = shape_of(sight.public_seen), shape_of(sight.hidden)
    assert public.intersection(hidden).area < 1e-4
    doubt = sight.area - sight.covered_area - sight.public_area - sight.hidden_area
    assert -1e-4 <= doubt <= 0.0011 * sight.area * max(len(sight.views), 1)
    assert shape_of(sight.missed).intersection(shape_of(sight.crew_seen)).area < 1e-4


def test_the_demo_walls_are_partitioned(demo_plan: VisitPlan) -> None:
    for sight in demo_plan.sight:
        parts_sum(sight)


def test_without_a_public_eye_every_wall_counts_as_seen(make: Any) -> None:
    sight = looked_at(make, [], canopy("10 ft", "6 in"))
    assert sight.public_area == pytest.approx(sight.area - sight.covered_area, rel=1e-9)
    assert "crew" in sight.views[0].eye


def demo_strip(plan: VisitPlan) -> tuple[WallSight, Any]:
    sight = next(s for s in plan.sight if s.wall == "row-front")
    patches = next(t for t in plan.walls if t.wall == "row-front").patches
    strip = shape_of(next(p.region for p in patches if p.id == "front-splash-strip"))
    return sight, strip


def test_the_demo_road_sees_the_strip_but_its_lowest_part(demo_plan: VisitPlan) -> None:
    """Strip from 10.5 ft up over a canopy 6 ft deep, road at 300 ft, eye 3.5 ft: hidden 7 x 6 / 294 = 0.142857 ft."""
    sight, strip = demo_strip(demo_plan)
    road = next(view for view in sight.views if view.eye == "larkspur-road")
    seen = shape_of(road.seen_region).intersection(strip)
    for s in (40, 60, 80, 100, 120):
        line = shapely.LineString([(s * FOOT, 3.0), (s * FOOT, 4.0)])
        low, high = (seen.intersection(line).bounds[k] / FOOT for k in (1, 3))
        assert low == pytest.approx(10.5 + 7 * 6 / 294, abs=0.003)
        assert high == pytest.approx(10.5 + 8 / 12, abs=1e-6)
    assert low - 10.5 == pytest.approx(0.142857, abs=0.003)
    whole = 160 * (8 / 12 - 7 * 6 / 294)
    assert whole - 0.2 <= seen.area / FOOT**2 <= 160 * 8 / 12


def test_the_demo_crew_sees_none_of_the_strip(demo_plan: VisitPlan) -> None:
    """12 ft out, eye 5.25 ft: from 10.5 + 5.25 x 6 / 6 = 15.75 ft up at the wall's left end, above the whole strip."""
    sight, strip = demo_strip(demo_plan)
    assert shape_of(sight.crew_seen).intersection(strip).area < 1e-9
    line = next(line for line in demo_plan.soiled_and_missed if line.patch == "front-splash-strip")
    assert line.missed == pytest.approx(line.public, rel=1e-6)
    assert line.public > 0.75 * line.area


def strips_over_canopy(make: Any, public: float, **rig: Any) -> Any:
    """Return the remedies for what an eye 3.5 ft high sees from a distance over a canopy 10 ft up and 6 ft deep."""
    wall = {
        "id": "front", "start": [0, 0], "end": [300, 0], "height": 24, "projections": [canopy("9 ft 6 in", "6 in")],
    }  # fmt: skip
    site = {"walls": [wall], "eyes": [eye(150, public, "3.5 ft")], "crew_eye": {"height": "3.5 ft"}}
    (strip,) = make.visit(site=site, rig=rig).missed
    return strip


@pytest.mark.parametrize(("public", "low", "back"), [(45.0, 11.0, 45), (25.5, 12.0, 26), (60.0, 10.722222, 60)])
def test_how_far_to_step_back(make: Any, public: float, low: float, back: int) -> None:
    """To see height z over the edge: D = 6 + 6 (10 - 3.5) / (z - 10), to whole feet: z 11 needs 45 ft, z 12 25.5 ft."""
    strip = strips_over_canopy(make, public)
    assert strip.bottom / FOOT == pytest.approx(low, abs=1e-5)
    whole = next(r for r in strip.remedies if r.kind == "step back" and r.share == 1.0)
    assert whole.distance / FOOT == pytest.approx(back, abs=1e-6)
    half = next(r for r in strip.remedies if r.kind == "step back" and r.share == 0.5)
    middle = (strip.bottom + strip.top) / 2 / FOOT
    assert half.distance / FOOT - (6 + 6 * 6.5 / (middle - 10)) < 1
    assert half.distance < whole.distance


def test_a_strip_is_told_at_its_middle(make: Any) -> None:
    """A canopy from 100 to 200 ft along: the crew, 12 ft out at either end of the wall, sees in from the side.

    The way to the middle enters over the canopy's end 4 ft out: from 10 + 4.75 x 4 / 8 = 12.375 ft up.
    """
    short = {**canopy("9 ft 6 in", "6 in"), "left": 100, "width": 100}
    wall = {"id": "front", "start": [0, 0], "end": [300, 0], "height": 24, "projections": [short]}
    plan = make.visit(site={"walls": [wall], "eyes": [eye(150, 60, "3.5 ft")]})
    strip = plan.missed[0]
    assert strip.over == "canopy"
    assert strip.bottom / FOOT == pytest.approx(10.722222, abs=1e-5)
    assert strip.top / FOOT == pytest.approx(12.375, abs=0.01)
    assert (strip.left + strip.right) / FOOT == pytest.approx(300, abs=0.1)


def test_the_step_of_a_ladder(make: Any) -> None:
    """3 ft beyond the edge is 9 ft out: to see 11 ft over 10 ft at 6 ft, an eye at 10 - 1 x 3 / 6 = 9.5 ft."""
    ladder = next(r for r in strips_over_canopy(make, 45.0).remedies if r.kind == "ladder")
    assert ladder.distance / FOOT == pytest.approx(9.0)
    assert ladder.step / FOOT == pytest.approx(6.0, abs=1e-4)
    assert not ladder.allowed
    with_one = strips_over_canopy(make, 45.0, ladders=[{"id": "six", "step_height": "6 ft 1 in"}])
    assert next(r for r in with_one.remedies if r.kind == "ladder").allowed


def test_no_step_back_where_nobody_may_stand(make: Any) -> None:
    """A keep-out over all ground 44 to 46 ft out forbids the place at 45 ft, and the ladder goes before it."""
    wall = {
        "id": "front", "start": [0, 0], "end": [300, 0], "height": 24, "projections": [canopy("9 ft 6 in", "6 in")],
    }  # fmt: skip
    ground = [[-50, -46], [350, -46], [350, -44], [-50, -44]]
    site = {
        "walls": [wall], "eyes": [eye(150, 45, "3.5 ft")], "crew_eye": {"height": "3.5 ft"},
        "keep_outs": [{"id": "hedge-bed", "outline": ground, "reason": "planted"}],
    }  # fmt: skip
    (strip,) = make.visit(site=site).missed
    whole = next(r for r in strip.remedies if r.kind == "step back" and r.share == 1.0)
    assert not whole.allowed
    assert "no allowed place" in whole.words
    assert next(r for r in strip.remedies if r.kind == "step back" and r.share == 0.5).allowed


def test_the_parapet_of_a_lower_part_hides_the_wall_behind_it(make: Any) -> None:
    """Similar triangles: an eye 5 ft up, 60 ft before a parapet of 15 ft, sees a wall 30 ft behind it from 20 ft up.

    5 + (15 - 5) x 90 / 60 = 20; the roof itself, 10 ft up, would hide it only to 12.5 ft.
    """
    low = {"id": "low", "outline": [[-400, 0], [420, 0], [420, 30], [-400, 30]], "height": 10}
    high = {"id": "high", "outline": [[0, 30], [20, 30], [20, 60], [0, 60]], "height": 30}
    walls = [
        {"id": "front", "building": "low", "start": [-400, 0], "end": [420, 0], "height": 15},
        {"id": "back", "building": "high", "start": [0, 30], "end": [20, 30], "height": 30},
    ]
    plan = make.visit(site={"buildings": [low, high], "walls": walls, "eyes": [eye(10, 60, "5 ft")]})
    (back,) = [seen for seen in plan.sight if seen.wall == "back"]
    assert back.public_area == pytest.approx(20 * 10 * FOOT**2, rel=1e-6)
    placed = placed_walls(make("site", buildings=[low, high], walls=walls))
    assert len(with_parapets(make("site", buildings=[low, high], walls=walls), placed, ())) == 1
    twice = with_parapets(
        make("site", buildings=[low, high], walls=walls),
        placed,
        with_parapets(make("site", buildings=[low, high], walls=walls), placed, ()),
    )
    assert len(twice) == 1
