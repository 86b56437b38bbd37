"""The planned path over the demo's ground and small grounds: doors, hose, water, way out, whole and left.

Closed forms and rasters; limits and words are our own judgements and are only held to do what they say.
"""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely

from sightwash.planning.ground import door_zones, plan_ground_takeoff
from sightwash.planning.ground_path import plan_ground_paths
from sightwash.planning.regions import shape_of
from sightwash.site.shapes import placed_walls

FOOT = 0.3048
WALK = {
    "buildings": [{"id": "shop", "outline": [[0, 0], [60, 0], [60, 40], [0, 40]], "height": 16}],
    "walls": [
        {
            "id": "front", "building": "shop", "start": [0, 0], "end": [60, 0], "height": 16,
            "doors": [{"id": "door", "left": 20, "width": 6, "height": 7}],
        }
    ],
    "surfaces": [{"id": "walk", "along": "front", "width": 10, "material": "concrete"}],
}  # fmt: skip
RIG = {"surface_cleaners": [{"id": "twenty", "diameter": "20 in", "edge_gap": "1 in"}]}


def planned(make, site=None, rig=None, rates=None):
    documents = (
        make("site", **(WALK | (site or {}))),
        make("rig", **(RIG | (rig or {}))),
        make("rates", **(rates or {})),
    )
    walls = placed_walls(documents[0])
    cleaner = documents[1].surface_cleaners[0] if documents[1].surface_cleaners else None
    ground = plan_ground_takeoff(documents[0], walls, cleaner)
    return ground, plan_ground_paths(documents[0], walls, ground, *documents[1:])


@pytest.fixture(scope="module")
def demo_paths(demo):
    walls = placed_walls(demo["site"])
    ground = plan_ground_takeoff(demo["site"], walls, demo["rig"].surface_cleaners[0])
    return ground, plan_ground_paths(demo["site"], walls, ground, demo["rig"], demo["rates"]), walls


def cleaned(ground, path):
    takeoff = next(surface for surface in ground if surface.surface == path.surface)
    return shape_of(next(part.region for part in takeoff.parts if part.how == "cleaner"))


def pieces(path):
    lines = [np.array(leg.line) for leg in path.legs if leg.kind != "carry"]
    return np.vstack([np.hstack([line[:-1], line[1:]]) for line in lines])


def near(points, rows):
    """Least distance of points to straight pieces, by numpy alone."""
    best = np.full(len(points), np.inf)
    for ax, ay, bx, by in rows:
        a, way = np.array([ax, ay]), np.array([bx - ax, by - ay])
        share = np.clip((points - a) @ way / max(way @ way, 1e-300), 0.0, 1.0)
        best = np.minimum(best, np.hypot(*(points - a - share[:, None] * way).T))
    return best


def test_every_washed_surface_of_the_demo_has_a_path_and_no_other(demo_paths):
    ground, paths, _ = demo_paths
    assert {path.surface for path in paths} == {surface.surface for surface in ground if surface.washed}


def test_raster_of_the_demo_walks(demo_paths):
    """Brute force: what a path is said to clean lies within the head's radius of it, to 4 mm from an edge."""
    ground, paths, _ = demo_paths
    for path in paths:
        target = cleaned(ground, path)
        low_x, low_y, high_x, high_y = target.bounds
        step = 0.08
        mesh = np.meshgrid(np.arange(low_x, high_x, step) + step / 2, np.arange(low_y, high_y, step) + step / 2)
        points = np.column_stack([part.ravel() for part in mesh])
        gap = near(points, pieces(path))
        claimed = target.difference(shape_of(path.missed)).buffer(-4e-3)
        assert (gap[shapely.contains_xy(claimed, *points.T)] <= 0.254 + 1e-6).all()
        swept = np.count_nonzero((gap <= 0.254) & shapely.contains_xy(target, *points.T)) * step**2
        assert swept == pytest.approx(path.area, rel=0.02)


