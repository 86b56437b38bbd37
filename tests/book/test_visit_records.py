"""Reading the record of finished visits: one mistake a case, each named with file, line, column and key.

Feet and gallons: NIST Special Publication 811, 2008, B.8 (published). CSV: RFC 4180 (published).
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sightwash.basis.errors import InputError
from sightwash.book.visit_records import read_visit_records, visit_records

GOOD = (
    "visit,date,work,surface,soiling,quantity,unit,hours,gallons,passes,left_out\n"
    'spring,2026-04-11,wall-treat,Stucco,algae,"5,000.5",ft2,2.5,60,2,no\n'
).replace('"5,000.5"', "5000.5")


def test_a_record_is_read_in_inner_units() -> None:
    (record,) = visit_records(GOOD, "visits.csv")
    assert record.on == date(2026, 4, 11)
    assert record.quantity == pytest.approx(5000.5 * 0.09290304)
    assert (record.measure, record.surface, record.hours, record.gallons, record.passes) == (
        "m2",
        "stucco",
        2.5,
        60.0,
        2,
    )
    assert not record.left_out
    assert record.line == 2


def test_columns_may_stand_in_any_order_and_optional_ones_may_be_missing() -> None:
    text = "hours,visit,date,unit,quantity,work\n1.5,v,2026-04-11,1,3,set-up\n\n"
    (record,) = visit_records(text, "visits.csv")
    assert (record.quantity, record.measure, record.gallons, record.passes, record.surface) == (
        3.0,
        "1",
        None,
        None,
        "",
    )


def test_a_file_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "visits.csv"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert len(read_visit_records(path)) == 1


@pytest.mark.parametrize(
    ("old", "new", "code", "key", "column"),
    [
        ("2026-04-11", "11.4.2026", "not-a-date", "date", 2),
        ("5000.5", "0", "not-above-zero", "quantity", 6),
        ("5000.5", "-3", "not-above-zero", "quantity", 6),
        ("5000.5", "many", "not-above-zero", "quantity", 6),
        ("5000.5", "inf", "not-above-zero", "quantity", 6),
        (",2.5,", ",nan,", "not-above-zero", "hours", 8),
        (",ft2,", ",acre,", "unknown-unit", "unit", 7),
        (",60,", ",sixty,", "not-a-number", "gallons", 9),
        (",2,no", ",2.5,no", "not-a-count", "passes", 10),
        (",2,no", ",0,no", "not-a-count", "passes", 10),
        (",no\n", ",perhaps\n", "not-yes-or-no", "left_out", 11),
        ("spring,", ",", "empty-cell", "visit", 1),
        ("wall-treat", "", "empty-cell", "work", 3),
    ],
)
def test_a_wrong_cell_is_named(old: str, new: str, code: str, key: str, column: int) -> None:
    with pytest.raises(InputError) as refusal:
        visit_records(GOOD.replace(old, new), "visits.csv")
    (problem,) = refusal.value.problems
    assert (problem.code, problem.key, problem.file, problem.line, problem.column) == (
        code,
        key,
        "visits.csv",
        2,
        column,
    )
    assert problem.expected
    assert problem.fix


@pytest.mark.parametrize(
    ("text", "code", "key"),
    [
        (GOOD.replace("hours", "hors"), "unknown-key", "hors"),
        (GOOD.replace("soiling", "surface"), "doubled-key", "surface"),
        ("visit,date,work,quantity,unit\n", "missing-key", "hours"),
        (GOOD.splitlines()[0] + "\n", "no-records", None),
        (GOOD + "a,b,c,d,e,f,g,h,i,j,k,l\n", "too-many-cells", None),
        (GOOD + 'a,"b\n', "not-csv", None),
    ],
)
def test_a_wrong_file_is_refused(text: str, code: str, key: str | None) -> None:
    with pytest.raises(InputError) as refusal:
        visit_records(text, "visits.csv")
    assert (code, key) in [(each.code, each.key) for each in refusal.value.problems]
    assert all(each.file == "visits.csv" for each in refusal.value.problems)


def test_everything_wrong_is_told_at_once() -> None:
    text = GOOD + "v,2026-13-40,trim,,,0,mile,0,,,\n"
    with pytest.raises(InputError) as refusal:
        visit_records(text, "visits.csv")
    assert {each.key for each in refusal.value.problems} == {"date", "quantity", "unit", "hours"}
    assert {each.line for each in refusal.value.problems} == {3}


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError) as refusal:
        read_visit_records(tmp_path / "none.csv")
    assert refusal.value.problems[0].code == "unreadable"
