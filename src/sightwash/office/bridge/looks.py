"""What the page of a property shows of its plan: the strip, the price with its band, the hours with their spread."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from sightwash.office.bridge.documents import document
from sightwash.office.models import Property
from sightwash.papers.drawings.unrolled import unrolled_wall
from sightwash.planning.visit import VisitPlan
from sightwash.site.gaps import Gap
from sightwash.site.model import Site

MOST_GAPS: Final = 6


@dataclass(frozen=True, slots=True)
class Look:
    """A plan at a glance, in words."""

    strip: str
    price: str
    band: str
    with_tax: str
    hours: str
    hours_band: str
    on_site: str
    people: int
    safety_gaps: tuple[Gap, ...]
    gaps: tuple[Gap, ...]
    more_gaps: int
    missed: int


def first_look(record: Property, plan: VisitPlan) -> Look:
    """Return what the page of a property shows."""
    price, hours = plan.price, plan.hours
    site_gaps = [gap for gap in plan.gaps if not gap.safety]
    return Look(
        strip=strip_drawing(record.site, plan),
        price=f"{price.price:,.0f} {price.currency}",
        band=f"{price.price_low:,.0f} to {price.price_high:,.0f} {price.currency}",
        with_tax=f"{price.total:,.2f} {price.currency}" if price.taxes else "",
        hours=f"{hours.labour_p50 / 3600:.1f} h",
        hours_band=f"8 of 10 nights under {hours.labour_p80 / 3600:.1f} h",
        on_site=f"{hours.elapsed_p50 / 3600:.1f} h",
        people=hours.people,
        safety_gaps=tuple(gap for gap in plan.gaps if gap.safety),
        gaps=tuple(site_gaps[:MOST_GAPS]),
        more_gaps=max(0, len(site_gaps) - MOST_GAPS),
        missed=len(plan.missed),
    )


def strip_drawing(site_text: str, plan: VisitPlan) -> str:
    """Return the unrolled wall as SVG; drawn once for each site and plan."""
    return _strip(site_text, _Same(plan))


class _Same:
    """A plan that is equal to itself only, so that a cache need not compare what it holds."""

    def __init__(self, plan: VisitPlan) -> None:
        self.plan = plan

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.plan is self.plan

    def __hash__(self) -> int:
        return id(self.plan)


@lru_cache(maxsize=64)
def _strip(site_text: str, same: _Same) -> str:
    return unrolled_wall(document(site_text, Site, "site"), same.plan)
