"""Timelines looked at line by line: what the trade's order, the doors, the clock and the drying film ask for.

Each rule is checked on the entries themselves, apart from the model that made them (closed form). Order of the night,
breaks and crew: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache
from itertools import pairwise

import pytest

from sightwash.basis.errors import InputError
from sightwash.planning.bleach import plan_bleach
from sightwash.planning.ground import plan_ground_takeoff
from sightwash.planning.hours import plan_hours
from sightwash.planning.methods import plan_methods
from sightwash.planning.mixes import plan_mixes
from sightwash.planning.night_entries import TimelineEntry
from sightwash.planning.promise import Promise
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.timeline import Timeline, plan_timeline
from sightwash.planning.water import plan_water
from sightwash.planning.weather import plan_air
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import placed_walls
from sightwash.site.site_file import document_from
from sightwash.site.tree import parse

ON = date(2026, 7, 11)
SITE = """
kind: site
schema: 1
id: small
name: Small row
place: {time_zone: America/Chicago, latitude: 38.7, longitude: -91.4}
buildings: [{id: row, outline: [[0, 0], [60, 0], [60, 40], [0, 40]], height: 16}]
walls:
  - id: front
    building: row
    start: [0, 0]
    end: [60, 0]
    height: 16
    material: stucco
    soiling:
      - {id: cap, kind: algae, degree: heavy, bottom: 13, top: 16}
      - {id: film, kind: algae, degree: light, bottom: 0, top: 9}
    openings: [{id: glass, kind: glass, left: 4, width: 24, bottom: 2, height: 6}]
    doors:
      - {id: bar, left: 40, width: 6, height: 7, threshold: 1 in, hours: {open: "16:00", close: "21:40"}}
    projections:
      - {id: canopy, kind: canopy, left: 0, width: 60, bottom: 10, height: 6 in, depth: 5, material: stucco}
  - {id: side, building: row, start: [60, 0], end: [60, 40], height: 16, material: painted block}
surfaces: [{id: walk, along: front, width: 8, material: concrete}]
gum: [{id: gum, surface: walk, count: 20, at: [[42, -1]]}]
planting: [{id: bed, outline: [[0, -12], [10, -12], [10, -10], [0, -10]], kind: bed, height: 1}]
eyes:
  - {id: road, kind: road, path: [[-100, -200], [200, -200]], height: 3.5, speed: 40 mph}
  - {id: lot, kind: walk, path: [[0, -50], [60, -50]]}
