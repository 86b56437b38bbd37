"""The notice to tenants: when, what to do before, what to expect; a line stands only where it applies."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time

from sightwash.papers.door_times import WorkTime, door_times, nights_on_site, outward
from sightwash.papers.job import Job, set_paper
from sightwash.papers.typesetter import JSON
from sightwash.site.walls import Wall


def tenant_notice(job: Job) -> bytes:
    """Return the notice to all tenants of a site, one page for the door and one line for each shop."""
    words = job.words("tenant-notice")
    firm = job.firm
    data: dict[str, JSON] = {
        "words": words,
        "site": job.site.name,
        "address": job.site.place.address,
        "date": job.day(job.dated) if job.dated is not None else None,
        "nights": [*_nights(job, words)],
        "please": [*_please(job, words)],
        "expect": [*_expect(job, words)],
        "shops": [*_shops(job, words)],
        "call": [line for line in (firm.name, firm.night_phone or firm.phone) if line],
        "manager": [
            f"{each.name}, {each.role}, {each.phone}" if each.role else f"{each.name}, {each.phone}"
            for each in job.site.contacts[:1]
            if each.phone
        ],
    }
    return set_paper(job, "tenant-notice", words["title"], data)


def _worked_walls(job: Job) -> Iterator[Wall]:
    return (wall for wall in job.site.walls if wall.excluded is None)


def _hour(job: Job, moment: datetime | time, words: dict[str, str]) -> str:
    """Return an hour as people of the place read it: with a.m. and p.m. where feet are used, else by 24 hours."""
    if job.site.units != "us":
        return f"{moment:%H:%M}"
    half = words["am"] if moment.hour < 12 else words["pm"]
    return f"{moment.hour % 12 or 12}:{moment.minute:02} {half}"


def _span(job: Job, worked: WorkTime, words: dict[str, str], key: str = "span") -> str:
    """Return from when until when, to the quarter hour outward; the day is that on which it begins."""
    start, end = outward(worked.start, False), outward(worked.end, True)
    over = key == "span" and start.date() != end.date()
    return words["span_over" if over else key].format(
        day=job.day(start.date()),
        start=_hour(job, start, words),
        next_day=job.day(end.date()),
        end=_hour(job, end, words),
    )


def _nights(job: Job, words: dict[str, str]) -> Iterator[str]:
    """Yield when the crew is there: as the night's plan has it, else the hours that the conditions give."""
    if job.night is not None and job.night.timeline.nights:
        yield from (_span(job, worked, words) for worked in nights_on_site(job.night))
        return
    conditions = job.documents.conditions
    day = job.day(job.plan.on)
    if conditions.start is None:
        yield day
    elif conditions.end is None:
        yield words["from"].format(day=day, start=_hour(job, conditions.start, words))
    else:
        yield words["hours"].format(
            day=day, start=_hour(job, conditions.start, words), end=_hour(job, conditions.end, words)
        )


def _please(job: Job, words: dict[str, str]) -> Iterator[str]:
    site = job.site
    walls = [*_worked_walls(job)]
    if any(wall.doors for wall in walls):
        yield words["doors"]
    if any(opening.kind in ("vent", "louvre", "grille") for wall in walls for opening in wall.openings) or any(
        fixture.kind in ("intake", "vent") for wall in walls for fixture in wall.fixtures
    ):
        yield words["intakes"]
    if walls:
        yield words["windows"]
    if any(area.present for area in site.parked) or site.stalls:
        yield words["cars"]
    if any(surface.washed for surface in job.plan.ground):
        yield words["goods"]
    if any(projection.kind in ("canopy", "awning") for wall in walls for projection in wall.projections):
        yield words["hanging"]
    electric = ("luminaire", "lit sign", "sign transformer", "outlet")
    if any(fixture.kind in electric for wall in walls for fixture in wall.fixtures):
        yield words["lights"]
    if any(fixture.kind in ("camera", "alarm") for wall in walls for fixture in wall.fixtures):
        yield words["alarms"]


def _expect(job: Job, words: dict[str, str]) -> Iterator[str]:
    plan = job.plan
    if plan.hours.machine_mean > 0:
        yield words["noise"]
    if plan.mixes.mixes:
        yield words["cleaner"]
    walk = plan.drying.walk
    if walk is not None and any(surface.washed for surface in plan.ground):
        if walk.likely is not None and walk.late is not None:
            likely, late = outward(walk.likely, True), outward(walk.late, True)
            yield words["walk_dry"].format(
                likely=_hour(job, likely, words), late=_hour(job, late, words), day=job.day(late.date())
            )
        else:
            yield words["walk_wet"]
    if plan.doors:
        yield words["door_use"]
    yield words["weather"]


def _shops(job: Job, words: dict[str, str]) -> Iterator[list[str]]:
    """Yield shops with the hours of work at their doors, those with the same hours together; none without a night."""
    if job.night is None:
        return
    found: dict[str, list[str]] = {}
    for wall in _worked_walls(job):
        for door in wall.doors:
            if door.tenant is not None and "empty" in door.tenant.lower():
                continue
            times = door_times(job.night, wall, door)
            when = "\n".join(_span(job, worked, words, "night_of") for worked in times) or words["any_time"]
            found.setdefault(when, []).append(door.tenant or door.id)
    for when, shops in found.items():
        yield [", ".join(dict.fromkeys(shops)), when]
