"""A drawing made ready for the typesetter: in the face of the papers, its words left as words.

On a screen a white halo keeps words clear of the lines behind them. A typesetter turns words with a halo into outlines,
which nobody can search or hear and which take long to set, so on paper a white plate stands behind them instead.
"""

from __future__ import annotations

import html
import re
from typing import Final

from sightwash.papers.drawings.canvas import HALO, PAPER, number
from sightwash.papers.drawings.lettering import text_width

FACE: Final = "Source Sans Pro"
NARROWER: Final = 0.84
"""Width of the papers' face as a share of what is reckoned with on drawings [-]."""
BOLDER: Final = 1.06
_FACES: Final = re.compile(r'font-family="[^"]*"')
_HALO: Final = re.compile(
    "<text ([^>]*?) " + " ".join(f'{key}="{re.escape(value)}"' for key, value in HALO.items()) + ">([^<]*)</text>"
)
_KEYS: Final = re.compile(r'([\w-]+)="([^"]*)"')
_BEFORE: Final = {"start": 0.0, "middle": 0.5, "end": 1.0}


def printed(drawing: str) -> str:
    """Return an SVG drawing as the typesetter takes it."""
    return _HALO.sub(_plated, _FACES.sub(f'font-family="{FACE}"', drawing))


def _plated(found: re.Match[str]) -> str:
    """Return words without their halo, on a white plate."""
    keys = dict(_KEYS.findall(found[1]))
    size, x, y = (float(keys[key]) for key in ("font-size", "x", "y"))
    width = text_width(html.unescape(found[2]), size) * NARROWER * (BOLDER if "font-weight" in keys else 1.0)
    left = x - _BEFORE[keys.get("text-anchor", "start")] * width
    turned = f' transform="{keys["transform"]}"' if "transform" in keys else ""
    plate = {"x": left - 0.6, "y": y - 0.76 * size, "width": width + 1.2, "height": 0.98 * size}
    sides = " ".join(f'{key}="{number(value)}"' for key, value in plate.items())
    return f'<rect {sides} fill="{PAPER}"{turned}/><text {found[1]}>{found[2]}</text>'
