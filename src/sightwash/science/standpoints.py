"""Where an eye must be to see over a canopy: the sightline turned round.

All heights are above the wall's foot; ``distance`` and ``depth`` are measured square to the wall.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sightwash.science._range import check_range
from sightwash.science.sightlines import Interval, hidden_height


def stand_back_distances(
    wall_heights: ArrayLike, edge_height: float, eye_height: float, depth: float
) -> NDArray[np.float64]:
    """Distance from the wall at which an eye just sees each height over a canopy's edge.

    ``D = d + d (h_t - h_e) / (z - h_t)``

    Parameters
    ----------
    wall_heights : ArrayLike
        Heights to be seen, above the wall's foot [m]
    edge_height : float
        Height of the canopy's outer top edge above the wall's foot [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]

    Returns
    -------
    NDArray[np.float64]
        Distance for each height; infinite for a height at or below the edge that no distance shows [m]

    Raises
    ------
    OutOfRange
        If the depth is negative or a number is not finite.

    Notes
    -----
    Range: level ground; an eye at or above the edge sees every height above it from the edge outward.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> stand_back_distances([11, 12, 10], 10, 3.5, 6).tolist()
    [45.0, 25.5, inf]
    """
    z = np.asarray(wall_heights, float)
    check_range("wall_heights", float(z.sum()), "m")
    check_range("depth", depth, "m", least=0)
    check_range("edge_height", edge_height, "m")
    check_range("eye_height", eye_height, "m")
    above = z > edge_height
    over = np.where(above, z - edge_height, 1.0)
    needed = depth + depth * max(0.0, edge_height - eye_height) / over
    return np.where(above, needed, np.inf)


def stand_back_distance(wall_height: float, edge_height: float, eye_height: float, depth: float) -> float:
    """Distance from the wall at which an eye just sees a height over a canopy's edge.

    ``D = d + d (h_t - h_e) / (z - h_t)``

    Parameters
    ----------
    wall_height : float
        Height to be seen, above the wall's foot [m]
    edge_height : float
        Height of the canopy's outer top edge above the wall's foot [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]

    Returns
    -------
    float
        Least distance that shows the height [m]

    Raises
    ------
    OutOfRange
        If the height is not above the edge, the depth is negative, or a number is not finite.

    Notes
    -----
    Range: level ground; height above the edge.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> stand_back_distance(11, 10, 3.5, 6)
    45.0
    """
    check_range("wall_height", wall_height, "m", above=edge_height)
    return float(stand_back_distances([wall_height], edge_height, eye_height, depth)[0])


def eye_height_on_slope(eye_height: float, fall: float, distance: float) -> float:
    """Eye height over the wall's foot where the ground falls away evenly from the wall.

    ``h = h_e - s D``

    Parameters
    ----------
    eye_height : float
        Height of the eye above the ground under it [m]
    fall : float
        Fall of the ground away from the wall, 0.02 for 2 %; negative where it rises [-]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Height of the eye above the wall's foot [m]

    Raises
    ------
    OutOfRange
        If the distance is negative or a number is not finite.

    Notes
    -----
    Range: one even slope from the wall to the eye.

    References
    ----------
    straight-grade

    Examples
    --------
    >>> round(eye_height_on_slope(3.5, 0.02, 60), 6)
    2.3
    """
    check_range("eye_height", eye_height, "m")
    check_range("fall", fall, "-")
    check_range("distance", distance, "m", least=0)
    return eye_height - fall * distance


def missed_band(
    edge_height: float,
    depth: float,
    public_eye: float,
    public_distance: float,
    crew_eye: float,
    crew_distance: float,
) -> Interval:
    """Band of wall above a canopy that one eye sees and another does not.

    From ``h_t + H(public)`` up to ``h_t + H(crew)``.

    Parameters
    ----------
    edge_height : float
        Height of the canopy's outer top edge above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]
    public_eye : float
        Height of the eye that sees [m]
    public_distance : float
        How far that eye stands out from the wall [m]
    crew_eye : float
        Height of the eye that does not see [m]
    crew_distance : float
        How far that eye stands out from the wall [m]

    Returns
    -------
    Interval
        Lowest and highest height of the band; empty where the second eye sees as low as the first [m]

    Raises
    ------
    OutOfRange
        If an eye is not farther out than the canopy, or a number is not finite.

    Notes
    -----
    Range: both distances above depth; a wall at least as high as the band.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> band = missed_band(10, 6, 3.5, 60, 5.25, 12)
    >>> round(band.low, 3), band.high, round(band.height, 3)
    (10.722, 14.75, 4.028)
    """
    low = edge_height + hidden_height(edge_height, public_eye, depth, public_distance)
    high = edge_height + hidden_height(edge_height, crew_eye, depth, crew_distance)
    return Interval(low, max(low, high))


def step_height(wall_height: float, edge_height: float, depth: float, distance: float, eye_height: float) -> float:
    """Height by which an eye must be raised to just see a height over a canopy's edge.

    ``step = (h_t D - z (D - d)) / d - h_e``, and 0 where the eye sees the height already.

    Parameters
    ----------
    wall_height : float
        Height to be seen, above the wall's foot [m]
    edge_height : float
        Height of the canopy's outer top edge above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]
    distance : float
        How far the eye stands out from the wall [m]
    eye_height : float
        Height of the eye on the ground there, above the wall's foot [m]

    Returns
    -------
    float
        Height of the step or ladder rung to stand on [m]

    Raises
    ------
    OutOfRange
        If the height lies below the edge, the eye is not farther out than the canopy, or a number is not finite.

    Notes
    -----
    Range: distance above depth; height at or above the edge. This is geometry only: whether a step or a ladder may be
    used at all is for the rules on ladders, the ground and the people there to say.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> step_height(11, 10, 6, 20, 5.25)
    2.416666666666667
    """
    hidden = hidden_height(edge_height, eye_height, depth, distance)
    check_range("wall_height", wall_height, "m", least=edge_height)
    if edge_height + hidden <= wall_height:
        return 0.0
    return (edge_height * distance - wall_height * (distance - depth)) / depth - eye_height
