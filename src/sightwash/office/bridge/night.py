"""The night and the offer behind a plan, made beside the request and kept by the hash of the inputs.

``night_soon`` is to ``plan_night`` what ``planning.plan_soon`` is to ``plan_visit``: it answers within ``wait``
seconds, done or under way.
"""

from __future__ import annotations

import logging
import threading
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Final

from sightwash.basis.errors import SightwashError
from sightwash.office.bridge.planning import PlanInputs, plan_now
from sightwash.planning.night import NightPlan, plan_night

KEPT: Final = 48
AFTER_PLAN: Final = 0.35
"""Share of the whole work that is done when the plan is there, for the bar that people watch [-]."""


@dataclass(slots=True)
class NightWork:
    """A night in the making: how far it is, then the night, or what stopped it (``fault``: ours)."""

    key: str
    share: float = 0.0
    step: str = "waiting for its turn"
    night: NightPlan | None = None
    error: SightwashError | None = None
    fault: BaseException | None = None
    done: threading.Event = field(default_factory=threading.Event)

    def progress(self, step: str, share: float) -> None:
        """Take note of a step; shares of a night run from 0.92 to 1."""
        self.step = step
        self.share = AFTER_PLAN + (1.0 - AFTER_PLAN) * max(share - 0.92, 0.0) / 0.08


_log = logging.getLogger("sightwash.office")
_lock = threading.Lock()
_kept: OrderedDict[str, NightWork] = OrderedDict()
_workers = ThreadPoolExecutor(1, thread_name_prefix="night")


def night_soon(inputs: PlanInputs, wait: float = 0.3) -> NightWork:
    """Return the night of these inputs: done, or under way after ``wait`` seconds."""
    with _lock:
        found = _kept.get(inputs.key)
        if found is None:
            found = _kept[inputs.key] = NightWork(inputs.key)
            _workers.submit(_run, found, inputs)
            while len(_kept) > KEPT:
                _kept.popitem(last=False)
        else:
            _kept.move_to_end(inputs.key)
    found.done.wait(wait)
    return found


def night_now(inputs: PlanInputs) -> NightPlan:
    """Return the night of these inputs, however long it takes; raises what stopped it."""
    found = night_soon(inputs, wait=900.0)
    if found.error is not None:
        raise found.error
    if found.fault is not None:
        raise found.fault
    if found.night is None:
        raise TimeoutError("the night took more than fifteen minutes")
    return found.night


def _run(work: NightWork, inputs: PlanInputs) -> None:
    try:
        work.step = "the plan"
        plan = plan_now(inputs)
        work.share = AFTER_PLAN
        work.night = plan_night(*inputs.documents(), plan, progress=work.progress)
        work.share = 1.0
    except SightwashError as error:
        work.error = error
    except BaseException as fault:
        work.fault = fault
        with _lock:
            _kept.pop(work.key, None)
        _log.exception("a night failed")
    finally:
        work.done.set()
