"""Records of finished visits, read from a CSV file: what was done, on what, how long it took, what it used."""

from __future__ import annotations

import csv
import difflib
import io
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.units import convert
from sightwash.site.tree import read_text

COLUMNS: Final = (
    "visit", "date", "work", "surface", "soiling", "quantity", "unit", "hours", "gallons", "passes", "left_out",
)  # fmt: skip
NEEDED: Final = ("visit", "date", "work", "quantity", "unit", "hours")
UNITS: Final = {"ft2": "m2", "m2": "m2", "ft": "m", "m": "m", "1": "1"}
YES: Final = {"yes": True, "no": False, "": False}
MOST_PROBLEMS: Final = 50


@dataclass(frozen=True, slots=True)
class VisitRecord:
    """One work of one visit: its quantity [m2, m or a count], the hours of one worker, gallons and passes if noted."""

    visit: str
    on: date
    work: str
    surface: str
    soiling: str
    quantity: float
    measure: str
    hours: float
    gallons: float | None
    passes: int | None
    left_out: bool
    file: str
    line: int


def read_visit_records(path: Path | str) -> tuple[VisitRecord, ...]:
    """Return every record of a file, or raise InputError with all that is wrong, each with its line and column."""
    return visit_records(read_text(Path(path)), str(path))


def visit_records(text: str, file: str) -> tuple[VisitRecord, ...]:
    """Return the records that a CSV text holds."""
    reader = csv.reader(io.StringIO(text), strict=True)
    problems: list[Problem] = []
    found: list[VisitRecord] = []
    try:
        heads = [head.strip().lower() for head in next(reader)]
        problems += _wrong_heads(heads, file)
        if problems:
            raise InputError(problems)
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            row, wrong = _cells(heads, cells, file, reader.line_num)
            problems += wrong
            if not wrong:
                found.append(_record(row, file, reader.line_num))
    except csv.Error as error:
        problems.append(Problem("not-csv", str(error), file, reader.line_num, fix="save it again as CSV"))
    if not problems and not found:
        problems.append(Problem("no-records", "no visit is recorded", file, 1, fix="write one line for each work"))
    if problems:
        raise InputError(problems[:MOST_PROBLEMS])
    return tuple(found)


def _wrong_heads(heads: list[str], file: str) -> Iterator[Problem]:
    for number, head in enumerate(heads, 1):
        if head not in COLUMNS:
            near = difflib.get_close_matches(head, COLUMNS, 1)
            fix = f"write `{near[0]}`" if near else "take the column out"
            expected = "one of: " + ", ".join(COLUMNS)
            yield Problem("unknown-key", f"there is no column {head!r}", file, 1, number, head, expected, fix)
        elif heads.index(head) < number - 1:
            yield Problem("doubled-key", "the column stands twice", file, 1, number, head, fix="keep one of them")
    for head in NEEDED:
        if head not in heads:
            expected = ", ".join(COLUMNS)
            yield Problem("missing-key", "the column is missing", file, 1, None, head, expected, f"add `{head}`")


def _cells(heads: list[str], cells: list[str], file: str, line: int) -> tuple[dict[str, str], list[Problem]]:
    if len(cells) > len(heads):
        words = f"{len(cells)} cells under {len(heads)} columns"
        return {}, [Problem("too-many-cells", words, file, line, len(heads) + 1, fix="put quotes round commas")]
    row = dict.fromkeys(COLUMNS, "") | {head: cell.strip() for head, cell in zip(heads, cells, strict=False)}
    wrong = [
        Problem(code, words, file, line, heads.index(key) + 1 if key in heads else None, key, expected, fix)
        for code, key, words, expected, fix in _wrong(row)
    ]
    return row, wrong


def _wrong(row: Mapping[str, str]) -> Iterator[tuple[str, str, str, str, str]]:
    """Yield code, key, words, what is expected and what to write for everything wrong in a row."""
    for key in ("visit", "work"):
        if not row[key]:
            yield "empty-cell", key, "nothing is written here", "a name", "write it"
    try:
        date.fromisoformat(row["date"])
    except ValueError:
        yield "not-a-date", "date", f"{row['date']!r} is not a date", "year-month-day", "write it as 2026-07-11"
    for key in ("quantity", "hours"):
        if not _above_zero(row[key]):
            yield "not-above-zero", key, f"{row[key]!r} is not a number above 0", "a number above 0", "write `1.5`"
    if row["unit"] not in UNITS:
        yield "unknown-unit", "unit", f"{row['unit']!r} is no unit of a quantity", ", ".join(UNITS), "write `ft2`"
    if row["gallons"] and not (_above_zero(row["gallons"]) or row["gallons"] in ("0", "0.0")):
        words = f"{row['gallons']!r} is not a number, 0 or more"
        yield "not-a-number", "gallons", words, "a number, 0 or more", "leave it empty if it was not noted"
    if row["passes"] and not (row["passes"].isdecimal() and 1 <= int(row["passes"]) <= 20):
        words = f"{row['passes']!r} is not a count of treatments"
        yield "not-a-count", "passes", words, "1 to 20", "leave it empty if it was not noted"
    if row["left_out"].lower() not in YES:
        yield "not-yes-or-no", "left_out", f"{row['left_out']!r} is neither", "yes or no", "leave it empty for no"


def _above_zero(text: str) -> bool:
    try:
        value = float(text)
    except ValueError:
        return False
    return math.isfinite(value) and value > 0


def _record(row: Mapping[str, str], file: str, line: int) -> VisitRecord:
    measure = UNITS[row["unit"]]
    quantity = float(row["quantity"])
    return VisitRecord(
        row["visit"], date.fromisoformat(row["date"]), row["work"], row["surface"].lower(), row["soiling"].lower(),
        quantity if measure == "1" else convert(quantity, row["unit"], measure), measure, float(row["hours"]),
        float(row["gallons"]) if row["gallons"] else None, int(row["passes"]) if row["passes"] else None,
        YES[row["left_out"].lower()], file, line,
    )  # fmt: skip
