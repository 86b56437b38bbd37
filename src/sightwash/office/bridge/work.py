"""Work beside the request, kept by the hash of its inputs: how far it is, what came of it, what stopped it."""

from __future__ import annotations

import logging
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from sightwash.basis.errors import SightwashError

_log = logging.getLogger("sightwash.office")
_lock = threading.Lock()


@dataclass(slots=True)
class Work:
    """Something in the making: how far it is, then the error in its inputs, or a fault of ours, if one stopped it."""

    key: str
    share: float = 0.0
    step: str = "waiting for its turn"
    error: SightwashError | None = None
    fault: BaseException | None = None
    done: threading.Event = field(default_factory=threading.Event)

    def progress(self, step: str, share: float) -> None:
        """Take note of a step and of the share of the work that is done."""
        self.step, self.share = step, share

    def raise_what_stopped_it(self) -> None:
        """Raise the error in the inputs, or the fault, if there is one."""
        stopped = self.error or self.fault
        if stopped is not None:
            raise stopped


Kind = TypeVar("Kind", bound=Work)


def entry(kept: OrderedDict[str, Kind], key: str, make: Callable[[str], Kind], most: int) -> tuple[Kind, bool]:
    """Return the work of a key, and whether it must be started; the least used ones are let go."""
    with _lock:
        found = kept.get(key)
        if found is not None:
            kept.move_to_end(key)
            return found, False
        made = kept[key] = make(key)
        while len(kept) > most:
            kept.popitem(last=False)
        return made, True


def run(work: Kind, kept: OrderedDict[str, Kind], name: str, make: Callable[[], None]) -> None:
    """Do a piece of work; what is wrong in its inputs stays with it, a fault of ours is logged and not kept."""
    try:
        make()
        work.share = 1.0
    except SightwashError as error:
        work.error = error
    except BaseException as fault:
        work.fault = fault
        with _lock:
            kept.pop(work.key, None)
        _log.exception("a %s failed", name)
    finally:
        work.done.set()
