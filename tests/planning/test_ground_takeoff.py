"""Take-off of the ground, held against closed forms of what a round head leaves.

Closed form: a disc of radius r that stays e away from walls sweeps of a walled rectangle a x b all but the strip
a b - (a - 2e)(b - 2e) along the walls and (4 - pi) r^2 in the corners; round a free post of radius R it leaves the ring
pi ((R + e)^2 - R^2). Areas of plain ground are shapely's (independent program) or sums by hand.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.planning.ground import GroundTakeoff, plan_ground_takeoff
from sightwash.planning.regions import shape_of
from sightwash.planning.visit import VisitPlan
from sightwash.site.shapes import placed_walls

FOOT = 0.3048
FOOT2 = FOOT**2
RADIUS = 10 / 12
EDGE = 1 / 12
CLEANER = {"id": "head", "diameter": "20 in", "edge_gap": "1 in"}
BLOCK = [[0, 0], [40, 0], [40, 20], [0, 20]]


def ground_of(make: Any, cleaner: dict[str, Any] | None = CLEANER, **site: Any) -> tuple[GroundTakeoff, ...]:
    document = make("site", **site)
    rig = make("rig", surface_cleaners=[cleaner] if cleaner else [])
    heads = rig.surface_cleaners
    return plan_ground_takeoff(document, placed_walls(document), heads[0] if heads else None)


def front_walk(width: float, **more: Any) -> dict[str, Any]:
    """Return a building 40 by 20 ft with its front wall and a walk along it."""
    wall = {"id": "front", "building": "block", "start": [0, 0], "end": [40, 0], "height": 14}
    return {
        "buildings": [{"id": "block", "outline": BLOCK, "height": 14}],
        "walls": [wall],
        "surfaces": [{"id": "walk", "along": "front", "width": width}],
        **more,
    }


def parts(takeoff: GroundTakeoff) -> dict[str, float]:
    return {part.how: part.area / FOOT2 for part in takeoff.parts}


def lengths(takeoff: GroundTakeoff) -> dict[str, float]:
    return {part.how: part.length / FOOT for part in takeoff.parts}


def test_a_walk_along_a_wall(make: Any) -> None:
    """40 x 8 open on three sides: the head overruns them, and leaves 40 ft of trim an inch wide along the wall."""
    (walk,) = ground_of(make, **front_walk(8))
    assert walk.area / FOOT2 == pytest.approx(320)
    assert lengths(walk)["trim"] == pytest.approx(40, rel=1e-3)
    assert parts(walk)["trim"] == pytest.approx(40 / 12, rel=1e-3)
    assert parts(walk)["corners"] == pytest.approx(0.0, abs=1e-3)
    assert parts(walk)["cleaner"] == pytest.approx(320 - 40 / 12, rel=1e-4)


def test_a_walled_court(make: Any) -> None:
    """20 x 12 ft inside a building: trim 240 - (20 - 1/6)(12 - 1/6), corners (4 - pi)(10/12)^2 = 0.59612 ft2."""
    court = [[10, 4], [30, 4], [30, 16], [10, 16]]
    (found,) = ground_of(
        make,
        buildings=[{"id": "block", "outline": BLOCK, "holes": [court], "height": 14}],
        surfaces=[{"id": "court", "outline": court}],
    )
    inner = (20 - 2 * EDGE) * (12 - 2 * EDGE)
    left = (4 - math.pi) * RADIUS**2
    assert left == pytest.approx(0.59612, abs=5e-6)
    assert parts(found)["trim"] == pytest.approx(240 - inner, rel=1e-3)
    assert parts(found)["corners"] == pytest.approx(left, rel=0.01)
    assert parts(found)["cleaner"] == pytest.approx(inner - left, rel=1e-4)


def test_a_free_post(make: Any) -> None:
    """A round post 1 ft across in an open pad of 20 x 20: a ring of pi ((0.5 + 1/12)^2 - 0.25) is trimmed."""
    pad = [[100, 100], [120, 100], [120, 120], [100, 120]]
    (found,) = ground_of(
        make,
        surfaces=[{"id": "pad", "outline": pad}],
        posts=[{"id": "post", "at": [110, 110], "size": 1, "height": 3}],
    )
    assert found.area / FOOT2 == pytest.approx(400 - math.pi / 4, rel=1e-3)
    assert parts(found)["trim"] == pytest.approx(math.pi * ((0.5 + EDGE) ** 2 - 0.25), rel=0.02)
    assert parts(found)["corners"] == pytest.approx(0.0, abs=0.002)


def test_a_slot_that_no_head_enters(make: Any) -> None:
    """1 ft between two buildings is all hand work for a head of 20 in."""
    other = [[0, -21], [40, -21], [40, -1], [0, -1]]
    (walk,) = ground_of(
        make, **front_walk(1, buildings=[{"id": "block", "outline": BLOCK}, {"id": "other", "outline": other}])
    )
    assert parts(walk)["cleaner"] == 0.0
    assert sum(parts(walk).values()) == pytest.approx(40)
    assert any("narrower" in note for note in walk.notes)


def test_without_a_surface_cleaner_all_is_wand_work(make: Any) -> None:
    (walk,) = ground_of(make, None, **front_walk(8))
    assert parts(walk) == pytest.approx({"wand": 320.0})


def test_ground_that_is_not_washed_has_no_parts(make: Any) -> None:
    surface = {"id": "lane", "outline": [[0, -30], [40, -30], [40, -10], [0, -10]], "wash": False}
    (lane,) = ground_of(make, surfaces=[surface])
    assert lane.area / FOOT2 == pytest.approx(800)
    assert lane.parts == ()


def test_ground_that_two_surfaces_share_is_counted_once_and_said(make: Any) -> None:
    """A walk 40 x 8 and a pad 10 x 20 that laps 10 x 3 of it: 320 and 170 ft2."""
    pad = {"id": "pad", "outline": [[5, -25], [15, -25], [15, -5], [5, -5]]}
    site = front_walk(8)
    walk, lapped = ground_of(make, **{**site, "surfaces": [*site["surfaces"], pad]})
    assert walk.area / FOOT2 == pytest.approx(320)
    assert lapped.area / FOOT2 == pytest.approx(170)
    assert walk.notes == ()
    assert any(note.startswith("30 ") for note in lapped.notes)


def test_a_surface_of_unknown_size_is_left_out(make: Any) -> None:
    assert ground_of(make, surfaces=[{"id": "somewhere"}]) == ()


def test_gum_at_doors_is_taken_by_hand(make: Any) -> None:
    """A door 6 ft wide, 0.3 m more each side, 1.5 m out: of 100 spots on 320 ft2, 100 x 7.97 x 4.92 / 320 = 12."""
    site = front_walk(8, gum=[{"id": "gum", "surface": "walk", "count": 100}])
    site["walls"][0]["doors"] = [{"id": "door", "left": 10, "width": 6, "height": 7}]
    (walk,) = ground_of(make, **site)
    (gum,) = walk.gum
    near = (6 + 0.6 / FOOT) * (1.5 / FOOT)
    assert gum.door_spots == round(100 * near / 320) == 12
    assert gum.open_spots == pytest.approx(88)
    assert gum.doors == ("door",)


def test_marked_gum_counts_where_it_lies(make: Any) -> None:
    """Two of three marked spots lie before the door."""
    site = front_walk(8, gum=[{"id": "gum", "surface": "walk", "at": [[12, -1], [14, -3], [35, -4]]}])
    site["walls"][0]["doors"] = [{"id": "door", "left": 10, "width": 6, "height": 7}]
    ((gum,),) = (walk.gum for walk in ground_of(make, **site))
    assert gum.door_spots == 2
    assert gum.open_spots == pytest.approx(1)


def swinging(**door: Any) -> dict[str, Any]:
    """Return a walk before a wall with one door that opens outward."""
    opens = {"id": "door", "left": 20, "width": 3, "height": 7, "swing": "out"} | door
    walk = front_walk(8)
    return walk | {"walls": [walk["walls"][0] | {"doors": [opens]}]}


def test_the_sweep_of_a_door_at_unknown_hours_is_hand_work(make: Any) -> None:
    """Two quarter discs of radius w at both ends of an opening w: (pi / 6 + sqrt(3) / 4) w^2, and the shroud's gap."""
    (walk,) = ground_of(make, **swinging())
    sweep = (math.pi / 6 + math.sqrt(3) / 4) * 9
    assert sweep < parts(walk)["wand"] < sweep + 0.9
    assert sum(parts(walk).values()) == pytest.approx(320)
    assert 37 <= lengths(walk)["trim"] < 39  # 37 ft of wall, and the two cusps between the sweep and the wall
    assert any("door" in note and "by hand" in note for note in walk.notes)


