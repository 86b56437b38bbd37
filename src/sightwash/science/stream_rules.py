"""Old rules for the reach of fire streams, for comparison with the two-stage jet."""

from __future__ import annotations

import warnings

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.basis.units import FOOT, INCH, PSI
from sightwash.science._numbers import above_zero


def effective_stream_range(bore: float, pressure: float) -> float:
    """Horizontal range of a good fire stream by an old rule of the fire service.

    ``S = p/2 + 26`` ft for 3/4 in, p in psi, and 5 ft more for each further 1/8 in

    Parameters
    ----------
    bore : float
        Bore of the smooth nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]

    Returns
    -------
    float
        Range of the effective stream [m]

    Raises
    ------
    OutOfRange
        If an input is not above zero.

    Notes
    -----
    Range: bores of 3/4 to 1-3/8 in above 30 psi, to about 100; warns beyond. Far too long for small tips.

    References
    ----------
    fire-engineering-1960

    Examples
    --------
    >>> round(effective_stream_range(0.0254, 50 * 6894.757) / 0.3048)
    61
    """
    above_zero("bore", bore, "m")
    above_zero("pressure", pressure, "Pa")
    steps = (bore / INCH - 0.75) * 8.0
    psi = pressure / PSI
    if not (-0.01 <= steps <= 5.01 and 29.9 <= psi <= 100.1):
        warnings.warn("the rule holds for 3/4 to 1-3/8 in and 30 to 100 psi", OutsidePublishedRange, stacklevel=2)
    return (psi / 2.0 + 26.0 + 5.0 * steps) * FOOT
