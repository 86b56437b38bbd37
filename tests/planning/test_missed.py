"""Missed strips and their remedies, held against similar triangles worked by hand.

Closed form (similar triangles): over an edge h up and d out an eye e up and D out sees the wall from
h + (h - e) d / (D - d); to see a height z it must be at D = d + d (h - e) / (z - h), or be raised at D to
(h D - z (D - d)) / d. The strip over a canopy that a driver sees and a crew close by does not is the trade's own
reason to look from the road, and a small step ladder or many steps back are its remedies: common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
import shapely

from sightwash.planning.missed import MissedStrip, plan_missed, soiled_and_missed
from sightwash.planning.regions import shape_of
from sightwash.planning.sight import WallSight, plan_sight
from sightwash.planning.standing import no_standing_area
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.site.shapes import PlacedWall, placed_walls, solids

FT = 0.3048
CANOPY = {"id": "canopy", "kind": "canopy", "left": 0, "width": 60, "bottom": 9.5, "height": "6 in", "depth": 6}
DRIVER = {"id": "driver", "kind": "entrance", "path": [[30, -60]], "height": 3.5}


def missed_over_canopy(
    make: Any, eyes: list[Any], **more: Any
) -> tuple[PlacedWall, WallSight, tuple[MissedStrip, ...]]:
    """Return the missed strips of a wall of 60 by 20 ft with a canopy 6 ft deep, its top edge 10 ft up."""
    rig, wall = more.pop("rig", {}), more.pop("wall", {})
    front = {"id": "front", "start": [0, 0], "end": [60, 0], "height": 20, "projections": [CANOPY], **wall}
    site = make("site", walls=[front], eyes=eyes, **more)
    (placed,) = placed_walls(site)
    sight = plan_sight(placed, solids(site, (placed,)), site.eyes, site.crew_eye)
    given = (site.eyes, site.crew_eye, make("rig", **rig), no_standing_area(site), "us", site.overhead_lines)
    return placed, sight, plan_missed(placed, sight, *given)


def back_to_see(z: str, eye: str) -> float:
    """Distance in feet from which an eye sees a height over a canopy 6 ft deep with its edge 10 ft up."""
    return float(6 + 6 * (10 - Fraction(eye)) / (Fraction(z) - 10))


def steps_back(strip: MissedStrip) -> dict[float, float]:
    return {r.share: r.distance / FT for r in strip.remedies if r.kind == "step back"}


def test_stand_45_ft_back_to_see_11_ft_over_a_10_ft_canopy(make: Any) -> None:
    """An eye 3.5 ft up at 45 ft sees from 11 ft; a crew of the same height has to go as far. 6 + 39 / 1 = 45."""
    assert back_to_see("11", "3.5") == 45.0
    eye = {**DRIVER, "path": [[30, -45]]}
    _, _, (strip,) = missed_over_canopy(make, [eye], crew_eye={"height": 3.5, "standoff": 12})
    assert strip.bottom / FT == pytest.approx(11.0, abs=1e-3)
    assert steps_back(strip)[1.0] == pytest.approx(45.0)


def test_what_the_usual_crew_misses_and_how_far_it_steps_back(make: Any) -> None:
    """Driver at 60 ft: from 10 + 39 / 54 = 10.7222 ft; crew 5.25 ft up at 12 ft: from 14.75 ft; 4.0278 ft are missed.

    Half of it starts at 12.7361, 90 % at 11.125, all at 10.7222 ft: 16.42, 31.33 and 45.46 ft back; paced 17, 32, 46.
    """
    _, _, (strip,) = missed_over_canopy(make, [DRIVER])
    assert (strip.top - strip.bottom) / FT == pytest.approx(4.027778, abs=1e-4)
    assert (strip.over, strip.seen_by) == ("canopy", ("driver",))
    assert [back_to_see(z, "5.25") for z in ("12.736111", "11.125", "10.722222")] == pytest.approx(
        [16.416, 31.333, 45.462], abs=0.01
    )
    assert steps_back(strip) == pytest.approx({0.5: 17.0, 0.9: 32.0, 1.0: 46.0})


def test_ladder_step_and_sets(make: Any) -> None:
    """Nine feet out, to see 10.7222 ft: (10 x 9 - 10.7222 x 3) / 6 = 9.6389 ft, less the eye's 5.25: a step of 4.3889.

    Sixty feet of strip at 16 ft a set take four sets.
    """
    _, _, (strip,) = missed_over_canopy(make, [DRIVER], rig={"ladders": [{"id": "tall", "step_height": 5}]})
    (ladder,) = [remedy for remedy in strip.remedies if remedy.kind == "ladder"]
    assert ladder.distance / FT == pytest.approx(9.0)
    assert ladder.step / FT == pytest.approx(4.3889, abs=1e-3)
    assert ladder.allowed
    assert "4 set-ups" in ladder.words
    assert "hand work only" in ladder.words


@pytest.mark.parametrize(("step", "allowed"), [(5, True), (4, False), (None, False)])
def test_a_ladder_that_is_too_low_or_missing_is_no_remedy(make: Any, step: int | None, allowed: bool) -> None:
    ladders = [{"id": "one", "step_height": step}] if step else []
    _, _, (strip,) = missed_over_canopy(make, [DRIVER], rig={"ladders": ladders})
    (ladder,) = [remedy for remedy in strip.remedies if remedy.kind == "ladder"]
    assert ladder.allowed is allowed
    assert [r.allowed for r in strip.remedies] == sorted((r.allowed for r in strip.remedies), reverse=True)


@pytest.mark.parametrize(("out", "allowed"), [(9.0, False), (19.0, False), (21.0, True)])
def test_no_ladder_is_set_near_an_overhead_line(make: Any, out: float, allowed: bool) -> None:
    """Ten feet from a line at a wand's height: 29 CFR 1910.333(c)(3) (published), and 1 ft (0.3 m) more for sway.

    The ladder stands 9 ft out, so a line along the wall has to run 20 ft out or farther.
    """
    line = {"id": "line", "start": [-90, -out, 12], "end": [150, -out, 12]}
    rig = {"ladders": [{"id": "tall", "step_height": 9}]}
    _, _, (strip,) = missed_over_canopy(make, [DRIVER], rig=rig, overhead_lines=[line])
    (ladder,) = [remedy for remedy in strip.remedies if remedy.kind == "ladder"]
    assert ladder.allowed is allowed
    assert ("too near an overhead line" in ladder.words) is not allowed


def test_a_ladder_is_set_beside_an_overhead_line_that_comes_to_the_wall(make: Any) -> None:
    """A drop square to the wall at its middle, 30 ft along: the place is moved more than 10 ft and 1 ft along."""
    line = {"id": "drop", "start": [30, -60, 22], "end": [30, 0, 14]}
    rig = {"ladders": [{"id": "tall", "step_height": 9}]}
    placed, _, (strip,) = missed_over_canopy(make, [DRIVER], rig=rig, overhead_lines=[line])
    (ladder,) = [remedy for remedy in strip.remedies if remedy.kind == "ladder"]
    assert ladder.allowed
    assert 10.0 < abs(placed.local(ladder.place)[0] / FT - 30) < 15.0


def test_the_nearest_allowed_place_is_named(make: Any) -> None:
    """A bed before the strip's middle: the nearest place beside it at the same distance, so 30 ft along is not it."""
    bed = {"id": "bed", "kind": "bed", "outline": [[24, -50], [36, -50], [36, -12], [24, -12]]}
    placed, _, (strip,) = missed_over_canopy(make, [DRIVER], planting=[bed])
    (back,) = [r for r in strip.remedies if r.kind == "step back" and r.share == 1.0]
    s, out = placed.local(back.place)
    assert out / FT == pytest.approx(46.0)
    assert back.allowed
    assert not shapely.box(24 * FT, -50 * FT, 36 * FT, -12 * FT).covers(shapely.Point(back.place))
    assert 6.0 < abs(s / FT - 30) < 10.0, "no farther along than needed: places are 3.75 ft apart"


