"""The load list: what goes on the truck for this visit, by kind, each with a place to tick."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sightwash.basis.units import LENGTH, MASS, VOLUME, show
from sightwash.papers.job import Job, set_paper
from sightwash.papers.typesetter import JSON
from sightwash.planning.pouring import measured, measured_words


def load_list(job: Job) -> bytes:
    """Return the load list of a plan; a line stands only where the visit needs the thing."""
    words = job.words("load-list")
    groups = (
        ("chemicals", [*_chemicals(job, words)]),
        ("water", [*_water(job, words)]),
        ("machine", [*_machine(job, words)]),
        ("people", [*_people(job, words)]),
        ("papers", [*_papers(job, words)]),
    )
    load = job.plan.tickets.load
    data: dict[str, JSON] = {
        "words": words,
        "site": job.site.name,
        "address": job.site.place.address,
        "day": job.day(job.plan.on),
        "rig": job.documents.rig.name,
        "groups": [[words[name], lines] for name, lines in groups if lines],
        "carriage": list(load.words) if load is not None else [],
        "contacts": [[contact.name, contact.role or "", contact.phone or ""] for contact in job.site.contacts],
    }
    return set_paper(job, "load-list", words["title"], data)


def _chemicals(job: Job, words: dict[str, str]) -> Iterator[str]:
    plan = job.plan
    load = plan.tickets.load
    if load is not None:
        yield words["bleach"].format(amount=load.load_words, reserve=f"{load.reserve:.0%}", packages=load.packages)
        if load.short_of > 0:
            yield words["bleach_short"].format(amount=show(load.short_of, VOLUME, plan.units))
    surfactant = sum(mix.surfactant for mix in plan.mixes.mixes)
    if surfactant > 0:
        yield words["surfactant"].format(amount=measured_words(measured(surfactant, plan.units), plan.units))
    if plan.water.neutraliser_mass > 0:
        name = plan.water.neutraliser.replace("-", " ")
        yield words["neutraliser"].format(amount=show(plan.water.neutraliser_mass, MASS, plan.units), name=name)
    if plan.mixes.mixes:
        yield from (words[key] for key in ("jugs", "strips", "labels"))


def _water(job: Job, words: dict[str, str]) -> Iterator[str]:
    plan = job.plan
    if plan.water.total > 0:
        carried, total = (show(volume, VOLUME, plan.units) for volume in (plan.water.carried, plan.water.total))
        yield words["tanks"].format(carried=carried, total=total, refills=plan.water.refills)
    for tap in job.site.taps:
        key = "tap" if tap.backflow_preventer else "tap_backflow"
        yield words[key].format(tap=tap.id)
    for measure in plan.wash_water.measures:
        if measure.quantity > 0:
            kind = show(measure.quantity, LENGTH, plan.units, 3) if measure.unit == "m" else f"{measure.quantity:.0f}"
            missing = "" if measure.on_rig is None or measure.on_rig else words["not_on_rig"]
            what = words.get(f"measure_{measure.what.replace(' ', '_')}", measure.what)
            yield f"{what}: {kind}, {measure.where}{missing}"


def _machine(job: Job, words: dict[str, str]) -> Iterator[str]:
    rig, plan = job.documents.rig, job.plan
    methods = (tip for m in plan.methods for tip in (m.treat, m.rinse, m.power_rinse) if tip is not None)
    used = dict.fromkeys(tip.tip for tip in (*methods, *plan.water.tips))
    counts = {tip.id: tip.count for tip in rig.tips}
    if used:
        tips = (f"{name} ({counts[name]})" if counts.get(name, 1) > 1 else name for name in used)
        yield words["tips"].format(tips=", ".join(tips))
    for hose in rig.hoses:
        yield words["hose"].format(hose=hose.id, length=show(float(hose.length), LENGTH, plan.units))
    if any(surface.washed for surface in plan.ground):
        for cleaner in rig.surface_cleaners:
            yield words["cleaner"].format(size=show(float(cleaner.diameter), LENGTH, plan.units))
    for ladder in rig.ladders:
        yield words["ladder"].format(ladder=ladder.id, height=show(float(ladder.step_height), LENGTH, plan.units))
    if plan.gum_spots:
        yield words["gum"]
    yield words["fuel"].format(hours=f"{math.ceil(plan.hours.machine_mean / 1800.0) / 2:g}")
    yield words["spares"]


def _people(job: Job, words: dict[str, str]) -> Iterator[str]:
    plan = job.plan
    yield words["protective"].format(people=plan.hours.people)
    if plan.mixes.mixes:
        yield words["eyewash"]
    yield words["cones"]
    if plan.doors:
        yield words["barriers"].format(doors=len(plan.doors))
    intakes = [fixture.fixture for fixture in plan.fixtures if fixture.kind in ("intake", "vent")]
    if intakes:
        yield words["intakes"].format(names=", ".join(intakes))
    if plan.air.dark:
        yield words["lights"]
    yield words["drink"]


def _papers(job: Job, words: dict[str, str]) -> Iterator[str]:
    yield words["sheets"]
    if job.plan.mixes.mixes:
        yield words["safety_sheets"]
    yield from (words[key] for key in ("damage_form", "keys", "camera"))
