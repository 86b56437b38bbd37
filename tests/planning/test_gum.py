"""Gum by spot: classes at doors, bearings on the plan, minutes and price; the jet's shares are tested in science."""

import math
from decimal import Decimal

import numpy as np
import pytest

from sightwash.planning.ground import plan_ground_takeoff
from sightwash.planning.gum import plan_gum
from sightwash.science.doors import opening_share
from sightwash.site.shapes import placed_walls

WALK = {
    "buildings": [{"id": "shop", "outline": [[0, 0], [60, 0], [60, 40], [0, 40]], "height": 16}],
    "walls": [
        {
            "id": "front", "building": "shop", "start": [0, 0], "end": [60, 0], "height": 16,
            "doors": [{"id": "door", "left": 28, "width": 3, "height": 7, "threshold": "0.5 in"}],
        }
    ],
    "surfaces": [{"id": "walk", "along": "front", "width": 10, "material": "concrete"}],
}  # fmt: skip
RIG = {
    "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi", "hot": True},
    "surface_cleaners": [{"id": "twenty", "diameter": "20 in", "edge_gap": "1 in"}],
}


def spots(make, *at, rig=RIG, **site):
    document = make("site", **(WALK | {"gum": [{"id": "gum", "surface": "walk", "at": [list(p) for p in at]}]} | site))
    machine = make("rig", **rig)
    walls = placed_walls(document)
    ground = plan_ground_takeoff(document, walls, machine.surface_cleaners[0] if machine.surface_cleaners else None)
    return [spot for spot in plan_gum(document, walls, ground, machine, make("rates")) if spot.at]


def test_classes_by_place(make):
    """Before the door 4 ft out a jet has bearings; a foot before it none; in the open the hot cleaner goes over it."""
    found = spots(make, (29.5, -4.5), (29.5, -1.0), (10, -5), (10, -0.04))
    kinds = [spot.how for spot in found]
    assert kinds == ["wand from allowed bearings", "scraper", "surface cleaner", "wand"]
    assert [spot.door for spot in found] == ["door", "door", None, None]


def test_cold_water_leaves_gum_in_the_open_to_the_wand(make):
    (spot,) = spots(make, (10, -5), rig=RIG | {"machine": {"flow": "5.5 gal/min", "pressure": "3500 psi"}})
    assert spot.how == "wand"


def test_sector_turns_the_jet_away_from_the_door(make):
    """The wall looks south, so straight at it is north: allowed bearings lie round south, alike on both sides."""
    (spot,) = spots(make, (29.5, -4.5))
    sector = spot.sector
    assert 80.0 < sector.first < sector.best < sector.last < 280.0
    assert (sector.first + sector.last) / 2.0 == pytest.approx(180.0, abs=1e-6)
    assert sector.share <= 0.1 * sector.square
    way = np.array([math.sin(math.radians(sector.best)), math.cos(math.radians(sector.best))])
    stand = (np.array(sector.stand) - np.array(spot.at)) / math.dist(sector.stand, spot.at)
    assert stand == pytest.approx(-way, abs=1e-6)
    assert sector.stand[1] <= -0.3


def test_share_of_the_best_bearing_is_that_of_the_jet(make):
    """The bearing on the plan, turned back to the door, gives the same share by the science function."""
    (spot,) = spots(make, (28.0, -4.5))
    turned = spot.sector.best if spot.sector.best <= 180.0 else spot.sector.best - 360.0
    out, offset = 4.5 * 0.3048, 1.5 * 0.3048
    share = opening_share(45.0, turned, 3 * 0.3048, out, offset)
    assert spot.sector.share == pytest.approx(share, abs=1e-9)
    worst = max(opening_share(45.0, bearing, 3 * 0.3048, out, offset) for bearing in range(-90, 91))
    assert spot.sector.square == pytest.approx(worst, rel=1e-3)


def test_ground_that_falls_to_the_door_and_flush_thresholds_take_no_jet(make):
    falling = WALK["surfaces"][0] | {"fall": {"slope": "2 %", "toward": "0 deg"}}
    assert spots(make, (29.5, -4.5), surfaces=[falling])[0].how == "scraper"
    flush = [WALK["walls"][0] | {"doors": [{"id": "door", "left": 28, "width": 3, "height": 7}]}]
    assert spots(make, (29.5, -2.8), walls=flush)[0].how == "scraper"


def test_nobody_is_sent_to_stand_in_a_planter(make):
    """Beds all round the spot leave no place behind the jet."""
    beds = [
        {"id": f"bed-{n}", "outline": [[x, y], [x + w, y], [x + w, y + h], [x, y + h]], "kind": "bed", "height": 2}
        for n, (x, y, w, h) in enumerate([(22, -9, 6, 8.9), (31, -9, 6, 8.9), (28, -9.5, 3, 3)])
    ]
    assert spots(make, (29.5, -4.0), planting=beds)[0].how == "scraper"


def test_many_spots_before_one_door_go_to_the_low_water_machine(make):
    at = [(28.0 + 0.25 * number, -0.6) for number in range(12)]
    assert {spot.how for spot in spots(make, *at)} == {"low-water machine"}


def test_gum_on_ground_that_is_not_washed_is_left(make):
    found = spots(make, (29.5, -4.5), (10, -5), surfaces=[WALK["surfaces"][0] | {"wash": False}])
    assert [spot.how for spot in found] == ["leave", "leave"]
    assert all(spot.time == 0.0 and spot.price == Decimal("0.00") for spot in found)


def test_minutes_and_price_by_hand(make):
    """60 spots an hour at 24.00 an hour, margin 30 % on the price: 60 s and 0.40 / 0.7 = 0.58 rounded up."""
    (spot,) = spots(make, (29.5, -1.0))
    assert spot.time == pytest.approx(60.0)
    assert spot.price == Decimal("0.58")


def test_counts_add_up_to_the_take_off(demo):
    walls = placed_walls(demo["site"])
    ground = plan_ground_takeoff(demo["site"], walls, demo["rig"].surface_cleaners[0])
    found = plan_gum(demo["site"], walls, ground, demo["rig"], demo["rates"])
    work = next(gum for surface in ground for gum in surface.gum)
    assert sum(spot.spots for spot in found) == pytest.approx(work.open_spots + work.door_spots)
    assert sum(spot.at is not None for spot in found) == 5
