"""Go or no-go: frost, rain, wind and thunder against the limits of ``data/weather_limits.csv``, with the reason."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Final

from sightwash.planning.walk_drying import WalkDrying
from sightwash.planning.wall_clock import COLDEST
from sightwash.planning.work_hours import WorkHour
from sightwash.science.tables import table_rows
from sightwash.science.wall_heat import wet_film

Figure = Callable[[WorkHour], float | None]
MASONRY: Final = ("stucco", "brick", "painted brick", "block", "painted block", "concrete", "stone", "tile")
MOST_LOST: Final = 0.5
"""Share of the window's hours that may fall out before the visit is called off [-]; a judgement."""
LIGHTNING: Final = (
    "Thunder heard or lightning seen: everyone indoors or in a closed vehicle at once, and for at least 30 minutes "
    "after the last thunder."
)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why not, or what to look at: a kind, its words, the hours that it holds for, its sources."""

    kind: str
    words: str
    hours: tuple[datetime, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GoNoGo:
    """The verdict on the window: go or not, why not, what to look at; hours in which no wall is treated."""

    go: bool
    words: str
    stops: tuple[Reason, ...]
    asks: tuple[Reason, ...]
    stopped: tuple[datetime, ...]
    lightning: str
    lightning_sources: tuple[str, ...]


@cache
def _limits() -> dict[str, tuple[float, str, str]]:
    return {row["id"]: (float(row["value"]), row["words"], row["source"]) for row in table_rows("weather_limits")}


def plan_go_no_go(
    hours: tuple[WorkHour, ...], walk: WalkDrying | None, coldest: float | None, materials: frozenset[str]
) -> GoNoGo:
    """Return whether to go. Frost calls the visit off; rain, wind and thunder do where they take half its hours."""
    stops = [*_hourly_stops(hours), *_frost(hours, walk, coldest)]
    asks = tuple(_asks(hours, materials))
    stopped = tuple(sorted({moment for stop in stops if stop.kind != "frost" for moment in stop.hours}))
    frost = any(stop.kind == "frost" for stop in stops)
    lost = sum(hour.length for hour in hours if hour.start in stopped) / max(sum(h.length for h in hours), 1.0)
    go = not frost and lost < MOST_LOST
    if go:
        words = "go" if not stopped else f"go, but not in {len(stopped)} of {len(hours)} hours"
    else:
        words = "no-go: " + "; ".join(dict.fromkeys(stop.words for stop in stops))
    return GoNoGo(go, words, tuple(stops), asks, stopped, LIGHTNING, ("osha-noaa-lightning",))


def _hourly_stops(hours: tuple[WorkHour, ...]) -> Iterator[Reason]:
    tests: tuple[tuple[str, str, Figure], ...] = (
        ("rain", "rain-stop", lambda hour: hour.rain_chance),
        ("rain", "rain-depth", lambda hour: hour.rain),
        ("wind", "wind-stop", lambda hour: hour.mast_wind),
        ("wind", "gust-stop", lambda hour: hour.gust),
    )
    for kind, name, value in tests:
        limit, words, source = _limits()[name]
        found = tuple(hour.start for hour in hours if (given := value(hour)) is not None and given >= limit)
        if found:
            yield Reason(kind, words, found, (source,))
    thunder = tuple(hour.start for hour in hours if hour.thunder)
    if thunder:
        yield Reason("lightning", "thunder is forecast", thunder, ("osha-noaa-lightning",))


def _frost(hours: tuple[WorkHour, ...], walk: WalkDrying | None, coldest: float | None) -> Iterator[Reason]:
    limit, words, source = _limits()["freeze"]
    cold = tuple(hour.start for hour in hours if hour.temperature <= limit)
    if cold or (coldest is not None and coldest <= limit):
        yield Reason("frost", words, cold, (source,))
    elif walk is not None and walk.freezes:
        yield Reason("frost", f"{words}: the wet walk may cool to {walk.coldest:.1f} C", (), (source,))
    else:
        films = [
            (hour, wet_film(max(hour.temperature, COLDEST), hour.humidity, hour.wind).temperature) for hour in hours
        ]
        iced = tuple(hour.start for hour, film in films if film <= 0.0)
        if iced:
            yield Reason("frost", f"{words}: evaporation cools the wet wall below freezing", iced, (source,))


def _asks(hours: tuple[WorkHour, ...], materials: frozenset[str]) -> Iterator[Reason]:
    limits = _limits()
    tests: tuple[tuple[str, str, str, Figure], ...] = (
        ("rain", "rain-ask", "rain-stop", lambda hour: hour.rain_chance),
        ("wind", "wind-ask", "wind-stop", lambda hour: hour.mast_wind),
    )
    for kind, low, high, value in tests:
        found = tuple(
            hour.start
            for hour in hours
            if (given := value(hour)) is not None and limits[low][0] <= given < limits[high][0]
        )
        if found:
            yield Reason(kind, limits[low][1], found, (limits[low][2],))
    cold, words, source = limits["masonry-cold"]
    found = tuple(hour.start for hour in hours if hour.temperature < cold)
    if found and materials & set(MASONRY):
        yield Reason("cold", words, found, (source,))
    if hours and all(hour.rain_chance is None and hour.rain is None for hour in hours):
        yield Reason(
            "rain", "no word on rain: ask the forecast before the truck leaves", (), ("practice-weather-limits",)
        )
    assumed = tuple(dict.fromkeys(words for hour in hours for words in hour.assumed))
    if assumed:
        yield Reason("unknown", f"not known, the worst is taken: {', '.join(assumed)}", (), ("user-document",))
