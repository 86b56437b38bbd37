"""A row of the table of pages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from world import World

EVERYONE = ("owner", "planner", "crew")
PLANNERS = ("owner", "planner")
OWNER = ("owner",)


@dataclass(frozen=True)
class Row:
    """One address and method: its name, who may use it (nobody in particular: anyone), and how it is asked.

    ``good`` is the status when all is well; ``json`` sends and expects JSON; ``own_records`` is false
    where the arguments name no record of a firm.
    """

    name: str
    method: str = "get"
    roles: tuple[str, ...] = ()
    where: Callable[[World], dict[str, Any]] = field(default=lambda _world: {})
    send: Callable[[World], Any] = field(default=lambda _world: {})
    good: int = 200
    json: bool = False
    own_records: bool = True

    def __str__(self) -> str:
        return f"{self.method} {self.name}"
