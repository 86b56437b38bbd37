"""From a named coordinate system to a site's own metres: x east, y north, true to scale at the building.

The site's frame is a transverse Mercator projection on the WGS 84 ellipsoid whose centre is the
footprint's own centre, with scale 1 there. Within 1.5 km of the centre its lengths are geodesic
lengths to 1 part in 30 million, and its y axis leaves true north by the meridian convergence, which
is held below ``MOST_CONVERGENCE``; the other half of the 0.05 degrees is left to straightening.

References
----------
karney-2011-transverse-mercator
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from pyproj import CRS, Proj, Transformer
from pyproj.exceptions import CRSError, ProjError

from sightwash.basis.errors import InputError, Problem

Points = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]

WGS84: Final = "OGC:CRS84"
WIDEST: Final = 3000.0
MOST_CONVERGENCE: Final = 0.025
AREA_MARGIN: Final = 1.0
ORIGIN_DECIMALS: Final = 6


@dataclass(frozen=True, slots=True)
class Frame:
    """The origin of the site's axes in degrees on WGS 84; x runs east from it, y north."""

    latitude: float
    longitude: float

    @property
    def projection(self) -> Proj:
        """The projection from degrees to site metres."""
        return Proj(proj="tmerc", lat_0=self.latitude, lon_0=self.longitude, k_0=1.0, ellps="WGS84")

    def metres(self, degrees: Points) -> Points:
        """Return longitudes and latitudes as x and y in site metres."""
        return np.column_stack(self.projection(degrees[:, 0], degrees[:, 1]))

    def convergence(self, degrees: Points) -> float:
        """Return the largest angle between the y axis and true north at these places, in degrees."""
        factors = self.projection.get_factors(degrees[:, 0], degrees[:, 1])
        return float(np.max(np.abs(factors.meridian_convergence)))


def coordinate_system(name: str, file: str) -> CRS:
    """Return the system that a person named; refuses what is unknown or has no plan coordinates."""
    if "+init" in name:
        raise _refusal(file, "unknown-crs", "the form `+init=` is out of use")
    try:
        system = CRS.from_string(name)
    except CRSError as error:
        raise _refusal(file, "unknown-crs", f"{name!r} is no coordinate system: {_first_line(error)}") from None
    if not (system.is_geographic or system.is_projected):
        raise _refusal(file, "unknown-crs", f"{name!r} ({system.name}) has no plan coordinates")
    return system


def _refusal(file: str, code: str, message: str) -> InputError:
    fix = "write the code that the file's maker names, such as `--crs EPSG:2278`; leave it out for WGS 84 degrees"
    return InputError(Problem(code, message, file, key="--crs", expected="a plan coordinate system", fix=fix))


def _first_line(error: Exception) -> str:
    return str(error).splitlines()[0][:200] if str(error) else type(error).__name__


def to_degrees(points: Points, system: CRS, file: str) -> Points:
    """Return coordinates as longitudes and latitudes on WGS 84; not finite where there is no such place.

    The order is always east before north, as GeoJSON has it, whatever order the system's own axes have.
    """
    try:
        transformer = Transformer.from_crs(system, WGS84, always_xy=True)
        longitude, latitude = transformer.transform(points[:, 0], points[:, 1])
    except ProjError as error:
        raise _refusal(
            file, "unknown-crs", f"{system.name} cannot be turned into WGS 84: {_first_line(error)}"
        ) from None
    return np.column_stack((longitude, latitude))


def outside_area(points: Points, degrees: Points, system: CRS) -> Mask:
    """Return which coordinates lie where the system is not used (a degree of margin is allowed)."""
    outside: Mask = np.logical_not(np.isfinite(degrees).all(axis=1))
    if system.is_geographic and system.axis_info and system.axis_info[0].unit_name == "degree":
        outside |= (np.abs(points[:, 0]) > 180.0) | (np.abs(points[:, 1]) > 90.0)
    area = system.area_of_use
    if area is not None:
        south, north = area.south - AREA_MARGIN, area.north + AREA_MARGIN
        outside |= np.logical_or(degrees[:, 1] < south, degrees[:, 1] > north)
        width = (area.east - area.west) % 360.0 or 360.0
        east_of_west_edge = (np.where(outside, 0.0, degrees[:, 0]) - area.west + AREA_MARGIN) % 360.0
        outside |= np.greater(east_of_west_edge, width + 2 * AREA_MARGIN)
    return outside


def frame_about(degrees: Points, file: str) -> Frame:
    """Return the frame centred on these places; refuses what is too wide to be one property."""
    first = degrees[0, 0]
    east = (degrees[:, 0] - first + 180.0) % 360.0 - 180.0
    longitude = first + (float(east.min()) + float(east.max())) / 2.0
    latitude = (float(degrees[:, 1].min()) + float(degrees[:, 1].max())) / 2.0
    frame = Frame(round(latitude, ORIGIN_DECIMALS), round((longitude + 180.0) % 360.0 - 180.0, ORIGIN_DECIMALS))
    size = np.ptp(frame.metres(degrees), axis=0) if np.ptp(east) < 1.0 and np.ptp(degrees[:, 1]) < 1.0 else None
    if size is None or not float(size.max()) <= WIDEST:
        far = "more than 60 km" if size is None else f"{float(size.max()) / 1000:.1f} km"
        raise _too_wide(file, f"the footprints lie {far} apart", f"at most {WIDEST / 1000:g} km from side to side")
    if frame.convergence(degrees) > MOST_CONVERGENCE:
        raise _too_wide(
            file,
            f"so near the pole a site {float(size[0]) / 1000:.1f} km wide has no one north",
            f"meridians that meet at less than {2 * MOST_CONVERGENCE:g} degrees",
        )
    return frame


def _too_wide(file: str, message: str, expected: str) -> InputError:
    return InputError(
        Problem("too-wide", message, file, None, None, None, expected, "cut the file down to one property")
    )