def test_a_door_with_hours_is_passed_while_it_is_locked(make: Any) -> None:
    (walk,) = ground_of(make, **swinging(hours={"open": "09:00", "close": "17:00"}))
    assert "wand" not in parts(walk)
    assert any("locked" in note for note in walk.notes)


def test_a_keep_out_is_not_washed_and_said(make: Any) -> None:
    """A hatch 2 x 3 ft in the walk: 6 ft2 less, a ring of trim 10/12 ft2 and four quarter discs of 1 in about it."""
    hatch = {"id": "hatch", "outline": [[10, -6], [12, -6], [12, -3], [10, -3]], "reason": "it rocks"}
    (walk,) = ground_of(make, **front_walk(8, keep_outs=[hatch]))
    assert walk.area / FOOT2 == pytest.approx(314)
    assert parts(walk)["trim"] == pytest.approx(50 / 12 + math.pi / 144, rel=1e-3)
    assert any("hatch" in note and "it rocks" in note for note in walk.notes)


def test_a_mat_blocks_and_is_to_be_lifted(make: Any) -> None:
    mat = {"id": "mat", "at": [20, -4], "size": 2, "height": "1 in", "round": False}
    (walk,) = ground_of(make, **front_walk(8, posts=[mat]))
    assert walk.area / FOOT2 == pytest.approx(316)
    assert any("mat" in note and "lift" in note for note in walk.notes)


