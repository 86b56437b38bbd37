"""``sightwash learn``: what it prints, what it writes, and what it refuses."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

DEMO = Path(__file__).parents[2] / "examples" / "demo"
VISITS, RATES = DEMO / "visits.csv", DEMO / "rates.yaml"


def test_the_demo_visits_move_the_rates_and_a_bad_night_counts_less(run: Callable[..., Any]) -> None:
    done = run("learn", VISITS, "--rates", RATES, "--without-each", "--json")
    answer = done.document("lesson")
    treat = next(row for row in answer["lesson"]["table"] if (row["work"], row["surface"]) == ("wall-treat", ""))
    assert treat["before"] == [1500, 3000, 5000]
    # Four of the five nights ran at 1,706 to 2,400 ft2 an hour: the lesson must lie between them and the guess.
    assert 1700 < treat["after"][1] < 2400
    counts = {each["visit"]: each["counts"] for each in answer["lesson"]["visits"]}
    assert counts["mill-gate"] < 0.5
    assert all(counts[name] == 1.0 for name in ("wren-plaza", "quarry-row", "tannery-court", "harbour-steps"))
    assert set(answer["without"]) == set(counts)
    faster = answer["without"]["mill-gate"]["table"]
    assert next(row for row in faster if row["work"] == "wall-treat")["after"][1] > treat["after"][1]


def test_what_was_learned_is_written_as_rates_and_the_old_rates_stay(run: Callable[..., Any], tmp_path: Path) -> None:
    new = tmp_path / "learned.json"
    before = RATES.read_bytes()
    assert run("learn", VISITS, "--rates", RATES, "--out", new).status == 0
    assert RATES.read_bytes() == before
    assert run("check", new).status == 0
    tree = json.loads(new.read_text(encoding="utf-8"))
    learned = {rate["work"] for rate in tree["production"]}
    assert learned == {"wall-treat", "wall-rinse", "cleaner-small", "trim", "gum-hand"}


def test_a_visit_can_be_left_out_by_name(run: Callable[..., Any]) -> None:
    whole = run("learn", VISITS, "--rates", RATES, "--json").document("lesson")["lesson"]
    less = run("learn", VISITS, "--rates", RATES, "--leave-out", "mill-gate", "--json").document("lesson")["lesson"]
    assert less["left_out"] == ["mill-gate"]
    assert len(less["visits"]) == len(whole["visits"]) - 1


@pytest.mark.parametrize(
    ("text", "words", "code"),
    [
        ("visit,date,work,quantity,unit,hours\na,2026-05-09,wall-treet,10,ft2,1\n", [], "unknown-work"),
        ("visit,date,work,quantity,unit,hours\na,2026-05-09,wall-treat,10,ft,1\n", [], "wrong-unit"),
        ("visit,date,work,quantity,unit,hours\na,2026-05-09,wall-treat,0,ft2,1\n", [], "not-above-zero"),
        ("visit,date,work,quantity,unit,hours\na,2026-05-09,wall-treat,10,ft2,1\n", ["--leave-out=b"], "unknown-visit"),
        ("", [], "empty"),
    ],
)
def test_bad_records_are_refused(
    run: Callable[..., Any], tmp_path: Path, text: str, words: list[str], code: str
) -> None:
    path = tmp_path / "visits.csv"
    path.write_text(text, encoding="utf-8")
    done = run("learn", path, "--rates", RATES, "--json", *words)
    assert done.status == 2
    assert done.codes() == [code]


def test_the_rates_learned_from_are_not_overwritten(run: Callable[..., Any], tmp_path: Path) -> None:
    copy = tmp_path / "rates.yaml"
    copy.write_bytes(RATES.read_bytes())
    done = run("learn", VISITS, "--rates", copy, "--out", copy, "--json")
    assert done.codes() == ["same-file"]
    assert copy.read_bytes() == RATES.read_bytes()
