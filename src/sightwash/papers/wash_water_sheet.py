"""The wash-water sheet: where the water goes, what is done about it, what was agreed, and a record to fill in."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.basis.units import MASS, VOLUME, show
from sightwash.papers.crew_layout import GROUND_HEIGHTS
from sightwash.papers.job import Job, set_paper
from sightwash.papers.part_names import part_names
from sightwash.papers.typesetter import JSON
from sightwash.planning.wash_water import WashWater


def wash_water_sheet(job: Job) -> bytes:
    """Return the wash-water sheet of a plan, with the ground plan."""
    words = job.words("wash-water-sheet")
    wash = job.plan.wash_water
    data: dict[str, JSON] = {
        "words": words,
        "site": job.site.name,
        "day": job.day(job.plan.on),
        "allowed": wash.allowed,
        "balance": [*_balance(job, wash, words)],
        "parts": [*_parts(job, wash)],
        "drains": [*_drains(job, wash, words)],
        "plants": [[p.plant, _volume(job, p.water), _strength(p.strength), p.words] for p in wash.planting],
        "measures": [f"{measure.what}: {measure.words}" for measure in wash.measures],
        "doses": [
            [dose.name, show(dose.dose, MASS, job.plan.units), show(dose.carry, MASS, job.plan.units), dose.words]
            for dose in wash.doses
        ],
        "dose_words": wash.dose_words if wash.doses else "",
        "chlorine": words["chlorine"].format(put_on=_mass(job, wash.chlorine), left=_mass(job, wash.chlorine_left)),
        "questions": [[each.ask, each.question] for each in wash.questions],
        "places": [drain.id for drain in job.site.drains],
    }
    drawing = job.drawings.ground(height=GROUND_HEIGHTS[job.paper])
    data["height"] = min(job.drawings.height(drawing), GROUND_HEIGHTS[job.paper])
    return set_paper(job, "wash-water-sheet", words["title"], data, {"ground": drawing})


def _volume(job: Job, litres: float) -> str:
    return show(litres, VOLUME, job.plan.units)


def _mass(job: Job, kilograms: float) -> str:
    return show(kilograms, MASS, job.plan.units)


def _strength(milligrams: float) -> str:
    return f"{milligrams:,.0f} mg/L" if milligrams >= 1 else f"{milligrams:.2g} mg/L"


def _balance(job: Job, wash: WashWater, words: dict[str, str]) -> Iterator[list[str]]:
    amounts = {
        "applied": wash.applied, "evaporated": wash.evaporated, "absorbed": wash.absorbed,
        "planting": wash.to_planting, "captured": wash.captured, "to_drains": wash.to_drains,
    }  # fmt: skip
    return ([words[name], _volume(job, amount)] for name, amount in amounts.items())


def _parts(job: Job, wash: WashWater) -> Iterator[list[str]]:
    names = part_names(job.site)
    for part in wash.parts:
        name = names.get(part.part, part.part)
        yield [name, _volume(job, part.came), _volume(job, part.run_off), part.words]


def _drains(job: Job, wash: WashWater, words: dict[str, str]) -> Iterator[list[str]]:
    for drain in wash.drains:
        yield [
            f"{drain.drain}\n{words['leads_to']} {words.get(f'kind_{drain.leads_to}', drain.leads_to)}",
            f"{_volume(job, drain.before)}\n{_strength(drain.strength_before)}",
            f"{_volume(job, drain.after)}\n{_strength(drain.strength_after)}",
            drain.words,
        ]
