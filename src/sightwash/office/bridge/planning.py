"""Plans of a property with the firm's rig and rates, made beside the request and kept by a hash of their inputs.

``plan_soon`` answers at once when the plan is known, else within ``wait`` seconds: a page that gets no plan yet
shows how far the work has come and asks again. The same inputs give the same plan, so a kept one never goes stale.
"""

from __future__ import annotations

import hashlib
import json
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from sightwash import __version__
from sightwash.office.bridge.documents import document, firm_text, starting_text
from sightwash.office.bridge.work import Work, entry, run
from sightwash.office.models import FirmDocument, Property, Visit
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

KEPT: Final = 64
WORKERS: Final = 2


@dataclass(frozen=True, slots=True)
class PlanInputs:
    """The four documents as canonical text, and the day; ``key`` is their hash."""

    site: str
    rig: str
    rates: str
    conditions: str
    on: date
    key: str = field(init=False)

    def __post_init__(self) -> None:
        parts = [__version__, self.site, self.rig, self.rates, self.conditions, self.on.isoformat()]
        object.__setattr__(self, "key", hashlib.sha256(json.dumps(parts).encode()).hexdigest())

    def documents(self) -> tuple[Site, Rig, Rates, Conditions]:
        """Return the four documents; raises InputError with all that is wrong."""
        return (
            document(self.site, Site),
            document(self.rig, Rig),
            document(self.rates, Rates),
            document(self.conditions, Conditions),
        )


@dataclass(slots=True)
class Planning(Work):
    """A plan in the making."""

    plan: VisitPlan | None = None


_kept: OrderedDict[str, Planning] = OrderedDict()
_workers = ThreadPoolExecutor(WORKERS, thread_name_prefix="planning")


def inputs_of(record: Property, on: date, conditions: str | None = None) -> PlanInputs:
    """Return what a property is planned from on a day: its site, the firm's rig and rates, the conditions."""
    kinds = FirmDocument.Kind
    rig, rates = firm_text(record.firm, kinds.RIG), firm_text(record.firm, kinds.RATES)
    return PlanInputs(record.site, rig, rates, conditions or starting_text("conditions"), on)


def visit_inputs(visit: Visit) -> PlanInputs:
    """Return what a visit is planned from."""
    return inputs_of(visit.property, visit.on, visit.conditions or None)


def plan_soon(inputs: PlanInputs, wait: float = 0.7) -> Planning:
    """Return the planning of these inputs: done, or under way after ``wait`` seconds."""
    found, is_new = entry(_kept, inputs.key, Planning, KEPT)
    if is_new:
        _workers.submit(_run, found, inputs)
    found.done.wait(wait)
    return found


def plan_now(inputs: PlanInputs) -> VisitPlan:
    """Return the plan of these inputs, however long it takes; raises what stopped it."""
    found = plan_soon(inputs, wait=600.0)
    found.raise_what_stopped_it()
    if found.plan is None:
        raise TimeoutError("the plan took more than ten minutes")
    return found.plan


def _run(planning: Planning, inputs: PlanInputs) -> None:
    def make() -> None:
        planning.plan = plan_visit(*inputs.documents(), inputs.on, "quick", planning.progress)

    run(planning, _kept, "plan", make)
