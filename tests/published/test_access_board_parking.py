"""U.S. Access Board, Guide to the ADA Standards: Parking Spaces, table of totals with van stalls (published)."""

import pytest

from sightwash.science.accessible_stalls import accessible_stalls, van_stalls

ROWS = [
    (1, 25, 1, 1), (26, 50, 1, 2), (51, 75, 1, 3), (76, 100, 1, 4), (101, 150, 1, 5), (151, 200, 1, 6),
    (201, 300, 2, 7), (301, 400, 2, 8), (401, 500, 2, 9), (501, 550, 2, 11), (551, 600, 2, 12), (601, 650, 3, 13),
    (651, 700, 3, 14), (701, 750, 3, 15), (751, 800, 3, 16), (801, 850, 3, 17), (851, 900, 3, 18), (901, 950, 4, 19),
    (951, 1000, 4, 20), (1001, 1100, 4, 21), (1101, 1200, 4, 22), (1201, 1300, 4, 23), (1301, 1400, 4, 24),
    (1401, 1500, 5, 25), (1501, 1600, 5, 26), (1601, 1700, 5, 27), (1701, 1800, 5, 28),
]  # fmt: skip


@pytest.mark.parametrize(("first", "last", "vans", "count"), ROWS)
def test_every_total_of_a_row(first, last, vans, count):
    assert {accessible_stalls(total) for total in range(first, last + 1)} == {count}
    assert van_stalls(count) == vans
