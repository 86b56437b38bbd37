"""What can go wrong, as one family.

::

    SightwashError
    ├── InputError          a document or an argument is wrong (exit 2)
    │   └── OutOfRange      a number lies where its formula does not hold
    ├── NoFeasiblePlan      nothing safe or possible; lists what was tried (exit 1)
    └── NumericalFailure    a computation did not converge (exit 70)

    SightwashWarning
    └── OutsidePublishedRange   the formula runs, but beyond where it was measured

A missing fact is not an error: it is a gap, see ``sightwash.site.checks``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

EXIT_DONE = 0
EXIT_NO_PLAN = 1
EXIT_BAD_INPUT = 2
EXIT_OUR_FAULT = 70


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, said so that a person can mend it.

    ``code`` is a short stable word for programs (``unknown-key``, ``out-of-range`` ...);
    ``line`` and ``column`` count from 1 and are None where the input has no lines.
    """

    code: str
    message: str
    file: str | None = None
    line: int | None = None
    column: int | None = None
    key: str | None = None
    expected: str | None = None
    fix: str | None = None

    def as_dict(self) -> dict[str, str | int | None]:
        """Return the problem as a plain mapping, ready for JSON."""
        return asdict(self)

    def __str__(self) -> str:
        place = ":".join(str(part) for part in (self.file, self.line, self.column) if part is not None)
        where = f"{place}: " if place else ""
        key = f"{self.key}: " if self.key else ""
        expected = f"; expected {self.expected}" if self.expected else ""
        fix = f"; {self.fix}" if self.fix else ""
        return f"{where}{key}{self.message}{expected}{fix}"


class SightwashError(Exception):
    """Base of everything that this package raises on purpose."""

    exit_code = EXIT_OUR_FAULT


class InputError(SightwashError):
    """A document, a file or an argument is wrong; carries every problem found, not only the first."""

    exit_code = EXIT_BAD_INPUT

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[Any, ...]:
        """Let the error cross to another process whole."""
        return type(self), (self.problems,)


class OutOfRange(InputError):
    """A number lies where its formula does not hold.

    ``parameter`` is the argument's name, ``expected`` the range in words with its unit.
    """

    def __init__(self, parameter: str, value: object, expected: str, fix: str | None = None) -> None:
        self.parameter = parameter
        self.value = value
        self.expected = expected
        self.fix = fix
        super().__init__(
            Problem(
                code="out-of-range",
                message=f"{value} is outside the range",
                key=parameter,
                expected=expected,
                fix=fix,
            )
        )

    def __reduce__(self) -> tuple[Any, ...]:
        """Let the error cross to another process whole."""
        return type(self), (self.parameter, self.value, self.expected, self.fix)


class NoFeasiblePlan(SightwashError):
    """No safe or possible plan exists for these inputs; ``tried`` lists what was tried and why it failed."""

    exit_code = EXIT_NO_PLAN

    def __init__(self, message: str, tried: Iterable[str] = ()) -> None:
        self.message = message
        self.tried = tuple(tried)
        super().__init__("\n".join((message, *(f"  tried: {attempt}" for attempt in self.tried))))

    def __reduce__(self) -> tuple[Any, ...]:
        """Let the error cross to another process whole."""
        return type(self), (self.message, self.tried)


class NumericalFailure(SightwashError):
    """A computation did not converge or lost its precision."""


class SightwashWarning(UserWarning):
    """Base of the warnings that this package gives."""


class OutsidePublishedRange(SightwashWarning):
    """A formula was used beyond the range in which its source measured it."""
