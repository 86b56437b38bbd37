"""The record of existing damage: each side drawn small, what the site notes, room to write, to be signed first."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.basis.units import LENGTH, show
from sightwash.papers.drawings.plain_face import plain_face
from sightwash.papers.drawings.views import wall_views
from sightwash.papers.job import Job, set_paper
from sightwash.papers.typesetter import JSON
from sightwash.site.walls import Wall


def damage_record(job: Job) -> bytes:
    """Return the form for damage that is there before the first water."""
    words = job.words("damage-record")
    walls = [wall for wall in job.site.walls if wall.excluded is None and _is_drawn(job, wall)]
    ground = [*_ground(job, words)]
    data: dict[str, JSON] = {
        "words": words,
        "site": job.site.name,
        "address": job.site.place.address,
        "day": job.day(job.plan.on),
        "kinds": words["kinds"].split(";"),
        "walls": [
            {"name": wall.name or wall.id, "picture": f"wall-{wall.id}", "known": [*_known(job, wall, words)]}
            for wall in walls
        ],
        "ground": ground,
    }
    views = {view.wall.id: view for view in wall_views(job.site, job.plan)}
    pictures = {f"wall-{wall.id}": plain_face(job.site, job.plan, views[wall.id]).encode() for wall in walls}
    return set_paper(job, "damage-record", words["title"], data, pictures)


def _is_drawn(job: Job, wall: Wall) -> bool:
    """Return whether a wall has a size, so that it can be drawn."""
    return any(seen.wall == wall.id for seen in job.plan.sight)


def _known(job: Job, wall: Wall, words: dict[str, str]) -> Iterator[str]:
    """Yield what the site already says of a wall that bears on damage."""
    paint = wall.paint
    if paint is not None and paint.state != "sound":
        yield words[f"paint_{paint.state}"]
    if paint is not None and paint.note:
        yield paint.note
    if paint is not None and paint.before_1978:
        yield words["paint_old"]
    for item in wall.soiling:
        if item.kind in ("rust", "efflorescence", "oxidation"):
            band = _band(job, item.bottom, item.top, words)
            yield words["stain"].format(kind=words.get(f"kind_{item.kind}", item.kind), band=band).strip()
        if item.note:
            yield f"{item.id}: {item.note}"
    noted = [(opening.id, opening.note) for opening in wall.openings]
    noted += [(door.id, door.note) for door in wall.doors]
    noted += [(item.id, item.note) for item in wall.projections]
    noted += [(fixture.id, fixture.note) for fixture in wall.fixtures]
    yield from (f"{name}: {note}" for name, note in noted if note)
    for door in wall.doors:
        if door.threshold is None:
            yield words["threshold"].format(door=door.id)


def _band(job: Job, bottom: float | None, top: float | None, words: dict[str, str]) -> str:
    if bottom is None or top is None:
        return ""
    return words["band"].format(
        bottom=show(float(bottom), LENGTH, job.plan.units), top=show(float(top), LENGTH, job.plan.units)
    )


def _ground(job: Job, words: dict[str, str]) -> Iterator[str]:
    for keep_out in job.site.keep_outs:
        yield f"{keep_out.id}: {keep_out.reason}" if keep_out.reason else keep_out.id
    for mark in job.site.markings:
        if mark.state in ("worn", "faded"):
            yield words["marking"].format(mark=mark.id, state=words.get(f"state_{mark.state}", mark.state))
