"""Markup on cost and margin on price, which are not the same share."""

from __future__ import annotations

from sightwash.science._range import check_range


def markup_of_margin(margin: float) -> float:
    """Markup on cost that gives a margin on price.

    ``m = g / (1 - g)``

    Parameters
    ----------
    margin : float
        Margin as a share of the price [-]

    Returns
    -------
    float
        Markup as a share of the cost [-]

    Raises
    ------
    OutOfRange
        If the margin is not below 1.

    Notes
    -----
    Range: every margin below 1; a loss is negative in both.

    References
    ----------
    markup-margin

    Examples
    --------
    >>> round(markup_of_margin(0.35), 4)
    0.5385
    """
    check_range("margin", margin, "-", below=1.0)
    return margin / (1.0 - margin)


def margin_of_markup(markup: float) -> float:
    """Margin on price that a markup on cost gives.

    ``g = m / (1 + m)``

    Parameters
    ----------
    markup : float
        Markup as a share of the cost [-]

    Returns
    -------
    float
        Margin as a share of the price [-]

    Raises
    ------
    OutOfRange
        If the markup is not above -1.

    Notes
    -----
    Range: every markup above -1; a loss is negative in both.

    References
    ----------
    markup-margin

    Examples
    --------
    >>> margin_of_markup(0.25)
    0.2
    """
    check_range("markup", markup, "-", above=-1.0)
    return markup / (1.0 + markup)
