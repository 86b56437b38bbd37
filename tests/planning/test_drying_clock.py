"""The drying clock: shade by similar triangles, hours of sun by where walls face, order, frost, the walk, the plants.

Sources: similar triangles for the shadow of a canopy (closed form); a wall that faces west has no direct sun before the
sun crosses its plane (closed form); OSHA and NOAA fact sheet 3863, 2016 (published): 30 minutes after the last thunder;
Unified Facilities Guide Specifications 04900 (published): masonry is cleaned above 40 F; civil clocks and daylight
time: IANA time zone database (published).
"""

from __future__ import annotations

import json
import math
from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.planning.drying_clock import DryingClock, plan_drying_clock
from sightwash.planning.methods import plan_methods
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.wall_sun import lit_share, sun_direction, wall_bearing
from sightwash.planning.weather import plan_air
from sightwash.planning.work_hours import site_clock, window_air, work_hours, work_window
from sightwash.science.sun import sun_position
from sightwash.site.conditions import Conditions
from sightwash.site.hourly_weather import HourlyWeather
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import Document, document_from
from sightwash.site.tree import parse
from sightwash.site.weather_file import weather_from

JULY, NOVEMBER = date(2026, 7, 11), date(2026, 11, 14)
FOOT = 0.3048
PLACE = {"time_zone": "America/Chicago", "latitude": 38.71, "longitude": -91.44}


def conditions(weather: str, start: str = "08:00", end: str = "19:00") -> Conditions:
    tree = {"kind": "conditions", "schema": 1, "id": "day", "start": start, "end": end, "weather": weather}
    found = document_from(parse(json.dumps(tree), "conditions.json"), "conditions")
    assert isinstance(found, Conditions)
    return found


HOT_DAY = conditions("88 F, 50 %, wind 6 mph, clear, rain 10 %, coldest 70 F")
COLD_NIGHT = conditions("45 F, 75 %, wind 3 mph, cloud 30 %, rain 10 %, coldest 38 F", "21:00", "05:00")


def clock_of(
    documents: dict[str, Document], when: Conditions, on: date, weather: HourlyWeather | None = None
) -> DryingClock:
    site, rig, rates = documents["site"], documents["rig"], documents["rates"]
    assert isinstance(site, Site)
    walls = placed_walls(site)
    takeoffs = tuple(plan_wall_takeoff(wall) for wall in walls)
    methods = tuple(
        method
        for wall, off in zip(walls, takeoffs, strict=True)
        for method in plan_methods(wall, off, rig, plan_air(when))  # type: ignore[arg-type]
    )
    bodies = solids(site, walls)
    return plan_drying_clock(site, walls, bodies, takeoffs, methods, rates, when, on, weather)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def july(demo: dict[str, Document]) -> DryingClock:
    return clock_of(demo, HOT_DAY, JULY)


@pytest.fixture(scope="module")
def november(demo: dict[str, Document]) -> DryingClock:
    return clock_of(demo, COLD_NIGHT, NOVEMBER)


def small(make: Any, *walls: dict[str, Any], **more: Any) -> dict[str, Document]:
    return {
        "site": make("site", place=PLACE, walls=list(walls), **more),
        "rig": make("rig", bleach={"strength": "12.5 trade %", "dated": "2026-07-01"}),
        "rates": make("rates"),
    }


def facing(side: str, **more: Any) -> dict[str, Any]:
    ends = {"south": [[0, 0], [60, 0]], "north": [[60, 40], [0, 40]], "east": [[60, 0], [60, 40]],
            "west": [[0, 40], [0, 0]]}[side]  # fmt: skip
    return {"id": side, "start": ends[0], "end": ends[1], "height": 16, "material": "painted block",
            "paint": {"state": "sound", "before_1978": False}, **more}  # fmt: skip


@pytest.mark.parametrize(("north", "bearings"), [(0.0, (180, 0, 90, 270)), (8.0, (188, 8, 98, 278))])
def test_walls_face_where_the_site_is_turned_to(make: Any, north: float, bearings: tuple[int, ...]) -> None:
    site = make("site", place={**PLACE, "north": north}, walls=[facing(s) for s in ("south", "north", "east", "west")])
    found = [wall_bearing(placed, north) for placed in placed_walls(site)]
    assert found == pytest.approx([float(bearing % 360) for bearing in bearings])


