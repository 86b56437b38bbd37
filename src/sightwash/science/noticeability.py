"""How noticeable a patch is: angular height, acuity, legibility, contrast, and one ordering of patches.

The total orders patches against each other. It is not a measurement: a telephone's photograph is no photometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range

ARC_MINUTE = 1.0 / 60.0


class Noticed(NamedTuple):
    """Weighted time, gate, contrast share and solid angle from one viewpoint, and their product."""

    weighted_time: float
    gate: float
    contrast: float
    solid_angle: float
    product: float


class Noticeability(NamedTuple):
    """The sum over viewpoints and its pieces."""

    total: float
    pieces: tuple[Noticed, ...]


def angular_height(height: float, centre_height: float, eye_height: float, distance: float) -> float:
    """Angle that a strip of wall fills from top to bottom.

    ``atan((z + h/2 - he) / D) - atan((z - h/2 - he) / D)``

    Parameters
    ----------
    height : float
        Height of the strip [m]
    centre_height : float
        Height of the strip's middle above the eye's datum [m]
    eye_height : float
        Height of the eye above the same datum [m]
    distance : float
        Distance of the eye from the wall [m]

    Returns
    -------
    float
        Angle [deg]

    Raises
    ------
    OutOfRange
        If the height is negative or the distance is not above zero.

    Notes
    -----
    Range: exact for an upright strip straight ahead.

    References
    ----------
    angular-size

    Examples
    --------
    >>> round(angular_height(1.0, 12.0, 3.5, 60.0) * 60, 2)
    56.17
    """
    check_range("height", height, "m", least=0.0)
    check_range("centre_height", centre_height, "m")
    check_range("eye_height", eye_height, "m")
    check_range("distance", distance, "m", above=0.0)
    up = centre_height - eye_height
    return math.degrees(math.atan((up + height / 2.0) / distance) - math.atan((up - height / 2.0) / distance))


def smallest_height_seen(distance: float, angle: float = ARC_MINUTE) -> float:
    """Size of the smallest detail that an eye resolves at a distance.

    ``h = D tan a``

    Parameters
    ----------
    distance : float
        Distance of the eye [m]
    angle : float
        Angle that the eye resolves; one arc minute for 20/20 [deg]

    Returns
    -------
    float
        Size [m]

    Raises
    ------
    OutOfRange
        If the distance is negative or the angle is not between 0 and 90 degrees.

    Notes
    -----
    Range: good light and full contrast.

    References
    ----------
    acuity-standard

    Examples
    --------
    >>> round(smallest_height_seen(1200.0), 4)
    0.3491
    """
    check_range("distance", distance, "m", least=0.0)
    check_range("angle", angle, "deg", above=0.0, below=90.0)
    return distance * math.tan(math.radians(angle))


def acuity_letter_height(distance: float, stroke_angle: float = ARC_MINUTE, strokes: float = 5.0) -> float:
    """Height of the smallest letter that an eye reads at a distance.

    ``h = 2 D tan(n a / 2)``

    Parameters
    ----------
    distance : float
        Distance of the eye [m]
    stroke_angle : float
        Angle of one stroke that the eye resolves; one arc minute for 20/20 [deg]
    strokes : float
        Strokes in a letter's height [-]

    Returns
    -------
    float
        Height of the letter [m]

    Raises
    ------
    OutOfRange
        If the distance is negative, or the angle or the strokes are not above zero.

    Notes
    -----
    Range: good light and full contrast; signs are made about twice as large.

    References
    ----------
    acuity-standard

    Examples
    --------
    >>> round(acuity_letter_height(6.096) * 1000, 3)
    8.866
    """
    check_range("distance", distance, "m", least=0.0)
    check_range("stroke_angle", stroke_angle, "deg", above=0.0, below=10.0)
    check_range("strokes", strokes, "-", above=0.0, most=10.0)
    return 2.0 * distance * math.tan(math.radians(strokes * stroke_angle) / 2.0)


def letter_angle(legibility_index: float) -> float:
    """Angle of a letter at the distance to which a legibility index says it is read.

    ``a = 2 atan(1 / (2 LI))``

    Parameters
    ----------
    legibility_index : float
        Distance as a multiple of letter height; 30 ft an inch is 360 [-]

    Returns
    -------
    float
        Angle of the letter's height [deg]

    Raises
    ------
    OutOfRange
        If the index is not above zero.

    Notes
    -----
    Range: an index of 687.5 is the 20/20 limit of 5 arc minutes.

    References
    ----------
    legibility-index

    Examples
    --------
    >>> round(letter_angle(30 * 12) * 60, 3), round(letter_angle(40 * 12) * 60, 3)
    (9.549, 7.162)
    """
    check_range("legibility_index", legibility_index, "-", above=0.0)
    return math.degrees(2.0 * math.atan(0.5 / legibility_index))


def acuity_gate(angle: float, unseen: float = ARC_MINUTE, seen: float = 2.0 * ARC_MINUTE) -> float:
    """Whether a patch is large enough to be seen at all, from 0 to 1.

    ``g = min(1, max(0, (a - a0) / (a1 - a0)))``

    Parameters
    ----------
    angle : float
        Smaller angular side of the patch [deg]
    unseen : float
        Angle up to which nobody sees it; one arc minute is 20/20 [deg]
    seen : float
        Angle from which a driver with 20/40 sees it [deg]

    Returns
    -------
    float
        Gate [-]

    Raises
    ------
    OutOfRange
        If the angle is negative or the limits are not above zero and in order.

    Notes
    -----
    Range: good light; the ramp between the limits is a convention.

    References
    ----------
    acuity-standard

    Examples
    --------
    >>> round(acuity_gate(1.5 / 60.0), 9)
    0.5
    """
    check_range("angle", angle, "deg", least=0.0)
    check_range("unseen", unseen, "deg", above=0.0)
    check_range("seen", seen, "deg", above=unseen)
    return min(1.0, max(0.0, (angle - unseen) / (seen - unseen)))


def contrast_share(
    contrast: float,
    solid_angle: float,
    threshold: float = 0.01,
    critical_angle: float = 10.0 * ARC_MINUTE,
    field_factor: float = 7.0,
) -> float:
    """Contrast of a patch as a share of what is plainly seen in the field.

    ``c = min(1, C / (k Ct))``

    Ct is constant for large patches (Weber) and grows as 1 / solid angle below the critical size (Ricco).

    Parameters
    ----------
    contrast : float
        Weber contrast of the patch, its luminance difference over the background's [-]
    solid_angle : float
        Solid angle of the patch [sr]
    threshold : float
        Contrast at which a large patch is just seen in a laboratory by day [-]
    critical_angle : float
        Diameter of the disc below which size and contrast trade one for one [deg]
    field_factor : float
        Times the laboratory's threshold that is plainly seen outdoors; 5 to 10 [-]

    Returns
    -------
    float
        Share from 0 to 1 [-]

    Raises
    ------
    OutOfRange
        If the contrast or the solid angle is negative or another argument is not above zero.

    Notes
    -----
    Range: daylight; the three defaults are from memory and only order patches.

    References
    ----------
    ricco-law
    weber-threshold

    Examples
    --------
    >>> round(contrast_share(0.035, 0.01), 6)
    0.5
    """
    check_range("contrast", contrast, "-", least=0.0)
    check_range("solid_angle", solid_angle, "sr", least=0.0)
    check_range("threshold", threshold, "-", above=0.0)
    check_range("critical_angle", critical_angle, "deg", above=0.0, below=90.0)
    check_range("field_factor", field_factor, "-", above=0.0)
    critical = math.pi / 4.0 * math.radians(critical_angle) ** 2
    return min(1.0, contrast / (field_factor * threshold) * min(1.0, solid_angle / critical))


def noticeability(
    weights: Sequence[float],
    times: Sequence[float],
    gates: Sequence[float],
    contrasts: Sequence[float],
    solid_angles: Sequence[float],
) -> Noticeability:
    """One number that orders patches by how much they are noticed, and its pieces.

    ``N = sum w T g c O``

    The sum runs over the public viewpoints.

    Parameters
    ----------
    weights : sequence of float
        People or vehicles a day at each viewpoint [-]
    times : sequence of float
        Time in view at each viewpoint [s]
    gates : sequence of float
        Acuity gate at each viewpoint, from 0 to 1 [-]
    contrasts : sequence of float
        Contrast share at each viewpoint, from 0 to 1 [-]
    solid_angles : sequence of float
        Solid angle of the visible part at each viewpoint [sr]

    Returns
    -------
    total : float
        Total, in people times seconds times steradians a day [-]
    pieces : tuple of Noticed
        Weighted time, gate, contrast share, solid angle and their product at each viewpoint [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length or a number lies outside its range.

    Notes
    -----
    Range: for ranking patches seen from the same viewpoints; the total itself means nothing.

    References
    ----------
    noticeability-order

    Examples
    --------
    >>> round(noticeability([100.0], [6.0], [1.0], [0.5], [0.01]).total, 9)
    3.0
    """
    lengths = {len(part) for part in (weights, times, gates, contrasts, solid_angles)}
    if len(lengths) != 1:
        raise OutOfRange("weights", sorted(lengths), "lists of one length, one entry a viewpoint")
    pieces = []
    for weight, time, gate, contrast, angle in zip(weights, times, gates, contrasts, solid_angles, strict=True):
        check_range("weights", weight, "-", least=0.0)
        check_range("times", time, "s", least=0.0)
        check_range("gates", gate, "-", least=0.0, most=1.0)
        check_range("contrasts", contrast, "-", least=0.0, most=1.0)
        check_range("solid_angles", angle, "sr", least=0.0, most=4.0 * math.pi)
        pieces.append(Noticed(weight * time, gate, contrast, angle, weight * time * gate * contrast * angle))
    return Noticeability(math.fsum(piece.product for piece in pieces), tuple(pieces))
