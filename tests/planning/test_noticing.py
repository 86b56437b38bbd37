"""What a public eye notices of a strip: solid angle by integration, time in view and the gate by hand.

Independent program: scipy.integrate.dblquad over cos(i) dA / r^2. Closed forms: angles by arctangent, time as length
over speed, and (X - D / tan A) / v inside a forward cone.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely
from scipy.integrate import dblquad

from sightwash.planning.noticing import STANDING_LOOK, notices
from sightwash.planning.sight import plan_sight
from sightwash.site.shapes import placed_walls, solids

FT, MPH = 0.3048, 0.44704
STRIP = (0.0, 11.0, 60.0, 12.0)
"""Left, bottom, right and top of a strip of wall [ft]."""


def noticed(make: Any, eyes: list[dict[str, Any]], strip: tuple[float, ...] = STRIP, length: float = 60.0) -> Any:
    """Return what eyes notice of a strip of an unobstructed wall."""
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [length, 0], "height": 20}], eyes=eyes)
    (placed,) = placed_walls(site)
    sight = plan_sight(placed, solids(site, (placed,)), site.eyes, site.crew_eye)
    part = shapely.box(*(value * FT for value in strip))
    return notices(placed, part, sight.views, site.eyes)


def integrated(strip: tuple[float, ...], eye: tuple[float, float, float]) -> float:
    """Solid angle of a strip at an eye (along, out, up), all in feet."""
    left, bottom, right, top = strip

    def share(z: float, s: float) -> float:
        return eye[1] / ((s - eye[0]) ** 2 + eye[1] ** 2 + (z - eye[2]) ** 2) ** 1.5

    return float(dblquad(share, left, right, bottom, top)[0])


@pytest.mark.parametrize("eye", [(30.0, 60.0, 3.5), (-20.0, 25.0, 5.3), (90.0, 8.0, 15.0)])
def test_solid_angle_is_the_integral(make: Any, eye: tuple[float, float, float]) -> None:
    (found,) = noticed(make, [{"id": "eye", "kind": "entrance", "path": [[eye[0], -eye[1]]], "height": eye[2]}])
    assert found.solid_angle == pytest.approx(integrated(STRIP, eye), rel=1e-6)
    assert found.distance / FT == pytest.approx(math.dist((30, 0, 11.5), eye), rel=1e-6)


def test_a_hole_is_not_noticed(make: Any) -> None:
    """A part with a hole: the whole strip's integral less the hole's."""
    site = make(
        "site",
        walls=[{"id": "front", "start": [0, 0], "end": [60, 0], "height": 20}],
        eyes=[{"id": "eye", "kind": "entrance", "path": [[30, -40]], "height": 5}],
    )
    (placed,) = placed_walls(site)
    sight = plan_sight(placed, solids(site, (placed,)), site.eyes, site.crew_eye)
    hole = (20.0, 11.2, 30.0, 11.8)
    part = shapely.box(*(v * FT for v in STRIP)).difference(shapely.box(*(v * FT for v in hole)))
    (found,) = notices(placed, part, sight.views, site.eyes)
    whole, out = (integrated(each, (30, 40, 5)) for each in (STRIP, hole))
    assert found.solid_angle == pytest.approx(whole - out, rel=1e-6)


@pytest.mark.parametrize(
    ("inches", "feet", "gate"),
    [(1.0, 30.0, 1.0), (0.5, 143.0, 0.0), (0.75, 143.0, 0.5), (6.0, 800.0, 1.0)],
)
def test_the_gate_opens_between_one_and_two_minutes_of_arc(make: Any, inches: float, feet: float, gate: float) -> None:
    """20/20 and 20/40: at 143 ft one minute is 0.4992 in, two are 0.998 in; eye level with the strip."""
    strip = (25.0, 5.0, 35.0, 5.0 + inches / 12)
    eye = {"id": "eye", "kind": "entrance", "path": [[30, -feet]], "height": 5 + inches / 24}
    (found,) = noticed(make, [eye], strip)
    arc = math.degrees(math.atan(inches / 12 / feet)) * 60
    assert found.gate == pytest.approx(min(max(arc - 1.0, 0.0), 1.0), abs=1e-6)
    assert found.gate == pytest.approx(gate, abs=0.01)


def test_a_road_is_weighed_where_it_passes(make: Any) -> None:
    """An unobstructed wall looks alike from all of the road: the place abeam counts, 100 ft off, not the road's end."""
    road = {"id": "road", "kind": "road", "path": [[-400, -100], [460, -100]], "height": 3.5, "speed": "40 mph"}
    (found,) = noticed(make, [road])
    assert found.distance / FT == pytest.approx(math.hypot(100, 8.0), rel=1e-6)
    assert found.solid_angle == pytest.approx(integrated(STRIP, (30.0, 100.0, 3.5)), rel=1e-6)


def test_time_in_view_is_length_over_speed(make: Any) -> None:
    """From 430 ft before the wall's middle to 430 ft beyond, all in view: 860 ft at 40 mph, 14.66 s."""
    road = {"id": "road", "kind": "road", "path": [[-400, -100], [460, -100]], "height": 3.5, "speed": "40 mph"}
    (found,) = noticed(make, [road])
    assert found.seconds == pytest.approx(860 * FT / (40 * MPH), rel=1e-6)


def test_a_road_behind_the_wall_sees_nothing(make: Any) -> None:
    road = {"id": "road", "kind": "road", "path": [[-400, 90], [460, 90]], "height": 3.5, "speed": "40 mph"}
    assert noticed(make, [road]) == ()


@pytest.mark.parametrize(
    ("offset", "half", "ahead", "mph", "seconds"),
    [(60, 20, 500, 35, 6.529), (60, 10, 500, 35, 3.111), (100, 20, 600, 45, 4.928), (60, 30, 500, 35, 7.716)],
)
def test_the_forward_cone_shortens_it(
    make: Any, offset: float, half: float, ahead: float, mph: float, seconds: float
) -> None:
    """(X - D / tan A) / v; the four rows were worked beside the formula. The wall is 10 ft long, seen all the way."""
    path = [[5 - ahead, -offset], [5 + ahead, -offset]]
    road = {"id": "road", "kind": "road", "path": path, "height": 3.5, "speed": f"{mph} mph", "cone": f"{2 * half} deg"}
    assert (ahead - offset / math.tan(math.radians(half))) * FT / (mph * MPH) == pytest.approx(seconds, abs=1e-3)
    (found,) = noticed(make, [road], (0.0, 11.0, 10.0, 12.0), 10.0)
    assert found.seconds == pytest.approx(seconds, abs=1e-3)


def test_the_score_is_people_times_time_times_angle_and_sorts(make: Any) -> None:
    near = {"id": "near", "kind": "entrance", "path": [[30, -20]], "height": 5, "per_day": 50}
    far = {"id": "far", "kind": "entrance", "path": [[30, -120]], "height": 5, "per_day": 60}
    first, second = noticed(make, [far, near])
    assert (first.eye, second.eye) == ("near", "far")
    for found, people, out in ((first, 50, 20.0), (second, 60, 120.0)):
        assert found.seconds == STANDING_LOOK
        expected = people * STANDING_LOOK * integrated(STRIP, (30.0, out, 5.0))
        assert found.score == pytest.approx(expected, rel=1e-6)


def test_a_crew_eye_notices_nothing(make: Any) -> None:
    assert noticed(make, [{"id": "own", "kind": "crew", "path": [[30, -40]], "height": 5}]) == ()