def test_direction_to_the_sun_in_site_axes() -> None:
    """High noon due south, site turned by 90 degrees: the y axis points east, so that south is along +x."""
    assert sun_direction(45.0, 180.0, 90.0) == pytest.approx([math.sqrt(0.5), 0.0, math.sqrt(0.5)], abs=1e-12)


@given(st.floats(20.0, 80.0), st.floats(1.0, 12.0), st.floats(8.0, 14.0))
def test_shadow_of_a_canopy_by_similar_triangles(make: Any, zenith: float, depth: float, bottom: float) -> None:
    """Sun square to the wall: below the canopy's outer lower edge it reaches down by depth times cot(zenith)."""
    canopy = {"id": "c", "kind": "canopy", "left": 0, "width": 60, "bottom": bottom, "height": 0.2, "depth": depth}
    site = make("site", place=PLACE, walls=[facing("south", projections=[canopy])])
    (placed,) = placed_walls(site)
    under = shapely.box(0.0, 0.0, placed.length, bottom * FOOT)
    down = depth / math.tan(math.radians(zenith))
    lit = lit_share(placed, solids(site, (placed,)), under, zenith, 180.0, 0.0)
    assert lit == pytest.approx(max(bottom - down, 0.0) / bottom, abs=2e-4)


def test_a_building_to_the_south_shades_a_low_sun_only(make: Any) -> None:
    """A 16 ft wall, 20 ft behind another building 36 ft high: it is in the sun once the sun is above 61 degrees."""
    other = {"id": "other", "outline": [[-300, -60], [360, -60], [360, -20], [-300, -20]], "height": 36}
    site = make("site", place=PLACE, walls=[facing("south")], buildings=[other])
    (placed,) = placed_walls(site)
    bodies = solids(site, (placed,))
    whole = placed.outline
    for elevation, share in ((70.0, 1.0), (60.945, 1.0), (45.0, 0.0), (30.0, 0.0)):
        assert lit_share(placed, bodies, whole, 90.0 - elevation, 180.0, 0.0) == pytest.approx(share, abs=1e-3)
    half = math.degrees(math.atan((36 - 8) / 20))
    assert lit_share(placed, bodies, whole, 90.0 - half, 180.0, 0.0) == pytest.approx(0.5, abs=1e-3)


def test_east_and_west_have_the_sun_on_their_own_side_of_noon(make: Any) -> None:
    found = clock_of(small(make, facing("east"), facing("west")), HOT_DAY, JULY)
    east, west = found.walls
    for hour, a, b in zip(found.hours, east.hours, west.hours, strict=True):
        middle = hour.start.astimezone(UTC) + timedelta(seconds=hour.length / 2)
        morning = sun_position(middle.timestamp(), 38.71, -91.44).hour_angle < 0.0
        assert (a.lit > 0.0, b.lit > 0.0) == (morning, not morning)


def test_a_north_wall_in_november_has_no_direct_sun(make: Any) -> None:
    found = clock_of(small(make, facing("north")), conditions("60 F, 50 %, calm, clear", "08:00", "16:00"), NOVEMBER)
    assert all(hour.lit == 0.0 and hour.in_sun == hour.in_shade > 0.0 for hour in found.walls[0].hours)


def test_shade_first(make: Any) -> None:
    """From eight in the morning the west wall goes first, from four in the afternoon the east wall."""
    pair = small(make, facing("east"), facing("west"))
    weather = "80 F, 60 %, wind 3 mph, clear"
    assert clock_of(pair, conditions(weather, "08:00", "12:00"), JULY).order[0].wall == "west"
    assert clock_of(pair, conditions(weather, "16:00", "19:00"), JULY).order[0].wall == "east"


def test_a_wall_waits_for_its_shade(make: Any) -> None:
    """From ten to six: the west wall at once, the east wall only when the sun has left it."""
    pair = small(make, facing("east"), facing("west"))
    first, second = clock_of(pair, conditions("82 F, 60 %, wind 2 mph, clear", "10:00", "20:00"), JULY).order
    assert (first.wall, second.wall) == ("west", "east")
    assert second.starts > first.ends
    assert (first.lit, second.lit) == (0.0, 0.0)
    assert not second.avoid
    assert "not before" in second.words


