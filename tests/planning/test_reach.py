"""Reach of thrown water at a wall: against a search for each distance, lines clipped by half-spaces, trigonometry.

Straight lines: a segment is cut to the stretch inside every face of a box (M. Cyrus and J. Beck 1978, from memory: the
method is its own proof). A jet's path is concave, so what its chord clears the jet clears (closed form).
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from sightwash.planning.breeze import WIND_STEP, head_winds, wall_breeze
from sightwash.planning.methods import plan_methods
from sightwash.planning.reach import NONE, VERDICTS, heights_reached, throws
from sightwash.planning.sight import plan_sight
from sightwash.planning.standing import StandingProblem, no_standing_area, standing_problem
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.tips import choose_tip, tip_point
from sightwash.planning.weather import plan_air
from sightwash.science.jet_reach import reach_band
from sightwash.science.orifice import jet_speed
from sightwash.site.shapes import placed_walls, solids

FT, PSI, MPH = 0.3048, 6894.757, 0.44704
PLAIN_40 = {"id": "plain-40", "size": 40, "fan": 0, "use": "soap"}
PLAIN_22 = {"id": "plain-22", "size": 22, "fan": 0, "use": "long throw"}
FAN_40 = {"id": "fan-40", "size": 40, "fan": 25, "use": "soap"}
RIG: dict[str, Any] = {"hoses": [{"id": "reel", "length": 150, "bore": "3/8 in"}], "tips": [PLAIN_40, PLAIN_22]}
CALM = {"weather": {"wind_speed": "0 mph"}}
SOUND = {"state": "sound", "before_1978": False}
BAND = {"id": "band", "kind": "algae", "degree": "heavy", "bottom": 15, "top": 18}
CANOPY = {"id": "canopy", "kind": "canopy", "left": 0, "width": 40, "bottom": 9.5, "height": "6 in", "depth": 6}


def problem(
    make: Any, wall: dict[str, Any] | None = None, rig: dict[str, Any] | None = None, night: Any = None, **more: Any
) -> StandingProblem:
    """Return the places and pieces of a wall of 40 ft by 18 ft, one band near its top, stucco, with no looks."""
    front = {
        "id": "front",
        "start": [0, 0],
        "end": [40, 0],
        "height": 18,
        "material": "stucco",
        "soiling": [BAND],
        "paint": SOUND,
    }
    site = make("site", walls=[{**front, **(wall or {})}], **more)
    (placed,) = placed_walls(site)
    machine, air = make("rig", **(rig or RIG)), plan_air(make("conditions", **(night or CALM)))
    bodies = solids(site, (placed,))
    views = plan_sight(placed, bodies, site.eyes, site.crew_eye).views
    methods = plan_methods(placed, plan_wall_takeoff(placed), machine, air)
    given = (site, placed, methods, (), machine, make("rates"), air, bodies, no_standing_area(site), views)
    return standing_problem(*given)


def bore(size: float) -> float:
    """Bore of a tip of a size number: gal/min at 4000 psi through an orifice with a coefficient of 0.95 [m]."""
    flow = size * 3.785411784e-3 / 60
    return math.sqrt(4 * flow / (0.95 * jet_speed(4000 * PSI)) / math.pi)


def outline_crossed(start: Any, end: Any, low: Any, high: Any) -> bool:
    """Return whether a segment has a stretch of some length inside a box."""
    first, last = 0.0, 1.0
    for a, b, least, most in zip(start, end, low, high, strict=True):
        if abs(b - a) < 1e-12:
            if not least < a < most:
                return False
            continue
        t = sorted(((least - a) / (b - a), (most - a) / (b - a)))
        first, last = max(first, t[0]), min(last, t[1])
    return last - first > 1e-6


def rows_of(found: StandingProblem, target: str) -> list[int]:
    return [row for row, piece in enumerate(found.washes) if piece.target == target]


def test_levels_are_those_of_the_band_at_the_farther_end(make: Any) -> None:
    """No obstacle, calm: the verdict of every place and piece against the search of ``reach_band`` for its distance."""
    found = problem(make)
    rows, checked = rows_of(found, "band"), set()
    for row in rows:
        piece = found.washes[row]
        tips = {(tip.size, tip.tip_pressure) for tip in piece.tips}
        for k, place in enumerate(found.places):
            if place.kind != "spot" or k % 13:
                continue
            away = math.hypot(place.out, max(abs(piece.left - place.s), abs(piece.right - place.s)))
            bands = [reach_band(bore(size), pressure, away, 4.5 * FT)[:3] for size, pressure in tips]
            weakest = [min(band[n] for band in bands) for n in range(3)]
            best = next((n for n, height in enumerate(weakest) if height >= 18 * FT), NONE)
            level = int(found.reach.levels[row, k])
            assert level >= next((n for n, height in enumerate(weakest) if height * 1.002 >= 18 * FT), NONE)
            farther = math.ceil((away / FT - 6) / 4 - 1e-9) * 4 + 6
            later = [min(reach_band(bore(z), p, farther * FT, 4.5 * FT)[n] for z, p in tips) for n in range(3)]
            assert level <= next((n for n, height in enumerate(later) if height * 0.98 >= 18 * FT), NONE)
            checked.add(best)
    assert {0, 1} <= checked or {1, 2} <= checked


def test_a_fan_and_a_rig_without_tips_throw_nothing(make: Any) -> None:
    for tips in ([FAN_40], []):
        found = problem(make, rig={**RIG, "tips": tips})
        assert rows_of(found, "band")
        assert (found.levels == NONE).all()


def test_throwing_against_a_storm_reaches_nothing(make: Any) -> None:
    found = problem(make, night={"weather": {"wind_speed": "60 mph"}})
    assert (found.levels == NONE).all()


@pytest.mark.parametrize(
    ("wind_from", "north", "turned", "against"),
    [
        (180, 0, False, -1),
        (0, 0, False, 1),
        (90, 0, False, 0),
        (210, 30, False, -1),
        (30, 30, False, 1),
        (90, 0, True, 1),
    ],
)
def test_wind_square_to_the_wall(make: Any, wind_from: int, north: int, turned: bool, against: float) -> None:
    """A jet at a wall that faces south goes north: a south wind blows along with it, a north wind against it."""
    ends = ([0, 40], [0, 0]) if turned else ([0, 0], [40, 0])
    wall = {"id": "front", "start": ends[0], "end": ends[1], "height": 18}
    site = make("site", walls=[wall], place={"north": north})
    (placed,) = placed_walls(site)
    air = plan_air(make("conditions", weather={"wind_speed": "10 mph", "wind_from": wind_from}))
    breeze = wall_breeze(site, placed, air)
    assert breeze.outward == pytest.approx(against * 10 * MPH, abs=1e-9)
    square = head_winds(breeze, np.array([0.0]), np.array([5.0]))
    expected = max(against, 0.0) * 10 * MPH
    assert expected - 1e-9 <= square[0] <= expected + WIND_STEP


def test_wind_along_the_wall_meets_jets_thrown_aside(make: Any) -> None:
    """East wind at a wall that faces south: a jet to the right (east) meets its share, one to the left none."""
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [40, 0], "height": 18}])
    (placed,) = placed_walls(site)
    air = plan_air(make("conditions", weather={"wind_speed": "10 mph", "wind_from": 90}))
    right, left = head_winds(wall_breeze(site, placed, air), np.array([4.0, -4.0]), np.array([3.0, 3.0]))
    assert 0.8 * 10 * MPH <= right <= 0.8 * 10 * MPH + WIND_STEP
    assert left == 0.0


def test_an_unknown_bearing_is_all_against_the_jet(make: Any) -> None:
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [40, 0], "height": 18}])
    (placed,) = placed_walls(site)
    breeze = wall_breeze(site, placed, plan_air(make("conditions", weather={"wind_speed": "10 mph"})))
    assert (head_winds(breeze, np.array([4.0, 0.0, -4.0]), np.array([3.0, 3.0, 3.0])) >= 10 * MPH).all()


def test_a_head_wind_never_raises_a_level_to_surer(make: Any) -> None:
    calm = problem(make)
    windy = problem(make, night={"weather": {"wind_speed": "8 mph", "wind_from": 0}})
    assert (windy.reach.levels >= calm.reach.levels).all()
    assert (windy.reach.levels > calm.reach.levels).any()


def test_over_a_canopy_only_straight_lines_strike(make: Any) -> None:
    """Box 6 ft deep, 9.5 to 10 ft up, nozzle 4.5 ft up: from D ft out the wall is struck from 10 + 33 / (D - 6) ft."""
    strip = {"id": "strip", "kind": "splash", "degree": "heavy", "bottom": 10, "top": 10.6}
    low = {"id": "low", "kind": "algae", "degree": "light", "bottom": 10.6, "top": 13}
    found = problem(make, {"soiling": [BAND, strip, low], "projections": [CANOPY]})
    seen = set()
    for row, piece in enumerate(found.washes):
        if piece.face is not None:
            continue
        for k, place in enumerate(found.places):
            if place.kind == "spot":
                struck = bool(found.reach.fire.struck[row, k])
                out, aim = (
                    place.out / FT,
                    max(piece.level / FT - 0.25, (piece.level - (piece.top - piece.bottom) / 2) / FT),
                )
                if abs(out - 6) > 0.1:
                    assert struck == (out > 6 and aim > 10 + 5.5 * 6 / (out - 6))
                    start = (place.s / FT, out, 4.5)
                    crossed = outline_crossed(start, (piece.s / FT, 0.001, aim), (0, 0, 9.5), (40, 6, 10))
                    if 1 < place.s / FT < 39:
                        assert struck == (not crossed)
                    seen.add((piece.target, struck))
    assert {("band", True), ("band", False), ("strip", False), ("low", True), ("low", False)} <= seen
    assert ("strip", True) not in seen


def test_what_no_line_strikes_is_not_power_rinsed_and_otherwise_only_rained_on(make: Any) -> None:
    strip = {"id": "strip", "kind": "splash", "degree": "heavy", "bottom": 10, "top": 10.7}
    found = problem(make, {"soiling": [strip], "projections": [CANOPY]})
    assert (found.reach.levels[rows_of(found, "strip")] == NONE).all()
    light = problem(make, {"soiling": [{**strip, "degree": "light"}], "projections": [CANOPY]})
    rows = rows_of(light, "strip")
    assert set(light.reach.levels[rows].ravel().tolist()) == {2, NONE}
    assert VERDICTS[2] == "test on site"


def test_a_ladder_does_by_hand_what_no_line_strikes(make: Any) -> None:
    """Wand tip 2 m and 4 ft over the step of 3 ft: 13.56 ft; reaches a strip 10.7 ft up, not a band of 15 to 18 ft."""
    strip = {"id": "strip", "kind": "splash", "degree": "heavy", "bottom": 10, "top": 10.7}
    ladder = {"ladders": [{"id": "small", "step_height": 3}]}
    found = problem(make, {"soiling": [strip, BAND], "projections": [CANOPY]}, {**RIG, **ladder})
    ladders = [k for k, place in enumerate(found.places) if place.kind == "ladder"]
    for row in rows_of(found, "strip"):
        assert (found.reach.levels[row][ladders] == 0).any()
        for k in ladders:
            near = abs(found.washes[row].s - found.places[k].s) <= 7 * FT
            assert (found.reach.levels[row, k] == 0) == near
    assert (found.reach.levels[rows_of(found, "band")][:, ladders] == NONE).all()


def test_a_ladder_replaces_no_throw(make: Any) -> None:
    """Without a canopy the strip is thrown at; the trade keeps triggers off ladders (common practice, no source)."""
    strip = {"id": "strip", "kind": "splash", "degree": "heavy", "bottom": 10, "top": 10.7}
    ledge = {**CANOPY, "id": "ledge", "kind": "ledge", "bottom": 3, "depth": 1}
    ladder = {"ladders": [{"id": "small", "step_height": 3}]}
    found = problem(make, {"soiling": [strip], "projections": [ledge]}, {**RIG, **ladder})
    ladders = [k for k, place in enumerate(found.places) if place.kind == "ladder"]
    assert ladders
    assert (found.reach.levels[rows_of(found, "strip")][:, ladders] == NONE).all()


@pytest.mark.parametrize("kind", ["blade sign", "column"])
def test_what_stands_upright_screens(make: Any, kind: str) -> None:
    """A plate 0.5 ft thick, 0.5 to 3.5 ft out, over the whole band: struck or not by clipping against its box."""
    sign = {"id": "sign", "kind": kind, "left": 20, "width": 0.5, "bottom": 1, "height": 17, "depth": 3, "gap": 0.5}
    found = problem(make, {"projections": [sign]})
    screened = 0
    for row in rows_of(found, "band"):
        piece = found.washes[row]
        for k, place in enumerate(found.places):
            if place.kind != "spot":
                continue
            start = (place.s / FT, place.out / FT, 4.5)
            aims = [(piece.left + share * (piece.right - piece.left)) / FT for share in (0.25, 0.5, 0.75)]
            ends = [(s, 0.0, 18 - 0.25) for s in aims]
            boxes = [((20 - e, 0.5 - e, 1 - e), (20.5 + e, 3.5 + e, 18 + e)) for e in (1e-4, -1e-4)]
            grown, shrunk = (any(outline_crossed(start, end, *box) for end in ends) for box in boxes)
            if grown == shrunk:  # else a line grazes an edge, and either answer is right
                assert bool(found.reach.fire.struck[row, k]) == (not grown)
                screened += grown
    assert screened > 10


@pytest.mark.parametrize("top", [18.0, 20.8, 19.9])
def test_walls_with_laps_bear_no_steep_jets(make: Any, top: float) -> None:
    """60 degrees from the wand to the nearest of a piece, common practice: at 18 ft up 13.5 / tan 60 = 7.8 ft out."""
    tall = {"height": 21, "soiling": [{**BAND, "top": top}]}
    lapped, plain = problem(make, {**tall, "material": "vinyl"}), problem(make, tall)
    for row in rows_of(lapped, "band"):
        piece = lapped.washes[row]
        for k, place in enumerate(lapped.places):
            if place.kind == "spot":
                beside = max(piece.left - place.s, place.s - piece.right, 0.0)
                steep = (top - 4.5) * FT / math.hypot(place.out, beside) > math.tan(math.radians(60))
                assert bool(lapped.reach.steep[row, k]) == steep
                if steep:
                    assert lapped.reach.levels[row, k] == NONE
    assert lapped.reach.steep.any()
    assert not plain.reach.steep.any()


def test_jets_keep_off_an_overhead_line(make: Any) -> None:
    """Ten feet (29 CFR 1910.333(c)(3)) between the straight jet and a line along the wall, by our own distances."""
    line = {"id": "drop", "start": [30, -30, 24], "end": [40, 0, 17]}
    found = problem(make, overhead_lines=[line])
    share = np.linspace(0, 1, 401)[:, None]
    wire = np.array([30, -30, 24]) + share * np.array([10, 30, -7])
    counts = [0, 0]
    for row in rows_of(found, "band"):
        piece = found.washes[row]
        for k, place in enumerate(found.places):
            if place.kind != "spot":
                continue
            start = np.array([place.s / FT, -place.out / FT, 4.5])
            ends = np.array([[s / FT, 0, 18] for s in (piece.left, piece.s, piece.right)])
            jets = start + np.linspace(0, 1, 41)[:, None, None] * (ends - start)
            apart = np.linalg.norm(jets[:, :, None] - wire[None, None], axis=3).min()
            if apart < 10:
                assert found.reach.levels[row, k] == NONE
            counts[int(apart < 10)] += 1
            if apart > 13.5:
                assert not found.reach.fire.near[row, k]
    assert min(counts) > 10


def test_a_place_on_lower_ground_has_farther_up_to_throw(make: Any) -> None:
    """Ground falls 4 ft over the 40: from its low end the left of the band lies 4 ft higher than from above."""
    found = problem(make, {"base": [0, -4]})
    (first, *_) = [found.washes[row] for row in rows_of(found, "band")]
    assert first.level == pytest.approx(18 * FT)
    ends = [k for k, p in enumerate(found.places) if p.kind == "spot" and abs(p.out - 6 * FT) < 0.01]
    low = max(ends, key=lambda k: found.places[k].s)
    needed = first.level / FT + 4 * found.places[low].s / FT / 40
    assert needed > 21.5
    thrown = int(found.reach.thrown[rows_of(found, "band")[0], low])
    heights, _ = heights_reached(
        make("rig", **RIG), first, np.array([found.places[low].s]), np.array([found.places[low].out]),
        wall_breeze_of(make, CALM),
    )  # fmt: skip
    assert thrown == next((n for n, h in enumerate(heights[0]) if h >= needed * FT - 1e-9), NONE)


def wall_breeze_of(make: Any, night: Any) -> Any:
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [40, 0], "height": 18}])
    return wall_breeze(site, placed_walls(site)[0], plan_air(make("conditions", **night)))


@pytest.mark.parametrize("own_tip", [False, True])
def test_a_smaller_machine_ranks_behind_a_larger_one(make: Any, own_tip: bool) -> None:
    """Common practice, no source: 4 gal/min behind 5.5 for a top band with a plain long-throw tip; ranking only.

    With the same tip it has less pressure; with one of its own at the same pressure, 250 psi, a thinner jet.
    """
    heights = []
    for flow, size in ((4.0, 16.0 if own_tip else 22.0), (5.5, 22.0)):
        rig = make(
            "rig", machine={"flow": f"{flow} gal/min", "pressure": "3500 psi"}, tips=[{**PLAIN_22, "size": size}]
        )
        point = tip_point(rig, rig.tips[0], "power rinse", 1.0, 2.0, True, "")
        assert point.tip_pressure == pytest.approx((flow / size) ** 2 * 4000 * PSI, rel=0.01)
        heights.append(throws(rig, point, 0.0)[:-1])
    small, large = heights
    assert (small <= large).all()
    assert (small[:6] < large[:6]).all()


def test_two_to_three_hundred_psi_are_chosen_for_the_rinse_of_the_top_band(make: Any) -> None:
    """Common practice, no source: 200 to 300 psi at the tip for the power rinse; size 22 at 5.5 gal/min gives 250 psi.

    Orifice law: (5.5 / 22)^2 x 4000 = 250.
    """
    rig = make("rig", **RIG)
    tip = choose_tip(rig, "power rinse", (200 * PSI, 300 * PSI), 1500 * PSI, True)
    assert tip is not None
    assert (tip.tip, tip.within) == ("plain-22", True)
    assert tip.tip_pressure / PSI == pytest.approx(250, rel=0.005)
    found = problem(make)
    rinses = {piece.tips[-1].tip for piece in (found.washes[row] for row in rows_of(found, "band"))}
    assert rinses == {"plain-22"}
    assert (found.reach.levels[rows_of(found, "band")].min(axis=1) <= 1).all(), "likely reached, 18 ft up, in calm air"


def test_a_field_test_moves_the_last_water_and_never_raises_the_surer_bands(make: Any) -> None:
    """Marked on site: 25 ft and 40 ft from 10 ft off at 250 psi; the last water of the table there is that mark."""
    marks = {}
    for mark in (None, 25, 40):
        test = {"field_test": {"pressure": "250 psi", "standoff": 10, "highest_mark": mark}} if mark else {}
        rig = make("rig", tips=[{**PLAIN_22, **test}])
        point = tip_point(rig, rig.tips[0], "power rinse", 1.0, 2.0, True, "")
        marks[mark] = throws(rig, point, 0.0)[1] / FT
    for mark in (25, 40):
        assert marks[mark][2] == pytest.approx(mark, rel=0.02)
        assert (marks[mark][:2] <= marks[None][:2] + 1e-9).all()
        assert (np.diff(marks[mark]) >= 0).all()
