"""``plan`` from outside: what it reads, prints and writes."""

from __future__ import annotations

import json
import warnings
from pathlib import Path
from typing import Any

import pytest
import yaml

DEMO = Path(__file__).parents[2] / "examples" / "demo"
SMALL = """\
kind: site
schema: 1
id: small
name: Small
walls: [{id: front, start: [0, 0], end: [60, 0], height: 14, material: brick}]
surfaces: [{id: walk, along: front, width: 8, material: concrete}]
"""


@pytest.fixture
def small(tmp_path: Path) -> Path:
    file = tmp_path / "small.yaml"
    file.write_text(SMALL)
    return file


def changed(tmp_path: Path, kind: str, **more: Any) -> Path:
    """Return a demo document with some keys replaced, as a file."""
    tree = yaml.load((DEMO / f"{kind}.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    file = tmp_path / f"{kind}.json"
    file.write_text(json.dumps({**tree, **more}))
    return file


def test_the_tables_answer_the_questions_in_order(run: Any, small: Path, plan_words: Any) -> None:
    done = run(*plan_words(site=small))
    assert done.status == 0
    heads = [
        "WHO SEES IT?",
        "WITH WHAT? (walls)",
        "WITH WHAT? (ground)",
        "WATER",
        "HOW LONG?",
        "WHAT DOES IT COST?",
        "CAUTIONS",
    ]
    places = [done.out.index(head) for head in heads]
    assert places == sorted(places)
    assert all(len(line.rstrip()) == len(line) for line in done.out.splitlines())


def test_the_same_words_twice(run: Any, small: Path, plan_words: Any) -> None:
    first, second = run(*plan_words(site=small), "--json"), run(*plan_words(site=small), "--json")
    assert first.out == second.out
    assert first.err == second.err == ""
    assert first.document("plan")["plan"]["on"] == "2026-07-11"


def test_the_inputs_stand_in_the_plan_and_read_back(run: Any, small: Path, plan_words: Any, tmp_path: Path) -> None:
    """A plan made again from the documents inside a plan is the same plan."""
    first = run(*plan_words(site=small), "--json").document("plan")
    files = {}
    for kind, tree in first["inputs"].items():
        files[kind] = tmp_path / f"again-{kind}.json"
        files[kind].write_text(json.dumps(tree))
    again = run(*plan_words(**files), "--json").document("plan")
    assert again["plan"] == first["plan"]


def test_money_is_text_and_every_number_is_a_number(run: Any, small: Path, plan_words: Any) -> None:
    price = run(*plan_words(site=small), "--json").document("plan")["plan"]["price"]
    assert isinstance(price["price"], str)
    assert price["price"].count(".") == 1
    assert isinstance(price["chance_of_loss"], float)


def test_another_day_than_the_weather_s_is_said(run: Any, small: Path, plan_words: Any) -> None:
    words = [*plan_words(site=small)[:-1], "2026-07-12"]
    done = run(*words, "--json")
    assert done.status == 0
    assert "2026-07-11" in done.err
    assert "2026-07-12" in done.err
    assert done.document("plan")["plan"]["on"] == "2026-07-12"


@pytest.mark.parametrize("day", ["tomorrow", "2026-13-01", "2026-02-30", "1826-07-11", "9999-12-31", "", "11.07.2026"])
def test_a_day_that_is_none(run: Any, small: Path, plan_words: Any, day: str) -> None:
    done = run(*plan_words(site=small)[:-1], day, "--json")
    assert done.status == 2
    assert done.codes() == ["usage"]


def test_all_that_is_wrong_in_all_documents_is_said_at_once(run: Any, tmp_path: Path, plan_words: Any) -> None:
    files = {
        "site": changed(tmp_path, "site", colour="red"),
        "rig": changed(tmp_path, "rig", crew={"people": 0}),
        "rates": changed(tmp_path, "rates", margin="95 %"),
    }
    done = run(*plan_words(**files), "--json")
    assert done.status == 2
    errors = done.document("error")["errors"]
    assert {error["key"] for error in errors} == {"colour", "crew.people", "margin"}
    assert {Path(error["file"]).name for error in errors} == {"site.json", "rig.json", "rates.json"}
    assert all(error["line"] for error in errors)


def test_documents_in_the_wrong_places(run: Any, plan_words: Any) -> None:
    done = run(*plan_words(rig=DEMO / "rates.yaml", rates=DEMO / "rig.yaml"), "--json")
    assert done.status == 2
    assert done.codes() == ["wrong-kind", "wrong-kind"]


def test_bleach_of_tomorrow(run: Any, tmp_path: Path, small: Path, plan_words: Any) -> None:
    rig = changed(tmp_path, "rig", bleach={"strength": "12.5 trade %", "dated": "2026-07-12"})
    done = run(*plan_words(site=small, rig=rig))
    assert (done.status, done.out) == (2, "")
    assert "bleach.dated" in done.err


def test_nothing_to_plan(run: Any, tmp_path: Path, plan_words: Any) -> None:
    """Status 1, what was tried, and no file."""
    site = tmp_path / "bare.yaml"
    site.write_text("kind: site\nschema: 1\nid: bare\nname: Bare\nwalls: [{id: front}, {id: back}]\n")
    done = run(*plan_words(site=site), "--out", tmp_path / "out")
    assert (done.status, done.out) == (1, "")
    assert "tried:" in done.err
    assert "front" in done.err
    assert not (tmp_path / "out").exists()
    assert run(*plan_words(site=site), "--json").codes() == ["no-plan"]


@pytest.mark.parametrize("key", ["storage_temperature", "dated"])
def test_no_python_warning_reaches_a_person(run: Any, tmp_path: Path, small: Path, plan_words: Any, key: str) -> None:
    """Bleach kept at 40 F, or for ten years: beyond what the law was measured for, and said in the plan."""
    bleach = {"strength": "12.5 trade %", "dated": "2026-06-01", "storage_temperature": "70 F"}
    bleach |= {"storage_temperature": "40 F"} if key == "storage_temperature" else {"dated": "2016-06-01"}
    with warnings.catch_warnings():
        warnings.simplefilter("default")
        done = run(*plan_words(site=small, rig=changed(tmp_path, "rig", bleach=bleach)), "--json")
    assert done.status == 0
    assert "Warning" not in done.err
    assert "OutsidePublishedRange" not in done.err


def test_progress_comes_after_a_second(run: Any, small: Path, plan_words: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Quick plans are silent; one that takes longer names its steps, on standard error only."""
    assert run(*plan_words(site=small)).err == ""
    clock = iter(range(0, 10_000, 2))
    monkeypatch.setattr("sightwash.cli.output.time.monotonic", lambda: float(next(clock)))
    done = run(*plan_words(site=small), "--json")
    lines = done.err.splitlines()
    assert lines[0].startswith("  0%")
    assert len(lines) >= 3
    assert done.document("plan")


def test_the_written_plan_is_the_printed_one(run: Any, small: Path, plan_words: Any, tmp_path: Path) -> None:
    out = tmp_path / "night"
    done = run(*plan_words(site=small), "--json", "--out", out)
    assert done.status == 0
    assert (out / "plan.json").read_text(encoding="utf-8") == done.out
    assert {f"wrote {path}" for path in out.iterdir()} == set(done.err.splitlines())
    for drawing in out.glob("*.svg"):
        assert drawing.read_text(encoding="utf-8").lstrip().startswith("<")


@pytest.mark.parametrize("words", [["plan"], ["plan", "x"], ["--json"], ["plan", "--json", "--unknown"], ["fly"]])
def test_bad_usage_says_what_was_wanted(run: Any, words: list[str]) -> None:
    done = run(*words)
    assert done.status == 2
    shown = done.document("error")["errors"][0]["expected"] if "--json" in words else done.err
    assert "sightwash" in shown
