"""What the API takes and gives."""

from __future__ import annotations

from datetime import date
from typing import Any, Literal

from ninja import Schema
from pydantic import ConfigDict, Field


class Out(Schema):
    """Begins every answer."""

    schema_version: int = 1


class Problem(Schema):
    """One thing that is wrong: what, where, what was expected, what to write instead."""

    code: str
    message: str
    key: str | None = None
    line: int | None = None
    column: int | None = None
    expected: str | None = None
    fix: str | None = None


class Errors(Out):
    """Every answer that is no success."""

    kind: Literal["error"] = "error"
    errors: list[Problem]


class ClashSide(Schema):
    """What one side wants of a key; ``gone`` where it removes the element."""

    value: Any = None
    gone: bool = False


class Clash(Schema):
    """One key of one element that two people want, with both sides."""

    id: str | None
    key: str
    yours: ClashSide
    theirs: ClashSide
    revision: int
    person: str


class ConflictOut(Errors):
    """An operation that somebody else's later one stands against; nothing was changed."""

    clashes: list[Clash] = Field(default_factory=list)


class PropertyLine(Schema):
    """A property in a list."""

    id: int
    name: str
    address: str
    revision: int
    next_due: date | None


class PropertyList(Out):
    """Properties by name, a page of them; ``more`` where there are others after these."""

    properties: list[PropertyLine]
    more: bool


class SiteOut(Out):
    """The site document of a property at a revision."""

    property: int
    revision: int
    site: dict[str, Any]


class OperationIn(Schema):
    """An operation against a revision; sending it again with the same ``token`` does nothing again."""

    model_config = ConfigDict(extra="forbid")

    base: int = Field(ge=1, le=2**31 - 1)
    operation: dict[str, Any]
    token: str = Field(min_length=8, max_length=64)


class OperationOut(Out):
    """An operation that was done: the revision that it led to, and what takes it back."""

    revision: int
    words: str
    back: dict[str, Any]


class PlanIn(Schema):
    """The day, and a conditions document if others than usual are meant."""

    model_config = ConfigDict(extra="forbid")

    on: date
    conditions: dict[str, Any] | None = None


class Waiting(Out):
    """A plan that is not there yet: ask again."""

    kind: Literal["waiting"] = "waiting"
    step: str
    share: float


class PlanOut(Out):
    """A plan document; ``schema plan`` gives its whole schema."""

    model_config = ConfigDict(extra="allow")

    kind: Literal["plan"] = "plan"
    inputs: dict[str, Any]
    plan: dict[str, Any]
    sources: dict[str, str]