def test_equal_walls_stay_in_the_site_s_order(november: DryingClock) -> None:
    assert [turn.wall for turn in november.order] == [wall.wall for wall in november.walls]


def test_demo_july_day_against_november_night(july: DryingClock, november: DryingClock) -> None:
    assert [wall.wall for wall in july.walls] == [wall.wall for wall in november.walls]
    noon = next(k for k, hour in enumerate(july.hours) if hour.start.hour == 12)
    for hot, cold in zip(july.walls, november.walls, strict=True):
        assert hot.hours[noon].wet_low < cold.hours[3].wet_low / 5
        assert hot.hours[noon].section <= cold.hours[3].section
    sections = {wall.wall: wall.hours[noon].section for wall in july.walls}
    assert sections["row-front"] == 0.0, "a block of stucco in the July sun dries before its dwell is over"
    assert all(hour.section == pytest.approx(wall.length) for wall in november.walls for hour in wall.hours)
    assert any(wall.avoid for wall in july.walls)
    assert not any(wall.avoid for wall in november.walls)
    assert [turn.wall for turn in july.order] != [turn.wall for turn in november.order]


def test_every_turn_follows_the_one_before(july: DryingClock) -> None:
    assert sorted(turn.wall for turn in july.order) == sorted(wall.wall for wall in july.walls)
    for before, after in zip(july.order, july.order[1:], strict=False):
        assert before.ends <= after.starts


@settings(max_examples=25)
@given(st.floats(45.0, 100.0), st.integers(15, 95), st.floats(0.0, 15.0), st.integers(0, 100), st.integers(0, 23))
def test_shade_never_dries_faster(make: Any, air: float, damp: int, wind: float, cloud: int, hour: int) -> None:
    line = f"{air} F, {damp} %, wind {wind} mph, cloud {cloud} %"
    when = conditions(line, f"{hour:02}:00", f"{(hour + 2) % 24:02}:00")
    found = clock_of(small(make, facing("south"), facing("west")), when, JULY)
    for wall in found.walls:
        for each in wall.hours:
            assert each.wet_shade >= each.wet * (1.0 - 1e-9)
            assert each.section_shade >= each.section - 1e-9
            assert each.wet_low <= each.wet <= each.wet_high


@given(st.floats(0.0, 89.0), st.floats(0.0, 360.0))
def test_a_canopy_never_adds_sun(make: Any, zenith: float, azimuth: float) -> None:
    canopy = {"id": "c", "kind": "canopy", "left": 5, "width": 40, "bottom": 9, "height": 0.5, "depth": 6}
    bare, shaded = (make("site", place=PLACE, walls=[facing("south", projections=extra)]) for extra in ([], [canopy]))
    (wall,), (other,) = placed_walls(bare), placed_walls(shaded)
    surface = wall.outline
    open_share = lit_share(wall, solids(bare, (wall,)), surface, zenith, azimuth, 0.0)
    assert lit_share(other, solids(shaded, (other,)), surface, zenith, azimuth, 0.0) <= open_share + 1e-9


def test_window_over_midnight_and_the_hour_that_comes_twice() -> None:
    """In 2026 clocks go back on 1 November at 2:00: from 21:00 to 5:00 are nine hours."""
    site_tree = {"kind": "site", "schema": 1, "id": "p", "name": "P", "place": PLACE}
    site = document_from(parse(json.dumps(site_tree), "s.json"), "site")
    assert isinstance(site, Site)
    start, end = work_window(COLD_NIGHT, date(2026, 10, 31), site_clock(site.place))
    hours = work_hours(site.place, COLD_NIGHT, start, end)
    assert sum(hour.length for hour in hours) == 9 * 3600
    assert [hour.start.hour for hour in hours] == [21, 22, 23, 0, 1, 1, 2, 3, 4]
    assert all(hour.dark for hour in hours)


def test_half_hours_are_cut_at_the_clock(demo: dict[str, Document]) -> None:
    site = demo["site"]
    assert isinstance(site, Site)
    start, end = work_window(conditions("76 F", "21:30", "23:15"), JULY, site_clock(site.place))
    hours = work_hours(site.place, conditions("76 F"), start, end)
    assert [(f"{h.start:%H:%M}", h.length) for h in hours] == [("21:30", 1800), ("22:00", 3600), ("23:00", 900)]


