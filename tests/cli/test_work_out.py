"""Single sums at the tailgate: units at the door, what comes back, what is refused.

Checks, by hand or from a source named beside them: similar triangles, p = 4000 (q / N)^2 psi, parts of water = stock /
target - 1, markup = margin / (1 - margin) (closed form); 5 % to 0.05 %: WHO (2014), Annex G, Table G.1 (worked
example).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sightwash.basis.sources import register

PSI = 6894.757293168
FOOT = 0.3048
HIDDEN = 6.5 * 6 / 54 * FOOT
HEIGHT = "hidden-height"
METRIC = ("--units", "metric")


def value(answer: Any, place: int = 0) -> Any:
    return answer["results"][place]["value"]


@pytest.mark.parametrize(
    ("words", "inner"),
    [
        (("nozzle-pressure", "number=40", "flow=8"), 160 * PSI),
        (("nozzle-pressure", "number=40", "flow=8 gal/min"), 160 * PSI),
        (("nozzle-pressure", "number=40", "flow=30.283294 L/min", *METRIC), 160 * PSI),
        ((HEIGHT, "edge_height=10", "eye_height=3.5", "depth=6", "distance=60"), HIDDEN),
        ((HEIGHT, "edge-height=120 in", "eye-height=42 in", "depth=2 yd", "distance=20 yd"), HIDDEN),
        ((HEIGHT, "edge_height=3.048", "eye_height=1.0668", "depth=1.8288", "distance=18.288", *METRIC), HIDDEN),
        (("water-parts", "stock=5 trade %", "target=500 mg/L"), 99.0),
        (("water-parts", "stock=50 g/L", "target=500 ppm"), 99.0),
        (("markup-of-margin", "margin=35 %"), 0.35 / 0.65),
        (("markup-of-margin", "margin=0.35"), 0.35 / 0.65),
        (("strength-from-trade-percent", "percent=12.5"), 125_000.0),
        (("strength-from-trade-percent", "percent=12.5 %"), 125_000.0),
        (("pass-count", "across=11 ft", "head_width=20 in"), 7.0),
    ],
)  # fmt: skip
def test_units_at_the_door(run: Any, words: tuple[str, ...], inner: float) -> None:
    """Whatever unit an input is typed in, the answer is the same; a percent is a percent."""
    answer = run("work-out", *words, "--json").document("sum")
    assert value(answer) == pytest.approx(inner, rel=1e-6)


def test_a_small_length_is_in_inches_and_a_long_time_in_days(run: Any) -> None:
    """A bore of 0.375 in; 30 days at 80 F leave 103.85 of 125 g/L (Adam and Gordon's law, worked by another hand)."""
    bare = run("work-out", "darcy-loss", "flow=5.5", "length=200", "bore=0.375", "--json").document("sum")
    typed = run("work-out", "darcy-loss", "flow=5.5 gal/min", "length=200 ft", "bore=3/8 in", "--json").document("sum")
    assert value(bare) == pytest.approx(value(typed), rel=1e-9)
    assert value(bare) / PSI == pytest.approx(239, abs=1)
    kept = run("work-out", "strength-after", "strength=12.5 trade %", "temperature=80", "age=30", "--json").document(
        "sum"
    )
    assert value(kept) == pytest.approx(103_850, abs=10)


def test_every_constant_comes_back_with_the_answer(run: Any) -> None:
    answer = run("work-out", "reaction-force", "flow=8 gal/min", "pressure=3500 psi", "--json").document("sum")
    inputs = {given["name"]: given for given in answer["inputs"]}
    assert inputs["density"]["default"] is True
    assert inputs["density"]["value"] == pytest.approx(998.2, abs=0.5)
    assert inputs["flow"]["default"] is False
    assert answer["formula"]
    assert answer["range"]
    assert all(citation in {source.citation for source in register().values()} for citation in answer["sources"])
    other = run("work-out", "reaction-force", "flow=8", "pressure=3500", "density=1025", "--json").document("sum")
    assert value(other) > value(answer)


def test_the_words_of_an_answer(run: Any) -> None:
    done = run("work-out", "hidden-height", "edge_height=10", "eye_height=3 ft 6 in", "depth=6 ft", "distance=60 ft")
    assert done.status == 0
    assert done.err == ""
    assert "= 0.7222 ft (8.67 in)" in done.out
    assert "edge_height = 10 ft" in done.out
    assert "Source:" in done.out
    assert "Range:" in done.out


def test_what_never_ends_is_a_word(run: Any) -> None:
    """Air that takes up no water: the film lasts for ever, and JSON has no number for that."""
    answer = run("work-out", "drying-time", "film=0.2 mm", "evaporation=0", "--json").document("sum")
    assert value(answer) == "infinite"
    assert "infinite" in run("work-out", "drying-time", "film=0.2 mm", "evaporation=0").out


def test_beyond_what_was_measured_is_said(run: Any) -> None:
    words = ("work-out", "strength-after", "strength=12.5 trade %", "temperature=40 F", "age=30 day")
    assert run(*words, "--json").document("sum")["warnings"]
    done = run(*words)
    assert "Beyond what was measured" in done.out
    assert "Warning" not in done.err


def test_a_result_of_several_values(run: Any) -> None:
    """(4, 6, 14): mean 7, variance 2.7778 (worked example of the three-point rule)."""
    answer = run("work-out", "three-point-spread", "low=4", "usual=6", "high=14", "--json").document("sum")
    results = {result["name"]: result["value"] for result in answer["results"]}
    assert results["mean"] == pytest.approx(7.0)
    assert results["sd"] ** 2 == pytest.approx(2.7778, abs=5e-5)


def test_lists_of_values(run: Any) -> None:
    """8 L of 12.5 % and 92 L of water are 1 %."""
    answer = run("work-out", "blended-strength", "strengths=12.5 trade %,0 ppm", "volumes=8 L,92 L", "--json").document(
        "sum"
    )
    assert value(answer) == pytest.approx(10_000.0)


@pytest.mark.parametrize(
    ("words", "code", "key"),
    [
        (("hidden-heihgt",), "unknown-sum", "hidden-heihgt"),
        (("hidden-height", "edge=10"), "unknown-key", "edge"),
        (("hidden-height", "depth=6"), "missing-key", "edge_height"),
        (("nozzle-pressure", "number=40", "flow=8 psi"), "wrong-unit", "flow"),
        (("nozzle-pressure", "number=40", "flow="), "", "flow"),
        (("nozzle-pressure", "number=40", "flow=eight"), "", "flow"),
        (("nozzle-pressure", "number=40", "flow=nan"), "", "flow"),
        (("nozzle-pressure", "number=-1", "flow=8"), "out-of-range", "number"),
        (("nozzle-pressure", "number=40", "flow=8", "flow=9"), "bad-input", "flow"),
        (("hidden-height", "edge-height=10", "edge_height=10"), "bad-input", "edge_height"),
        (("nozzle-pressure", "number"), "bad-input", "number"),
        (("water-parts", "stock=12.5 %", "target=1 %"), "strength-without-term", "stock"),
        (("pass-count", "across=11 ft", "head_width=20 in", "overlap=120 %"), "out-of-range", "overlap"),
        (("accessible-stalls", "total=2.5"), "wrong-type", "total"),
        (("accessible-stalls", "total=1e9"), "wrong-type", "total"),
        (("corner-residue", "radius=1e300"), "out-of-range", None),
    ],
)  # fmt: skip
def test_what_is_refused(run: Any, words: tuple[str, ...], code: str, key: str | None) -> None:
    done = run("work-out", *words, "--json")
    assert done.status == 2
    errors = done.document("error")["errors"]
    assert key in {error["key"] for error in errors}
    assert not code or code in {error["code"] for error in errors}
    in_words = run("work-out", *words)
    assert (in_words.status, in_words.out) == (2, "")
    assert in_words.err.startswith("error: ")


@pytest.mark.parametrize(
    "words", [("dew-point", "--list"), ("--list", "--batch", "sums.txt"), ("dew-point", "--batch", "x")]
)
def test_one_job_at_a_time(run: Any, words: tuple[str, ...]) -> None:
    done = run("work-out", *words)
    assert (done.status, done.out) == (2, "")
    assert "cannot go together" in done.err


def test_the_list_in_words_and_in_json(run: Any) -> None:
    names = [line["name"] for line in run("work-out", "--list", "--json").document("sums")["sums"]]
    shown = run("work-out", "--list").out
    assert len(names) == len(set(names))
    assert all(f"  {name}" in shown for name in names)


def batch(run: Any, tmp_path: Path, text: str, *more: str) -> Any:
    file = tmp_path / "sums.txt"
    file.write_text(text, encoding="utf-8")
    return run("work-out", "--batch", file, *more)


def test_a_batch(run: Any, tmp_path: Path, read_line: Callable[[str, str], Any]) -> None:
    text = (
        "\n# comments and empty lines are left out\nnozzle-pressure number=40 flow='8 gal/min'  # 40\n\nladder-angle\n"
    )
    lines = [read_line(line, "sum") for line in batch(run, tmp_path, text, "--json").out.splitlines()]
    assert [line["sum"] for line in lines] == ["nozzle-pressure", "ladder-angle"]
    assert value(lines[0]) == pytest.approx(160 * PSI)
    assert value(lines[1]) == pytest.approx(75.522, abs=5e-4)  # a foot out a quarter of the length: acos(1/4)


def test_all_bad_lines_of_a_batch_are_named_and_nothing_is_printed(run: Any, tmp_path: Path) -> None:
    text = "ladder-angle\nnothing x=1\nnozzle-pressure number=40\nladder-angle setback='0.25\nladder-angle\n"
    done = batch(run, tmp_path, text, "--json")
    assert done.status == 2
    errors = done.document("error")["errors"]
    assert [error["line"] for error in errors] == [2, 3, 4]
    assert all(error["file"].endswith("sums.txt") for error in errors)
    in_words = batch(run, tmp_path, text)
    assert (in_words.status, in_words.out) == (2, "")
    assert len(in_words.err.splitlines()) == 3


def test_an_empty_batch_prints_nothing(run: Any, tmp_path: Path) -> None:
    done = batch(run, tmp_path, "# nothing yet\n")
    assert (done.status, done.out, done.err) == (0, "", "")


@pytest.mark.parametrize("content", [None, b"\xff\xfe\x00", b"ladder-angle \x00\n"])
def test_a_batch_that_cannot_be_read(run: Any, tmp_path: Path, content: bytes | None) -> None:
    file = tmp_path / "sums.txt"
    if content is not None:
        file.write_bytes(content)
    done = run("work-out", "--batch", file, "--json")
    assert done.status == 2
    assert done.document("error")["errors"]
