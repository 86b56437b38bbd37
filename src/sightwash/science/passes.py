"""Paths of a round head: the shortest possible, back and forth, and what back and forth misses."""

from __future__ import annotations

import math
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range

_WHOLE = 1e-9  # a ratio this near above a whole number is that number


class BackAndForth(NamedTuple):
    """A back-and-forth path: passes, turn-arounds between them, pitch, overlap as a share, and length."""

    passes: int
    turns: int
    pitch: float
    overlap: float
    length: float


def shortest_path(area: float, head_width: float) -> float:
    """Length below which no path of a round head covers an area.

    ``L = (A - pi w2 / 4) / w``

    A disc of width w sweeps at most ``w L`` beyond where it starts.

    Parameters
    ----------
    area : float
        Area to cover [m2]
    head_width : float
        Width that the head cleans [m]

    Returns
    -------
    float
        Lower bound of the path's length [m]

    Raises
    ------
    OutOfRange
        If the area is negative or the width is not above zero.

    Notes
    -----
    Range: every shape of area; the bound is met only where no ground is swept twice.

    References
    ----------
    tube-formula

    Examples
    --------
    >>> round(shortest_path(2.0, 1.0), 6)
    1.214602
    """
    check_range("area", area, "m2", least=0.0)
    check_range("head_width", head_width, "m", above=0.0)
    return max(0.0, (area - math.pi * head_width**2 / 4.0) / head_width)


def pass_count(across: float, head_width: float, overlap: float = 0.0) -> int:
    """Number of parallel passes that cover a strip from edge to edge.

    ``n = 1 + ceil((b - w) / (w (1 - o)))``

    Without overlap that is ``ceil(b / w)``.

    Parameters
    ----------
    across : float
        Size of the strip across the passes [m]
    head_width : float
        Width that the head cleans [m]
    overlap : float
        Share of the width by which neighbouring passes must overlap at least [-]

    Returns
    -------
    int
        Passes [-]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the overlap is not from 0 to below 1.

    Notes
    -----
    Range: straight passes, the first and the last along the strip's edges.

    References
    ----------
    back-and-forth

    Examples
    --------
    >>> pass_count(11.0, 20 / 12)
    7
    """
    check_range("across", across, "m", above=0.0)
    check_range("head_width", head_width, "m", above=0.0)
    check_range("overlap", overlap, "-", least=0.0, below=1.0)
    rest = (across - head_width) / (head_width * (1.0 - overlap))
    return 1 + max(0, math.ceil(rest - _WHOLE))


def back_and_forth(along: float, across: float, head_width: float, overlap: float = 0.0) -> BackAndForth:
    """Back-and-forth path over a rectangle, its passes spread evenly.

    ``L = n (a - w) + (b - w); pitch = (b - w) / (n - 1)``

    Parameters
    ----------
    along : float
        Size of the rectangle along the passes [m]
    across : float
        Size of the rectangle across the passes [m]
    head_width : float
        Width that the head cleans [m]
    overlap : float
        Share of the width by which neighbouring passes must overlap at least [-]

    Returns
    -------
    passes : int
        Passes [-]
    turns : int
        Turn-arounds between them [-]
    pitch : float
        Distance between neighbouring passes [m]
    overlap : float
        Overlap that results, as a share of the width [-]
    length : float
        Length of the path [m]

    Raises
    ------
    OutOfRange
        If the rectangle is narrower than the head, or the overlap is not from 0 to below 1.

    Notes
    -----
    Range: both sides at least the head's width; passes along the longer side make the fewest turns.

    References
    ----------
    back-and-forth

    Examples
    --------
    >>> path = back_and_forth(100.0, 10.0, 20 / 12)
    >>> path.passes, path.turns, round(path.length, 4)
    (6, 5, 598.3333)
    """
    check_range("head_width", head_width, "m", above=0.0)
    check_range("along", along, "m", least=head_width)
    check_range("across", across, "m", least=head_width)
    passes = pass_count(across, head_width, overlap)
    pitch = (across - head_width) / (passes - 1) if passes > 1 else 0.0
    kept = max(0.0, 1.0 - pitch / head_width) if passes > 1 else 0.0
    return BackAndForth(passes, passes - 1, pitch, kept, passes * (along - head_width) + (across - head_width))


def missed_by_passes(passes: int, pitch: float, radius: float) -> float:
    """Area of a rectangle that a back-and-forth path misses: four corners and one cusp a turn.

    ``A = (4 - pi) r2 + (n - 1) (p r - (p/2) sqrt(r2 - p2/4) - r2 asin(p / (2 r)))``

    Parameters
    ----------
    passes : int
        Passes n [-]
    pitch : float
        Distance p between neighbouring passes [m]
    radius : float
        Radius r that the head cleans [m]

    Returns
    -------
    float
        Area missed; one lap along the two ends takes the cusps away, not the corners [m2]

    Raises
    ------
    OutOfRange
        If there is no pass, the radius is not above zero, or the pitch is wider than the head.

    Notes
    -----
    Range: pitch from 0 to twice the radius; at twice the radius a cusp is ``(2 - pi/2) r2``.

    References
    ----------
    back-and-forth

    Examples
    --------
    >>> round(missed_by_passes(6, 20.0, 10.0) / 144, 5)
    2.08641
    """
    check_range("passes", passes, "-", least=1)
    check_range("radius", radius, "m", above=0.0)
    check_range("pitch", pitch, "m", least=0.0)
    if pitch > 2.0 * radius * (1.0 + _WHOLE):
        raise OutOfRange("pitch", pitch, f"at most the head's width, {2.0 * radius:g} m")
    half = min(pitch / 2.0, radius)
    cusp = 2.0 * half * radius - half * math.sqrt(radius**2 - half**2) - radius**2 * math.asin(half / radius)
    return (4.0 - math.pi) * radius**2 + (passes - 1) * cusp
