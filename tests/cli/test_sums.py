"""Every sum at the command line, held against the examples of the formulas themselves.

The examples in the docstrings of ``sightwash.science`` print what their sources print (each names its source, and
``tests/published/`` holds them); here the same examples run through the door: inputs typed as text with their units,
the answer taken from what the command line would print.
"""

from __future__ import annotations

import ast
import doctest
import inspect
import io
import random
import typing
from types import SimpleNamespace
from typing import Any

import pytest

from sightwash.basis.errors import InputError
from sightwash.basis.sources import register
from sightwash.papers.plan_document import output_text
from sightwash.planning.sum_docs import ParameterDoc
from sightwash.planning.tailgate import Sum, find_sum, kind_of, sums, work_out

NAMES = sorted(sums())


def typed(parameter: ParameterDoc, value: Any) -> str:
    """Return a value as a person would type it in the formula's own unit."""
    if isinstance(value, (list, tuple)):
        return ",".join(typed(parameter, part) for part in value)
    if isinstance(value, str):
        return value
    kind = kind_of(parameter.name, parameter.unit)
    number = repr(value if isinstance(value, int) else float(value))
    return number if kind is None else f"{number} {kind.inner}"


def through_the_door(wanted: Sum) -> Any:
    """Return a function that works a sum out as the command line does and gives back plain values."""

    def ask(*args: Any, **kwargs: Any) -> Any:
        bound = inspect.signature(wanted.function).bind(*args, **kwargs)
        keys = {p.name: p for p in wanted.doc.parameters}
        given = {name: typed(keys[name], value) for name, value in bound.arguments.items() if value is not None}
        answer = work_out(wanted.name, given, "metric")
        values = {result.name: result.value for result in answer.results}
        hint = typing.get_type_hints(wanted.function)["return"]
        records = [part for part in (hint, *typing.get_args(hint)) if hasattr(part, "__match_args__")]
        if records and set(values) == set(records[0].__match_args__):
            return records[0](**values)
        return SimpleNamespace(**values) if len(values) > 1 else next(iter(values.values()))

    return ask


def loosened(expected: str, got: str) -> bool:
    """Tell whether two printed values are the same, a number of ten figures counting as its full self."""
    if expected == got:
        return True
    try:
        return ast.literal_eval(expected) == pytest.approx(ast.literal_eval(got), rel=1e-8)
    except (ValueError, SyntaxError, TypeError):
        return False


def run_example(wanted: Sum) -> str:
    """Run a formula's example through the door; return what went wrong."""
    module = inspect.getmodule(wanted.function)
    names = {**vars(module), wanted.function.__name__: through_the_door(wanted)}
    (test,) = doctest.DocTestFinder(recurse=False).find(wanted.function, wanted.name, globs=names)

    class Checker(doctest.OutputChecker):
        def check_output(self, want: str, got: str, _flags: int) -> bool:
            return loosened(want.strip(), got.strip())

    out = io.StringIO()
    runner = doctest.DocTestRunner(checker=Checker(), verbose=False)
    runner.run(test, out=out.write)
    assert test.examples
    return out.getvalue()


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
def test_the_formula_s_own_example_at_the_door(name: str) -> None:
    assert run_example(find_sum(name)) == ""


@pytest.mark.parametrize("name", NAMES)
def test_every_sum_explains_itself(run: Any, name: str) -> None:
    wanted = find_sum(name)
    assert wanted.doc.summary
    assert wanted.doc.range_text
    assert set(wanted.doc.sources) <= set(register())
    assert [p.name for p in wanted.doc.parameters] == list(inspect.signature(wanted.function).parameters)
    if any(p.required for p in wanted.doc.parameters):
        shown = run("work-out", name)
        assert shown.status == 0
        assert all(p.name in shown.out for p in wanted.doc.parameters)
        refused = run("work-out", name, "--json")
        assert refused.status == 2
        assert set(refused.codes()) == {"missing-key"}
    else:
        assert run("work-out", name, "--json").document("sum")["sum"] == name


ABSURD = (
    "0", "-1", "1", "0.5", "1e300", "-1e300", "1e-300", "nan", "inf", "", "abc", "1e12", "100", "12 ft 6 in", "3 in",
    "250 psi", "48 F", "-500 F", "1e6 F", "5.5 gal/min", "100 %", "12.5 trade %", "0 trade %", "19 g/L", "1,2,3", "0,0",
    "1e-9", "3000 psi", "180 deg", "2 h", "30 day", "yes", "concrete", "20", "0.1", "\u0663", "1_000", "+5", "0x10",
    "1e5 ft", "9" * 400, "1/0 in", "1e308 trade %", "../../../etc/passwd", "\x00", "\ud800",
)  # fmt: skip


def absurd_inputs(wanted: Sum, chance: random.Random) -> dict[str, str]:
    return {p.name: chance.choice(ABSURD) for p in wanted.doc.parameters if p.required or chance.random() < 0.4}


def answer_or_refusal(name: str, given: dict[str, str], system: str) -> str:
    """Return the answer as JSON, or what was wrong with the inputs and what to write instead."""
    try:
        return output_text("sum", work_out(name, given, system))
    except InputError as error:
        refused = error.problems
    assert all(problem.message and (problem.expected or problem.fix) for problem in refused), given
    return ""


@pytest.mark.parametrize("name", NAMES)
def test_nothing_but_an_input_error_escapes(name: str) -> None:
    """Absurd text for every input, many times over: an answer that is JSON, or an error that says what to write."""
    chance = random.Random(name)
    wanted = find_sum(name)
    for _ in range(25):
        given = absurd_inputs(wanted, chance)
        text = answer_or_refusal(name, given, chance.choice(("us", "metric")))
        assert "NaN" not in text, given
        assert "Infinity" not in text, given


def test_what_reads_the_project_s_own_files_is_no_sum() -> None:
    assert "table-rows" not in sums()
    assert "figures" not in sums()


def test_a_person_s_sums_are_there() -> None:
    """Those that the tailgate needs: sight, mix, hose, tip, reaction, coverage, dew point, drift, hours, margin."""
    assert {
        "hidden-height", "stand-back-distance", "step-height", "water-parts", "batch", "strength-after",
        "working-point", "darcy-loss", "nozzle-pressure", "tip-from-code", "reaction-force", "mix-volume", "dew-point",
        "wet-time-band",
        "distance-to-clear", "three-point-spread", "markup-of-margin", "ladder-foot-distance", "line-clearance",
        "accessible-stalls", "stall-curb-length", "noticeability", "wall-height", "reach-band", "opening-share",
    } <= set(NAMES)  # fmt: skip
    assert len(NAMES) > 150
