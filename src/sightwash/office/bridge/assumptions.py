"""Assumptions changed for a look: the same property planned anew, and which figures move."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import date
from typing import Any, Final

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.units import LENGTH, MASS, PRESSURE, SPEED, VOLUME, show
from sightwash.office.bridge.documents import canonical, problem_words
from sightwash.office.bridge.planning import PlanInputs
from sightwash.planning.reach import VERDICTS
from sightwash.planning.visit import VisitPlan
from sightwash.site.conditions import Conditions
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

HOUR: Final = 3600.0


@dataclass(frozen=True, slots=True)
class Assumed:
    """What may be changed, each as it is typed; an empty text leaves it as it is."""

    wind: str = ""
    start: str = ""
    hose: str = ""
    tip: str = ""
    people: str = ""
    margin: str = ""

    def given(self) -> dict[str, str]:
        """Return what was changed."""
        return {each.name: text for each in fields(self) if (text := getattr(self, each.name).strip())}


@dataclass(frozen=True, slots=True)
class Moved:
    """One figure before and after, as shown."""

    words: str
    before: str
    after: str


def assumed_now(inputs: PlanInputs) -> Assumed:
    """Return the assumptions that the inputs hold, as they were typed."""
    rig, rates, conditions = (json.loads(text) for text in (inputs.rig, inputs.rates, inputs.conditions))
    hoses, tips = rig.get("hoses") or [{}], rig.get("tips") or []
    reach = _reach_tip(tips)
    return Assumed(
        wind=_text(conditions.get("weather", {}).get("wind_speed")),
        start=_text(conditions.get("start")),
        hose=_text(hoses[0].get("length")),
        tip=_text(tips[reach].get("size")) if reach is not None else "",
        people=_text(rig.get("crew", {}).get("people", 2)),
        margin=_text(rates.get("margin", "30 %")),
    )


def _text(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    return "" if value is None else str(value)


def _reach_tip(tips: list[dict[str, Any]]) -> int | None:
    """Return the place of the tip whose size is asked for: the first for long throw, else the first of all."""
    for number, tip in enumerate(tips):
        if tip.get("use") == "long throw":
            return number
    return 0 if tips else None


def changed_inputs(inputs: PlanInputs, assumed: Assumed) -> PlanInputs:
    """Return the inputs with assumptions changed; InputError says by key what cannot be."""
    rig, rates, conditions = (json.loads(text) for text in (inputs.rig, inputs.rates, inputs.conditions))
    before = assumed_now(inputs)
    for name, text in assumed.given().items():
        if text != getattr(before, name):
            _SET[name](rig, rates, conditions, text)
    problems: list[Problem] = []
    texts: list[str] = []
    for tree, kind in ((rig, Rig), (rates, Rates), (conditions, Conditions)):
        try:
            texts.append(canonical(json.dumps(tree), kind))  # type: ignore[type-var]  # one of the kinds of documents
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return PlanInputs(inputs.site, texts[0], texts[1], texts[2], inputs.on)


def _set_wind(_rig: Any, _rates: Any, conditions: Any, text: str) -> None:
    weather = conditions.setdefault("weather", {})
    weather["wind_speed"] = text
    weather.pop("gust", None)


def _set_start(_rig: Any, _rates: Any, conditions: Any, text: str) -> None:
    conditions["start"] = text


def _set_hose(rig: Any, _rates: Any, _conditions: Any, text: str) -> None:
    hoses = rig.setdefault("hoses", [])
    if hoses:
        hoses[0]["length"] = text
    else:
        hoses.append({"id": "hose", "length": text, "bore": "3/8 in"})


def _set_tip(rig: Any, _rates: Any, _conditions: Any, text: str) -> None:
    tips = rig.setdefault("tips", [])
    place = _reach_tip(tips)
    if place is None:
        tips.append({"id": "tip", "size": _number(text)})
    else:
        tips[place]["size"] = _number(text)
        tips[place].pop("field_test", None)


def _set_people(rig: Any, _rates: Any, _conditions: Any, text: str) -> None:
    rig.setdefault("crew", {})["people"] = _number(text)


def _set_margin(_rig: Any, rates: Any, _conditions: Any, text: str) -> None:
    rates["margin"] = text if text.endswith("%") else f"{text} %"


def _number(text: str) -> Any:
    """Return a number where the text is one; the reader refuses what is not."""
    try:
        return int(text) if text.isdigit() else float(text)
    except ValueError:
        return text


_SET: Final[dict[str, Callable[[Any, Any, Any, str], None]]] = {
    "wind": _set_wind,
    "start": _set_start,
    "hose": _set_hose,
    "tip": _set_tip,
    "people": _set_people,
    "margin": _set_margin,
}
_FIELD_OF: Final = (
    ("weather.wind", "wind"),
    ("start", "start"),
    ("hoses", "hose"),
    ("tips", "tip"),
    ("crew.people", "people"),
    ("margin", "margin"),
)


def problems_by_field(error: InputError) -> dict[str, list[str]]:
    """Return what is wrong beside the field that it is about; the rest under an empty name."""
    found: dict[str, list[str]] = {}
    for problem in error.problems:
        key = problem.key or ""
        name = next((field for start, field in _FIELD_OF if key.startswith(start)), "")
        found.setdefault(name, []).append(problem_words(problem))
    return found


def moved_figures(before: VisitPlan, after: VisitPlan) -> tuple[Moved, ...]:
    """Return the figures that differ as shown, in the order of the six questions."""
    old, new = dict(_figures(before)), dict(_figures(after))
    names = [*old, *(name for name in new if name not in old)]
    return tuple(
        Moved(name, old.get(name, "none"), new.get(name, "none")) for name in names if old.get(name) != new.get(name)
    )


def _figures(plan: VisitPlan) -> Iterator[tuple[str, str]]:
    yield from _reach(plan)
    yield from _materials(plan)
    hours, price = plan.hours, plan.price
    yield "Labour, half of such nights", f"{hours.labour_p50 / HOUR:.1f} h"
    yield "Labour, 8 of 10 such nights", f"{hours.labour_p80 / HOUR:.1f} h"
    yield "On site, half of such nights", f"{hours.elapsed_p50 / HOUR:.1f} h"
    yield "On site, 8 of 10 such nights", f"{hours.elapsed_p80 / HOUR:.1f} h"
    yield "Cost", f"{price.cost:,.2f} {price.currency}"
    yield "Price before tax", f"{price.price:,.2f} {price.currency}"
    yield "Price with tax", f"{price.total:,.2f} {price.currency}"
    yield "Chance that the cost exceeds the price", f"{price.chance_of_loss:.1%}"


def _reach(plan: VisitPlan) -> Iterator[tuple[str, str]]:
    units, names = plan.units, {each.part: each.words for each in plan.price.scope}
    yield "Wind reckoned with", show(plan.air.wind, SPEED, units)
    yield "Standing spots", str(sum(len(standing.spots) for standing in plan.standing))
    for verdict in VERDICTS:
        count = sum(spot.verdict == verdict for standing in plan.standing for spot in standing.spots)
        yield f"Spots whose reach is {verdict}", str(count)
    yield "Places for a ladder", str(sum(each.kind == "ladder" for s in plan.standing for each in s.looks))
    yield "Parts that nobody reaches", str(sum(len(standing.unreached) for standing in plan.standing))
    for standing in plan.standing:
        if standing.spots:
            highest = max(spot.likely for spot in standing.spots)
            yield f"Highest likely reach, {names.get(standing.wall, standing.wall)}", show(highest, LENGTH, units)
    yield "Things that drift reaches", str(sum(len(each.reaches) for each in plan.drift))


def _materials(plan: VisitPlan) -> Iterator[tuple[str, str]]:
    units, water = plan.units, plan.water
    seen: Mapping[str, float] = {
        f"Pressure at tip {tip.tip}, {tip.use}": tip.tip_pressure
        for method in plan.methods
        for tip in (method.treat, method.rinse, method.power_rinse)
        if tip is not None
    }
    yield from ((words, show(pressure, PRESSURE, units)) for words, pressure in seen.items())
    yield "Bleach", show(plan.mixes.stock, VOLUME, units)
    yield "Water in all", show(water.total, VOLUME, units)
    yield "Refills of the tank", str(water.refills)
    yield "Neutraliser to carry", show(water.neutraliser_mass, MASS, units)
    yield "Whether to go", plan.drying.verdict.words
    if plan.drying.walk is not None and plan.drying.walk.late is not None:
        yield "Walk dry at the latest", f"{plan.drying.walk.late:%a %H:%M}"


def plan_day(text: str, fallback: date) -> date:
    """Return a day that was typed as year-month-day, or the other one."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return fallback
