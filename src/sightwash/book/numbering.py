"""Numbers of invoices and credit notes by the firm's own pattern: without gaps, none used twice.

A pattern is words with ``{number}``, or ``{number:04}`` for four digits, and if wanted ``{year}`` and ``{month}``.
Where the year stands in it the count begins anew each year; where the month stands in it, each month.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from itertools import takewhile
from typing import Final

from sightwash.basis.errors import InputError, Problem

_FIELD: Final = re.compile(r"\{(year|month|number(?::0?([1-9]))?)\}")
LONGEST: Final = 40
EXPECTED: Final = "{number} or {number:04}, and if wanted {year} and {month}, with letters, digits, dash, dot, slash"


def check_pattern(pattern: str, key: str) -> None:
    """Refuse a pattern that has no number, holds another field, or lets two periods share a number."""
    fields = [match[1].split(":")[0] for match in _FIELD.finditer(pattern)]
    rest = _FIELD.sub("", pattern)
    whole = fields.count("number") == 1 and len(set(fields)) == len(fields) and len(pattern) <= LONGEST
    if not whole or not re.fullmatch(r"[A-Za-z0-9 ./_-]*", rest):
        message = f"{pattern!r} is no pattern of numbers"
        raise InputError(
            Problem("bad-pattern", message, key=key, expected=EXPECTED, fix="write it such as `{year}-{number:04}`")
        )
    if "month" in fields and "year" not in fields:
        message = f"{pattern!r} gives the same numbers every year"
        raise InputError(Problem("bad-pattern", message, key=key, expected=EXPECTED, fix="put {year} beside {month}"))
    if re.search(r"\}(?:\{|\d)|\d\{", pattern):
        message = f"{pattern!r} lets digits run into one another, so that two numbers could look the same"
        raise InputError(Problem("bad-pattern", message, key=key, expected=EXPECTED, fix="put a dash between them"))


def period_of(pattern: str, on: date) -> tuple[int, ...]:
    """Return the period in which a count runs: none, the year, or the year and the month."""
    year = (on.year,) if "{year}" in pattern else ()
    return (*year, on.month) if "{month}" in pattern else year


def number_text(pattern: str, count: int, on: date) -> str:
    """Return the number that a pattern gives for a count and a day.

    >>> number_text("{year}-{number:04}", 17, date(2026, 7, 12))
    '2026-0017'
    """

    def field(match: re.Match[str]) -> str:
        if match[1] == "year":
            return f"{on.year:04}"
        return f"{on.month:02}" if match[1] == "month" else f"{count:0{int(match[2] or 1)}}"

    return _FIELD.sub(field, pattern)


def next_number(pattern: str, first: int, days: Sequence[date], on: date) -> str:
    """Return the number after those given out on ``days``, in order; ``first`` is where the book's first count began.

    A later year, or month, begins at 1.

    >>> next_number("{year}-{number:04}", 418, [date(2026, 7, 1), date(2026, 7, 9)], date(2026, 7, 12))
    '2026-0420'
    """
    period = period_of(pattern, on)
    same = sum(1 for _ in takewhile(lambda day: period_of(pattern, day) == period, reversed(days)))
    start = first if same == len(days) else 1
    return number_text(pattern, start + same, on)
