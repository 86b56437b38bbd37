"""What a discount does to the margin and to the profit."""

from __future__ import annotations

from sightwash.science._range import check_range


def margin_after_discount(margin: float, discount: float) -> float:
    """Margin that is left of a price when it is cut and the cost is not.

    ``g' = (g - d) / (1 - d)``

    Parameters
    ----------
    margin : float
        Margin g as a share of the full price [-]
    discount : float
        Discount d as a share of the full price [-]

    Returns
    -------
    float
        Margin as a share of the reduced price [-]

    Raises
    ------
    OutOfRange
        If the margin is not below 1 or the discount not from 0 to below 1.

    Notes
    -----
    Range: the cost stays as it is.

    References
    ----------
    discount-margin

    Examples
    --------
    >>> round(margin_after_discount(0.30, 0.10), 4)
    0.2222
    """
    check_range("margin", margin, "-", below=1.0)
    check_range("discount", discount, "-", least=0.0, below=1.0)
    return (margin - discount) / (1.0 - discount)


def work_to_make_up(margin: float, discount: float) -> float:
    """Further work needed at the reduced price to earn the profit that the full price would have earned.

    ``v = d / (g - d)``

    Parameters
    ----------
    margin : float
        Margin g as a share of the full price [-]
    discount : float
        Discount d as a share of the full price, below the margin [-]

    Returns
    -------
    float
        Further work as a share of the work at the full price [-]

    Raises
    ------
    OutOfRange
        If the margin is not below 1 or the discount not from 0 to below the margin.

    Notes
    -----
    Range: every job costs the same share of its price.

    References
    ----------
    discount-margin

    Examples
    --------
    >>> round(work_to_make_up(0.30, 0.10), 4)
    0.5
    """
    check_range("margin", margin, "-", above=0.0, below=1.0)
    check_range("discount", discount, "-", least=0.0, below=margin)
    return discount / (margin - discount)
