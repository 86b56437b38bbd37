"""2010 ADA Standards, table 208.2 and 208.2.1, 208.2.2, 208.2.4 (published; read as the identical table F208.2)."""

import pytest

from sightwash.science.accessible_stalls import accessible_stalls, outpatient_stalls


@pytest.mark.parametrize(
    ("first", "last", "count"),
    [
        (1, 25, 1),
        (26, 50, 2),
        (51, 75, 3),
        (76, 100, 4),
        (101, 150, 5),
        (151, 200, 6),
        (201, 300, 7),
        (301, 400, 8),
        (401, 500, 9),
    ],
)
def test_rows_with_a_fixed_count(first, last, count):
    assert {accessible_stalls(total) for total in range(first, last + 1)} == {count}


def test_reference_totals():
    """Check 24 of the reference: the table's edges, with 2 percent and one for each 100 or fraction over 1000."""
    totals = (25, 26, 100, 101, 500, 501, 550, 1000, 1001, 1100, 1101)
    assert [accessible_stalls(total) for total in totals] == [1, 2, 4, 5, 9, 11, 11, 20, 21, 21, 22]


def test_ten_and_twenty_percent():
    assert outpatient_stalls(100, 10) == 10
    assert outpatient_stalls(100, 20) == 20
