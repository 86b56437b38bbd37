"""Standing plans of small walls: every subset tried, one fact changed at a time, and nothing to do.

The strip over a canopy, never square to a door, 200 to 300 psi for the rinse of a top band and a ladder for looking
and hand work only are common practice, no source.
"""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest

from sightwash.planning.methods import plan_methods
from sightwash.planning.missed import plan_missed
from sightwash.planning.sight import plan_sight
from sightwash.planning.standing import Standing, StandingProblem, no_standing_area, plan_standing, standing_problem
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.weather import plan_air
from sightwash.site.shapes import placed_walls, solids

FT, PSI = 0.3048, 6894.757
RIG: dict[str, Any] = {
    "hoses": [{"id": "reel", "length": 150, "bore": "3/8 in"}],
    "tips": [{"id": "soft", "size": 40, "use": "soap"}, {"id": "long", "size": 22, "use": "long throw"}],
}
BAND = {"id": "band", "kind": "algae", "degree": "heavy", "bottom": 15, "top": 18}
STRIP = {"id": "strip", "kind": "splash", "degree": "heavy", "bottom": 10, "top": 10.6667}
CANOPY = {"id": "canopy", "kind": "canopy", "left": 0, "width": 40, "bottom": 9.5, "height": "6 in", "depth": 6}
HIGHWAY = {"id": "highway", "kind": "road", "path": [[-400, -400], [440, -400]], "height": 3.5, "speed": "55 mph"}
SMALL_STEP = {"ladders": [{"id": "small-step", "step_height": 3}]}
CALM = {"weather": {"wind_speed": "0 mph"}}


def given(
    make: Any, wall: dict[str, Any] | None = None, rig: dict[str, Any] | None = None, night: Any = None, **more: Any
) -> tuple[Any, ...]:
    """Return what a standing plan takes, for one wall of 40 by 18 ft of sound painted stucco with a soiled band."""
    front = {"id": "front", "start": [0, 0], "end": [40, 0], "height": 18, "material": "stucco", "soiling": [BAND]}
    front["paint"] = {"state": "sound", "before_1978": False}
    site = make("site", walls=[{**front, **(wall or {})}], **more)
    (placed,) = placed_walls(site)
    machine, air = make("rig", **{**RIG, **(rig or {})}), plan_air(make("conditions", **(night or CALM)))
    bodies, forbidden = solids(site, (placed,)), no_standing_area(site)
    sight = plan_sight(placed, bodies, site.eyes, site.crew_eye)
    strips = plan_missed(placed, sight, site.eyes, site.crew_eye, machine, forbidden) if site.eyes else ()
    methods = plan_methods(placed, plan_wall_takeoff(placed), machine, air)
    return (site, placed, methods, strips, machine, make("rates"), air, bodies, forbidden, sight.views)


def planned(make: Any, *arguments: Any, **more: Any) -> Standing:
    return plan_standing(*given(make, *arguments, **more))


def cheapest_subset(problem: StandingProblem, largest: int) -> float:
    """Return the least cost over every subset of at most so many places; dearer ones than three never pay here."""
    covers, costs = problem.covers[problem.covered], problem.costs
    columns = {column.tobytes(): k for k, column in sorted(enumerate(covers.T), key=lambda each: -costs[each[0]])}
    kept = sorted(columns.values())
    best = np.inf
    for size in range(largest + 1):
        for subset in itertools.combinations(kept, size):
            if covers[:, list(subset)].any(axis=1).all():
                best = min(best, costs[list(subset)].sum())
    return float(best)


@pytest.mark.parametrize(
    "wall",
    [
        {"end": [12, 0]},
        {"end": [24, 0], "doors": [{"id": "d", "left": 4, "width": 6, "height": 7}]},
        {
            "end": [16, 0],
            "projections": [{**CANOPY, "width": 16, "depth": 3}],
            "soiling": [{**BAND, "degree": "light"}],
        },
    ],
)
def test_no_subset_of_places_is_cheaper(make: Any, wall: dict[str, Any]) -> None:
    """Closed form: every subset of one and two places is tried, and three cost more than the plan."""
    arguments = given(make, wall)
    plan, problem = plan_standing(*arguments), standing_problem(*arguments)
    assert problem.covered.any()
    assert plan.gap == 0.0
    assert plan.seconds == pytest.approx(cheapest_subset(problem, 2), abs=1e-6)
    assert 3 * problem.costs.min() > plan.seconds


def test_places_run_from_left_to_right(make: Any) -> None:
    ends = {"end": [160, 0], "projections": [{**CANOPY, "width": 160}], "soiling": [BAND, STRIP]}
    plan = planned(make, ends, SMALL_STEP, eyes=[HIGHWAY])
    for places in (plan.spots, plan.looks):
        assert len(places) > 2
        assert [place.s for place in places] == sorted(place.s for place in places)


def surest(problem: StandingProblem) -> list[int]:
    return problem.levels.min(axis=1, initial=3).tolist()


