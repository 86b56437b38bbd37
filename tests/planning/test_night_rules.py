"""Clock times of a night (closed form: written out by hand).

Daylight saving of 2026 in the United States: 8 March and 1 November at 02:00 (published: Energy Policy Act of 2005,
section 110). Sunset and sunrise at Jefferson City are those of the sun functions, which have tests of their own;
here only which minutes count as dark is looked at.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time

import pytest

from sightwash.basis.errors import InputError
from sightwash.planning.night_rules import (
    NightRules,
    check_rules,
    clock,
    dark_minutes,
    door_minutes,
    free_windows,
    night_number,
    plan_nights,
    quiet_minutes,
)
from sightwash.site.model import QuietHours

PLAIN = NightRules(
    date(2026, 7, 11), time(21, 0), time(5, 0), None, None, None, QuietHours(time(22, 0), time(6, 0)),
    (("bakery", time(5, 30), time(15, 0)), ("bar", time(17, 0), time(1, 30))), 600, 60, 2,
)  # fmt: skip
PLACED = replace(PLAIN, zone="America/Chicago", latitude=38.58, longitude=-92.17)


def test_a_night_crosses_midnight() -> None:
    (night,) = plan_nights(PLAIN, 0)
    assert (night.opens, night.closes) == (datetime(2026, 7, 11, 21, 0), datetime(2026, 7, 12, 5, 0))
    assert (night.length, night.bound_by) == (480, "the stated end")
    assert clock(PLAIN, (night,), 200) == datetime(2026, 7, 12, 0, 20)


def test_the_longest_shift_ends_a_night_drive_included() -> None:
    (night,) = plan_nights(replace(PLAIN, longest_shift=400), 0)
    assert night.closes == datetime(2026, 7, 12, 2, 40)
    assert night.bound_by.startswith("the longest shift")


def test_quiet_hours_and_doors_are_minutes_of_the_night() -> None:
    nights = plan_nights(PLAIN, 0)
    assert quiet_minutes(PLAIN, nights) == ((60, 480),)
    assert door_minutes(PLAIN, nights) == {"bakery": (), "bar": ((0, 270),)}
    assert free_windows(nights, quiet_minutes(PLAIN, nights)) == ((0, 60),)


def test_two_nights_lie_apart_on_one_line() -> None:
    rules = replace(PLAIN, nights=2)
    nights = plan_nights(rules, 100)
    assert [night.offset for night in nights] == [0, 580]
    assert clock(rules, nights, 580) == datetime(2026, 7, 12, 21, 0)
    assert [night_number(nights, minute) for minute in (0, 479, 579, 580)] == [0, 0, 0, 1]
    assert quiet_minutes(rules, nights) == ((60, 480), (640, 1060))


@pytest.mark.parametrize(
    ("day", "length"), [(date(2026, 3, 7), 420), (date(2026, 10, 31), 540), (date(2026, 7, 11), 480)]
)
def test_a_night_in_which_clocks_change_is_an_hour_shorter_or_longer(day: date, length: int) -> None:
    rules = replace(PLACED, on=day, longest_shift=900)
    (night,) = plan_nights(rules, 0)
    assert night.length == length
    assert clock(rules, (night,), length).strftime("%H:%M") == "05:00"


def test_moments_are_those_of_the_time_zone() -> None:
    (night,) = plan_nights(PLACED, 0)
    assert night.opens == datetime(2026, 7, 12, 2, 0, tzinfo=UTC)


def test_dark_only_where_the_place_is_known() -> None:
    assert dark_minutes(PLAIN, plan_nights(PLAIN, 0)) is None
    nights = plan_nights(PLACED, 0)
    (dark,) = dark_minutes(PLACED, nights) or ()
    assert dark[1] == 480
    assert 0 <= dark[0] <= 60
    noon = replace(PLACED, start=time(10, 0), end=time(16, 0))
    assert dark_minutes(noon, plan_nights(noon, 0)) == ()
    polar = replace(PLACED, latitude=72.0)
    assert dark_minutes(polar, plan_nights(polar, 0)) is None


@pytest.mark.parametrize(
    ("changed", "key"),
    [
        ({"people": 0}, "people"),
        ({"machines": 0}, "machines"),
        ({"nights": 0}, "nights"),
        ({"end": time(21, 0)}, "end"),
        ({"doors": (("shop", time(9, 0), time(9, 0)),)}, "shop.hours"),
        ({"quiet": QuietHours(time(9, 0), time(9, 0))}, "quiet_hours"),
        ({"drive": 600}, "crew.longest_shift"),
    ],
)
def test_rules_that_cannot_be_meant_are_refused(changed: dict[str, object], key: str) -> None:
    with pytest.raises(InputError) as refusal:
        check_rules(replace(PLAIN, **changed))
    assert [each.key for each in refusal.value.problems] == [key]