def test_a_file_of_weather_goes_before_the_typed_line(demo: dict[str, Document]) -> None:
    rows = "".join(f"2026-07-11 {hour:02}:00,{60 + hour},80,0,20\n" for hour in range(8, 12))
    weather = weather_from("time,air_temperature (F),humidity,cloud,wind_speed\n" + rows, "w.csv")
    found = clock_of(demo, HOT_DAY, JULY, weather)
    assert found.weather == "hourly table"
    assert [hour.temperature for hour in found.hours[:4]] == pytest.approx([(28 + h) / 1.8 for h in range(8, 12)])
    assert found.hours[5].temperature == pytest.approx((88 - 32) / 1.8), "the typed figure where the file ends"
    assert found.hours[0].wind == pytest.approx(found.hours[0].mast_wind * 4.87 / math.log(678 - 5.42))
    assert found.verdict.stops[0].kind == "wind"


def test_one_air_for_a_whole_window_is_its_worst(demo: dict[str, Document]) -> None:
    site = demo["site"]
    assert isinstance(site, Site)
    rows = "2026-07-11 08:00,70,80,5\n2026-07-11 09:00,75,60,12\n2026-07-11 10:00,72,90,3\n"
    weather = weather_from("time,air_temperature (F),humidity,wind_speed\n" + rows, "w.csv")
    when = conditions("88 F", "08:00", "11:00")
    start, end = work_window(when, JULY, site_clock(site.place))
    air = window_air(work_hours(site.place, when, start, end, weather))
    assert (air.temperature, air.humidity) == (pytest.approx(43 / 1.8), pytest.approx(0.6))
    assert air.wind == pytest.approx(12 * 1609.344 / 3600)
    assert (air.dark, air.assumed) == (False, ())


def test_measured_sun_is_used_as_measured(demo: dict[str, Document]) -> None:
    row = "1987,7,11,13,60,A7A7,33.3,21.1,50,97000,0,0,900,412,400,77,0,0,0,0,200,2.1,3,5,16.0,77777,9,999999999,10"
    head = "LOCATION,Field,MO,USA,TEST,999999,38.71,-91.44,-6.0,256.0\n" + "HEADER\n" * 7
    found = clock_of(demo, HOT_DAY, JULY, weather_from(head + row, "year.epw"))
    noon = next(hour for hour in found.hours if hour.start.hour == 13)
    assert (noon.total, noon.direct, noon.diffuse) == (412.0, 400.0, 77.0)


def test_unknown_weather_takes_the_worst_and_says_so(make: Any) -> None:
    found = clock_of(small(make, facing("south")), conditions("rain 10 %"), JULY)
    assert any(ask.kind == "unknown" for ask in found.verdict.asks)
    assert found.hours[0].temperature == 35.0


def test_unknown_place_is_sunlit_by_day_and_dark_by_night(make: Any) -> None:
    documents = small(make, facing("north"))
    site = make("site", walls=[facing("north")])
    day = clock_of({**documents, "site": site}, conditions("80 F, 50 %, calm", "10:00", "12:00"), JULY)
    night = clock_of({**documents, "site": site}, conditions("80 F, 50 %, calm", "22:00", "23:00"), JULY)
    assert day.walls[0].hours[0].lit == 1.0
    assert day.walls[0].hours[0].wet < night.walls[0].hours[0].wet


@pytest.mark.parametrize(
    ("weather", "go", "kind"),
    [
        ("76 F, 60 %, wind 4 mph, rain 10 %", True, None),
        ("76 F, 60 %, wind 4 mph, rain 80 %", False, "rain"),
        ("76 F, 60 %, wind 25 mph, rain 10 %", False, "wind"),
        ("76 F, 60 %, wind 10 mph, gust 35 mph, rain 10 %", False, "wind"),
        ("31 F, 60 %, wind 4 mph, rain 10 %", False, "frost"),
        ("45 F, 60 %, wind 4 mph, rain 10 %, coldest 31 F", False, "frost"),
        ("35 F, 20 %, wind 4 mph, rain 10 %", False, "frost"),
    ],
)
def test_verdict(demo: dict[str, Document], weather: str, go: bool, kind: str | None) -> None:
    verdict = clock_of(demo, conditions(weather, "21:00", "03:00"), NOVEMBER).verdict
    assert verdict.go is go
    assert {stop.kind for stop in verdict.stops} == ({kind} if kind else set())
    assert "30 minutes" in verdict.lightning
    assert verdict.words.startswith("go" if go else "no-go: ")


