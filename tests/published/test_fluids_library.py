"""fluids, an open library by C. Bell and contributors [independent program].

Printed examples of its documentation, then runs of the installed program over grids.
"""

import fluids
import numpy as np
import pytest
from fluids import drag as peer_drag
from fluids import friction as peer_friction

from sightwash.science import drops, friction, hose

PSI = 6894.757293
GPM = 3.785411784 / 60
INCH = 0.0254
REYNOLDS = np.geomspace(500.0, 1e7, 25)
ROUGHNESS = [0.0, 1e-5, 1e-4, 1e-3, 1e-2, 4e-2]


def test_printed_friction_factors():
    assert friction.churchill_friction(1e5, 1e-4) == pytest.approx(0.018462625, abs=1e-8)
    assert friction.swamee_jain_friction(1e5, 1e-4) == pytest.approx(0.018452424, abs=1e-8)
    # Colebrook's own value for the same case: each explicit form is within half a percent.
    assert friction.churchill_friction(1e5, 1e-4) == pytest.approx(0.018513866, rel=5e-3)


def test_printed_drag_coefficient():
    assert drops.clift_gauvin_drag(200.0) == pytest.approx(0.79054004, abs=1e-7)


def test_printed_friction_factor_on_a_coil():
    # 0.022961996738387523 at Re 1e5, bore 0.02 m, coil 0.5 m; the straight factor is the printed one of smooth pipe.
    straight = peer_friction.friction_factor(Re=1e5, eD=0.0)
    assert friction.coiled_friction(straight, 1e5, 0.02, 0.5) == pytest.approx(0.022961996738387523, rel=1e-9)


@pytest.mark.parametrize("roughness", ROUGHNESS)
def test_churchill_over_a_grid(roughness):
    expected = [peer_friction.Churchill_1977(r, roughness) for r in REYNOLDS]
    assert friction.churchill_friction(REYNOLDS, roughness) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("roughness", [1e-5, 1e-4, 1e-3, 1e-2])
def test_swamee_jain_over_a_grid(roughness):
    turbulent = REYNOLDS[REYNOLDS > 5e3]
    expected = [peer_friction.Swamee_Jain_1976(r, roughness) for r in turbulent]
    assert friction.swamee_jain_friction(turbulent, roughness) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("bore", [0.25, 0.3125, 0.375, 0.5, 0.625, 0.75])
@pytest.mark.parametrize("gpm", [2, 4, 5.5, 8, 10])
def test_hose_loss_against_colebrook(bore, gpm):
    speed = gpm * GPM / 1000 / (np.pi / 4 * (bore * INCH) ** 2)
    reynolds = fluids.Reynolds(V=speed, D=bore * INCH, nu=1.004e-6)
    factor = peer_friction.Colebrook(reynolds, 1.5e-6 / (bore * INCH))
    expected = fluids.dP_from_K(fluids.K_from_f(fd=factor, L=30.48, D=bore * INCH), rho=998.0, V=speed)
    assert hose.darcy_loss(gpm * GPM, 30.48, bore * INCH) == pytest.approx(expected, rel=0.02)


def test_three_eighths_hose_at_5_5_gallons():
    # Check value 119.5 psi for 100 ft.
    speed = 5.5 * GPM / 1000 / (np.pi / 4 * (0.375 * INCH) ** 2)
    factor = peer_friction.Churchill_1977(fluids.Reynolds(V=speed, D=0.375 * INCH, nu=1.004e-6), 1.5e-6 / 0.009525)
    expected = fluids.dP_from_K(fluids.K_from_f(fd=factor, L=30.48, D=0.375 * INCH), rho=998.0, V=speed)
    assert expected / PSI == pytest.approx(119.5, rel=0.01)
    assert hose.darcy_loss(5.5 * GPM, 30.48, 0.375 * INCH) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("coil", [0.2, 0.5, 1.5])
@pytest.mark.parametrize("reynolds", [1.8e4, 5e4, 1.4e5])
def test_coiled_hose_over_a_grid(coil, reynolds):
    straight = peer_friction.friction_factor(Re=reynolds, eD=1e-4)
    expected = peer_friction.helical_turbulent_fd_Schmidt(reynolds, 0.01, coil, 1e-6)
    assert friction.coiled_friction(straight, reynolds, 0.01, coil) == pytest.approx(expected, rel=1e-9)


def test_sphere_drag_over_a_grid():
    reynolds = np.geomspace(1e-3, 2e5, 40)
    expected = [peer_drag.Clift_Gauvin(float(r)) for r in reynolds]
    assert drops.clift_gauvin_drag(reynolds) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("diameter", [0.05e-3, 0.2e-3, 0.5e-3, 1e-3, 2e-3])
def test_fall_of_spheres(diameter):
    peer = peer_drag.v_terminal(D=diameter, rhop=998.0, rho=1.204, mu=1.82e-5, Method="Clift_Gauvin")
    assert drops.sphere_fall_speed(diameter) == pytest.approx(peer, rel=1e-3)
    drift = drops.drop_drift(diameter, 3.0, 0.0)
    speed, fallen = peer_drag.integrate_drag_sphere(
        D=diameter, rhop=998.0, rho=1.204, mu=1.82e-5, t=drift.time, V=0, Method="Clift_Gauvin", distance=True
    )
    assert fallen == pytest.approx(3.0, rel=2e-3)
    assert drift.speed == pytest.approx(speed, rel=2e-3)


def test_a_handbooks_sphere_by_another_law():
    # Printed: 70 um of 2600 kg/m3 in water falls at 0.0041424972 m/s, by another law of drag, a few percent apart.
    ours = drops.sphere_fall_speed(70e-6, 2600.0, 1000.0, 1e-3)
    assert ours == pytest.approx(0.0041424972, rel=0.05)
