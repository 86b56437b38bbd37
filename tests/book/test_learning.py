"""Learning from finished visits.

Sources: posterior of a normal mean (closed form; 400 +- 80 with four jobs at 320 and sd 100 gives 342.47 +- 42.40,
reference 7 of the collected figures, computed there); Bayes' rule on a grid (closed form); records made from a
known firm and read back.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.book.learning import Lesson, learn_rates, without_each_visit
from sightwash.book.night_weights import Night, night_weights
from sightwash.book.shrinking import Cell, learned_cells
from sightwash.book.visit_records import VisitRecord, visit_records
from sightwash.science.pooling import shrunk_mean
from sightwash.site.rates import ProductionRate

BEFORE = (
    ProductionRate("wall-treat", 1500, 3000, 5000, "ft2/h"),
    ProductionRate("trim", 300, 700, 1200, "ft/h"),
    ProductionRate("set-up", 20, 30, 45, "min"),
)
HEAD = "visit,date,work,surface,soiling,quantity,unit,hours,gallons,passes,left_out\n"


def records(lines: str) -> tuple[VisitRecord, ...]:
    return visit_records(HEAD + lines, "visits.csv")


def visits(rates: list[float], work: str = "wall-treat", surface: str = "stucco") -> str:
    """Return one line a visit, at so many square feet an hour."""
    return "".join(f"v{k},2026-05-{k + 1:02},{work},{surface},,{rate},ft2,1,,,\n" for k, rate in enumerate(rates))


def after(lesson: Lesson, work: str) -> ProductionRate:
    return next(rate for rate in lesson.rates if rate.work == work)


def test_four_jobs_by_the_closed_form() -> None:
    """400 +- 80, four jobs averaging 320 with sd 100: 342.47 +- 42.40."""
    cells = [Cell("", "", value, 1.0, f"v{k}") for k, value in enumerate((300.0, 310.0, 330.0, 340.0))]
    (work, *_) = learned_cells(cells, 400.0, 80.0, 100.0)
    assert work.mean == pytest.approx(342.47, abs=0.005)
    assert work.error == pytest.approx(42.40, abs=0.005)


def test_two_surfaces_by_bayes_rule_on_a_grid() -> None:
    """With no variance between them, both surfaces share one mean: the posterior on a grid, then each surface's."""
    cells = [Cell("a", "", 10.0, 1.0, "v1"), Cell("a", "", 11.0, 1.0, "v2"), Cell("b", "", 10.4, 1.0, "v3")]
    work = learned_cells(cells, 9.0, 2.0, 1.5)[0]
    grid = np.linspace(-10, 30, 400_001)
    weight = np.exp(-((grid - 9) ** 2) / 8 - ((10 - grid) ** 2 + (11 - grid) ** 2 + (10.4 - grid) ** 2) / (2 * 1.5**2))
    mean = np.average(grid, weights=weight)
    assert work.mean == pytest.approx(mean, abs=1e-6)
    assert work.error == pytest.approx(math.sqrt(np.average((grid - mean) ** 2, weights=weight)), abs=1e-6)


def test_many_visits_find_the_firms_own_rate() -> None:
    """Sixty nights of a firm at 2,000 ft2 an hour, sd 20 %: within two errors of it, and the spread is found too."""
    values = 2000 * np.exp(np.random.default_rng(3).normal(0, 0.2, 28))
    lesson = learn_rates(records(visits(values.tolist())), BEFORE)
    rate = after(lesson, "wall-treat")
    assert rate.usual == pytest.approx(2000, rel=2 * 0.2 / math.sqrt(28) + 0.02)
    assert math.log(rate.high / rate.low) / 6 == pytest.approx(0.2, rel=0.35)
    assert after(lesson, "trim") == BEFORE[1]


def test_one_bad_night_moves_the_rate_little() -> None:
    good = [2400.0, 2600.0, 2500.0, 2450.0, 2550.0]
    lines = visits(good)
    bad = lines + "bad,2026-06-01,wall-treat,stucco,,500,ft2,1,,,\n"
    calm, shaken = (after(learn_rates(records(text), BEFORE), "wall-treat").usual for text in (lines, bad))
    plain = math.exp((5 * math.log(2500) + math.log(500)) / 6)
    assert shaken > 0.93 * calm
    assert plain < 0.8 * calm
    lesson = learn_rates(records(bad), BEFORE)
    (weight,) = [visit for visit in lesson.visits if visit.visit == "bad"]
    assert weight.counts < 0.35
    assert "slow" in weight.words


def test_a_night_slow_at_everything_counts_less_for_each_work() -> None:
    lines = visits([2500.0, 2450.0, 2550.0]) + "".join(
        f"v{k},2026-05-{k + 1:02},trim,concrete,,{rate},ft,1,,,\n" for k, rate in enumerate((600, 620, 610))
    )
    lines += "bad,2026-06-01,wall-treat,stucco,,900,ft2,1,,,\nbad,2026-06-01,trim,concrete,,200,ft,1,,,\n"
    lesson = learn_rates(records(lines), BEFORE)
    assert [visit.visit for visit in lesson.visits if visit.counts < 0.5] == ["bad"]


def test_a_visit_left_out_is_as_if_it_had_not_been() -> None:
    lines = visits([2500.0, 2450.0, 2550.0, 700.0])
    without = learn_rates(records(lines), BEFORE, ["v3"])
    never = learn_rates(records(visits([2500.0, 2450.0, 2550.0])), BEFORE)
    assert without.rates == never.rates
    assert without.left_out == ("v3",)
    marked = lines.replace("700.0,ft2,1,,,", "700.0,ft2,1,,,yes")
    assert learn_rates(records(marked), BEFORE).rates == never.rates
    each = without_each_visit(records(lines), BEFORE)
    assert set(each) == {"v0", "v1", "v2", "v3"}
    assert after(each["v3"], "wall-treat") == after(never, "wall-treat")


