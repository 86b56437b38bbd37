"""The weather in one typed line, such as ``76 F, 64 %, wind SSW 4 mph, gust 8 mph, cloud 20 %, rain 10 %``."""

from __future__ import annotations

import re
from typing import Final

from sightwash.site.fields import brief, refusal

EXAMPLE: Final = "76 F, 64 %, wind SSW 4 mph, gust 8 mph, cloud 20 %, rain 10 %"
COMPASS: Final = (
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
)  # fmt: skip
_EXPECTED: Final = "parts between commas: temperature, humidity, wind, gust, cloud, rain, coldest"
_SKIES: Final = {"clear": "0 %", "sunny": "0 %", "overcast": "100 %"}
_WORDS: Final = {
    "air": "air_temperature", "temperature": "air_temperature", "humidity": "humidity", "rh": "humidity",
    "wind": "wind_speed", "gust": "gust", "gusts": "gust", "cloud": "cloud", "clouds": "cloud", "rain": "rain_chance",
    "coldest": "coldest_before_dry", "low": "coldest_before_dry",
}  # fmt: skip
_NAME: Final = re.compile(rf"\b({'|'.join(sorted(_WORDS, key=len, reverse=True))})\b", re.IGNORECASE)
_FROM: Final = re.compile(r"\bfrom\s+(?:the\s+)?(\S+(?:\s*deg\w*)?)\s*$", re.IGNORECASE)
_POINT: Final = re.compile(rf"\b({'|'.join(sorted(COMPASS, key=len, reverse=True))})\b", re.IGNORECASE)
_DEGREES: Final = re.compile(r"[\d.]+\s*(?:°\s*)?(?:deg\w*\s*)?[FC]?", re.IGNORECASE)


def compass_bearing(point: str) -> float | None:
    """Return the bearing that a compass point such as ``SSW`` names; None if it is no compass point.

    >>> compass_bearing("ssw"), compass_bearing("up")
    (202.5, None)
    """
    name = point.strip().upper()
    return 22.5 * COMPASS.index(name) if name in COMPASS else None


def weather_parts(line: str) -> dict[str, str]:
    """Return the keys and values of the weather that a line says, each value as typed.

    >>> weather_parts("76 F, 64 %, wind SSW 4 mph")
    {'air_temperature': '76 F', 'humidity': '64 %', 'wind_from': '202.5 deg', 'wind_speed': '4 mph'}
    """
    found: dict[str, str] = {}
    for part in (piece.strip() for piece in line.split(",")):
        if not part:
            continue
        for key, value in _part(part, found).items():
            if key in found:
                raise refusal("doubled-key", f"the line says {key} twice", "each figure once", "keep one of them")
            found[key] = value
    return found


def _part(part: str, so_far: dict[str, str]) -> dict[str, str]:
    """Return what one part says: a key and its value, and where the wind comes from."""
    lowered = part.lower()
    if lowered in _SKIES:
        return {"cloud": _SKIES[lowered]}
    if lowered == "calm":
        return {"wind_speed": "0 mph"}
    named = _NAME.search(part)
    if named is None:
        if part.endswith("%") and "humidity" not in so_far:
            return {"humidity": part}
        if _DEGREES.fullmatch(part):
            return {"air_temperature": part}
        raise refusal("unknown-weather", f"{brief(part)} is no weather", _EXPECTED, f"write it such as `{EXAMPLE}`")
    key = _WORDS[named[1].lower()]
    rest = (part[: named.start()] + " " + part[named.end() :]).strip()
    if key not in ("wind_speed", "gust"):
        return {key: rest}
    rest, bearing = _bearing(rest)
    return {**({"wind_from": bearing} if bearing else {}), **({key: rest} if rest else {})}


def _bearing(rest: str) -> tuple[str, str | None]:
    """Return a wind without its direction, and the direction as a bearing."""
    after = _FROM.search(rest)
    if after is not None:
        point = compass_bearing(after[1])
        return rest[: after.start()].strip(), after[1] if point is None else f"{point:g} deg"
    point_in = _POINT.search(rest)
    if point_in is None:
        return rest, None
    return (rest[: point_in.start()] + rest[point_in.end() :]).strip(), f"{compass_bearing(point_in[1]):g} deg"
