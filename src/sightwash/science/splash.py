"""Rain that splashes back on a wall, and the clearances that building rules ask for because of it.

No measured distribution of height on a wall was found. The exponential law with a height of 0.1 m is a
judgement that agrees with the rules' 150 to 300 mm; where a gutter overflows, measure the soiled band.
"""

from __future__ import annotations

from typing import Final

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import STANDARD_GRAVITY
from sightwash.science._numbers import Real, above_zero, exponential, natural_log, not_negative, root, within
from sightwash.science.tables import figures

SPLASH_HEIGHT: Final = 0.1
"""Height over which the share of splash falls to 1/e; a judgement [m]."""


def splash_share_above(height: Real, scale: float = SPLASH_HEIGHT) -> Real:
    """Share of the splash on a wall that lands above a height.

    ``I(z) = exp(-z / z0)``

    Parameters
    ----------
    height : float or array
        Height above the paving [m]
    scale : float
        Height over which the share falls to 1/e, z0 [m]

    Returns
    -------
    float or array
        Share above the height [-]

    Raises
    ------
    OutOfRange
        If the height is negative or the scale not above zero.

    Notes
    -----
    Range: rain on paving before a wall; z0 was chosen to match building rules, not measured.

    References
    ----------
    splash-judgement
    van-dijk-2002

    Examples
    --------
    >>> round(splash_share_above(0.15), 2), round(splash_share_above(0.30), 2)
    (0.22, 0.05)
    """
    not_negative("height", height, "m")
    above_zero("scale", scale, "m")
    return exponential(-height / scale)


def splash_height(share: Real, scale: float = SPLASH_HEIGHT) -> Real:
    """Height that a given share of the splash on a wall passes.

    ``z = -z0 ln(I)``

    Parameters
    ----------
    share : float or array
        Share of the splash that lands higher [-]
    scale : float
        Height over which the share falls to 1/e, z0 [m]

    Returns
    -------
    float or array
        Height above the paving [m]

    Raises
    ------
    OutOfRange
        If the share is not above zero and up to 1, or the scale not above zero.

    Notes
    -----
    Range: as ``splash_share_above``.

    References
    ----------
    splash-judgement

    Examples
    --------
    Nine tenths lands below 9 in:

    >>> round(splash_height(0.10) / 0.0254, 1)
    9.1
    """
    within("share", share, 1e-12, 1.0, "of the splash")
    above_zero("scale", scale, "m")
    return -scale * natural_log(share)


def splash_launch_speed(height: Real) -> Real:
    """Speed at which a drop must leave the paving to rise to a height.

    ``v = sqrt(2 g h)``

    Parameters
    ----------
    height : float or array
        Height of rise [m]

    Returns
    -------
    float or array
        Launch speed [m/s]

    Raises
    ------
    OutOfRange
        If the height is negative.

    Notes
    -----
    Range: no drag, so the least speed; a 3 mm raindrop lands at about 8 m/s.

    References
    ----------
    ballistic

    Examples
    --------
    >>> [round(splash_launch_speed(height), 1) for height in (0.15, 0.30, 0.60)]
    [1.7, 2.4, 3.4]
    """
    not_negative("height", height, "m")
    return root(2.0 * STANDARD_GRAVITY * height)


def published_clearance(rule: str) -> float:
    """Height above the ground that a building rule keeps clear of splash.

    Parameters
    ----------
    rule : str
        ``siding-ground``, ``siding-slab``, ``framing-foundation``, ``foundation-veneer``, ``foundation-other``,
        ``stucco-earth``, ``stucco-paved``, ``damp-course``, ``plinth-splash``, or the judgements ``soiled-usual``
        and ``soiled-drip`` [-]

    Returns
    -------
    float
        Height above the ground [m]

    Raises
    ------
    OutOfRange
        If the table has no such rule.

    Notes
    -----
    Range: rules for new buildings; what local code says comes first.

    References
    ----------
    irc-r317-1
    irc-r404-1-6
    irc-r703
    uk-damp-course
    din-18533-1
    splash-judgement

    Examples
    --------
    >>> round(published_clearance("siding-ground") / 0.0254, 3)
    6.0
    """
    rows = figures("splash_clearances")
    if rule not in rows:
        raise OutOfRange("rule", rule, "one of " + ", ".join(rows))
    return rows[rule].value