def test_thunder_in_a_forecast_stops_its_hours(demo: dict[str, Document]) -> None:
    periods = [
        {
            "startTime": f"2026-07-11T{hour:02}:00:00-05:00", "endTime": f"2026-07-11T{hour + 1:02}:00:00-05:00",
            "temperature": 80, "temperatureUnit": "F", "windSpeed": "5 mph", "windDirection": "S",
            "shortForecast": "Chance Thunderstorms" if hour == 18 else "Sunny",
            "probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 15},
        }
        for hour in range(8, 19)
    ]  # fmt: skip
    weather = weather_from(json.dumps({"properties": {"periods": periods}}), "forecast.json")
    verdict = clock_of(demo, HOT_DAY, JULY, weather).verdict
    assert verdict.go
    assert [moment.hour for moment in verdict.stopped] == [18]


def test_masonry_below_forty_is_asked_about(demo: dict[str, Document]) -> None:
    cold = conditions("39 F, 80 %, wind 2 mph, rain 0 %, coldest 37 F", "10:00", "14:00")
    verdict = clock_of(demo, cold, NOVEMBER).verdict
    assert any(ask.kind == "cold" and ask.sources == ("ufgs-04900",) for ask in verdict.asks)


def test_the_walk_dries_in_a_band(july: DryingClock, november: DryingClock) -> None:
    assert july.walk is not None
    assert november.walk is not None
    for walk in (july.walk, november.walk):
        assert walk.early is not None
        assert walk.likely is not None
        assert walk.wet_until < walk.early < walk.likely
        assert walk.late is None or walk.likely < walk.late
    assert (july.walk.likely - july.walk.wet_until) < (november.walk.likely - november.walk.wet_until)


def test_plants_before_during_and_after(july: DryingClock) -> None:
    """The bed of 18 by 2.5 ft: half an inch on 45 square feet is 14.0 gal (0.6234 gal an inch and square foot)."""
    (bed,) = july.plants
    assert bed.plant == "front-bed"
    assert {"row-front", "row-west"} >= set(bed.walls)
    assert {step.when for step in bed.steps} == {"before", "during", "after"}
    before = next(step for step in bed.steps if step.when == "before")
    assert before.volume / 3.785411784 == pytest.approx(0.5 * 45 * 0.6234, rel=1e-3)
    assert bed.water == pytest.approx(sum(step.times * step.volume for step in bed.steps))
    assert "no sulfite on leaves" in bed.words
    strongest = 15_000.0  # the streaks under the cap, 1.5 %
    assert bed.excess == pytest.approx(strongest / 2.5)
    assert all(before.at <= turn.starts for turn in july.order if turn.wall == before.wall)


def test_nothing_to_treat_is_no_clock(make: Any) -> None:
    found = clock_of(small(make, facing("south", material="bare metal")), HOT_DAY, JULY)
    assert (found.walls, found.order, found.walk) == ((), (), None)
    assert found.verdict.go


def test_sums_of_the_order_hold_for_many_walls(make: Any) -> None:
    """Above eleven walls each next one is the best at its hour: all are still done once."""
    many = [
        {"id": f"w{k}", "start": [70 * k, 0], "end": [70 * k + 60, 0], "height": 16, "material": "stucco",
         "paint": {"state": "sound", "before_1978": False}}
        for k in range(13)
    ]  # fmt: skip
    found = clock_of(small(make, *many), conditions("70 F, 70 %, wind 2 mph, clear", "21:00", "04:00"), JULY)
    assert sorted(turn.wall for turn in found.order) == sorted(wall["id"] for wall in many)
    assert np.all([turn.ends > turn.starts for turn in found.order])
    assert not all(turn.fits for turn in found.order)


def test_moments_carry_the_site_s_clock(july: DryingClock) -> None:
    assert july.hours[0].start == datetime(2026, 7, 11, 13, tzinfo=UTC)
    assert july.hours[0].start.hour == 8
