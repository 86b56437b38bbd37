"""Places to stand: every rule checked by plain plan geometry and a distance of our own, worked beside each check.

Ten feet from a line up to 50 kV: US Code of Federal Regulations, 29 CFR 1910.333(c)(3) [published]. Never square to a
door, and nobody in a road: common practice, no source.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely

from sightwash.planning.candidates import Candidate, candidates, eye_candidates
from sightwash.planning.standing import no_standing_area
from sightwash.site.shapes import placed_walls

FT = 0.3048


def places(make: Any, wall: dict[str, Any] | None = None, rig: dict[str, Any] | None = None, **more: Any) -> Any:
    """Return the candidates of a wall of 60 ft by 20 ft along the x axis, seen from negative y, in feet."""
    front = {"id": "front", "start": [0, 0], "end": [60, 0], "height": 20, **(wall or {})}
    site = make("site", walls=[front], **more)
    (placed,) = placed_walls(site)
    hose = sum(float(h.length) for h in make("rig", **(rig or {})).hoses) or 60.96
    return candidates(site, placed, make("rig", **(rig or {})), make("rates"), no_standing_area(site), hose, True)


def of(found: tuple[Candidate, ...], kind: str) -> list[tuple[float, float]]:
    return [(c.s / FT, c.out / FT) for c in found if c.kind == kind]


CANOPY = {"id": "canopy", "kind": "canopy", "left": 0, "width": 60, "bottom": 10, "height": "6 in", "depth": 6}
LADDER = {"ladders": [{"id": "small", "step_height": 3}]}


def test_places_stand_before_the_wall_and_where_they_say(make: Any) -> None:
    found = places(make, {"projections": [CANOPY]}, LADDER)
    assert {c.kind for c in found} == {"spot", "look", "ladder"}
    for c in found:
        assert (c.place[0], -c.place[1]) == pytest.approx((c.s, c.out), abs=1e-9)
        assert 0.0 <= c.s <= 60 * FT
        assert c.out > 0.0
        assert c.seconds > 0.0


def test_ladders_stand_three_feet_out_of_the_edge(make: Any) -> None:
    """Common practice, no source: nobody leans on a canopy's edge."""
    found = [c for c in places(make, {"projections": [CANOPY]}, LADDER) if c.kind == "ladder"]
    assert {round(c.out / FT, 6) for c in found} == {9.0}
    assert {round(c.step / FT, 6) for c in found} == {3.0}
    assert not of(places(make, {"projections": [CANOPY]}), "ladder")


@pytest.mark.parametrize(
    ("key", "extra"),
    [
        ("keep_outs", {"reason": "a pit"}),
        ("planting", {"kind": "bed"}),
        ("planting", {"kind": "hedge", "height": 3}),
        ("parked", {"height": 5}),
        ("neighbours", {"what": "next door"}),
        ("buildings", {"height": 12}),
    ],
)
def test_nobody_stands_on(make: Any, key: str, extra: dict[str, Any]) -> None:
    outline = [[10, -40], [40, -40], [40, -8], [10, -8]]
    found = places(make, **{key: [{"id": "there", "outline": outline, **extra}]})
    bare = places(make)
    there = shapely.box(10 * FT, -40 * FT, 40 * FT, -8 * FT)
    lost = {c.place for c in bare} - {c.place for c in found}
    assert lost == {c.place for c in bare if there.intersects(shapely.Point(c.place))}
    assert lost


def test_a_lawn_and_cars_that_are_gone_may_be_stood_on(make: Any) -> None:
    outline = [[10, -40], [40, -40], [40, -8], [10, -8]]
    lawn = places(make, planting=[{"id": "grass", "kind": "lawn", "outline": outline}])
    gone = places(make, parked=[{"id": "cars", "outline": outline, "present": False}])
    assert lawn == gone == places(make)


def test_never_square_before_a_door(make: Any) -> None:
    doors = [{"id": "a", "left": 10, "width": 6, "height": 7}, {"id": "b", "left": 40, "width": 3, "height": 7}]
    found = places(make, {"doors": doors, "projections": [CANOPY]}, LADDER)
    for kind in ("spot", "ladder"):
        for s, _ in of(found, kind):
            assert not 9.0 <= s <= 17.0
            assert not 39.0 <= s <= 44.0
        assert any(7.0 < s < 9.0 for s, _ in of(found, kind)), "close beside a door there is a place"


def test_a_wall_that_is_all_door_has_no_place(make: Any) -> None:
    door = {"id": "roll", "left": 1, "width": 8, "height": 10}
    found = places(make, {"end": [10, 0], "doors": [door]})
    assert not of(found, "spot")


def test_nobody_is_sent_into_or_over_a_road(make: Any) -> None:
    """A road 40 ft out: the nearest place to it is 20 ft (6 m) short of its line; beyond it there is none."""
    road = {"id": "road", "kind": "road", "path": [[-500, -40], [500, -40]], "speed": "30 mph"}
    found, bare = places(make, eyes=[road]), places(make)
    assert max(c.out for c in bare) > 100 * FT
    assert max(c.out for c in found) <= 40 * FT - 6.0
    assert {c.place for c in found} == {c.place for c in bare if c.out <= 40 * FT - 6.0}


