"""``plan --weather FILE`` end to end: the file goes before the typed figures everywhere, and is refused by its column.

That hotter, drier and windier air dries a film sooner is a property of every evaporation formula used (closed form).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sightwash.cli.main import main

DEMO = Path(__file__).parents[2] / "examples" / "demo"
PLAN = [
    "plan", str(DEMO / "site.yaml"), "--rig", str(DEMO / "rig.yaml"), "--rates", str(DEMO / "rates.yaml"),
    "--conditions", str(DEMO / "conditions.yaml"), "--on", "2026-07-11", "--json",
]  # fmt: skip
HOT = "".join(f"2026-07-{day}T{hour:02}:00,95 F,30 %,12 mph\n" for day, hour in ((11, 20), (11, 22), (12, 2), (12, 6)))


def test_a_hot_dry_night_shortens_every_film(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "hot.csv"
    file.write_text(f"time,air_temperature,humidity,wind_speed\n{HOT}")
    plans = []
    for words in (PLAN, [*PLAN, "--weather", str(file)]):
        assert main(words) == 0
        plans.append(json.loads(capsys.readouterr().out)["plan"])
    typed, hot = plans
    assert hot["air"]["temperature"] == pytest.approx(35.0)
    for before, after in zip(typed["methods"], hot["methods"], strict=True):
        assert after["stays_wet"] < before["stays_wet"]
    assert max(turn["sections"] for turn in hot["drying"]["order"]) > 1
    assert max(turn["sections"] for turn in typed["drying"]["order"]) == 1


def test_an_unknown_column_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "bad.csv"
    file.write_text("time,temperature\n2026-07-11T21:00,95 F\n")
    assert main([*PLAN, "--weather", str(file)]) == 2
    error = json.loads(capsys.readouterr().out)["errors"][0]
    assert (error["file"], error["line"], error["key"]) == ("bad.csv", 1, "temperature")
    assert "air_temperature" in error["fix"]