taps: [{id: tap, at: [30, 41], flow: 8 gal/min}]
"""
RIG = """
kind: rig
schema: 1
id: rig
name: Rig
machine: {flow: 5.5 gal/min, pressure: 3500 psi}
tips: [{id: soft, size: 40, use: soap}, {id: rinse, size: 20, fan: 25}, {id: trim, size: 9, fan: 25, use: trim}]
surface_cleaners: [{id: twenty, diameter: 20 in}]
tanks: [{id: water, volume: 325 gal}]
bleach: {strength: 12.5 trade %, dated: 2026-06-26, volume: 45 gal}
crew: {people: 2, longest_shift: 10}
"""
RATES = """
kind: rates
schema: 1
id: rates
name: Rates
labour: {wage: 24}
travel: {time: 40 min}
"""
NIGHT = """
kind: conditions
schema: 1
id: night
start: "21:00"
end: "05:00"
weather: {air_temperature: 76 F, humidity: 60 %, wind_speed: 4 mph}
"""


@cache
def documents(site: str = SITE, night: str = NIGHT) -> tuple[Site, Rig, Rates, Conditions]:
    found = tuple(document_from(parse(text, "test.yaml")) for text in (site, RIG, RATES, night))
    assert isinstance(found[0], Site)
    assert isinstance(found[1], Rig)
    assert isinstance(found[2], Rates)
    assert isinstance(found[3], Conditions)
    return found[0], found[1], found[2], found[3]


def timeline(
    site_text: str = SITE, night_text: str = NIGHT, promise: Promise | None = None, shift: float = 10.0, **more: int
) -> Timeline:
    """Return the timeline of a small site; places to stand are left out."""
    site, rig, rates, conditions = documents(site_text, night_text)
    rig = replace(rig, crew=replace(rig.crew, longest_shift=shift))
    walls, air = placed_walls(site), plan_air(conditions)
    takeoffs = tuple(plan_wall_takeoff(wall) for wall in walls)
    methods = tuple(m for wall, off in zip(walls, takeoffs, strict=True) for m in plan_methods(wall, off, rig, air))
    ground = plan_ground_takeoff(site, walls, rig.surface_cleaners[0])
    hours = plan_hours(site, takeoffs, methods, ground, (), rig, rates)
    mixes = plan_mixes(methods, plan_bleach(rig.bleach, ON), rig.injector)
    water = plan_water(site, rig, hours, methods, mixes, ())
    return plan_timeline(site, rig, rates, conditions, ON, methods, ground, (), hours, water, promise, **more)


@pytest.fixture(scope="module")
def night() -> Timeline:
    return timeline()


def by_action(found: Timeline, action: str, part: str = "") -> list[TimelineEntry]:
    return [e for e in found.entries if e.action == action and part in ("", e.part)]


def at_clock(entry: TimelineEntry, hour: int, minute: int) -> datetime:
    return entry.start.replace(hour=hour, minute=minute)


def pieces(entries: Sequence[TimelineEntry]) -> list[TimelineEntry]:
    """Return one entry for each piece, whoever does it."""
    return list({entry.piece: entry for entry in entries}.values())


def test_the_stated_rules_hold_and_the_finish_is_proven(night: Timeline) -> None:
    assert night.holds
    assert night.proven
    assert night.gap == 0.0
    assert night.finish == night.bound
    assert not night.relaxations


def test_nobody_does_two_things_at_once(night: Timeline) -> None:
    for person in (1, 2):
        own = sorted((e.start, e.end) for e in night.entries if e.person == person)
        assert all(a[1] <= b[0] for a, b in pairwise(own))


def test_each_persons_night_has_no_holes_from_leaving_to_home(night: Timeline) -> None:
    (span,) = night.nights
    for person in (1, 2):
        own = sorted((e.start, e.end) for e in night.entries if e.person == person)
        assert own[0][0] == span.leaves
        assert own[-1][1] == span.home
        assert all(b[0] - a[1] < timedelta(minutes=3) for a, b in pairwise(own))


def test_one_machine_does_one_thing_at_a_time(night: Timeline) -> None:
    running = sorted((e.start, e.end) for e in pieces(night.entries) if e.machine)
    assert len(running) > 5
    assert all(a[1] <= b[0] for a, b in pairwise(running))


def test_every_treatment_is_rinsed_after_its_dwell_and_before_it_dries(night: Timeline) -> None:
    """Dwell and wet time of the methods: each spot of a stretch is followed from treatment to rinse."""
    site, rig, _, conditions = documents()
    walls, air = placed_walls(site), plan_air(conditions)
    methods = [m for wall in walls for m in plan_methods(wall, plan_wall_takeoff(wall), rig, air) if m.strength > 0]
    dwell, wet = max(m.dwell for m in methods), min(m.stays_wet for m in methods)
    assert wet > dwell
    treats = by_action(night, "treat")
    assert treats
    for treat in treats:
        name = treat.piece.replace("-treat-", "-rinse-")
        (rinse,) = [e for e in by_action(night, "rinse") if e.piece == name]
        for first, second in ((treat.start, rinse.start), (treat.end, rinse.end)):
            acts = (second - first).total_seconds()
            assert dwell <= acts <= wet


def test_what_is_above_is_finished_before_what_is_below(night: Timeline) -> None:
    above = [e for e in night.entries if e.piece.startswith("front-above") and e.action != "brush"]
    below = [e for e in night.entries if e.piece.startswith("front-below") and e.action != "brush"]
    pairs = [(a, b) for a in above for b in below if min(a.right, b.right) - max(a.left, b.left) > 0.1]
    assert pairs
    assert all(a.end <= b.start for a, b in pairs)


def test_walls_come_before_the_walk_and_glass_comes_last_on_its_stretch(night: Timeline) -> None:
    walls_done = max(e.end for e in night.entries if e.part == "front" and e.action in ("rinse", "power rinse"))
    floor = by_action(night, "trim") + by_action(night, "surface clean")
    assert floor
    assert all(e.start >= walls_done for e in floor)
    for glass in by_action(night, "rinse glass"):
        under = [e for e in floor if min(e.right, glass.right) - max(e.left, glass.left) > 0.1]
        assert under
        assert all(e.end <= glass.start for e in under)


def test_nothing_is_done_at_a_door_while_people_use_it(night: Timeline) -> None:
    """The bar closes at 21:40; its door stands from 40 to 46 ft along."""
    door = 40 * 0.3048, 46 * 0.3048
    wet = [e for e in night.entries if e.along == "front" and e.action not in ("hose", "look", "mind")]
    near = [e for e in wet if e.left < door[1] and e.right > door[0]]
    assert near
    assert all(e.start >= at_clock(e, 21, 40) or e.start.day == 12 for e in near)


def test_walk_first_break_down_last_looks_near_the_end(night: Timeline) -> None:
    (walk, after) = sorted(pieces(by_action(night, "walk")), key=lambda e: e.start)
    (down,) = pieces(by_action(night, "break down"))
    wet = [e for e in night.entries if e.action in ("treat", "rinse", "power rinse", "surface clean", "rinse glass")]
    looks = pieces(by_action(night, "look"))
    assert walk.end <= min(e.start for e in wet)
    assert len(looks) == 2
    assert all(e.start >= max(w.end for w in wet) for e in looks)
    assert after.start >= max(e.end for e in looks)
    assert down.end == max(e.end for e in night.entries if e.action != "drive")


def test_planting_is_soaked_before_and_rinsed_after(night: Timeline) -> None:
    (soak, rinse) = sorted(by_action(night, "plants"), key=lambda e: e.start)
    treats = by_action(night, "treat")
    machine = [e for e in night.entries if e.machine]
    assert soak.end <= min(e.start for e in treats)
    assert rinse.start >= max(e.end for e in machine)


def test_the_shift_counts_the_drive(night: Timeline) -> None:
    (span,) = night.nights
    assert span.arrives - span.leaves == timedelta(minutes=20)
    assert span.shift == pytest.approx(span.on_site + 40 * 60)
    assert span.shift <= 10 * 3600


def test_dark_after_sunset(night: Timeline) -> None:
    """Around 11 July the sun sets near 20:35 local time there, so that the whole night is dark."""
    assert all(e.dark for e in night.entries if e.action not in ("drive",))


def test_same_inputs_same_timeline(night: Timeline) -> None:
    assert timeline() == night


def test_a_long_night_has_a_break_for_all_before_the_sixth_hour() -> None:
    long = SITE.replace("end: [60, 0]", "end: [150, 0]").replace("[60, 0], [60, 40]", "[150, 0], [150, 40]")
    found = timeline(long.replace("start: [60, 0], end: [60, 40]", "start: [150, 0], end: [150, 40]"))
    (span,) = found.nights
    assert span.on_site > 5.5 * 3600
    breaks = by_action(found, "break")
    assert {e.person for e in breaks} == {1, 2}
    assert len({(e.start, e.end) for e in breaks}) == 1
    assert breaks[0].start - found.nights[0].arrives <= timedelta(hours=5.5)
    assert breaks[0].end - breaks[0].start == timedelta(minutes=30)
    assert span.ends - breaks[0].end <= timedelta(hours=5.5)


def test_quiet_hours_stop_the_machine_and_leave_for_it_is_asked() -> None:
    quiet = SITE.replace("buildings:", 'quiet_hours: {start: "22:00", end: "06:00"}\nbuildings:')
    found = timeline(quiet)
    assert not found.holds
    assert "outside the quiet hours" in found.reasons[0]
    assert any("quiet hours" in ask for ask in found.asks)
    running = [e for e in found.entries if e.machine and e.quiet]
    assert running
    early = timeline(quiet, NIGHT.replace("21:00", "08:00").replace("05:00", "16:00"))
    assert early.holds
    assert not any(e.machine and e.quiet for e in early.entries)


def test_a_night_too_short_says_by_how_much_and_what_would_do() -> None:
    found = timeline(night_text=NIGHT.replace("05:00", "23:00"))
    assert not found.holds
    assert found.reasons
    fitting = [each for each in found.relaxations if each.fits]
    assert fitting
    assert found.asks == fitting[0].asks
    later = next(each for each in found.relaxations if len(each.asks) == 1 and "later" in each.asks[0])
    assert later.fits
    assert found.finish is not None
    alone = [each for each in found.relaxations if len(each.asks) == 1 and not each.fits]
    assert all(each.lacks >= 0 for each in alone)


def test_a_moved_end_is_the_least_that_does() -> None:
    """The ask is in steps of half an hour: half an hour less would not hold the work."""
    found = timeline(night_text=NIGHT.replace("05:00", "23:00"))
    later = next(each for each in found.relaxations if "later" in each.asks[0])
    until = later.asks[0].rsplit(" ", 1)[-1]
    held = timeline(night_text=NIGHT.replace("05:00", until))
    assert held.holds
    before = (datetime.strptime(until, "%H:%M") - timedelta(minutes=30)).strftime("%H:%M")
    assert not timeline(night_text=NIGHT.replace("05:00", before)).holds


def test_a_second_night_sets_up_again_and_drives_home_between() -> None:
    found = timeline(night_text=NIGHT.replace("21:00", "20:30").replace("05:00", "00:00"), nights=2)
    assert len(found.nights) == 2
    assert len(pieces(by_action(found, "set up"))) == len(pieces(by_action(found, "break down"))) == 2
    assert len(by_action(found, "drive")) == 8
    assert found.nights[1].arrives - found.nights[0].arrives == timedelta(days=1)


def test_third_person_and_second_machine_never_end_later(night: Timeline) -> None:
    assert night.finish is not None
    more = timeline(machines=2)
    assert more.finish is not None
    assert more.finish <= night.finish
    assert max(
        sum(a.start <= e.start < a.end for a in pieces(more.entries) if a.machine) for e in more.entries if e.machine
    ) == 2  # fmt: skip


def test_no_tap_means_stops_to_fill_the_tank() -> None:
    dry = SITE.replace("taps: [{id: tap, at: [30, 41], flow: 8 gal/min}]\n", "")
    found = timeline(dry, NIGHT.replace("21:00", "20:00").replace("05:00", "06:00"), shift=12.0)
    fills = pieces(by_action(found, "fill tank"))
    assert len(fills) == found.refills > 0
    machine = [e for e in pieces(found.entries) if e.machine and e.action != "fill tank"]
    assert all(f.end <= e.start or e.end <= f.start for f in fills for e in machine)


def test_a_promise_far_off_is_surer_than_one_at_dawn() -> None:
    soon = timeline(promise=Promise(datetime(2026, 7, 12, 6, 30)))
    later = timeline(promise=Promise(datetime(2026, 7, 13, 9, 0)))
    assert soon.readiness is not None
    assert later.readiness is not None
    assert soon.readiness.ready is not None
    assert later.readiness.ready is not None
    assert 0.0 <= soon.readiness.ready <= later.readiness.ready <= 1.0
    assert later.readiness.spare_nights == 1
    assert soon.readiness.spare_nights == 0
    assert soon.readiness.with_one_more is not None
    assert soon.readiness.ready <= soon.readiness.with_one_more
    assert soon.readiness.latest_look == soon.readiness.visit - timedelta(minutes=20)
    assert soon.readiness.finish_p50 <= soon.readiness.finish_p80


def test_by_daylight_the_last_look_waits_for_the_sun() -> None:
    """Sunrise there is near 05:55 on 12 July: a visit at 06:00 leaves no daylight for a look of 20 minutes."""
    dark = timeline(promise=Promise(datetime(2026, 7, 12, 6, 0), by_daylight=False)).readiness
    light = timeline(promise=Promise(datetime(2026, 7, 12, 6, 0), by_daylight=True)).readiness
    assert dark is not None
    assert light is not None
    assert dark.ready is not None
    assert dark.ready > 0.5
    assert light.ready == 0.0


def test_an_owner_who_comes_before_the_work_is_refused() -> None:
    with pytest.raises(InputError) as refusal:
        timeline(promise=Promise(datetime(2026, 7, 11, 12, 0)))
    assert refusal.value.problems[0].code == "promise-order"


def test_no_machine_or_no_night_is_refused() -> None:
    for more in ({"machines": 0}, {"nights": 0}):
        with pytest.raises(InputError):
            timeline(**more)