def test_hose_from_the_nearest_rig_place(make: Any) -> None:
    """50 ft of hose from a rig at (0, -20): Pythagoras, in feet."""
    rig = {"hoses": [{"id": "reel", "length": 50, "bore": "3/8 in"}]}
    found = places(make, rig=rig, rig_places=[{"id": "there", "at": [0, -20]}])
    for s, out in of(found, "spot"):
        assert math.hypot(s, out - 20) <= 50 + 1e-6
    near = [1 for s, out in of(places(make), "spot") if math.hypot(s, out - 20) <= 50]
    assert len(of(found, "spot")) == len(near) > 0
    assert len(of(found, "look")) == len(of(places(make), "look"))


def test_hose_goes_round_a_building(make: Any) -> None:
    """A rig 10 ft behind a house 60 by 40 ft: hypot(30, 10) and 40 ft to a front corner, and on to the place."""
    rig = {"hoses": [{"id": "reel", "length": 100, "bore": "3/8 in"}]}
    house = {"id": "house", "outline": [[0, 0], [60, 0], [60, 40], [0, 40]], "height": 20}
    kept = of(places(make, rig=rig, buildings=[house], rig_places=[{"id": "back", "at": [30, 50]}]), "spot")
    free = of(places(make), "spot")
    way = {(s, out): math.hypot(30, 10) + 40 + min(math.hypot(x - s, out) for x in (0, 60)) for s, out in free}
    assert kept == [place for place in free if way[place] <= 100]
    assert all(abs(s - 30) > 2 for s, _ in kept), "its middle is out of reach, though 56 ft off as the crow flies"
    assert kept


@pytest.mark.parametrize(("kilovolts", "feet"), [(None, 10.0), (7.2, 10.0), (138, 13.0)])
def test_clear_of_an_overhead_line(make: Any, kilovolts: float | None, feet: float) -> None:
    """Ten feet to 50 kV, 4 in more for each 10 kV: 138 kV takes 9 steps, 13 ft. The wand upright reaches 10 ft 7 in."""
    line: dict[str, Any] = {"id": "drop", "start": [-100, -15, 18], "end": [160, -15, 24], "sag": 2}
    if kilovolts:
        line["kilovolts"] = kilovolts
    found = places(make, {"projections": [CANOPY]}, LADDER, overhead_lines=[line])
    share = np.linspace(0, 1, 2001)
    wire = np.column_stack([-100 + 260 * share, -15 + 0 * share, 18 + 6 * share - 2 * 4 * share * (1 - share)])
    lost = {(c.kind, c.place) for c in places(make, {"projections": [CANOPY]}, LADDER)} - {
        (c.kind, c.place) for c in found
    }
    assert {kind for kind, _ in lost} <= {"spot", "ladder"}
    assert lost
    for c in found:
        if c.kind != "look":
            top = c.step / FT + 2.0 / FT + 4.0
            person = np.array([[c.place[0] / FT, c.place[1] / FT, top * k / 200] for k in range(201)])
            apart = np.linalg.norm(person[:, None] - wire[None, ::10], axis=2).min()
            assert apart >= feet


def test_the_public_own_places_are_looked_from_but_a_road_is_driven(make: Any) -> None:
    eyes = [
        {"id": "road", "kind": "road", "path": [[-500, -90], [500, -90]], "speed": "30 mph"},
        {"id": "door", "kind": "entrance", "path": [[20, -30]]},
        {"id": "upstairs", "kind": "window", "path": [[20, -80]], "height": 20},
        {"id": "own", "kind": "crew", "path": [[20, -20]]},
    ]
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [60, 0], "height": 20}], eyes=eyes)
    (placed,) = placed_walls(site)
    road, door = eye_candidates(placed, site.eyes)
    assert (road.eye, door.eye) == ("road", "door")
    assert (road.s / FT, road.out / FT) == pytest.approx((30, 90))
    assert (door.s / FT, door.out / FT) == pytest.approx((20, 30))
    assert road.seconds > door.seconds, "a drive past takes longer than a few steps"


def test_a_wall_without_a_place_knows_nothing_of_the_ground(make: Any) -> None:
    """It is drawn in a row far from the buildings; no hose, road or bed of the plan has to do with it."""
    house = {"id": "house", "outline": [[0, 0], [60, 0], [60, 40], [0, 40]], "height": 20}
    rig = {"hoses": [{"id": "reel", "length": 50, "bore": "3/8 in"}]}
    row = {"start": None, "end": None, "length": 60}
    found = places(make, row, rig, buildings=[house], rig_places=[{"id": "there", "at": [0, -20]}])
    assert of(found, "spot") == of(places(make), "spot")


def test_a_wall_of_one_foot_has_a_place(make: Any) -> None:
    assert {s for s, _ in of(places(make, {"end": [1, 0]}), "spot")} == {0.5}
