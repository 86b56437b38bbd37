"""The price of anything that is offered beside the base: one sum, used for marking, gum and pads."""

from __future__ import annotations

from decimal import Decimal

from sightwash.basis.money import round_up_to
from sightwash.site.rates import Rates


def add_on_price(rates: Rates, hours: float, materials: Decimal) -> Decimal:
    """Return a price from working hours and materials by the firm's own burden, overhead and margin."""
    wage = rates.labour.wage * (1 + Decimal(repr(float(rates.labour.burden))))
    cost = (wage * Decimal(repr(hours)) + materials) * (1 + Decimal(repr(float(rates.overhead))))
    return round_up_to(cost / (1 - Decimal(repr(float(rates.margin)))), rates.rounding or Decimal("0.01"))
