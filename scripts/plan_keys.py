"""The output of ``plan --json`` explained key by key, with the values of the smallest example beside it.

The words stand in ``docs/plan-keys.csv``; the keys, their order and their nesting come from the schema.
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal
from functools import cache
from pathlib import Path
from typing import Any

from sightwash.cli import main as command_line
from sightwash.papers.plan_document import output_schema
from source_list import cell

ROOT = Path(__file__).resolve().parent.parent
WORDS = ROOT / "docs" / "plan-keys.csv"
SMALLEST = ROOT / "examples" / "smallest"
KINDS = ("site", "rig", "rates", "conditions")
TOP = "PlanDocument"
LONGEST = 60
FEW_NUMBERS = 3


@dataclass(slots=True)
class Part:
    """One kind of object in the output: where it stands, its keys in order, and the first one met."""

    name: str
    keys: tuple[str, ...]
    places: list[str] = field(default_factory=list)
    first: dict[str, Any] | None = None


@cache
def smallest_plan() -> str:
    """Return the whole output for the smallest example."""
    words = [f"--{kind}={SMALLEST / f'{kind}.yaml'}" for kind in KINDS[1:]]
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(io.StringIO()):
        status = command_line(["plan", str(SMALLEST / "site.yaml"), *words, "--on=2026-07-11", "--json"])
    if status:
        raise ValueError(f"the smallest example cannot be planned: {out.getvalue()}")
    return out.getvalue()


def parts() -> dict[str, Part]:
    """Return every kind of object of the output by name, in the order in which they are met."""
    schema = output_schema("plan")
    kinds: dict[str, Any] = {TOP: schema, **schema["$defs"]}
    found: dict[str, Part] = {}
    _meet(TOP, "", [json.loads(smallest_plan())], kinds, found)
    return found


def _meet(name: str, place: str, values: list[Any], kinds: dict[str, Any], found: dict[str, Part]) -> None:
    """Note one kind of object at a place, then what it holds; ``values`` are the objects that stand there."""
    part = found.setdefault(name, Part(name, tuple(kinds[name]["properties"])))
    if name == "Why" and part.places:
        return
    part.places.append(place)
    part.first = part.first or next(iter(values), None)
    for key, schema in kinds[name]["properties"].items():
        held = _held(schema)
        if held is None:
            continue
        inner, many = held
        inside = [value[key] for value in values if value.get(key) is not None]
        below = [item for items in inside for item in items] if many else inside
        _meet(inner, f"{place}.{key}".lstrip(".") + ("[]" if many else ""), below, kinds, found)


def _held(schema: dict[str, Any]) -> tuple[str, bool] | None:
    """Return the kind of object that a key holds and whether it holds a list of them; None for plain values."""
    for choice in schema.get("anyOf", [schema]):
        if "$ref" in choice:
            return choice["$ref"].rpartition("/")[2], False
        if "$ref" in (items := choice.get("items", {})):
            return items["$ref"].rpartition("/")[2], True
    return None


@cache
def explanations() -> dict[tuple[str, str], tuple[str, str]]:
    """Return unit and meaning by kind of object and key."""
    rows = list(csv.DictReader(WORDS.read_text(encoding="utf-8").splitlines()))
    found = {(row["part"], row["key"]): (row["unit"], row["meaning"]) for row in rows}
    if len(found) != len(rows):
        raise ValueError(f"{WORDS.name}: a key stands twice")
    return found


def unexplained() -> list[tuple[str, str]]:
    """Return the keys of the output that the words leave out; ``why`` is explained once for all."""
    return [
        (part.name, key)
        for part in parts().values()
        for key in part.keys
        if key != "why" and (part.name, key) not in explanations()
    ]


def left_behind() -> list[tuple[str, str]]:
    """Return the keys that the words explain and the output no longer has."""
    known = {(part.name, key) for part in parts().values() for key in part.keys}
    return [key for key in explanations() if key not in known]


def key_tables() -> str:
    """Return one table for each kind of object."""
    return "\n".join(line for part in parts().values() for line in _table(part)).strip()


def _table(part: Part) -> Iterator[str]:
    where = ", ".join(f"`{place}`" for place in part.places) or "the whole document"
    if part.name == "Why":
        where = "every `why`"
    yield from ("", f"### {where if part.places != [''] else 'The document'}", "")
    yield from ("| key | meaning | unit | here |", "|---|---|---|---|")
    for key in part.keys:
        unit, meaning = explanations().get((part.name, key), ("", "Rule and sources, see below"))
        shown = "" if part.first is None else f"`{cell(_shown(part.first[key]))}`"
        yield f"| `{key}` | {meaning} | {unit} | {shown} |"


def _shown(value: Any) -> str:
    """Return a value in short: the whole of it stands in the example's ``plan.json``."""
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, dict):
        return "{ ... }"
    if isinstance(value, list):
        plain = all(isinstance(item, (int, float)) for item in value) and len(value) <= FEW_NUMBERS
        return f"[{', '.join(_shown(item) for item in value)}]" if plain else f"[ {len(value)} ]"
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= LONGEST else f'{text[: LONGEST - 4]}..."'


def documents() -> str:
    """Return the four documents of the smallest example, each in a block of its own."""
    texts = ((kind, (SMALLEST / f"{kind}.yaml").read_text(encoding="utf-8")) for kind in KINDS)
    return "\n\n".join(f"`examples/smallest/{kind}.yaml`\n\n```yaml\n{text}```" for kind, text in texts)


def margin_by_hand() -> str:
    """Return the price of the smallest example worked by hand from its cost: margin on price, then rounding."""
    cost = Decimal(json.loads(smallest_plan())["plan"]["price"]["cost"])
    exact = cost / Decimal("0.70")
    price = (exact / 5).to_integral_value(rounding=ROUND_CEILING) * 5
    kept = price - cost
    return "\n".join(
        (
            "```text",
            f"cost                                     {cost:10.2f}",
            f"price before rounding   cost / (1 - 0.30) {exact:9.3f}",
            f"price                   up to the next 5 {price:10.2f}",
            f"margin                  price - cost     {kept:10.2f}   = {kept / price:.1%} of the price",
            "```",
        )
    )
