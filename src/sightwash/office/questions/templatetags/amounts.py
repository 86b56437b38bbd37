"""Amounts of money as people read them."""

from __future__ import annotations

from decimal import Decimal

from django import template

register = template.Library()


@register.filter
def amount(value: Decimal | str) -> str:
    """Return an amount with thousands marked, to the cent.

    >>> amount(Decimal("2340"))
    '2,340.00'
    """
    return f"{Decimal(value):,.2f}"
