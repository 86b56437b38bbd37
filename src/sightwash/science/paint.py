"""Pavement paint: film, coverage, line length, volume and beads."""

from __future__ import annotations

from sightwash.basis.units import FOOT, GALLON, POUND
from sightwash.science._range import check_range

UFGS_COVERAGE = 105.0 * FOOT**2 / GALLON  # m2/L
UFGS_BEADS = 6.0 * POUND / GALLON  # kg/L


def coverage_of_film(wet_film: float) -> float:
    """Area that a volume of paint covers at a wet film thickness.

    ``C = 1 / t``

    Parameters
    ----------
    wet_film : float
        Wet film thickness [m]

    Returns
    -------
    float
        Area a volume [m2/L]

    Raises
    ------
    OutOfRange
        If the film is not above zero.

    Notes
    -----
    Range: a smooth surface and no loss; rough pavement takes more.

    References
    ----------
    paint-film

    Examples
    --------
    >>> round(coverage_of_film(0.001 * 0.0254) / (0.3048**2 / 3.785411784))
    1604
    """
    check_range("wet_film", wet_film, "m", above=0.0)
    return 0.001 / wet_film


def wet_film_of_coverage(coverage: float = UFGS_COVERAGE) -> float:
    """Wet film thickness that a coverage lays down.

    ``t = 1 / C``

    Parameters
    ----------
    coverage : float
        Area a volume of paint covers [m2/L]

    Returns
    -------
    float
        Wet film thickness [m]

    Raises
    ------
    OutOfRange
        If the coverage is not above zero.

    Notes
    -----
    Range: a smooth surface and no loss.

    References
    ----------
    paint-film
    ufgs-02763a

    Examples
    --------
    >>> round(wet_film_of_coverage() / 0.0000254, 1)
    15.3
    """
    check_range("coverage", coverage, "m2/L", above=0.0)
    return 0.001 / coverage


def dry_film(wet_film: float, solids: float) -> float:
    """Dry film thickness left by a wet film.

    ``d = t s``

    Parameters
    ----------
    wet_film : float
        Wet film thickness [m]
    solids : float
        Share of solids by volume, from the paint's data sheet [-]

    Returns
    -------
    float
        Dry film thickness [m]

    Raises
    ------
    OutOfRange
        If the film is not above zero or the share is not above 0 and at most 1.

    Notes
    -----
    Range: unthinned paint.

    References
    ----------
    paint-film

    Examples
    --------
    >>> round(dry_film(0.000381, 0.6), 7)
    0.0002286
    """
    check_range("wet_film", wet_film, "m", above=0.0)
    check_range("solids", solids, "-", above=0.0, most=1.0)
    return wet_film * solids


def line_length_of_volume(line_width: float, coverage: float = UFGS_COVERAGE) -> float:
    """Length of line that a volume of paint marks.

    ``L/V = C / w``

    Parameters
    ----------
    line_width : float
        Width of the line [m]
    coverage : float
        Area a volume of paint covers [m2/L]

    Returns
    -------
    float
        Length of line a volume [m/L]

    Raises
    ------
    OutOfRange
        If the width or the coverage is not above zero.

    Notes
    -----
    Range: one coat of an unbroken line.

    References
    ----------
    ufgs-02763a

    Examples
    --------
    >>> round(line_length_of_volume(4 * 0.0254) * 3.785411784 / 0.3048)
    315
    """
    check_range("line_width", line_width, "m", above=0.0)
    check_range("coverage", coverage, "m2/L", above=0.0)
    return coverage / line_width


def paint_volume(line_length: float, line_width: float, coverage: float = UFGS_COVERAGE, coats: int = 1) -> float:
    """Volume of paint for a length of line.

    ``V = n L w / C``

    Parameters
    ----------
    line_length : float
        Length of line [m]
    line_width : float
        Width of the line [m]
    coverage : float
        Area a volume of paint covers [m2/L]
    coats : int
        Coats [-]

    Returns
    -------
    float
        Paint, without what stays in pots and hoses [L]

    Raises
    ------
    OutOfRange
        If the length is negative, the width or the coverage is not above zero, or there is no coat.

    Notes
    -----
    Range: clean, dry pavement; air and pavement within the paint's own limits.

    References
    ----------
    ufgs-02763a

    Examples
    --------
    >>> round(paint_volume(378 * 0.3048, 4 * 0.0254) / 3.785411784, 2)
    1.2
    """
    check_range("line_length", line_length, "m", least=0.0)
    check_range("line_width", line_width, "m", above=0.0)
    check_range("coverage", coverage, "m2/L", above=0.0)
    check_range("coats", coats, "-", least=1)
    return coats * line_length * line_width / coverage


def bead_mass(volume: float, bead_rate: float = UFGS_BEADS) -> float:
    """Mass of glass beads dropped on a volume of reflective paint.

    ``m = V k``

    Parameters
    ----------
    volume : float
        Volume of paint that takes beads [L]
    bead_rate : float
        Beads a volume of paint; 6 lb/gal in the guide specification [kg/L]

    Returns
    -------
    float
        Beads [kg]

    Raises
    ------
    OutOfRange
        If the volume or the rate is negative.

    Notes
    -----
    Range: beads dropped on wet paint; 5.5 to 6.5 lb/gal in the guide specification.

    References
    ----------
    ufgs-02763a

    Examples
    --------
    >>> round(bead_mass(1.2 * 3.785411784) / 0.45359237, 1)
    7.2
    """
    check_range("volume", volume, "L", least=0.0)
    check_range("bead_rate", bead_rate, "kg/L", least=0.0)
    return volume * bead_rate
