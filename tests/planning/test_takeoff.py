"""Areas of walls, held against sums done by hand.

Closed form: areas of rectangles and triangles, worked in square feet beside each check from the numbers in the
document. Nothing here is worked out by the code under test.
"""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.planning.regions import shape_of
from sightwash.planning.takeoff import WallTakeoff, plan_wall_takeoff
from sightwash.planning.visit import VisitPlan
from sightwash.site.shapes import placed_walls

FOOT2 = 0.3048**2


def taken(make: Any, **wall: Any) -> WallTakeoff:
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [40, 0], **wall}])
    (placed,) = placed_walls(site)
    return plan_wall_takeoff(placed)


def of_wall(plan: VisitPlan, name: str) -> WallTakeoff:
    return next(takeoff for takeoff in plan.walls if takeoff.wall == name)


def areas(takeoff: WallTakeoff) -> dict[str, float]:
    return {patch.id: patch.area / FOOT2 for patch in takeoff.patches}


def test_the_front_of_the_demo_row(demo_plan: VisitPlan) -> None:
    """160 x 20, a step of 36 x 3, and ground that falls 0.8 ft; 5 x 18 x 7 of glass, doors 27 ft wide and 7 ft high.

    Covered: canopy 160 x 0.5, cap 62 x 1/3, flat sign 20 x 2.5.
    """
    front = of_wall(demo_plan, "row-front")
    assert front.gross / FOOT2 == pytest.approx(3200 + 108 + 64, abs=1e-6)
    assert front.openings / FOOT2 == pytest.approx(630 + 27 * 7, abs=1e-6)
    assert front.covered / FOOT2 == pytest.approx(80 + 62 / 3 + 50, abs=1e-6)
    assert front.net / FOOT2 == pytest.approx(3372 - 819 - 80 - 62 / 3 - 50, abs=1e-6)
    assert front.glass_length / 0.3048 == pytest.approx(5 * 18 + 27)


def test_the_patches_of_the_demo_row(demo_plan: VisitPlan) -> None:
    """Cap streaks 17 to 20 ft up less cap and sign; strip 8 in high; film from the ground to 10 ft less openings."""
    found = areas(of_wall(demo_plan, "row-front"))
    assert found["front-cap-streaks"] == pytest.approx(160 * 3 - 62 / 3 - 20 * 2, abs=1e-6)
    assert found["front-splash-strip"] == pytest.approx(160 * 2 / 3, abs=1e-6)
    assert found["front-film"] == pytest.approx(160 * 10 + 64 - 819, abs=1e-6)
    rest = 3372 - 819 - 80 - 62 / 3 - 50 - (480 - 62 / 3 - 40) - 320 / 3 - 845
    assert found["row-front-rest"] == pytest.approx(rest, abs=1e-6)
    assert len(found) == 4


def test_the_corner_unit_of_the_demo(demo_plan: VisitPlan) -> None:
    """48 x 18; glass 24 x 8, door 6 x 7; an awning 40 ft wide and 3 ft high against the wall, in part over the glass.

    Glass runs from 1.5 to 9.5 ft up and 4 to 28 ft along; the awning begins at 9 ft: 24 x 0.5 is glass, not covered.
    """
    front = of_wall(demo_plan, "pad-front")
    assert front.gross / FOOT2 == pytest.approx(864)
    assert front.openings / FOOT2 == pytest.approx(24 * 8 + 42)
    assert front.covered / FOOT2 == pytest.approx(40 * 3 - 24 * 0.5)
    assert front.net / FOOT2 == pytest.approx(864 - 234 - 108)
    found = areas(front)
    assert found["pad-top-band"] == pytest.approx(48 * 4)
    assert found["pad-awning-splash"] == pytest.approx(40 * 8 / 12)
    assert found["pad-front-rest"] == pytest.approx(864 - 234 - 108 - 192 - 80 / 3)


def test_the_faces_of_the_demo_canopy(demo_plan: VisitPlan) -> None:
    """160 ft long, 6 ft deep, 6 in high: top and underside 960 ft2 each, front 80 ft2."""
    faces = {face.id: face.area / FOOT2 for face in of_wall(demo_plan, "row-front").faces}
    assert faces["canopy-top"] == pytest.approx(960)
    assert faces["canopy-underside"] == pytest.approx(960)
    assert faces["canopy-front"] == pytest.approx(80)


def test_an_excluded_wall_has_an_area_and_no_work(demo_plan: VisitPlan) -> None:
    back = of_wall(demo_plan, "row-back")
    assert back.gross / FOOT2 == pytest.approx(160 * 20)
    assert back.excluded
    assert back.patches == ()
    assert back.faces == ()


