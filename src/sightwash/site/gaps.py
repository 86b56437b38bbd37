"""What is missing in a document, what it changes, and what is taken in its place.

A gap is normal: the plan does what it can. A gap that bears on safety or chemistry takes the
worst case and a caution.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sightwash.site.conditions import Conditions
from sightwash.site.firm import Firm
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.tree import KeyPath
from sightwash.site.walls import Wall


@dataclass(frozen=True, slots=True)
class Gap:
    """One missing fact: where, what it changes, what is taken instead, and whether it bears on safety."""

    key: str
    missing: str
    changes: str
    taken: str
    safety: bool = False


def document_gaps(document: Site | Rig | Rates | Conditions | Firm) -> tuple[Gap, ...]:
    """Return what a document leaves open, the safety-bearing gaps first."""
    if isinstance(document, Site):
        found = [*_site(document)]
    elif isinstance(document, Rig):
        found = [*_rig(document)]
    elif isinstance(document, Firm):
        found = [*_firm(document)]
    else:
        found = [*(_rates(document) if isinstance(document, Rates) else _conditions(document))]
    return tuple(sorted(found, key=lambda gap: not gap.safety))


def _key(path: KeyPath, *more: str) -> str:
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in (*path, *more))
    return text.lstrip(".")


def _site(site: Site) -> Iterator[Gap]:
    if site.place.time_zone is None:
        yield Gap(
            "place.time_zone",
            "time zone",
            "clock times on the crew sheet, sun",
            "no sun and no darkness are worked out",
        )
    if site.place.latitude is None:
        yield Gap(
            "place.latitude", "latitude and longitude", "sun on each wall", "every wall is taken as sunlit by day", True
        )
    if not site.walls:
        yield Gap("walls", "walls", "everything on walls", "no wall work is planned")
    for index, wall in enumerate(site.walls):
        if wall.excluded is None:
            yield from _wall(wall, ("walls", index))
    yield from _ground(site)
    yield from _surroundings(site)


def _ground(site: Site) -> Iterator[Gap]:
    if not site.surfaces:
        yield Gap("surfaces", "ground surfaces", "all ground work", "no ground work is planned")
    for index, surface in enumerate(site.surfaces):
        if not surface.outline and (surface.along is None or surface.width is None):
            yield Gap(
                _key(("surfaces", index)), "outline, or wall and width", "the area of this surface", "it is left out"
            )
        if surface.material is None:
            yield Gap(
                _key(("surfaces", index), "material"),
                f"material of {surface.id}",
                "pressure on the ground",
                "weak concrete: the lowest pressure",
                True,
            )
        if surface.fall is None and surface.wash:
            yield Gap(
                _key(("surfaces", index), "fall"),
                f"fall of {surface.id}",
                "where wash water runs",
                "toward the doors: the worst case",
                True,
            )
    for index, gum in enumerate(site.gum):
        if gum.count is None and gum.density is None and not gum.at:
            yield Gap(_key(("gum", index), "density"), f"how much gum {gum.id} is", "gum hours", "it is left out")


def _surroundings(site: Site) -> Iterator[Gap]:
    if not any(eye.kind != "crew" for eye in site.eyes):
        yield Gap(
            "eyes",
            "public eye points",
            "what the public sees and the crew misses",
            "every wall is taken as seen, nothing is ranked",
        )
    if not site.drains:
        yield Gap(
            "drains", "drains", "where wash water leaves", "all wash water is kept on site until it is asked", True
        )
    for index, drain in enumerate(site.drains):
        if drain.leads_to == "unknown":
            yield Gap(
                _key(("drains", index), "leads_to"),
                f"where drain {drain.id} leads",
                "what may run into it",
                "a storm drain: cover it",
                True,
            )
    if site.local.discharge is None:
        yield Gap(
            "local.discharge",
            "the agreed place for wash water",
            "the ground wash",
            "none agreed: ground washing stays conditional",
            True,
        )
    if not site.overhead_lines:
        yield Gap(
            "overhead_lines",
            "overhead lines (or the word that there are none)",
            "ladders, wands and jets near lines",
            "look up before the first ladder; keep 10 ft and more",
            True,
        )
    if not site.taps:
        yield Gap("taps", "water tap", "refills of the tank", "the rig brings its own water")


def _wall(wall: Wall, path: KeyPath) -> Iterator[Gap]:
    if wall.start is None and wall.length is None:
        yield Gap(_key(path, "length"), f"length of {wall.id}", "its area", "the wall is left out")
    if wall.start is None and wall.length is not None:
        yield Gap(
            _key(path, "start"),
            f"place of {wall.id} in the plan",
            "what hides it from whom",
            "drawn in a row, hidden by its own projections only",
        )
    if wall.height is None and not wall.profile:
        yield Gap(_key(path, "height"), f"height of {wall.id}", "its area", "the wall is left out")
    yield from _finish(wall, path)
    yield from _things(wall, path)


def _finish(wall: Wall, path: KeyPath) -> Iterator[Gap]:
    if wall.material is None:
        yield Gap(
            _key(path, "material"),
            f"material of {wall.id}",
            "pressure and strength",
            "the most delicate finish: lowest pressure, weakest mix",
            True,
        )
    if wall.material in PAINTED and (wall.paint is None or wall.paint.state == "unknown"):
        yield Gap(
            _key(path, "paint"),
            f"state of the paint on {wall.id}",
            "pressure; lead paint before 1978",
            "unsound: test patch first, no pressure",
            True,
        )
    if not wall.soiling:
        yield Gap(_key(path, "soiling"), f"soiling of {wall.id}", "treatments", "light algae overall")


def _things(wall: Wall, path: KeyPath) -> Iterator[Gap]:
    for index, fixture in enumerate(wall.fixtures):
        if fixture.kind in ("luminaire", "lit sign", "outlet") and fixture.isolated_by is None:
            yield Gap(
                _key((*path, "fixtures", index), "isolated_by"),
                f"who can isolate {fixture.id}",
                "water near live circuits",
                "live: no water within its keep-out",
                True,
            )
    for index, door in enumerate(wall.doors):
        if door.threshold is None:
            yield Gap(
                _key((*path, "doors", index), "threshold"),
                f"threshold of {door.id}",
                "water under the door",
                "flush: water runs in",
                True,
            )


PAINTED = ("painted brick", "painted block", "painted metal", "stucco", "wood", "fibre cement")


def _rig(rig: Rig) -> Iterator[Gap]:
    if not rig.hoses:
        yield Gap("hoses", "hose runs", "pressure at the tip", "200 ft of 3/8 in hose")
    if not rig.tips:
        yield Gap("tips", "tips on hand", "pressure at the wall, reach", "no tip is chosen; pressures are limits only")
    if rig.bleach is None:
        yield Gap("bleach", "bleach on hand", "every mix", "no mix is worked out", True)
    else:
        if rig.bleach.dated is None and rig.bleach.reading is None:
            yield Gap(
                "bleach.dated", "date of the bleach", "its strength today", "a band from fresh to 60 days old", True
            )
        history = rig.bleach.storage_days or rig.bleach.storage_months or rig.bleach.reading
        if rig.bleach.storage_temperature is None and not history:
            yield Gap("bleach.storage_temperature", "how warm it was stored", "its strength today", "90 F", True)
        if rig.bleach.specific_gravity is None:
            yield Gap("bleach.specific_gravity", "specific gravity of the bleach", "weight percents", "1.16 [assumed]")
    if not rig.surface_cleaners:
        yield Gap("surface_cleaners", "surface cleaner", "ground hours", "all ground by wand")
    if not rig.ladders:
        yield Gap("ladders", "ladders", "looking at and treating what is missed", "step back instead")
    if rig.injector is None:
        yield Gap("injector", "injector bucket test", "mixing by injector", "batch mix in a tank")


def _rates(rates: Rates) -> Iterator[Gap]:
    if not rates.production:
        yield Gap(
            "production",
            "the firm's own production rates",
            "hours and price",
            "starting guesses, marked as yours to replace",
        )
    if rates.overhead == 0.0:
        yield Gap("overhead", "overhead", "the price", "0 %: the price carries no office, insurance or phone")
    if rates.labour.burden == 0.0:
        yield Gap("labour.burden", "payroll burden", "the price", "0 %: the price carries no payroll tax or insurance")
    if rates.machine_hour == 0:
        yield Gap("machine_hour", "cost of a machine hour", "the price", "0: fuel and wear are not paid for")
    if rates.materials.bleach is None:
        yield Gap("materials.bleach", "price of bleach", "the price", "0: it is not paid for")
    if rates.materials.surfactant is None:
        yield Gap("materials.surfactant", "price of surfactant", "the price", "0: it is not paid for")
    if rates.materials.neutraliser is None:
        yield Gap("materials.neutraliser", "price of neutraliser", "the price", "0: it is not paid for")
    if rates.materials.marking_paint is None:
        yield Gap("materials.marking_paint", "price of marking paint", "add-ons", "0: it is not paid for")
    if not rates.taxes:
        yield Gap("taxes", "sales tax", "the price", "no tax is added")


def _conditions(conditions: Conditions) -> Iterator[Gap]:
    weather = conditions.weather
    if weather.air_temperature is None or weather.humidity is None:
        yield Gap(
            "weather", "air temperature and humidity", "how long a wall stays wet", "hot and dry: 95 F, 30 %", True
        )
    if weather.wind_speed is None:
        yield Gap("weather.wind_speed", "wind", "reach and drift", "10 mph toward whatever must stay dry", True)
    if weather.coldest_before_dry is None:
        yield Gap(
            "weather.coldest_before_dry",
            "coldest temperature before the walk is dry",
            "ice on the walk",
            "asked on the crew sheet",
            True,
        )
    if conditions.start is None:
        yield Gap("start", "starting hour", "darkness, quiet hours, doors", "the doors are taken as open", True)


def _firm(firm: Firm) -> Iterator[Gap]:
    if firm.address is None:
        yield Gap("address", "the firm's address", "every paper", "the line is left out")
    if firm.phone is None:
        yield Gap("phone", "the firm's phone", "every paper; whom a tenant calls", "the line is left out")
    if firm.insurance is None:
        yield Gap("insurance", "the line on insurance", "the agreement", "the agreement says nothing of insurance")
    if firm.terms_read is None:
        yield Gap(
            "terms_read", "when the firm's lawyer read its terms", "the agreement", "it says that they are drafts"
        )
    if firm.night_phone is None:
        yield Gap("night_phone", "a phone that is answered at night", "the crew sheet", "the firm's phone", True)
