"""The command line as a test calls it: in this process, with what it prints and its exit status."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

import jsonschema
import pytest

from sightwash.cli.main import main
from sightwash.papers.plan_document import output_schema

DEMO = Path(__file__).parents[2] / "examples" / "demo"


def _no_constant(name: str) -> NoReturn:
    raise AssertionError(f"{name} is not JSON")


def strict_json(text: str) -> Any:
    """Return what a text holds; the words that JSON does not know (NaN, Infinity) fail."""
    return json.loads(text, parse_constant=_no_constant)


@dataclass(frozen=True)
class Done:
    """A finished run."""

    status: int
    out: str
    err: str

    def document(self, kind: str) -> Any:
        """Return the one JSON document that was printed, held against the schema of its kind."""
        return checked(self.out, kind)

    def codes(self) -> list[str]:
        """Return the codes of the errors that were printed as JSON."""
        return [error["code"] for error in self.document("error")["errors"]]


def checked(text: str, kind: str) -> Any:
    tree = strict_json(text)
    jsonschema.Draft202012Validator(output_schema(kind)).validate(tree)
    return tree


Run = Callable[..., Done]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*words: str | Path) -> Done:
        capsys.readouterr()
        status = main([str(word) for word in words])
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        return Done(status, out, err)

    return call


@pytest.fixture
def read_line() -> Callable[[str, str], Any]:
    return checked


@pytest.fixture(scope="session")
def plan_words() -> Callable[..., list[str]]:
    """Return the words of a plan of the demo; a keyword puts another file in a document's place."""

    def words(**other: Path | str) -> list[str]:
        files = {kind: other.get(kind, DEMO / f"{kind}.yaml") for kind in ("site", "rig", "rates", "conditions")}
        options = [word for kind in ("rig", "rates", "conditions") for word in (f"--{kind}", str(files[kind]))]
        return ["plan", str(files["site"]), *options, "--no-night", "--on", "2026-07-11"]

    return words
