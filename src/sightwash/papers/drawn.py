"""The drawings of one job, each drawn at most once however many papers show it."""

from __future__ import annotations

import re
from collections.abc import Callable

from sightwash.papers.drawings.elevation import elevation
from sightwash.papers.drawings.eye_view import eye_view
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


class Drawings:
    """Drawings of a site and its plan as the bytes of SVG texts."""

    def __init__(self, site: Site, plan: VisitPlan) -> None:
        self._site, self._plan = site, plan
        self._made: dict[str, bytes] = {}

    def wall(self, wall: str) -> bytes:
        """Return one wall large, with the ground before it."""
        return self._once(f"wall {wall}", lambda: elevation(self._site, self._plan, wall))

    @staticmethod
    def height(drawing: bytes) -> float:
        """Return the height of a drawing at its own size [pt]."""
        found = re.search(rb'height="([\d.]+)pt"', drawing[:400])
        return float(found[1]) if found else 0.0

    def ground(self) -> bytes:
        """Return the ground plan."""
        return self._once("ground", lambda: ground_plan(self._site, self._plan))

    def view(self, eye: str) -> bytes:
        """Return what is seen from an eye."""
        faces = self._plan.faces
        return self._once(f"view {eye}", lambda: eye_view(self._site, self._plan, eye, faces=faces))

    def _once(self, name: str, draw: Callable[[], str]) -> bytes:
        if name not in self._made:
            self._made[name] = draw().encode()
        return self._made[name]
