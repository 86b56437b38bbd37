"""Tips: what comes out at which pressure through the hoses, held against nozzle arithmetic and another program.

- Size number of a tip: gal/min at 4000 psi, so p = 4000 (q / N)^2 psi (closed form; the trade's own definition).
- Loss in hose: the program ``fluids`` (independent program), ``friction_factor`` and Darcy's law with the roughness and
  viscosity that the plan's own defaults state.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from fluids.friction import friction_factor
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.planning.tips import POWER_RINSE, SOFT, TipPoint, choose_tip, tip_point
from sightwash.planning.visit import VisitPlan

PSI = 6894.757293168
GPM = 3.785411784 / 60.0
RISE = 9.80665 * 998.2 * 2.0
"""Push of 2 m of water, the height that tips are worked out at [Pa]."""
FT = 0.3048
REEL = [{"id": "reel", "length": "150 ft", "bore": "3/8 in"}, {"id": "whip", "length": "50 ft", "bore": "3/8 in"}]


def rig_of(make: Any, *tips: dict[str, Any], flow: str = "5.5 gal/min", **more: Any) -> Any:
    machine = {"flow": flow, "pressure": "3500 psi", **more.pop("machine", {})}
    return make("rig", machine=machine, hoses=more.pop("hoses", REEL), tips=list(tips), **more)


def working(rig: Any, speed: float = 1.0) -> TipPoint:
    return tip_point(rig, rig.tips[0], "treat", speed, 2.0, True, "")


def loss_by_fluids(flow: float, length: float, bore: float) -> float:
    """Return the loss of a smooth hose with water at 20 degC [psi] for a flow in L/s."""
    speed = flow / 1000.0 / (math.pi / 4.0 * bore**2)
    factor = friction_factor(Re=speed * bore / 1.004e-6, eD=1.5e-6 / bore)
    return float(factor * length / bore * 998.2 * speed**2 / 2.0 / PSI)


@pytest.mark.parametrize(
    ("gallons", "size", "psi"), [(8.0, 40, 160.0), (5.5, 40, 75.625), (5.5, 22, 250.0), (4.0, 8, 1000.0)]
)
def test_pressure_at_the_tip(make: Any, gallons: float, size: float, psi: float) -> None:
    """p = 4000 (q / N)^2: 8 gal/min through size 40 is 160 psi, whatever the hose takes before it."""
    assert 4000 * (gallons / size) ** 2 == pytest.approx(psi)
    point = working(rig_of(make, {"id": "tip", "size": size}, flow=f"{gallons} gal/min"))
    assert point.tip_pressure / PSI == pytest.approx(psi, rel=1e-6)
    assert point.flow / GPM == pytest.approx(gallons, rel=1e-9)
    assert point.bypass_flow == pytest.approx(0.0, abs=1e-9)


def test_loss_in_two_hundred_feet(make: Any) -> None:
    """200 ft of 3/8 in hose at 5.5 gal/min lose about 239 psi; the pump also lifts the water 2 m."""
    point = working(rig_of(make, {"id": "tip", "size": 40}))
    by_fluids = loss_by_fluids(5.5 * GPM, 200 * FT, 0.375 * 0.0254)
    assert by_fluids == pytest.approx(239, rel=0.01)
    assert point.hose_loss / PSI == pytest.approx(by_fluids, rel=0.01)
    assert point.pump_pressure == pytest.approx(point.tip_pressure + point.hose_loss + RISE, rel=2e-3)


def test_where_the_unloader_opens(make: Any) -> None:
    """Size 4 cannot pass 5.5 gal/min at 3000 psi: the pump stays at 3000, the rest goes round."""
    point = working(rig_of(make, {"id": "tip", "size": 4}, machine={"unloader": "3000 psi"}))
    assert point.pump_pressure / PSI == pytest.approx(3000, rel=1e-6)
    assert point.flow / GPM == pytest.approx(4 * math.sqrt(point.tip_pressure / PSI / 4000), rel=1e-6)
    assert point.bypass_flow / GPM == pytest.approx(5.5 - point.flow / GPM, rel=1e-6)
    lost = loss_by_fluids(point.flow, 200 * FT, 0.375 * 0.0254)
    assert point.tip_pressure / PSI == pytest.approx(3000 - lost - RISE / PSI, rel=2e-3)


def test_a_slower_engine_gives_less(make: Any) -> None:
    """Half the flow is a quarter of the pressure."""
    rig = rig_of(make, {"id": "tip", "size": 40}, flow="8 gal/min")
    assert working(rig, 0.5).tip_pressure / PSI == pytest.approx(40.0, rel=1e-6)


def test_without_hoses_a_plain_reel_is_taken(make: Any) -> None:
    given_reel = working(rig_of(make, {"id": "tip", "size": 40}))
    assumed = working(rig_of(make, {"id": "tip", "size": 40}, hoses=[]))
    assert assumed.hose_loss == pytest.approx(given_reel.hose_loss, rel=1e-9)


def test_a_cleaner_counts_its_tips(make: Any) -> None:
    """Two tips of size 3 pass as much as one of size 6: 4000 (5.5 / 6)^2 = 3361 psi."""
    rig = rig_of(make, {"id": "bar", "size": 3, "use": "cleaner", "count": 2}, machine={"unloader": "4000 psi"})
    point = tip_point(rig, rig.tips[0], "cleaner", 1.0, 2.0, True, "")
    assert point.tip_pressure / PSI == pytest.approx(4000 * (5.5 / 6) ** 2, rel=1e-6)


def test_the_tip_that_fits_the_band_is_chosen(make: Any) -> None:
    """At 5.5 gal/min size 40 gives 76 psi, size 22 250 psi, size 9 1494 psi."""
    tips = [{"id": f"size-{n}", "size": n, "fan": 25} for n in (9, 22, 40)]
    rig = rig_of(make, *tips)
    soft, power = choose_tip(rig, "soft rinse", SOFT, 400 * PSI), choose_tip(rig, "power rinse", POWER_RINSE, 400 * PSI)
    assert soft is not None
    assert power is not None
    assert (soft.tip, power.tip) == ("size-40", "size-22")
    assert soft.engine_speed == power.engine_speed == 1.0
    assert soft.within
    assert power.within


def test_the_engine_is_slowed_to_keep_a_limit(make: Any) -> None:
    """Size 40 at 8 gal/min gives 160 psi; for 100 psi it runs at 40 sqrt(100 / 4000) / 8 = 79 %."""
    rig = rig_of(make, {"id": "tip", "size": 40, "fan": 25}, flow="8 gal/min")
    point = choose_tip(rig, "soft rinse", SOFT, 400 * PSI)
    assert point is not None
    assert point.engine_speed == pytest.approx(math.sqrt(100 / 4000) * 40 / 8, rel=1e-6)
    assert point.tip_pressure / PSI == pytest.approx(100.0, rel=1e-6)


def test_no_tip_that_would_be_too_strong_even_at_the_slowest(make: Any) -> None:
    """Size 4 at half of 5.5 gal/min still gives 1890 psi: no tip rather than a wrong one."""
    rig = rig_of(make, {"id": "tip", "size": 4})
    assert choose_tip(rig, "soft rinse", SOFT, 400 * PSI) is None


sizes = st.sampled_from([1.5, 3.0, 4.0, 5.5, 9.0, 15.0, 22.0, 30.0, 40.0, 60.0, 100.0])


@settings(max_examples=80)
@given(
    numbers=st.lists(sizes, min_size=1, max_size=5),
    flow=st.sampled_from([0.5, 2.0, 4.0, 5.5, 8.0, 12.0, 40.0]),
    pressure=st.sampled_from([200, 1000, 3000, 4000]),
    speed=st.sampled_from([50, 80, 100]),
    highest=st.sampled_from([60, 100, 200, 250, 300, 400, 800, 1500, 3000]),
    band=st.sampled_from([SOFT, POWER_RINSE, (1000 * PSI, 1200 * PSI)]),
    throw=st.booleans(),
)
def test_no_chosen_tip_ever_exceeds_the_limit(
    make: Any, numbers: Any, flow: float, pressure: int, speed: int, highest: int, band: Any, throw: bool
) -> None:
    tips = [{"id": f"tip-{k}", "size": n, "fan": 25 * (k % 2)} for k, n in enumerate(numbers)]
    rig = rig_of(
        make, *tips, flow=f"{flow} gal/min", machine={"pressure": f"{pressure} psi", "engine_speed": f"{speed} %"}
    )
    point = choose_tip(rig, "soft rinse", band, highest * PSI, throw)
    if point is None:
        return
    assert point.tip_pressure <= min(highest * PSI, band[1]) * 1.0011
    assert point.engine_speed <= max(speed / 100.0, 0.5) + 1e-9
    assert point.flow <= flow * GPM * (1 + 1e-9)
    assert point.pump_pressure <= pressure * PSI * (1 + 1e-6) or point.bypass_flow >= 0
    assert point.flow + point.bypass_flow == pytest.approx(flow * GPM * point.engine_speed, rel=1e-6)
    assert point.flow / GPM == pytest.approx(point.size * math.sqrt(point.tip_pressure / PSI / 4000), rel=1e-6)
    assert point.within == (point.tip_pressure >= min(band[0], highest * PSI) * 0.999)


def test_the_demo_tips_say_their_arithmetic(demo_plan: VisitPlan) -> None:
    points = [tip for m in demo_plan.methods for tip in (m.treat, m.rinse, m.power_rinse) if tip is not None]
    points += demo_plan.water.tips
    assert points
    for tip in points:
        assert tip.flow / GPM == pytest.approx(tip.size * math.sqrt(tip.tip_pressure / PSI / 4000), rel=1e-6)
        assert tip.flow <= 5.5 * GPM * tip.engine_speed * (1 + 1e-9)
        reaction = 998.2 * tip.flow / 1000 * math.sqrt(2 * tip.tip_pressure / 998.2)
        assert tip.reaction == pytest.approx(reaction, rel=2e-3)
        assert tip.why.rule
