"""Files of hourly weather and the typed line, in forms written out here by hand.

Sources: US Department of Energy, data dictionary of the EPW file (published): cells, hour 1 from 00:01 to 01:00,
missing values; NREL/TP-581-43156, "Users manual for TMY3 data sets", 2008, table 1-1 (published): columns, local
standard time; US National Weather Service, schema of forecast periods (published): keys, text and quantity forms of
temperature and wind, 16 compass points; the foot, mile and degree Fahrenheit: NIST Special Publication 811, 2008, B.6
(published).
The library's readers of the same forms are held against these in ``tests/peers``.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from sightwash.basis.errors import InputError
from sightwash.site.conditions import Conditions
from sightwash.site.hourly_weather import HourlyWeather
from sightwash.site.site_file import document_from, document_text
from sightwash.site.tree import parse
from sightwash.site.weather_file import read_weather, weather_from
from sightwash.site.weather_line import COMPASS, compass_bearing

CHICAGO = ZoneInfo("America/Chicago")
TABLE = """# saved on the morning of the visit
time, air_temperature (F), humidity (%), wind_speed (mph), gust, wind_from, cloud (%), rain_chance (%), rain, thunder
2026-07-11 21:00, 76, 64, 5, 10 mph, SSW, 25, 10, 0, no
2026-07-11 22:00, 24 C, 70, 10 km/h, , 202.5, , 60, 0.1 in, yes
"""
EPW_ROW = (
    "1987,{month},{day},{hour},60,A7A7,{air},{dew},{rh},97000,0,0,{total},{total},{direct},{diffuse},0,0,0,0,"
    "{wind_from},{wind},{cloud},5,16.0,77777,{observed},{codes},10,0.1,0,88,0.2,{rain},1.0"
)
EPW_HEAD = "LOCATION,Larkspur Field,MO,USA,TEST,999999,38.71,-91.44,-6.0,256.0\n" + "HEADER\n" * 7
TMY3 = (
    '999999,"LARKSPUR FIELD",MO,-6.0,38.710,-91.440,256\n'
    "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),TotCld (tenths),Dry-bulb (C),Dew-point (C),"
    "RHum (%),Wdir (degrees),Wspd (m/s),Lprecip depth (mm)\n"
    "07/11/1991,12:00,900,800,120,3,33.3,21.1,50,200,3.1,-9900\n"
    "07/11/1991,24:00,0,0,0,0,24.4,20.0,77,180,2.1,2\n"
)


def epw(*rows: dict[str, Any]) -> str:
    usual = {
        "month": 7, "day": 11, "air": 33.3, "dew": 21.1, "rh": 50, "total": 900, "direct": 800, "diffuse": 120,
        "wind_from": 200, "wind": 3.1, "cloud": 3, "observed": 9, "codes": 999999999, "rain": 0.0,
    }  # fmt: skip
    return EPW_HEAD + "\n".join(EPW_ROW.format(**{**usual, **row}) for row in rows) + "\n"


def period(start: str, end: str, **more: Any) -> dict[str, Any]:
    return {
        "startTime": start, "endTime": end, "temperature": 76, "temperatureUnit": "F", "windSpeed": "5 to 10 mph",
        "windDirection": "SSW", "probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 10},
        "shortForecast": "Mostly Clear", **more,
    }  # fmt: skip


def forecast(*periods: dict[str, Any]) -> str:
    return json.dumps({"type": "Feature", "properties": {"units": "us", "periods": list(periods)}})


def refused(text: str, file: str = "weather.csv") -> Any:
    with pytest.raises(InputError) as caught:
        weather_from(text, file)
    return caught.value.problems[0]


def test_table_in_the_site_s_own_clock(tmp_path: Path) -> None:
    file = tmp_path / "night.csv"
    file.write_text(TABLE, encoding="utf-8")
    found = read_weather(file)
    first, second = found.hours
    assert (first.air_temperature, first.humidity) == (pytest.approx((76 - 32) / 1.8), pytest.approx(0.64))
    assert first.wind_speed == pytest.approx(5 * 1609.344 / 3600)
    assert (first.gust, first.wind_from) == (pytest.approx(10 * 1609.344 / 3600), 202.5)
    assert (second.air_temperature, second.wind_speed) == (24.0, pytest.approx(10 / 3.6))
    assert (second.cloud, second.gust, second.thunder) == (None, None, True)
    assert second.rain == pytest.approx(0.00254)
    assert found.at(datetime(2026, 7, 11, 21, 40, tzinfo=CHICAGO)) == first
    assert found.at(datetime(2026, 7, 12, 3, 40, tzinfo=UTC).astimezone(CHICAGO)) == second
    assert found.at(datetime(2026, 7, 11, 23, 0, tzinfo=CHICAGO)) is None
    assert found.at(datetime(2026, 7, 11, 20, 59, tzinfo=CHICAGO)) is None


def test_table_with_offsets_and_a_dew_point() -> None:
    """25 C with a dew point of 13.85 C is air of 50 %: Magnus form of the WMO guide, worked by hand."""
    found = weather_from("time,air_temperature (C),dew_point (C)\n2026-07-12T02:00+00:00,25,13.85\n", "w.csv")
    hour = found.at(datetime(2026, 7, 11, 21, 30, tzinfo=CHICAGO))
    assert hour is not None
    assert hour.humidity == pytest.approx(0.50, abs=0.001)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("when,air\n2026-07-11,3\n", "unknown-form"),
        ("time,warmth\n2026-07-11 21:00,3\n", "unknown-column"),
        ("time,humidity,humidity\n2026-07-11 21:00,3,3\n", "doubled-column"),
        ("time,humidity (mph)\n2026-07-11 21:00,3\n", "wrong-unit"),
        ("time,humidity\n", "no-hours"),
        ("time,humidity\n2026-07-11 21:00\n", "wrong-length"),
        ("time,humidity\n2026-07-11 21:00,lots\n", "not-a-quantity"),
        ("time,humidity\n2026-07-11 21:00,140\n", "out-of-range"),
        ("time,air_temperature\n2026-07-11 21:00,400\n", "out-of-range"),
        ("time,humidity\n11 July,50\n", "not-a-time"),
        ("time,humidity\n2026-07-11 21:00,50\n2026-07-11 21:30,50\n", "hours-out-of-order"),
        ("time,humidity\n2026-07-11 21:00,50\n2026-07-11 22:00+00:00,50\n", "mixed-clocks"),
        ("time,thunder\n2026-07-11 21:00,perhaps\n", "unknown-word"),
        (" 12839 MIAMI                  FL  -5 N 25 48 W  80 16     2\n 62010101\n", "old-form"),
    ],
)
def test_table_refused(text: str, code: str) -> None:
    problem = refused(text)
    assert problem.code == code
    assert problem.file == "weather.csv"
    assert problem.fix


def test_refusal_names_line_and_column() -> None:
    problem = refused("time,air_temperature\n2026-07-11 21:00,70\n2026-07-11 22:00,900\n")
    assert (problem.line, problem.key) == (3, "air_temperature")


def test_epw_hours_begin_an_hour_before_their_stamp() -> None:
    found = weather_from(epw({"hour": 13}, {"hour": 24, "air": 24.4}), "year.epw")
    assert (found.form, found.typical) == ("EPW", True)
    noon, last = found.hours
    assert noon.start == datetime(1987, 7, 11, 12, tzinfo=timezone(timedelta(hours=-6)))
    assert (noon.air_temperature, noon.humidity, noon.wind_speed, noon.wind_from) == (33.3, 0.5, 3.1, 200.0)
    assert (noon.total, noon.direct, noon.diffuse, noon.cloud) == (900.0, 800.0, 120.0, pytest.approx(0.3))
    # 13:30 daylight time is 12:30 standard time, whatever the year
    assert found.at(datetime(2026, 7, 11, 13, 30, tzinfo=CHICAGO)) == noon
    assert found.at(datetime(2027, 7, 12, 0, 30, tzinfo=CHICAGO)) == last


def test_epw_missing_values_and_thunder() -> None:
    row = {"hour": 1, "air": 99.9, "rh": 999, "wind": 999, "cloud": 99, "direct": 9999, "observed": 0,
           "codes": "099999999"}  # fmt: skip
    hour = weather_from(epw(row), "year.epw").hours[0]
    assert (hour.air_temperature, hour.humidity, hour.wind_speed, hour.cloud, hour.direct) == (None,) * 5
    assert hour.thunder


@pytest.mark.parametrize(("change", "code"), [({"hour": 25}, "not-a-time"), ({"hour": 1, "month": 13}, "not-a-time"),
                                              ({"hour": 1, "air": "warm"}, "not-a-number"),
                                              ({"hour": 1, "wind": 400}, "out-of-range")])  # fmt: skip
def test_epw_refused(change: dict[str, Any], code: str) -> None:
    problem = refused(epw(change), "year.epw")
    assert (problem.code, problem.line) == (code, 9)


def test_tmy3_hours() -> None:
    found = weather_from(TMY3, "year.csv")
    noon, last = found.hours
    assert found.form == "TMY3"
    assert noon.start == datetime(1991, 7, 11, 11, tzinfo=timezone(timedelta(hours=-6)))
    assert (noon.total, noon.direct, noon.diffuse, noon.cloud, noon.rain) == (
        900.0,
        800.0,
        120.0,
        pytest.approx(0.3),
        None,
    )
    assert last.start.hour == 23
    assert last.rain == pytest.approx(0.002)
    assert found.at(datetime(2024, 2, 29, 12, tzinfo=CHICAGO)) is None


def test_tmy3_without_a_column_is_refused() -> None:
    assert refused(TMY3.replace("Wspd (m/s)", "Speed"), "year.csv").code == "missing-column"


def test_hourly_forecast() -> None:
    text = forecast(
        period(
            "2026-07-11T21:00:00-05:00", "2026-07-11T22:00:00-05:00",
            dewpoint={"unitCode": "wmoUnit:degC", "value": 17.2},
            relativeHumidity={"unitCode": "wmoUnit:percent", "value": 64},
        ),
        period(
            "2026-07-11T22:00:00-05:00", "2026-07-11T23:00:00-05:00",
            temperature={"unitCode": "wmoUnit:degC", "value": 24.4}, temperatureUnit=None,
            windSpeed={"unitCode": "wmoUnit:km_h-1", "value": 18}, windGust="25 mph",
            shortForecast="Slight Chance Showers And Thunderstorms",
            probabilityOfPrecipitation={"unitCode": "wmoUnit:percent", "value": None},
        ),
    )  # fmt: skip
    first, second = weather_from(text, "forecast.json").hours
    assert first.air_temperature == pytest.approx((76 - 32) / 1.8)
    assert first.wind_speed == pytest.approx(10 * 1609.344 / 3600), "the higher figure of the two"
    assert (first.humidity, first.rain_chance, first.wind_from, first.thunder) == (0.64, 0.1, 202.5, False)
    assert (second.air_temperature, second.wind_speed) == (24.4, pytest.approx(5.0))
    assert (second.gust, second.rain_chance) == (pytest.approx(25 * 1609.344 / 3600), None)
    assert second.thunder


def test_half_day_forecast_stands_for_its_hours() -> None:
    found = weather_from(forecast(period("2026-07-11T18:00:00-05:00", "2026-07-12T06:00:00-05:00")), "forecast.json")
    assert len(found.hours) == 12
    assert found.hours[-1].start == datetime(2026, 7, 12, 10, tzinfo=UTC)
    assert any("half days" in note for note in found.notes)
    assert found.hours[0].humidity is None


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('{"properties": {}}', "no-periods"),
        ('{"properties": {"periods": [3]}}', "wrong-type"),
        (forecast(period("2026-07-11T21:00:00", "2026-07-11T22:00:00")), "not-a-time"),
        (forecast(period("2026-07-11T21:00:00-05:00", "2026-07-11T20:00:00-05:00")), "period-length"),
        (forecast(period("2026-07-11T21:00:00-05:00", "2026-07-11T22:00:00-05:00", windSpeed="breezy")), "not-a-speed"),
        (forecast(period("2026-07-11T21:00:00-05:00", "2026-07-11T22:00:00-05:00", temperature=900)), "out-of-range"),
        (forecast(period("2026-07-11T21:00:00-05:00", "2026-07-11T22:00:00-05:00", temperature="hot")), "not-a-number"),
        ("{", "not-json"),
    ],
)
def test_forecast_refused(text: str, code: str) -> None:
    assert refused(text, "forecast.json").code == code


def conditions(weather: str) -> Conditions:
    text = f"kind: conditions\nschema: 1\nid: night\nweather: {json.dumps(weather)}\n"
    found = document_from(parse(text, "conditions.yaml"), "conditions")
    assert isinstance(found, Conditions)
    return found


def test_typed_line_says_the_same_as_the_keys() -> None:
    found = conditions("76 F, 64 %, wind SSW 4 mph, gust 8 mph, cloud 20 %, rain 10 %, coldest 66 F")
    weather = found.weather
    assert weather.air_temperature == pytest.approx((76 - 32) / 1.8)
    assert (weather.humidity, weather.cloud, weather.rain_chance) == (0.64, 0.2, 0.1)
    assert (weather.wind_from, weather.wind_speed) == (202.5, pytest.approx(4 * 1609.344 / 3600))
    assert weather.coldest_before_dry == pytest.approx((66 - 32) / 1.8)
    assert document_from(parse(document_text(found), "again.json"), "conditions") == found


@pytest.mark.parametrize(
    ("line", "wind_from"),
    [("wind 4 mph from 215 deg", 215.0), ("wind 4 mph from the west", None), ("wind NNW 4 mph", 337.5), ("calm", None)],
)
def test_typed_wind(line: str, wind_from: float | None) -> None:
    if "the west" in line:
        with pytest.raises(InputError):
            conditions(line)
        return
    assert conditions(line).weather.wind_from == wind_from


@pytest.mark.parametrize("line", ["lovely", "76 F, 80 F", "76 F, 64 %, humidity 50 %", "wind 4 psi", "1000 F"])
def test_typed_line_refused(line: str) -> None:
    with pytest.raises(InputError) as caught:
        conditions(line)
    assert caught.value.problems[0].key is not None
    assert caught.value.problems[0].key.startswith("weather")


def test_compass_points_are_a_sixteenth_of_a_turn_apart() -> None:
    assert [compass_bearing(point) for point in COMPASS] == [22.5 * number for number in range(16)]
    assert compass_bearing("q") is None


def test_an_hour_is_found_by_any_clock() -> None:
    found: HourlyWeather = weather_from(forecast(period("2026-07-12T02:00:00Z", "2026-07-12T03:00:00Z")), "f.json")
    assert found.at(datetime(2026, 7, 11, 21, 15, tzinfo=CHICAGO)) == found.hours[0]