def test_nobody_is_sent_over_a_road(make: Any) -> None:
    """A road 50 ft out: 46 ft is within 20 ft (6 m) of it, 17 ft is not; beyond it nobody is sent."""
    road = {"id": "road", "kind": "road", "path": [[-400, -50], [400, -50]], "height": 3.5, "speed": "30 mph"}
    _, _, (strip,) = missed_over_canopy(make, [road])
    by_share = {r.share: r for r in strip.remedies if r.kind == "step back"}
    for share, remedy in by_share.items():
        assert remedy.allowed == (remedy.distance / FT < 50 - 6 / FT), share
    assert by_share[0.5].allowed
    assert not by_share[1.0].allowed
    assert "no allowed place" in by_share[1.0].words


def test_ground_that_is_taken_everywhere_leaves_no_remedy(make: Any) -> None:
    cars = {"id": "cars", "outline": [[-50, -400], [110, -400], [110, -1], [-50, -1]], "height": 1}
    _, _, (strip,) = missed_over_canopy(make, [DRIVER], parked=[cars], rig={"ladders": [{"id": "l", "step_height": 9}]})
    assert strip.remedies
    assert not any(remedy.allowed for remedy in strip.remedies)


def test_a_strip_of_8_in_is_missed_close_by_and_seen_from_the_highway(make: Any) -> None:
    """Common practice, no source: the soiled strip just over a canopy.

    Strip 10 ft to 10 ft 8 in. A driver 3.5 ft up, 400 ft off, sees from 10 + 39 / 394 = 10.099 ft: 85 % of it. A crew
    5.25 ft up at 12 ft sees from 14.75 ft: none. Remedies: a step 10.02 - 5.25 ft and less, or hundreds of feet back.
    """
    soiling = [{"id": "strip", "kind": "splash", "degree": "heavy", "bottom": 10, "top": 10.6667}]
    road = {"id": "highway", "kind": "road", "path": [[0, -400], [60, -400]], "height": 3.5, "speed": "55 mph"}
    step = {"ladders": [{"id": "small", "step_height": 5}]}
    placed, sight, (strip,) = missed_over_canopy(make, [road], wall={"soiling": soiling}, rig=step)
    lines = {line.patch: line for line in soiled_and_missed(sight, plan_wall_takeoff(placed).patches)}
    seen = 1 - (39 / 394) / 0.6667
    assert lines["strip"].public / lines["strip"].area == pytest.approx(seen, abs=0.01)
    assert lines["strip"].missed == pytest.approx(lines["strip"].public, rel=1e-6)
    kinds = {(r.kind, r.share): r for r in strip.remedies if r.allowed}
    assert kinds[("ladder", 1.0)].step / FT < 5.0
    assert kinds[("step back", 0.9)].distance / FT == pytest.approx(
        back_to_see(str(round(14.75 - 0.9 * (14.75 - 10.098985), 6)), "5.25"), abs=1.01
    )
    assert min(r.distance for r in kinds.values() if r.kind == "ladder") / FT == pytest.approx(9.0)


def test_without_public_eyes_every_strip_counts_and_none_is_ranked(make: Any) -> None:
    _, _, strips = missed_over_canopy(make, [])
    assert strips
    assert all((strip.notices, strip.score, strip.seen_by) == ((), 0.0, ()) for strip in strips)


def test_a_wall_with_nothing_before_it_has_no_missed_strip(make: Any) -> None:
    _, _, strips = missed_over_canopy(make, [DRIVER], wall={"projections": []})
    assert strips == ()


def test_regions_are_what_the_public_sees_and_the_crew_does_not(make: Any) -> None:
    _, sight, strips = missed_over_canopy(make, [DRIVER])
    public, crew = shape_of(sight.public_seen), shape_of(sight.crew_seen)
    for strip in strips:
        shape = shape_of(strip.region)
        assert shape.difference(public).area < 0.002 * shape.area
        assert shape.intersection(crew).area < 1e-6
        assert strip.area == pytest.approx(shape.area, rel=1e-6)
    assert sum(strip.area for strip in strips) == pytest.approx(60 * 4.027778 * FT**2, rel=0.01)