@pytest.mark.parametrize("length", [24, 40, 80])
def test_a_stronger_machine_never_costs_more(make: Any, length: int) -> None:
    """Where the lesser one leaves nothing over and is as sure of it, the larger can do the very same."""
    weak, strong = (
        given(make, {"end": [length, 0]}, {"machine": {"flow": f"{flow} gal/min", "pressure": "3500 psi"}})
        for flow in ("5.5", "8")
    )
    first, second = standing_problem(*weak), standing_problem(*strong)
    assert (second.levels <= first.levels).all()
    assert plan_standing(*strong).seconds <= plan_standing(*weak).seconds + 1e-9


def test_a_ladder_never_costs_more_where_all_is_seen_without_it(make: Any) -> None:
    """Nothing to wash, a strip to look at: from the road, from steps back, or from a ladder as one way more."""
    tall = {"ladders": [{"id": "tall", "step_height": 8}]}
    for length in (12, 40):
        wall = {"end": [length, 0], "projections": [{**CANOPY, "width": length}]}
        both = [given(make, wall, rig, eyes=[HIGHWAY]) for rig in ({}, tall)]
        without, with_one = (plan_standing(*each[:2], (), *each[3:]) for each in both)
        assert (without.unseen, without.spots, with_one.spots) == ((), (), ())
        assert 0.0 < with_one.seconds <= without.seconds
        assert any(look.kind == "ladder" for look in with_one.looks) == (with_one.seconds < without.seconds)


def test_cars_everywhere_leave_no_place_and_say_so(make: Any) -> None:
    cars = {"id": "cars", "outline": [[-60, -60], [100, -60], [100, -1], [-60, -1]], "height": 5}
    plan = planned(make, parked=[cars])
    assert plan.spots == ()
    assert plan.seconds == plan.bound == plan.gap == 0.0
    band = [line for line in plan.unreached if line.startswith("band,")]
    assert band
    assert all("no allowed place" in line for line in band)


def test_no_tips_reach_nothing_and_say_so(make: Any) -> None:
    plan = planned(make, {}, {"tips": []})
    assert plan.spots == ()
    assert any(line.startswith("band,") and "no tip" in line for line in plan.unreached)


def test_only_fans_name_the_plain_tip(make: Any) -> None:
    plan = planned(make, {}, {"tips": [{"id": "fan", "size": 40, "fan": 25, "use": "soap"}]})
    assert plan.spots == ()
    assert any(line.startswith("band,") and "plain (fan 0) tip" in line for line in plan.unreached)


def test_too_high_names_what_would_do(make: Any) -> None:
    """A wall of 70 ft: no jet of the rig gets there; from two metres of arm it takes a pole of 63 ft 5 in or a lift."""
    plan = planned(make, {"height": 70, "soiling": [{**BAND, "bottom": 66, "top": 70}]})
    (line,) = [line for line in plan.unreached if line.startswith("band,")]
    assert "lift" in line
    assert "63 ft 5" in line


def test_without_a_rig_place_the_hose_is_not_asked(make: Any) -> None:
    near, none = (planned(make, {}, {}, rig_places=places) for places in ([{"id": "here", "at": [20, -30]}], []))
    assert none.spots
    assert [spot.place for spot in near.spots] == [spot.place for spot in none.spots]
    far = planned(make, {}, {}, rig_places=[{"id": "far", "at": [20, -300]}])
    assert far.spots == ()
    assert any("no allowed place" in line for line in far.unreached)


def test_nothing_to_wash_is_no_problem(make: Any) -> None:
    """A wall that is all glass, and one so low that hands reach all of it."""
    glass = {
        "openings": [{"id": "g", "kind": "glass", "left": 0, "width": 40, "bottom": 0, "height": 18}],
        "soiling": [],
    }
    for wall in (glass, {"height": 9, "soiling": []}):
        plan = planned(make, wall)
        assert (plan.spots, plan.looks, plan.unreached, plan.unseen) == ((), (), (), ())
        assert (plan.seconds, plan.bound, plan.gap) == (0.0, 0.0, 0.0)


def test_one_piece_takes_one_place(make: Any) -> None:
    plan = planned(make, {"end": [6, 0]})
    assert len(plan.spots) == 1
    assert plan.gap == 0.0


def test_a_wall_of_one_foot(make: Any) -> None:
    plan = planned(make, {"end": [1, 0]})
    assert len(plan.spots) == 1
    assert plan.spots[0].s / FT == pytest.approx(0.5)


def test_a_wall_without_a_place_is_planned_all_the_same(make: Any) -> None:
    house = {"id": "house", "outline": [[0, 0], [60, 0], [60, 40], [0, 40]], "height": 20}
    loose = {"start": None, "end": None, "length": 40}
    plan = planned(make, loose, {}, buildings=[house], rig_places=[{"id": "there", "at": [20, -20]}])
    placed = planned(make)
    assert [(spot.s, spot.out, spot.verdict) for spot in plan.spots] == [
        (spot.s, spot.out, spot.verdict) for spot in placed.spots
    ]


