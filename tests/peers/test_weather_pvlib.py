"""Our readers of weather files against those of pvlib, an open library for solar resources. Mark: independent program.

The TMY3 file is one that the library brings along; the EPW rows are written in ``tests/site``. Needs the peers'
environment; elsewhere these tests are skipped.
"""

from __future__ import annotations

from pathlib import Path

import pytest

pvlib = pytest.importorskip("pvlib")
pytest.importorskip("pandas")

from sightwash.site.weather_file import read_weather, weather_from  # noqa: E402

DATA = Path(pvlib.__file__).parent / "data"
EPW = "LOCATION,Field,MO,USA,TEST,999999,38.71,-91.44,-6.0,256.0\n" + "HEADER\n" * 7 + "".join(
    f"1987,7,11,{hour},60,A7A7,{20 + hour},{15 + hour / 2},{50 + hour},97000,0,0,0,{hour * 10},{hour * 9},{hour * 2},"
    f"0,0,0,0,{hour * 10},{hour / 10},{hour % 10},5,16.0,77777,9,999999999,10,0.1,0,88,0.2,0.0,1.0\n"
    for hour in range(1, 25)
)  # fmt: skip


def test_tmy3_file_of_a_year() -> None:
    theirs, place = pvlib.iotools.read_tmy3(DATA / "723170TYA.CSV", map_variables=True)
    ours = read_weather(DATA / "723170TYA.CSV")
    assert len(ours.hours) == len(theirs) == 8760
    assert ours.hours[0].start.utcoffset().total_seconds() / 3600 == place["TZ"]
    for name, column, factor in (
        ("air_temperature", "temp_air", 1.0),
        ("humidity", "relative_humidity", 0.01),
        ("wind_speed", "wind_speed", 1.0),
        ("wind_from", "wind_direction", 1.0),
        ("total", "ghi", 1.0),
        ("direct", "dni", 1.0),
        ("diffuse", "dhi", 1.0),
    ):
        wanted = theirs[column].to_numpy() * factor
        assert [getattr(hour, name) for hour in ours.hours] == pytest.approx(list(wanted), abs=1e-9), name


def test_epw_rows(tmp_path: Path) -> None:
    (tmp_path / "field.epw").write_text(EPW, encoding="utf-8")
    theirs, place = pvlib.iotools.read_epw(tmp_path / "field.epw")
    ours = weather_from(EPW, "field.epw").hours
    assert place["TZ"] == -6.0
    assert [hour.start.hour for hour in ours] == list(theirs.index.hour)
    for name, column in (("air_temperature", "temp_air"), ("wind_speed", "wind_speed"), ("wind_from", "wind_direction"),
                         ("total", "ghi"), ("direct", "dni"), ("diffuse", "dhi")):  # fmt: skip
        assert [getattr(hour, name) for hour in ours] == pytest.approx(list(theirs[column])), name
    assert [hour.humidity for hour in ours] == pytest.approx(list(theirs["relative_humidity"] / 100))
