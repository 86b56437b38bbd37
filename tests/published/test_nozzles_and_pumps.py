"""Lecture slides "Nozzles and pumps" (slideplayer.com/slide/4179859) [published].

Twice the flow needs four times the pressure; replace a tip that flows 10 % over its rating.
"""

import pytest

from sightwash.science import tips


def test_twice_the_flow_needs_four_times_the_pressure():
    assert tips.nozzle_pressure(4, 0.4) == pytest.approx(4 * tips.nozzle_pressure(4, 0.2))


def test_a_tip_due_for_replacement_holds_0_826_of_its_pressure():
    # The rule's 10 %; 1/1.1^2 by hand.
    assert tips.worn_pressure(1.0, 0.10) == pytest.approx(0.826, abs=5e-4)
