"""From where a wall looks largest and which stretches of it are seen, held against closed forms.

Closed forms: similar triangles; the solid angle of a rectangle seen square through its middle, which is the integral
of cos/r2 over it; by symmetry it is largest from before the middle.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sightwash.planning.largest_view import largest_view, plan_sight_fans, spans_of
from sightwash.site.eyes import Eye
from sightwash.site.ground import Post
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.walls import Wall

EMPTY = Site("site", 1, "a", "A")


def rectangle(a: float, b: float, distance: float) -> float:
    """Solid angle of a rectangle seen square through its middle: 4 atan(ab / (2D sqrt(4D2 + a2 + b2)))."""
    return 4.0 * math.atan(a * b / (2.0 * distance * math.sqrt(4.0 * distance**2 + a**2 + b**2)))


def test_a_wall_looks_largest_from_before_its_middle() -> None:
    wall = Wall("w", start=(10.0, 0.0), end=(30.0, 0.0), height=6.0)
    (placed,) = placed_walls(replace(EMPTY, walls=(wall,)))
    road = Eye("road", "road", ((-80.0, -25.0), (70.0, -25.0)), height=3.0)
    fan = largest_view(placed, (), road)
    assert fan.place == pytest.approx((20.0, -25.0, 3.0))
    assert fan.solid_angle == pytest.approx(rectangle(20.0, 6.0, 25.0), rel=1e-12)
    assert fan.spans == ((0.0, 20.0),)


def test_a_fan_names_the_stretches_seen_beside_a_pillar() -> None:
    """A pillar 1 m wide, its face 4 m before the eye and 5.5 m before the wall, hides 1 x 9.5/4 m of it."""
    wall = Wall("w", start=(0.0, 0.0), end=(10.0, 0.0), height=4.0)
    pillar = Post("p", (5.0, -5.0), 1.0, 50.0, round=False)
    site = replace(EMPTY, walls=(wall,), posts=(pillar,))
    walls = placed_walls(site)
    eyes = (Eye("e", "entrance", ((5.0, -9.5),), height=1.0), Eye("c", "crew", ((5.0, -9.5),)))
    (fan,) = plan_sight_fans(walls, solids(site, walls), eyes)
    half = 0.5 * 9.5 / 4.0
    assert [end for span in fan.spans for end in span] == pytest.approx([0.0, 5.0 - half, 5.0 + half, 10.0])
    behind = (Eye("e", "entrance", ((5.0, 9.5),)),)
    assert plan_sight_fans(walls, solids(site, walls), behind) == ()


def test_spans_join_where_pieces_overlap() -> None:
    def bar(left: float, right: float, low: float) -> tuple[tuple[tuple[float, float], ...], ...]:
        return (((left, low), (right, low), (right, low + 1.0), (left, low + 1.0)),)

    assert spans_of((bar(4, 6, 0), bar(0, 2, 0), bar(1, 3, 2))) == ((0, 3), (4, 6))
    assert spans_of(()) == ()
