"""The drawings of one job, each drawn at most once however many papers show it."""

from __future__ import annotations

import re
from collections.abc import Callable
from threading import Lock, local

from sightwash.papers.drawings.elevation import Elevation, Room, elevations
from sightwash.papers.drawings.eye_view import eye_view
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.papers.drawings.scale import PAGE
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


class Turn:
    """One paper is drawn at a time, the typesetter sets the one before meanwhile: who draws has the turn."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._own = local()

    def __enter__(self) -> None:
        self._lock.acquire()
        self._own.held = True

    def __exit__(self, *_: object) -> None:
        self.give_up()

    def give_up(self) -> None:
        """Let another draw; nothing where the turn is not held."""
        if getattr(self._own, "held", False):
            self._own.held = False
            self._lock.release()


class Drawings:
    """Drawings of a site and its plan as the bytes of SVG texts."""

    def __init__(self, site: Site, plan: VisitPlan) -> None:
        self._site, self._plan = site, plan
        self._made: dict[str, bytes] = {}
        self._walls: dict[str, Elevation] = {}

    def elevation(self, wall: str) -> Elevation:
        """Return one wall ready to be drawn in any room."""
        self._walls = self._walls or elevations(self._site, self._plan)
        return self._walls[wall]

    def wall(self, wall: str, room: Room = PAGE) -> bytes:
        """Return one wall large, with the ground before it, as wide as a room and no higher."""
        return self._once(f"wall {wall} {room}", lambda: self.elevation(wall).drawing(room))

    @staticmethod
    def height(drawing: bytes) -> float:
        """Return the height of a drawing at its own size [pt]."""
        found = re.search(rb'height="([\d.]+)pt"', drawing[:400])
        return float(found[1]) if found else 0.0

    def ground(self, surface: str | None = None, height: float = PAGE[1]) -> bytes:
        """Return the ground plan, or one surface alone, of a height at most."""
        name = f"ground {surface} {height}"
        return self._once(name, lambda: ground_plan(self._site, self._plan, surface, height, notes=False))

    def view(self, eye: str) -> bytes:
        """Return what is seen from an eye."""
        faces = self._plan.faces
        return self._once(f"view {eye}", lambda: eye_view(self._site, self._plan, eye, faces=faces))

    def _once(self, name: str, draw: Callable[[], str]) -> bytes:
        if name not in self._made:
            self._made[name] = draw().encode()
        return self._made[name]
