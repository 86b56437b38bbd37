"""When the walk is dry enough to open again after the last water, and whether it may freeze before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.wall_clock import COLDEST
from sightwash.planning.work_hours import WorkHour
from sightwash.science.ground_drying import drying_moment
from sightwash.science.wall_heat import wet_film

FILMS: Final = (0.00015, 0.0003, 0.0005)
"""Water that stays on a rinsed walk, thin, likely, thick [m]: assumptions without a found source."""
ABSORPTANCE: Final = 0.65
"""Share of the sun that old concrete absorbs [-]."""
ALLOWANCE: Final = 0.5
CALM: Final = 0.5
"""Share of the wind that reaches a sheltered walk, for the late end of the band [-]."""
SKY_COOLING: Final = 4.0
"""How much a level surface may cool below the air under a clear night sky [K]."""
LOOK_AHEAD: Final = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class WalkDrying:
    """Moments at which the walk is dry: early, likely, late; None beyond a day. Coldest surface till then [degC]."""

    wet_until: datetime
    early: datetime | None
    likely: datetime | None
    late: datetime | None
    coldest: float
    freezes: bool
    words: str
    why: Why


def plan_walk_drying(end: datetime, hours: tuple[WorkHour, ...], coldest: float | None = None) -> WalkDrying:
    """Return when a walk is dry that is rinsed until ``end``; ``hours`` are those that follow.

    ``coldest`` is the lowest temperature that the user expects before it is dry [degC].
    """
    lengths = [hour.length for hour in hours]
    early = drying_moment(FILMS[0], [(1 + ALLOWANCE) * _rate(hour, hour.total, 1.0) for hour in hours], lengths)
    likely = drying_moment(FILMS[1], [_rate(hour, hour.diffuse, 1.0) for hour in hours], lengths)
    late = drying_moment(FILMS[2], [(1 - ALLOWANCE) * _rate(hour, hour.diffuse, CALM) for hour in hours], lengths)
    lowest = _coldest(hours, likely, coldest)
    freezes = lowest <= 0.0
    first, middle, last = (_moment(end, seconds) for seconds in (early, likely, late))
    return WalkDrying(end, first, middle, last, lowest, freezes, _words(middle, last, freezes), _why())


def _rate(hour: WorkHour, sun: float, calm: float) -> float:
    """Return the evaporation from a level walk in one hour [kg/m2/s]."""
    air = max(hour.temperature, COLDEST)
    return wet_film(air, hour.humidity, calm * hour.wind, ABSORPTANCE * min(sun, 1400.0 / ABSORPTANCE)).evaporation


def _coldest(hours: tuple[WorkHour, ...], seconds: float, expected: float | None) -> float:
    """Return the coldest that the wet walk gets before it is likely dry: film, and sky on a clear night."""
    lowest = [] if expected is None else [expected - SKY_COOLING / 2]
    passed = 0.0
    for hour in hours:
        film = wet_film(max(hour.temperature, COLDEST), hour.humidity, hour.wind).temperature
        sky = hour.temperature - (SKY_COOLING * (1.0 - hour.cloud) if hour.dark else 0.0)
        lowest.append(min(film, sky))
        passed += hour.length
        if passed >= seconds:
            break
    return min(lowest, default=0.0)


def _moment(end: datetime, seconds: float) -> datetime | None:
    if seconds >= LOOK_AHEAD.total_seconds():
        return None
    return (end.astimezone(UTC) + timedelta(seconds=seconds)).astimezone(end.tzinfo)


def _words(likely: datetime | None, late: datetime | None, freezes: bool) -> str:
    if freezes:
        return "it may freeze before the walk is dry: no water on the walk"
    if likely is None:
        return "it does not dry within a day: squeegee or blow it dry, cones stay"
    last = "look again next day, shaded corners stay wet" if late is None else f"by {late:%a %H:%M} at the latest"
    return f"likely dry at {likely:%a %H:%M}, {last}; cones until a dry hand says so; a squeegee brings it forward"


def _why() -> Why:
    rule = "0.15 to 0.5 mm of water left on the walk, heat balance of a wet level surface hour by hour, half either way"
    return Why(rule, ("film-depths", "film-heat-balance", "wet-walks"))
