"""What an injector draws at another flow than that of its bucket test."""

from __future__ import annotations

from typing import NamedTuple

from sightwash.science._limits import above_zero, within


class DrawBand(NamedTuple):
    """Share of the nozzle flow that is drawn stock, least and most [-]."""

    least: float
    most: float


def draw_band(draw: float, tested_flow: float, flow: float) -> DrawBand:
    """Share drawn at a flow, between a draw that stays as tested and one that goes with the flow.

    ``s_1 = q / Q_test,  s_2 = q / Q``

    Parameters
    ----------
    draw : float
        Flow of stock drawn in the bucket test [L/s]
    tested_flow : float
        Flow out of the nozzle in the test, draw included [L/s]
    flow : float
        Flow out of the nozzle now [L/s]

    Returns
    -------
    least : float
        The smaller share [-]
    most : float
        The larger share, at most 1 [-]

    Raises
    ------
    OutOfRange
        If the draw is above the tested flow or a flow not above zero.

    Notes
    -----
    Range: flows within about a fifth of the test's; a new tip or hose asks for a new test.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> band = draw_band(0.5, 5.5, 5.0)
    >>> round(band.least, 4), round(band.most, 4)
    (0.0909, 0.1)
    """
    above_zero("tested_flow", tested_flow, "L/s")
    above_zero("flow", flow, "L/s")
    within("draw", draw, 0.0, tested_flow, f"0 to the tested flow, {tested_flow:g} L/s")
    shares = (draw / tested_flow, min(draw / flow, 1.0))
    return DrawBand(min(shares), max(shares))