def test_marked_gum_off_its_surface_is_said(make: Any) -> None:
    gum = {"id": "gum", "surface": "walk", "at": [[10, -5], [10, -30]]}
    (walk,) = ground_of(make, **front_walk(8, gum=[gum]))
    assert any("1 of the marked spots of gum lie off" in note for note in walk.notes)


def test_a_cleaner_wider_than_a_walled_walk_leaves_it_to_the_wand(make: Any) -> None:
    """A passage 1 ft wide between two buildings under a 20 in head: nothing reached, all of it left, and said."""
    other = [[0, -1], [0, -9], [40, -9], [40, -1]]
    both = [{"id": "block", "outline": BLOCK, "height": 14}, {"id": "far", "outline": other, "height": 14}]
    (walk,) = ground_of(make, **(front_walk(1) | {"buildings": both}))
    assert parts(walk)["cleaner"] == pytest.approx(0.0, abs=1e-3)
    assert parts(walk)["corners"] == pytest.approx(40.0, rel=0.05)
    assert "narrower than the surface cleaner: by wand" in walk.notes


def test_the_demo_ground(demo_plan: VisitPlan) -> None:
    """Walk 160 x 9 less four columns of 1 ft2, two bollards of pi / 16, a bench 4 x 4; bed and hatch in the lane."""
    found = {takeoff.surface: takeoff for takeoff in demo_plan.ground}
    walk = 160 * 9 - 4 - 16 - 2 * math.pi / 16
    assert found["front-walk"].area / FOOT2 == pytest.approx(walk, abs=0.05)
    assert found["pad-walk"].area / FOOT2 == pytest.approx(56 * 8)
    assert found["fire-lane"].area / FOOT2 == pytest.approx(160 * 24 - (20 - 2) * 2.5 - 8 * 4, abs=0.05)
    for takeoff in found.values():
        if takeoff.washed:
            assert sum(part.area for part in takeoff.parts) == pytest.approx(takeoff.area, rel=1e-5)


corner = st.tuples(st.integers(-20, 60), st.integers(-40, 30))


@settings(max_examples=40)
@given(
    boxes=st.lists(st.tuples(corner, st.integers(2, 30), st.integers(2, 20)), min_size=1, max_size=3),
    posts=st.lists(st.tuples(corner, st.sampled_from([0.5, 1.0, 4.0])), max_size=4),
)
def test_the_parts_of_random_ground_add_up(make: Any, boxes: Any, posts: Any) -> None:
    """Cleaner, trim and corners share each surface, and all surfaces share their union less what stands on it."""
    shapes = [shapely.box(x, y, x + w, y + d) for (x, y), w, d in boxes]
    found = ground_of(
        make,
        buildings=[{"id": "block", "outline": BLOCK}],
        surfaces=[
            {"id": f"pad-{k}", "outline": shapely.get_coordinates(shape)[:-1].tolist()}
            for k, shape in enumerate(shapes)
        ],
        posts=[
            {"id": f"post-{k}", "at": at, "size": size, "height": 3, "round": False}
            for k, (at, size) in enumerate(posts)
        ],
    )
    standing = [
        shapely.Polygon(BLOCK),
        *(shapely.box(x - s / 2, y - s / 2, x + s / 2, y + s / 2) for (x, y), s in posts),
    ]
    free = shapely.union_all(shapes).difference(shapely.union_all(standing)).area
    assert sum(takeoff.area for takeoff in found) / FOOT2 == pytest.approx(free, abs=1e-4)
    for takeoff in found:
        assert sum(part.area for part in takeoff.parts) == pytest.approx(takeoff.area, abs=2e-3)
        regions = [shape_of(part.region) for part in takeoff.parts]
        assert sum(a.intersection(b).area for k, a in enumerate(regions) for b in regions[:k]) < 1e-3