def test_lengths_lie_between_the_bound_and_a_little_above_the_aim(demo_paths):
    _, paths, _ = demo_paths
    walk = next(path for path in paths if path.surface == "front-walk")
    assert walk.bound < walk.length
    assert walk.over == pytest.approx(walk.length / walk.aim - 1.0)
    assert walk.over < 0.05
    drawn = sum(math.dist(a, b) for leg in walk.legs for a, b in pairwise(leg.line))
    assert walk.length == pytest.approx(drawn, rel=1e-5)


def test_passes_start_at_the_doors_and_go_outward(demo_paths):
    _, paths, walls = demo_paths
    wall = next(placed for placed in walls if placed.wall.id == "row-front")
    walk = next(path for path in paths if path.surface == "front-walk")
    assert walk.push.from_doors
    assert walk.onward == pytest.approx(188.0)
    outs = [wall.local(leg.line[0])[1] for leg in walk.legs if leg.kind == "pass"]
    assert outs[0] == min(outs)
    assert outs[-1] == max(outs)
    assert wall.local(walk.finish)[1] == pytest.approx(max(outs), abs=0.3)


def test_hose_lies_on_unwashed_ground_and_the_way_out_is_dry(demo_paths):
    _, paths, _ = demo_paths
    for path in paths:
        assert path.hose.rig_place == "rig-front"
        assert path.hose.over_washed < 0.1
        assert path.hose.steps_back < 1.0
        assert path.hose.reaches


def test_a_rig_on_the_wrong_side_is_said(make):
    """A rig behind the shops: the hose lies over what was washed first."""
    _, (path,) = planned(make, {"rig_places": [{"id": "back", "at": [30, 60]}]})
    assert path.hose.over_washed > 0.5
    assert "washed ground" in path.hose.words
    _, (path,) = planned(make)
    assert path.hose.rig_place is None
    assert "ask" in path.hose.words


def test_time_before_a_door_is_its_share_of_the_path(make):
    """Closed form: straight passes across the zone, each as long as the door is wide, at the path's own pace."""
    _, (path,) = planned(make)
    (door,) = path.doors
    across = [leg for leg in path.legs if leg.kind == "pass" and abs(leg.line[0][1]) <= 1.5]
    width = 6 * FOOT
    assert door.stays == len(across)
    assert door.time == pytest.approx(len(across) * width / path.length * path.time, rel=1e-3)
    assert door.longest == pytest.approx(width / path.length * path.time, rel=1e-3)
    assert door.turns == 0
    assert door.within


def test_a_slow_crew_goes_over_the_limit_and_is_told(make):
    slow = {"production": [{"work": "cleaner-small", "low": 50, "usual": 100, "high": 150, "unit": "ft2/h"}]}
    _, (path,) = planned(make, rates=slow)
    assert not path.doors[0].within
    assert "over the limit" in path.doors[0].words


def test_turns_before_a_door_are_counted(make):
    door = {"id": "corner", "left": 56, "width": 4, "height": 7}
    walls = [WALK["walls"][0] | {"doors": [door], "end": [60, 0]}]
    fence = [WALK["buildings"][0], {"id": "next", "outline": [[60, -12], [80, -12], [80, 40], [60, 40]], "height": 16}]
    _, (path,) = planned(make, {"walls": walls, "buildings": fence})
    assert path.doors[0].turns > 0
    assert "turn" in path.doors[0].words


def test_no_agreed_place_for_water_is_said_plainly(make):
    _, (path,) = planned(make)
    assert not path.push.allowed
    assert "not washed until" in path.push.condition
    agreed = {"local": {"discharge": "to the clean-out, the utility agreed on 3 June"}}
    _, (path,) = planned(make, agreed)
    assert path.push.allowed
    assert "the utility agreed on 3 June" in path.push.condition


@pytest.mark.parametrize(("toward", "doors", "uphill"), [(180, False, False), (0, True, True), (90, False, False)])
def test_fall_against_the_push(make, toward, doors, uphill):
    """The wall looks south: water pushed south runs down a fall toward 180 deg, up one toward 0 deg."""
    surface = WALK["surfaces"][0] | {"fall": {"slope": "2 %", "toward": f"{toward} deg"}}
    _, (path,) = planned(make, {"surfaces": [surface]})
    assert path.onward == pytest.approx(180.0)
    assert (path.push.falls_to_doors, path.push.up_the_fall) == (doors, uphill)


