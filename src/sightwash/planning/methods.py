"""Method per surface: agent, strength capped by the most delicate neighbour, passes, dwell, tips."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.tables import PERCENT, UNKNOWN_WALL, SoilingRow, WallMaterialRow, soilings, wall_materials
from sightwash.planning.takeoff import ProjectionFace, WallPatch, WallTakeoff
from sightwash.planning.tips import POWER_RINSE, SOFT, TipPoint, choose_tip
from sightwash.planning.weather import Air
from sightwash.science.drying import wet_time_band
from sightwash.site.gaps import PAINTED
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall

USUAL_DWELL: Final = 600.0
SHORTEST_DWELL: Final = 300.0
MOST_PASSES: Final = 3
FACES: Final = ("top", "front", "underside")
ARM_REACH: Final = 2.0
"""Height to which a hand holds the wand up [m]."""
PUBLISHED_STRENGTH: Final = 1.5 * PERCENT
COLDEST_AIR: Final = -10.0
STRONGEST_WIND: Final = 40.0
"""Colder air [degC] and stronger wind [m/s] are beyond what evaporation is worked out for; nobody washes in them."""
UNSOUND: Final = ("chalking", "flaking", "unknown")
SURFACTANT_DOSE: Final = 1.0 / 128.0
"""Surfactant by volume of mix: 1 fl oz a gallon [-]."""


@dataclass(frozen=True, slots=True)
class SurfaceMethod:
    """How one patch or face is washed: strengths [mg/L], times [s], volumes [L], pressures [Pa].

    ``stays_wet`` is the shortest time that a film of mix stays wet, None in air in which it does not dry.
    """

    id: str
    target: str
    wall: str
    material: str | None
    soiling: str
    agent: str
    words: str
    area: float
    left: float
    length: float
    bottom: float
    top: float
    strength: float
    passes: int
    dwell: float
    stays_wet: float | None
    mix_volume: float
    highest_pressure: float
    rinsed: bool
    banded: bool
    treat: TipPoint | None
    rinse: TipPoint | None
    power_rinse: TipPoint | None
    watch: str
    why: tuple[Why, ...]


def plan_methods(placed: PlacedWall, takeoff: WallTakeoff, rig: Rig, air: Air) -> tuple[SurfaceMethod, ...]:
    """Return the method of every patch and washed face of a wall."""
    found = [_method(placed, patch.material, patch, rig, air) for patch in takeoff.patches]
    found += [
        _method(placed, face.material, _face_patch(face), rig, air)
        for face in takeoff.faces
        if not (face.face == "underside" and face.width < 0.3)
    ]
    return tuple(found)


def _face_patch(face: ProjectionFace) -> WallPatch:
    """Return a face as a patch of its own material."""
    return WallPatch(
        face.id,
        face.wall,
        face.material,
        "algae",
        face.degree,
        (),
        face.area,
        face.left,
        face.left + face.length,
        face.height - (face.width if face.face == "front" else 0.0),
        face.height,
        True,
        face.why,
    )


def _method(placed: PlacedWall, material: str | None, patch: WallPatch, rig: Rig, air: Air) -> SurfaceMethod:
    row = wall_materials()[material or UNKNOWN_WALL]
    answer = soilings()[patch.soiling]
    pressure, pressure_why = _highest_pressure(placed, row, material)
    agent, strength, passes, strength_whys = _treatment(placed, row, answer, patch)
    wet = _wet_time(row, air)
    why = [patch.why, Why(f"{patch.soiling}: {answer.words}", (answer.source,)), pressure_why, *strength_whys]
    dwell = 0.0
    if strength > 0:
        dwell = min(USUAL_DWELL, max(wet * 0.8, SHORTEST_DWELL))
        why.append(_dwell_why(dwell, wet))
    ground = min(placed.ground_at(patch.left), placed.ground_at(patch.right))
    throw = patch.top - ground > ARM_REACH + float(rig.wand_length)
    banded = patch.degree in answer.power_rinse and pressure > SOFT[1]
    rinsed = agent not in ("special", "brush")
    return SurfaceMethod(
        f"wash-{patch.id}", patch.id, patch.wall, material, patch.soiling, agent, answer.words,
        patch.area, patch.left, patch.length, patch.bottom, patch.top,
        strength,
        passes,
        dwell,
        wet if math.isfinite(wet) else None,
        patch.area / row.coverage * passes if strength > 0 else 0.0,
        pressure,
        rinsed,
        banded,
        choose_tip(rig, "treat", SOFT, pressure, throw) if strength > 0 else None,
        choose_tip(rig, "soft rinse", SOFT, pressure, throw) if rinsed else None,
        choose_tip(rig, "power rinse", POWER_RINSE, pressure, throw) if banded else None,
        "; ".join(part for part in (answer.watch, row.advice) if part),
        tuple(why),
    )  # fmt: skip


def _treatment(
    placed: PlacedWall, row: WallMaterialRow, answer: SoilingRow, patch: WallPatch
) -> tuple[str, float, int, list[Why]]:
    """Return agent, strength at the wall [mg/L], number of treatments and why."""
    if answer.agent != "hypochlorite":
        return answer.agent, 0.0, 1, []
    wanted = answer.strengths[patch.degree]
    cap, cap_why = strength_cap(placed, row, patch)
    strength = min(wanted, cap)
    whys = [cap_why if cap < wanted else Why(_strength_words(wanted, patch.degree), ("practice-strengths",))]
    if strength <= 0.0:
        return "brush and mild cleaner", 0.0, 1, whys
    passes = _passes(answer.heavy_passes if patch.degree == "heavy" else 1, wanted, strength)
    if passes > 1:
        rule = f"{passes} treatments: {patch.degree} {patch.soiling} at this strength"
        whys.append(Why(rule, ("practice-soft-wash",)))
    return "hypochlorite", strength, passes, whys


def _highest_pressure(placed: PlacedWall, row: WallMaterialRow, material: str | None) -> tuple[float, Why]:
    known = f"{row.material}" if material else f"material unknown: taken as {row.material}"
    paint = placed.wall.paint
    unknown = paint is None and row.material in PAINTED
    if unknown or (paint is not None and (paint.state in UNSOUND or paint.before_1978)):
        limit = min(row.highest_pressure, SOFT[1])
        reason = "unknown" if paint is None else "from before 1978" if paint.before_1978 else paint.state
        return limit, Why(f"paint {reason}: no pressure, test patch first", ("practice-stop-first",))
    return row.highest_pressure, Why(f"highest pressure on {known}", (row.pressure_source,))


def strength_cap(placed: PlacedWall, row: WallMaterialRow, patch: WallPatch) -> tuple[float, Why]:
    """Return the strongest mix that the surface and its most delicate neighbour bear [mg/L], and why."""
    rows = wall_materials()
    cap = row.highest_strength
    why = Why(f"{row.material} bears at most {cap / PERCENT:g} %", (row.strength_source,))
    for item in placed.wall.projections:
        beside = (
            item.left < patch.right
            and item.left + item.width > patch.left
            and patch.id not in {f"{item.id}-{face}" for face in FACES}
        )
        if not beside or item.material is None or item.material == "glass":
            continue
        neighbour = rows[item.material]
        limit = max(neighbour.highest_strength, 0.5 * PERCENT)
        if limit < cap:
            cap = limit
            words = f"held to {limit / PERCENT:g} % by {item.id} ({item.material}) beside or below it"
            why = Why(words, (neighbour.strength_source,))
    return cap, why


def _strength_words(wanted: float, degree: str) -> str:
    text = f"{wanted / PERCENT:g} % at the wall for {degree} soiling"
    if wanted > PUBLISHED_STRENGTH:
        text += "; published guidance seldom goes above about 1.5 %"
    return text


def _passes(base: int, wanted: float, strength: float) -> int:
    return min(max(base, math.ceil(wanted / strength - 1e-9)), MOST_PASSES)


def _wet_time(row: WallMaterialRow, air: Air) -> float:
    """Return the shortest time that a film of mix stays wet [s]; beyond the sum's range the nearest weather counts."""
    warmth = max(air.temperature, COLDEST_AIR)
    wind = min(air.wind, STRONGEST_WIND)
    return wet_time_band(1e-3 / row.coverage, warmth, warmth, air.humidity, wind, air.absorbed_sun).shortest


def _dwell_why(dwell: float, shortest: float) -> Why:
    if math.isinf(shortest):
        rule = f"{dwell / 60:.0f} min; the film does not dry in this air"
        return Why(rule, ("uno-1998", "practice-dwell"))
    if shortest < dwell:
        return Why(
            f"the film may dry in {shortest / 60:.0f} min: mist it to keep it wet", ("uno-1998", "practice-dwell")
        )
    return Why(
        f"{dwell / 60:.0f} min; the film stays wet at least {shortest / 60:.0f} min", ("uno-1998", "practice-dwell")
    )
