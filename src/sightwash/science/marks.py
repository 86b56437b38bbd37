"""Areas of painted words and arrows, from plain strokes.

A block letter stands on a grid four units high and two wide; its strokes are straight::

    4 +---+      N: 0,0 to 0,4 to 2,0 to 2,4
      |\\  |
    0 | \\ |
      0   2
"""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range
from sightwash.science.tables import table_rows

GRID_HEIGHT = 4.0
GRID_WIDTH = 2.0


@cache
def _strokes() -> dict[str, tuple[tuple[tuple[float, float], ...], ...]]:
    """Return the strokes of every letter as corners on the grid."""
    return {
        row["letter"]: tuple(
            tuple((float(x), float(y)) for x, y in (corner.split(",") for corner in stroke.split("-")))
            for stroke in row["strokes"].split(";")
        )
        for row in table_rows("block_letters")
    }


def letter_strokes(text: str, height: float, width: float = 0.6) -> float:
    """Length of the strokes that a text in block letters needs.

    ``L = h sum of strokes, on a grid as wide as w h``

    Parameters
    ----------
    text : str
        Words to paint; letters, figures and hyphens [-]
    height : float
        Height of a letter [m]
    width : float
        Width of a letter as a share of its height [-]

    Returns
    -------
    float
        Length of all strokes along their middles [m]

    Raises
    ------
    OutOfRange
        If the height or the width is not above zero, or a sign of the text has no strokes.

    Notes
    -----
    Range: plain block letters; a real stencil differs by a tenth or two.

    References
    ----------
    block-letters

    Examples
    --------
    >>> round(letter_strokes("IL", 1.0), 3)
    2.6
    """
    check_range("height", height, "m", above=0.0)
    check_range("width", width, "-", above=0.0)
    strokes = _strokes()
    length = 0.0
    for sign in text.upper():
        if sign.isspace():
            continue
        if sign not in strokes:
            raise OutOfRange("text", text, "letters A to Z, figures and hyphens")
        for stroke in strokes[sign]:
            for (x, y), (u, v) in pairwise(stroke):
                length += math.hypot((u - x) * width / GRID_WIDTH, (v - y) / GRID_HEIGHT)
    return length * height


def letter_area(text: str, height: float, stroke_share: float = 1.0 / 6.0, width: float = 0.6) -> float:
    """Painted area of a text in block letters.

    ``A = L s h``

    Corners where strokes meet count twice.

    Parameters
    ----------
    text : str
        Words to paint; letters, figures and hyphens [-]
    height : float
        Height of a letter [m]
    stroke_share : float
        Width of a stroke as a share of the height; one city asks for 3 in at 18 in [-]
    width : float
        Width of a letter as a share of its height [-]

    Returns
    -------
    float
        Painted area [m2]

    Raises
    ------
    OutOfRange
        If a size is not above zero or a sign of the text has no strokes.

    Notes
    -----
    Range: strokes much narrower than the letter; an upper value.

    References
    ----------
    block-letters
    everett-fire-lane

    Examples
    --------
    >>> round(letter_area("I", 0.6), 4)
    0.06
    """
    check_range("stroke_share", stroke_share, "-", above=0.0, most=0.5)
    return letter_strokes(text, height, width) * stroke_share * height


def arrow_area(length: float, shaft_width: float, head_length: float, head_width: float) -> float:
    """Painted area of a straight arrow: a shaft and a triangle.

    ``A = (l - h) w + h b / 2``

    Parameters
    ----------
    length : float
        Length from tail to tip [m]
    shaft_width : float
        Width of the shaft [m]
    head_length : float
        Length of the head [m]
    head_width : float
        Width of the head [m]

    Returns
    -------
    float
        Painted area [m2]

    Raises
    ------
    OutOfRange
        If a size is not above zero, the head is longer than the arrow or narrower than the shaft.

    Notes
    -----
    Range: straight arrows; measure a turn arrow by its strokes.

    References
    ----------
    block-letters

    Examples
    --------
    >>> arrow_area(3.0, 0.2, 1.0, 0.6)
    0.7
    """
    check_range("shaft_width", shaft_width, "m", above=0.0)
    check_range("head_width", head_width, "m", least=shaft_width)
    check_range("length", length, "m", above=0.0)
    check_range("head_length", head_length, "m", above=0.0, most=length)
    return (length - head_length) * shaft_width + head_length * head_width / 2.0