def test_ground_that_falls_along_the_wall_raises_what_is_needed(make: Any) -> None:
    """Four feet over 40: a spot at its low end has 18 + 4 s / 40 ft above its feet."""
    for spot in planned(make, {"base": [0, -4]}).spots:
        assert spot.needed / FT == pytest.approx(18 + 4 * (spot.s / FT) / 40, abs=1e-6)


def test_wind_over_five_miles_an_hour_stops_every_claim(make: Any) -> None:
    """Reach was measured in calm air; beyond 5 mph it is to be tested: a judgement of the reach model."""
    for mph, claimed in ((5, True), (6, False)):
        plan = planned(make, {}, {}, {"weather": {"wind_speed": f"{mph} mph", "wind_from": 180}})
        assert plan.spots
        assert all((spot.verdict in ("sure", "likely")) is claimed for spot in plan.spots)


def test_the_strip_over_a_canopy_is_hand_work_from_a_small_step(make: Any) -> None:
    """Soiled strip of 8 in over a canopy 6 ft deep: missed close by, seen from the highway, no jet strikes it.

    A step of 3 ft brings a wand's tip to 13 ft 7 in and does it by hand; the band near the top is rinsed from the
    ground at 200 to 300 psi; somebody looks from the highway.
    """
    wall = {"projections": [CANOPY], "soiling": [BAND, STRIP]}
    arguments = given(make, wall, SMALL_STEP, eyes=[HIGHWAY])
    plan, problem = plan_standing(*arguments), standing_problem(*arguments)
    strip = {piece.id for piece in problem.washes if piece.target == "strip"}
    band = {piece.id for piece in problem.washes if piece.target == "band"}
    ladders = [look for look in plan.looks if look.kind == "ladder"]
    assert strip <= {name for look in ladders for name in look.covers}
    assert band <= {name for spot in plan.spots for name in spot.covers}
    assert all("hand work only" in look.words and "strip" in look.words for look in ladders)
    assert not any(strip & set(spot.covers) for spot in plan.spots)
    rinses = [piece.tips[-1].tip_pressure / PSI for piece in problem.washes if piece.id in band]
    assert all(200 <= pressure <= 300 for pressure in rinses)
    assert any(look.kind in ("eye point", "step back") for look in plan.looks)
    assert not plan.unreached
    assert not plan.unseen


def test_without_a_ladder_the_strip_is_named_with_the_step_that_would_do(make: Any) -> None:
    """Wand up: 2 m and 4 ft, 10 ft 6.7 in; the strip's top is 10 ft 8 in, so any step does."""
    plan = planned(make, {"projections": [CANOPY], "soiling": [BAND, STRIP]}, {}, eyes=[HIGHWAY])
    (line,) = [line for line in plan.unreached if line.startswith("strip,")]
    assert "no straight line" in line
    assert "by hand from a ladder" in line
    assert "step 1" in line


def test_a_missed_strip_that_no_place_shows_names_its_ladder(make: Any) -> None:
    """Cars from 9 ft out to the road, and a road too near to drive past for the upper row of a deep canopy."""
    wide = [[-400, -420], [440, -420], [440, -7], [-400, -7]]
    cars = {"id": "cars", "outline": wide, "height": 1}
    eye = {"id": "upstairs", "kind": "window", "path": [[20, -60]], "height": 20}
    plan = planned(make, {"projections": [CANOPY], "soiling": [BAND]}, {}, eyes=[eye], parked=[cars])
    assert plan.looks == ()
    (line,) = plan.unseen
    assert "ladder with a step" in line
    assert plan.open_strips == (line.partition(":")[0],) == ("front-missed-1",)


def test_looks_from_ladders_take_a_set_every_sixteen_feet(make: Any) -> None:
    """Cars from 11 ft out leave only the ladder, 9 ft out: 64 ft of strip, 16 ft a set, four sets, as said."""
    cars = {"id": "cars", "outline": [[-400, -420], [440, -420], [440, -11], [-400, -11]], "height": 1}
    eye = {"id": "upstairs", "kind": "window", "path": [[32, -60]], "height": 3.5}
    wall = {"end": [64, 0], "projections": [{**CANOPY, "width": 64}]}
    tall = {"ladders": [{"id": "tall", "step_height": 8}]}
    arguments = given(make, wall, tall, eyes=[eye], parked=[cars])
    plan = plan_standing(*arguments[:2], (), *arguments[3:])
    assert (plan.unseen, plan.open_strips) == ((), ())
    assert {look.kind for look in plan.looks} == {"ladder"}
    assert len(plan.looks) == 4
    (strip,) = arguments[3]
    assert any("4 set-ups" in remedy.words for remedy in strip.remedies)


def test_a_metric_site_is_told_in_metres(make: Any) -> None:
    plan = planned(
        make,
        {"start": ["0 m", "0 m"], "end": ["12 m", "0 m"], "height": "6 m", "soiling": []},
        {"tips": []},
        units="metric",
    )
    assert plan.unreached
    assert all(" ft" not in line and " m" in line for line in plan.unreached)
