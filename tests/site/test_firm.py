"""The firm as a document: read by the one reader, refused with the place of what is wrong, its gaps listed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from sightwash.basis.errors import InputError
from sightwash.site.firm import Firm, is_file_name
from sightwash.site.gaps import document_gaps
from sightwash.site.site_file import document_from, document_text, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "firm.yaml"
HEAD = "kind: firm\nschema: 1\nid: firm\nname: Firm\n"


def firm(text: str = "") -> Any:
    return document_from(parse(HEAD + text, "firm.yaml"), "firm")


def test_the_demo_firm_reads_and_writes() -> None:
    found = read_document(DEMO, "firm")
    assert isinstance(found, Firm)
    assert float(found.terms.deposit) == pytest.approx(0.25)
    assert document_from(parse(document_text(found), "firm.json")) == found


def test_a_name_is_enough_and_the_rest_is_a_gap() -> None:
    bare = firm()
    assert {gap.key for gap in document_gaps(bare)} == {"address", "phone", "insurance", "terms_read", "night_phone"}
    assert [gap.key for gap in document_gaps(bare) if gap.safety] == ["night_phone"]
    assert (bare.paper, bare.language) == ("letter", "en")


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("accent: red", "bad-colour", 5),
        ("accent: '#12345g'", "bad-colour", 5),
        ("logo: ../logo.png", "path-escapes", 5),
        ("logo: /etc/logo.png", "path-escapes", 5),
        ("logo: 'C:\\logo.png'", "path-escapes", 5),
        ("blocks: '..'", "path-escapes", 5),
        ("paper: a5", "literal_error", 5),
        ("terms: {deposit: 120 %}", "out-of-range", 5),
        ("terms: {deposit: 0.25}", "share-or-percent", 5),
        ("terms: {validity_days: 4000}", "too-many-days", 5),
        ("licence: one", "unknown-key", 5),
    ],
)
def test_what_is_wrong_is_refused_with_its_line(text: str, code: str, line: int) -> None:
    with pytest.raises(InputError) as caught:
        firm(text)
    problem = caught.value.problems[0]
    assert problem.line == line
    assert problem.code == code or code == "literal_error"
    assert problem.expected


@pytest.mark.parametrize("name", ["logo.png", "our logo (new).jpg", "логотип.png", ".hidden"])
def test_names_of_files_beside_the_document(name: str) -> None:
    assert is_file_name(name)


@pytest.mark.parametrize("name", ["", ".", "..", "a/b", "a\\b", "c:a", "a\nb", " . "])
def test_names_that_lead_elsewhere(name: str) -> None:
    assert not is_file_name(name)
