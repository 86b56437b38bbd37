"""The night and the offer behind a plan, made beside the request and kept by the hash of the inputs.

``night_soon`` is to ``plan_night`` what ``planning.plan_soon`` is to ``plan_visit``: it answers within ``wait``
seconds, done or under way.
"""

from __future__ import annotations

from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Final

from sightwash.office.bridge.planning import PlanInputs, plan_now
from sightwash.office.bridge.work import Work, entry, run
from sightwash.planning.night import NightPlan, plan_night

KEPT: Final = 48
AFTER_PLAN: Final = 0.35
"""Share of the whole work that is done when the plan is there, for the bar that people watch [-]."""


@dataclass(slots=True)
class NightWork(Work):
    """A night in the making."""

    night: NightPlan | None = None

    def progress(self, step: str, share: float) -> None:
        """Take note of a step; shares of a night run from 0.92 to 1."""
        self.step = step
        self.share = AFTER_PLAN + (1.0 - AFTER_PLAN) * max(share - 0.92, 0.0) / 0.08


_kept: OrderedDict[str, NightWork] = OrderedDict()
_workers = ThreadPoolExecutor(1, thread_name_prefix="night")


def night_soon(inputs: PlanInputs, wait: float = 0.3) -> NightWork:
    """Return the night of these inputs: done, or under way after ``wait`` seconds."""
    found, is_new = entry(_kept, inputs.key, NightWork, KEPT)
    if is_new:
        _workers.submit(_run, found, inputs)
    found.done.wait(wait)
    return found


def night_now(inputs: PlanInputs) -> NightPlan:
    """Return the night of these inputs, however long it takes; raises what stopped it."""
    found = night_soon(inputs, wait=900.0)
    found.raise_what_stopped_it()
    if found.night is None:
        raise TimeoutError("the night took more than fifteen minutes")
    return found.night


def _run(work: NightWork, inputs: PlanInputs) -> None:
    def make() -> None:
        work.step = "the plan"
        plan = plan_now(inputs)
        work.share = AFTER_PLAN
        work.night = plan_night(*inputs.documents(), plan, progress=work.progress)

    run(work, _kept, "night", make)
