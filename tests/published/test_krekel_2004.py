"""Calls on the mean of four equally correlated lognormals (published).

Krekel, de Kock, Korn and Man, "An analysis of pricing methods for basket options", Wilmott Magazine 2004, 82-89,
table for varying correlation: four shares at 100, strike 100, volatility 40 %, five years, no interest. The printed
prices are the mean of max(S - 100, 0) over the very distribution that ``simulated_sums`` draws: tasks with one
common cause.
"""

import math

import numpy as np
import pytest

from sightwash.science.simulation import correlated_sum_spread, simulated_sums

PRICES = {0.1: 21.6921, 0.3: 25.0293, 0.5: 28.0074, 0.7: 30.7427, 0.8: 32.0412, 0.95: 33.9187}
SIGMA = 0.4 * math.sqrt(5.0)
MUS, SIGMAS = [math.log(100.0) - SIGMA**2 / 2] * 4, [SIGMA] * 4
DRAWS = 400_000


@pytest.mark.parametrize(("correlation", "price"), PRICES.items())
def test_price_of_a_basket(correlation, price):
    (basket,) = simulated_sums(MUS, SIGMAS, [[0.25] * 4], correlation, DRAWS, 7)
    payoff = np.maximum(basket - 100.0, 0.0)
    mean = correlated_sum_spread(MUS, SIGMAS, [0.25] * 4, correlation).mean
    assert mean == pytest.approx(100.0)
    # the exact mean of the basket takes most of the noise out
    slope = np.cov(payoff, basket)[0, 1] / basket.var()
    steadied = payoff - slope * (basket - mean)
    assert steadied.mean() == pytest.approx(price, abs=4 * steadied.std() / math.sqrt(DRAWS))
    assert steadied.std() / math.sqrt(DRAWS) < 0.08