def test_a_stepped_top(make: Any) -> None:
    """40 ft: 10 ft at 12, 20 ft at 18, then a slope from 18 down to 12 over 10 ft: 120 + 360 + 150."""
    corners = [(0, 12), (10, 12), (10, 18), (30, 18), (40, 12)]
    profile = [{"left": left, "height": height} for left, height in corners]
    assert taken(make, profile=profile).gross / FOOT2 == pytest.approx(120 + 360 + 150)


def test_openings_that_overlap_are_taken_off_once(make: Any) -> None:
    """Glass 10 x 8 and a door 4 x 7 that stands half within it: 80 + 28 - 14."""
    glass = {"id": "glass", "kind": "glass", "left": 5, "width": 10, "bottom": 0, "height": 8}
    door = {"id": "door", "left": 13, "width": 4, "height": 7}
    found = taken(make, height=12, openings=[glass], doors=[door])
    assert found.openings / FOOT2 == pytest.approx(80 + 28 - 14)
    assert found.net / FOOT2 == pytest.approx(480 - 94)


def test_what_stands_off_the_wall_covers_nothing(make: Any) -> None:
    sign = {"id": "sign", "kind": "flat sign", "left": 5, "width": 10, "bottom": 8, "height": 2, "depth": 0.5}
    assert taken(make, height=12, projections=[sign]).covered / FOOT2 == pytest.approx(20)
    assert taken(make, height=12, projections=[{**sign, "gap": "2 in"}]).covered == 0.0


def test_the_heavier_soiling_goes_first(make: Any) -> None:
    """A light film on all 40 x 12 and heavy streaks 40 x 2 within it: 400 and 80, in whatever order they are noted."""
    film = {"id": "film", "kind": "algae", "degree": "light"}
    streaks = {"id": "streaks", "kind": "soot", "degree": "heavy", "bottom": 10, "top": 12}
    for order in ([film, streaks], [streaks, film]):
        assert areas(taken(make, height=12, soiling=order)) == pytest.approx({"streaks": 80.0, "film": 400.0})


def test_the_splash_strip_over_a_canopy(make: Any) -> None:
    """8 in above a canopy 20 ft long is taken as splash where nothing else is noted (common practice, no source)."""
    canopy = {"id": "canopy", "kind": "canopy", "left": 0, "width": 20, "bottom": 9, "height": 1, "depth": 5}
    found = taken(make, height=16, projections=[canopy])
    assert areas(found)["canopy-splash"] == pytest.approx(20 * 8 / 12)
    assert {patch.given for patch in found.patches} == {False}


feet = st.integers(0, 40)
bands = st.tuples(feet, st.integers(1, 20), st.integers(0, 15), st.integers(1, 8))


@settings(max_examples=60)
@given(
    soiled=st.lists(st.tuples(bands, st.sampled_from(["light", "moderate", "heavy"])), max_size=5),
    glass=st.lists(bands, max_size=3),
    signs=st.lists(bands, max_size=3),
)
def test_patches_share_the_net_wall(make: Any, soiled: Any, glass: Any, signs: Any) -> None:
    """Whatever is noted, the patches do not overlap and add up to the wall less openings and what covers it."""

    def cut(band: tuple[int, int, int, int]) -> dict[str, int]:
        left, width, bottom, height = band
        left, bottom = min(left, 39), min(bottom, 15)
        return {"left": left, "width": min(width, 40 - left), "bottom": bottom, "height": min(height, 16 - bottom)}

    def box(band: tuple[int, int, int, int]) -> shapely.Polygon:
        b = cut(band)
        return shapely.box(b["left"], b["bottom"], b["left"] + b["width"], b["bottom"] + b["height"])

    found = taken(
        make,
        height=16,
        soiling=[
            {"id": f"s-{k}", "kind": "algae", "degree": degree, **{key: cut(b)[key] for key in ("left", "width")},
             "bottom": cut(b)["bottom"], "top": cut(b)["bottom"] + cut(b)["height"]}
            for k, (b, degree) in enumerate(soiled)
        ],
        openings=[{"id": f"g-{k}", "kind": "glass", **cut(b)} for k, b in enumerate(glass)],
        projections=[{"id": f"p-{k}", "kind": "flat sign", "depth": 0.5, **cut(b)} for k, b in enumerate(signs)],
    )  # fmt: skip
    out = shapely.union_all([box(b) for b in (*glass, *signs)])
    net = 640 - out.area
    assert found.net / FOOT2 == pytest.approx(net, abs=1e-6)
    assert sum(patch.area for patch in found.patches) / FOOT2 == pytest.approx(net, abs=1e-6)
    shapes = [shape_of(patch.region) for patch in found.patches]
    assert shapely.union_all(shapes).area / FOOT2 == pytest.approx(net, abs=1e-4)
    heavy = shapely.union_all([box(b) for b, degree in soiled if degree == "heavy"]).difference(out).area
    heavies = sum(patch.area for patch in found.patches if patch.degree == "heavy") / FOOT2
    assert heavies == pytest.approx(heavy, abs=1e-6)
