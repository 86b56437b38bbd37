"""One way to refuse a number that lies where a formula does not hold."""

from __future__ import annotations

import math

from sightwash.basis.errors import OutOfRange


def check_range(
    parameter: str,
    value: float,
    unit: str,
    *,
    above: float | None = None,
    least: float | None = None,
    below: float | None = None,
    most: float | None = None,
) -> None:
    """Raise OutOfRange unless ``value`` is finite and inside the bounds; ``unit`` is "-" for a pure number."""
    inside = (
        math.isfinite(value)
        and (above is None or value > above)
        and (least is None or value >= least)
        and (below is None or value < below)
        and (most is None or value <= most)
    )
    if inside:
        return
    mark = "" if unit == "-" else f" {unit}"
    words = (("above", above), ("at least", least), ("below", below), ("at most", most))
    bounds = " and ".join(f"{word} {bound:g}{mark}" for word, bound in words if bound is not None)
    raise OutOfRange(parameter, value, f"a finite number{' ' if bounds else mark and ' in' + mark}{bounds}")
