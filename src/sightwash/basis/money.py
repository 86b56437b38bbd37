"""Money as Decimal: rounded to the cent once, and shared so that parts sum to the whole."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
ZERO = Decimal("0.00")


def to_cents(amount: Decimal | float | int | str) -> Decimal:
    """Return an amount rounded half up to the cent; a float is read by its shortest text.

    >>> to_cents(1.005)
    Decimal('1.01')
    """
    exact = amount if isinstance(amount, Decimal) else Decimal(str(amount))
    return exact.quantize(CENT, rounding=ROUND_HALF_UP)


def round_up_to(amount: Decimal, step: Decimal) -> Decimal:
    """Return the smallest multiple of ``step``, in whole cents, that is not below ``amount``.

    >>> round_up_to(Decimal("812.40"), Decimal("5"))
    Decimal('815.00')
    """
    if not step.is_finite() or step <= 0 or step % CENT:
        raise ValueError("step must be whole cents above zero")
    return to_cents((amount / step).to_integral_value(rounding=ROUND_CEILING) * step)


def share(total: Decimal, weights: Sequence[float | Decimal]) -> tuple[Decimal, ...]:
    """Split ``total`` over ``weights`` in whole cents that sum to it exactly (largest remainder).

    A total below zero, such as a credit, is split as its opposite; a weight of zero gets nothing.

    >>> share(Decimal("100.00"), [1, 1, 1])
    (Decimal('33.34'), Decimal('33.33'), Decimal('33.33'))
    """
    exact_weights = [Decimal(str(weight)) for weight in weights]
    if not all(weight.is_finite() and weight >= 0 for weight in exact_weights) or not any(exact_weights):
        raise ValueError("weights must be finite, non-negative and not all zero")
    if total < 0:
        return tuple(-part for part in share(-total, weights))
    whole = sum(exact_weights, Decimal(0))
    cents = to_cents(total) / CENT
    exact = [cents * weight / whole for weight in exact_weights]
    parts = [part.to_integral_value(rounding=ROUND_FLOOR) for part in exact]
    left = int(cents - sum(parts))
    order = sorted(range(len(parts)), key=lambda i: (parts[i] - exact[i], i))
    for i in order[:left]:
        parts[i] += 1
    return tuple(to_cents(part * CENT) for part in parts)
