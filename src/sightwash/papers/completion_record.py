"""The completion record: what was done, misses closed, water and chlorine, the same view before and after."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sightwash.basis.units import VOLUME, show
from sightwash.book.done_record import DoneRecord, Photograph, PlannedIds, open_misses
from sightwash.papers.job import Job, set_paper
from sightwash.papers.part_names import part_names
from sightwash.papers.typesetter import JSON


def planned_ids(job: Job) -> PlannedIds:
    """Return the ids that a record of the job's visit may name."""
    parts = (*(wall.wall for wall in job.plan.walls), *(surface.surface for surface in job.plan.ground))
    misses = tuple(strip.id for strip in job.plan.missed)
    return PlannedIds(job.site.id, parts, misses, tuple(eye.id for eye in job.site.eyes))


def completion_record(job: Job, done: DoneRecord, photographs: Mapping[str, bytes]) -> bytes:
    """Return the record as PDF; ``photographs`` holds each file that the record names.

    Photographs are made smaller and lose what the camera wrote into them; one that cannot be read is refused.
    """
    words = job.words("completion-record")
    names = part_names(job.site)
    views, pictures = _views(job, done, photographs, names, words)
    data: dict[str, JSON] = {
        "words": words,
        "site": job.site.name,
        "address": job.site.place.address,
        "customer": list(job.customer),
        "day": job.day(done.on),
        "about": [*_about(job, done, words)],
        "parts": [
            [names.get(part.part, part.part), words[f"how_{part.how.replace(' ', '_')}"], part.note or ""]
            for part in done.parts
        ],
        "misses": [*_misses(job, done, names, words)],
        "open": [_strip_words(job, name, names, words) for name in open_misses(done, planned_ids(job))],
        "water": [*_water(job, done, words)],
        "chlorine": [*_chlorine(done, words)],
        "views": views,
        "damage": list(done.damage),
        "note": done.note,
    }
    return set_paper(job, "completion-record", words["title"], data, pictures)


def _about(job: Job, done: DoneRecord, words: dict[str, str]) -> Iterator[list[str]]:
    yield [words["day"], job.day(done.on)]
    if done.start is not None and done.end is not None:
        yield [words["hours"], f"{done.start:%H:%M} - {done.end:%H:%M}"]
    if done.crew:
        yield [words["crew"], ", ".join(done.crew)]
    if job.number is not None:
        yield [words["agreement"], job.number]


def _strip_words(job: Job, name: str, names: dict[str, str], words: dict[str, str]) -> str:
    strip = next(strip for strip in job.plan.missed if strip.id == name)
    wall = names.get(strip.wall, strip.wall)
    return words["strip_over"].format(id=name, wall=wall, over=strip.over) if strip.over else f"{name}: {wall}"


def _misses(job: Job, done: DoneRecord, names: dict[str, str], words: dict[str, str]) -> Iterator[list[str]]:
    for miss in done.misses:
        at = f", {miss.at:%H:%M}" if miss.at is not None else ""
        state = words["clean"] if miss.clean else words["not_clean"]
        note = f". {miss.note}" if miss.note else ""
        yield [_strip_words(job, miss.miss, names, words), f"{miss.looked_by}{at}", miss.stood, f"{state}{note}"]


def _water(job: Job, done: DoneRecord, words: dict[str, str]) -> Iterator[list[str]]:
    """Yield what was used beside what was planned."""
    load = job.plan.tickets.load
    planned_mix = sum(ticket.volume for ticket in job.plan.tickets.tickets)
    used = (
        ("water", done.water, job.plan.water.total),
        ("mix", done.mix, planned_mix),
        ("bleach", done.bleach, load.needed if load is not None else None),
    )
    for name, amount, planned in used:
        if amount is not None:
            plan = show(planned, VOLUME, job.plan.units) if planned is not None else ""
            yield [words[name], show(float(amount), VOLUME, job.plan.units), plan]
    if done.water_went is not None:
        yield [words["water_went"], done.water_went, job.plan.wash_water.allowed or ""]


def _chlorine(done: DoneRecord, words: dict[str, str]) -> Iterator[list[str]]:
    for reading in done.chlorine:
        at = f"{reading.at:%H:%M}" if reading.at is not None else ""
        limit = f"{reading.limit:g} mg/L" if reading.limit is not None else words["no_limit"]
        above = reading.limit is not None and reading.free_chlorine > reading.limit
        verdict = "" if reading.limit is None else words["above"] if above else words["within"]
        yield [reading.where, at, f"{reading.free_chlorine:g} mg/L", reading.method, limit, verdict]


def _views(
    job: Job, done: DoneRecord, photographs: Mapping[str, bytes], names: dict[str, str], words: dict[str, str]
) -> tuple[list[JSON], dict[str, bytes]]:
    """Return the eye points that have photographs, each with those before and after in pairs, and the pictures."""
    views: list[JSON] = []
    pictures: dict[str, bytes] = {}
    for eye in job.site.eyes:
        own = [photograph for photograph in done.photographs if photograph.eye == eye.id]
        sides: dict[str, list[JSON]] = {"before": [], "after": []}
        for photograph in own:
            name = f"photograph-{len(pictures) + 1}"
            pictures[name] = photographs[photograph.file]
            sides[photograph.when].append({"picture": name, **_caption(job, photograph, names[eye.id], words)})
        if own:
            views.append({"name": names[eye.id], "before": sides["before"], "after": sides["after"]})
    return views, pictures


def _caption(job: Job, photograph: Photograph, eye: str, words: dict[str, str]) -> dict[str, JSON]:
    when = words[photograph.when]
    note = f", {photograph.note}" if photograph.note else ""
    day = job.day(photograph.on)
    return {"alt": words["alt"].format(eye=eye, when=when, day=day), "words": f"{when}, {day}{note}"}
