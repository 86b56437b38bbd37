"""The family of errors: what they carry, how they read, and that they cross to another process whole.

Checked against: the exit codes and the parts of an error that the design lays down (own rule, no source).
"""

from __future__ import annotations

import json
import pickle
import re
import warnings

import pytest

from sightwash.basis import errors
from sightwash.basis.errors import (
    InputError,
    NoFeasiblePlan,
    NumericalFailure,
    OutOfRange,
    OutsidePublishedRange,
    Problem,
    SightwashError,
    SightwashWarning,
)

PROBLEM = Problem(
    code="unknown-key",
    message="the key 'heigth' is not known here",
    file="site.yaml",
    line=7,
    column=3,
    key="walls[0].heigth",
    expected="one of: height",
    fix="write `height`",
)


def test_a_problem_reads_as_place_key_message_expected_fix() -> None:
    assert str(PROBLEM) == (
        "site.yaml:7:3: walls[0].heigth: the key 'heigth' is not known here; expected one of: height; write `height`"
    )
    assert str(Problem("empty", "the file is empty")) == "the file is empty"
    assert str(Problem("empty", "the file is empty", file="a.yaml")) == "a.yaml: the file is empty"


def test_a_problem_becomes_json_with_all_its_parts() -> None:
    assert json.loads(json.dumps(PROBLEM.as_dict())) == {
        "code": "unknown-key", "message": "the key 'heigth' is not known here", "file": "site.yaml",
        "line": 7, "column": 3,
        "key": "walls[0].heigth", "expected": "one of: height", "fix": "write `height`",
    }  # fmt: skip


def test_an_input_error_carries_every_problem() -> None:
    error = InputError([PROBLEM, Problem("empty", "nothing")])
    assert [problem.code for problem in error.problems] == ["unknown-key", "empty"]
    assert str(error).splitlines() == [str(PROBLEM), "nothing"]
    assert InputError(PROBLEM).problems == (PROBLEM,)


def test_out_of_range_names_the_argument_and_the_range() -> None:
    error = OutOfRange("distance", -3.5, "above 0 m", "measure again")
    assert isinstance(error, InputError)
    assert str(error) == "distance: -3.5 is outside the range; expected above 0 m; measure again"
    assert (error.parameter, error.value, error.problems[0].code) == ("distance", -3.5, "out-of-range")


def test_no_plan_lists_what_was_tried() -> None:
    error = NoFeasiblePlan("no standing spot", ["from the walk: too near", "from the lot: too far"])
    assert str(error).splitlines() == [
        "no standing spot",
        "  tried: from the walk: too near",
        "  tried: from the lot: too far",
    ]
    assert error.tried == ("from the walk: too near", "from the lot: too far")
    assert str(NoFeasiblePlan("nothing")) == "nothing"


@pytest.mark.parametrize(("kind", "code"), [
    (InputError, 2), (OutOfRange, 2), (NoFeasiblePlan, 1), (NumericalFailure, 70), (SightwashError, 70),
])  # fmt: skip
def test_exit_codes(kind: type[SightwashError], code: int) -> None:
    assert kind.exit_code == code
    assert issubclass(kind, SightwashError)
    assert errors.EXIT_DONE == 0


def test_the_family_is_drawn_at_the_top_of_its_file() -> None:
    """The tree in the module's docstring names every class that the module defines, and no other."""
    defined = {
        name for name, part in vars(errors).items() if isinstance(part, type) and issubclass(part, (Exception, Warning))
    }
    tree = (errors.__doc__ or "").split("::")[1].split("A missing fact")[0]
    assert defined == set(re.findall(r"[A-Z][a-zA-Z]+", tree))


@pytest.mark.parametrize("error", [
    InputError([PROBLEM, Problem("empty", "nothing")]), OutOfRange("distance", -3.5, "above 0 m", "measure again"),
    NoFeasiblePlan("no standing spot", ["from the walk"]), NumericalFailure("did not converge"),
], ids=lambda error: type(error).__name__)  # fmt: skip
def test_an_error_crosses_to_another_process_whole(error: SightwashError) -> None:
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)
    assert vars(again) == vars(error)


def test_the_warning_can_be_told_from_others() -> None:
    with pytest.warns(SightwashWarning, match="beyond"):
        warnings.warn("beyond 4 mm", OutsidePublishedRange, stacklevel=1)
    assert issubclass(OutsidePublishedRange, UserWarning)