def test_drains_downhill_are_named(make):
    drains = [
        {"id": "inlet", "at": [30, -30], "leads_to": "storm"},
        {"id": "far", "at": [30, -300], "leads_to": "storm"},
    ]
    _, (path,) = planned(make, {"drains": drains})
    assert len(path.push.drains) == 1
    assert "inlet" in path.push.drains[0]
    assert "cover it" in path.push.drains[0]


def test_ground_without_doors_is_worked_down_the_fall(make):
    """A free pad that falls north-east: its passes follow each other north."""
    pad = {"id": "pad", "outline": [[0, -60], [40, -60], [40, -40], [0, -40]], "material": "concrete",
           "fall": {"slope": "1 %", "toward": "30 deg"}}  # fmt: skip
    _, (path,) = planned(make, {"surfaces": [pad]})
    assert path.onward == pytest.approx(0.0) or path.onward == pytest.approx(360.0)
    assert not path.doors


def test_the_sentence_on_a_trim_that_is_too_wide(make):
    """Closed form: 60 ft of wall, 6 ft of it a door, 11 in too wide, at 400 and 1,300 ft2/h."""
    _, (path,) = planned(make)
    trim = path.trim
    assert trim.length / FOOT == pytest.approx(60.0, abs=0.5)
    extra = 11 / 12 * (1 / 400 - 1 / 1300) * 3600
    assert trim.wide_time == pytest.approx(trim.length / FOOT * extra, rel=1e-6)
    assert trim.wide_door_time == pytest.approx(6 * extra, rel=1e-6)
    assert f"{trim.wide_time / 60:.0f} min more in all" in trim.words
    assert "costs nothing extra" in trim.words
    _, (path,) = planned(make, rig={"trim_strip": "4 in"})
    assert path.trim.planned_time == pytest.approx(trim.length / FOOT * 3 / 12 * (1 / 400 - 1 / 1300) * 3600, rel=1e-6)


def test_without_a_cleaner_or_on_a_narrow_walk_there_is_no_path(make):
    assert planned(make, rig={"surface_cleaners": []})[1] == ()
    court = [[0, -60], [40, -60], [40, -58.5], [0, -58.5]]
    narrow = [{"id": "walk", "outline": court, "material": "concrete"}]
    around = [{"id": "yard", "outline": [[-9, -70], [50, -70], [50, -50], [-9, -50]], "holes": [court], "height": 8}]
    ground, paths = planned(make, {"surfaces": narrow, "buildings": around, "walls": []})
    assert paths == ()
    assert "narrower than the surface cleaner: by wand" in ground[0].notes


def test_overlapping_surfaces_are_each_swept_once(make):
    """Two walks that lie on each other by half: together the paths clean the union."""
    two = [
        {"id": "one", "outline": [[0, -60], [40, -60], [40, -50], [0, -50]], "material": "concrete"},
        {"id": "two", "outline": [[20, -60], [60, -60], [60, -50], [20, -50]], "material": "concrete"},
    ]
    _, paths = planned(make, {"surfaces": two})
    assert sum(path.area for path in paths) / FOOT**2 == pytest.approx(600.0, rel=0.01)


def test_plans_are_the_same_every_time(demo_paths, demo):
    ground, paths, walls = demo_paths
    again = plan_ground_paths(demo["site"], walls, ground, demo["rig"], demo["rates"])
    assert again == paths
    slower = replace(demo["rates"], production=())
    assert plan_ground_paths(demo["site"], walls, ground, demo["rig"], slower)[0].legs == paths[0].legs


def test_zones_before_doors_are_as_wide_as_the_doors(demo_paths):
    _, _, walls = demo_paths
    zones = door_zones(walls, margin=0.0)
    assert zones["door-4"].area == pytest.approx(3 * FOOT * 1.5)