@settings(max_examples=40)
@given(st.lists(st.floats(500, 9000), min_size=1, max_size=8))
def test_a_learned_rate_lies_between_guess_and_data(rates: list[float]) -> None:
    usual = after(learn_rates(records(visits(rates)), BEFORE), "wall-treat").usual
    assert min(3000.0, *rates) * 0.994 <= usual <= max(3000.0, *rates) * 1.006


@settings(max_examples=30)
@given(st.floats(800, 8000), st.integers(1, 6))
def test_the_same_rate_night_after_night_is_approached_and_never_passed(rate: float, count: int) -> None:
    fewer, more = (
        after(learn_rates(records(visits([rate] * n)), BEFORE), "wall-treat").usual for n in (count, count + 1)
    )
    assert abs(more - rate) <= abs(fewer - rate) + 0.006 * rate


def test_surfaces_are_drawn_toward_each_other_and_thin_ones_most() -> None:
    lines = visits([2000.0] * 6) + "x,2026-06-01,wall-treat,block,,4000,ft2,1,,,\n"
    table = {(row.surface): row for row in learn_rates(records(lines), BEFORE).table}
    assert 2000 < table["stucco"].after[1] < table["block"].after[1] < 4000
    assert abs(table["stucco"].after[1] - 2000) / 2000 < abs(table["block"].after[1] - 4000) / 4000
    assert table["stucco"].visits == 6
    assert table[""].before == (1500, 3000, 5000)


def test_soilings_on_one_surface_have_rows_of_their_own() -> None:
    lines = "v1,2026-05-01,wall-treat,stucco,algae,2000,ft2,1,30,2,\n"
    lines += "v2,2026-05-02,wall-treat,stucco,soot,1500,ft2,1,45,3,\n"
    lesson = learn_rates(records(lines), BEFORE)
    assert [(row.surface, row.soiling) for row in lesson.table] == [
        ("", ""), ("stucco", ""), ("stucco", "algae"), ("stucco", "soot"),
    ]  # fmt: skip
    use = {row.soiling: row for row in lesson.uses}
    assert use["algae"].own == pytest.approx(30 / 2000)
    assert use["soot"].own == pytest.approx(45 / 1500)
    assert use["algae"].unit == "gal/ft2"
    passes = {row.soiling: row for row in lesson.passes}
    assert (passes["algae"].own, passes["soot"].own) == (2.0, 3.0)
    assert 2.0 <= passes["algae"].after <= passes["soot"].after <= 3.0


def test_minutes_each_are_learned_as_minutes() -> None:
    lines = "".join(f"v{k},2026-05-{k + 1:02},set-up,,,1,1,0.75,,,\n" for k in range(12))
    rate = after(learn_rates(records(lines), BEFORE), "set-up")
    assert rate.low <= rate.usual <= rate.high
    assert rate.usual == pytest.approx(45, rel=0.03)
    assert rate.usual < 45


def test_metric_and_us_records_teach_the_same() -> None:
    us = learn_rates(records("v,2026-05-01,wall-treat,s,,2000,ft2,1,,,\n"), BEFORE)
    metric = learn_rates(records(f"v,2026-05-01,wall-treat,s,,{2000 * 0.09290304},m2,1,,,\n"), BEFORE)
    assert us.rates == metric.rates


def test_weights_are_one_where_nothing_is_far_off() -> None:
    nights = [Night(f"v{k}", "w", ("", ""), value) for k, value in enumerate((0.0, 0.1, -0.1))]
    found = night_weights(nights, {"w": 0.2})
    assert found.weights == (1.0, 1.0, 1.0)


def test_one_record_is_shrunk_by_the_closed_form() -> None:
    """Guess 3,000 with (ln 5000/1500)/4 as its error, night-to-night spread a sixth of it, one night at 2,000."""
    lesson = learn_rates(records(visits([2000.0])), BEFORE)
    spread, error = math.log(5000 / 1500) / 6, math.log(5000 / 1500) / 4
    exact = shrunk_mean(math.log(3000), error, math.log(2000), spread, 1)
    assert lesson.table[0].after[1] == pytest.approx(math.exp(exact.mean), rel=1e-9)


@pytest.mark.parametrize(
    ("line", "code", "key"),
    [
        ("v,2026-05-01,wall-treet,s,,1,ft2,1,,,\n", "unknown-work", "work"),
        ("v,2026-05-01,wall-treat,s,,1,ft,1,,,\n", "wrong-unit", "unit"),
    ],
)
def test_records_that_no_rate_fits_name_their_line(line: str, code: str, key: str) -> None:
    with pytest.raises(InputError) as refusal:
        learn_rates(records(line), BEFORE)
    (problem,) = refusal.value.problems
    assert (problem.code, problem.key, problem.file, problem.line) == (code, key, "visits.csv", 2)


def test_leaving_out_a_visit_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError) as refusal:
        learn_rates(records(visits([2000.0])), BEFORE, ["v9"])
    assert refusal.value.problems[0].code == "unknown-visit"


def test_a_guess_out_of_order_is_refused() -> None:
    with pytest.raises(InputError) as refusal:
        learn_rates(records(visits([2000.0])), (ProductionRate("wall-treat", 5000, 3000, 1500, "ft2/h"),))
    assert refusal.value.problems[0].code == "rate-order"
