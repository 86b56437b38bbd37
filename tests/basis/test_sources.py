"""The register of sources: what a row must hold, and how it is cited.

Checked against: the files themselves, read by the standard library's csv reader (independent of the register).
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from importlib import resources
from pathlib import Path

import pytest

from sightwash.basis.sources import STATUSES, Source, Why, register, source

HEADER = ["id", "status", "title", "body", "year", "where", "note"]
FOLDER = Path(str(resources.files("sightwash"))) / "data" / "sources"


def rows() -> Iterator[tuple[str, list[str]]]:
    for path in sorted(FOLDER.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as stream:
            for row in csv.reader(stream):
                yield path.name, row


def test_every_row_of_every_file_is_in_the_register() -> None:
    listed = [row[0] for _, row in rows() if row != HEADER]
    assert listed
    assert sorted(register()) == sorted(listed)
    assert register()[listed[0]] == source(listed[0])


def test_every_row_is_whole() -> None:
    wrong = [
        (name, row) for name, row in rows() if len(row) != len(HEADER) or any(cell != cell.strip() for cell in row)
    ]
    assert not wrong


@pytest.mark.parametrize("found", register().values(), ids=lambda found: found.id)
def test_every_source_can_be_cited(found: Source) -> None:
    assert re.fullmatch(r"[a-z0-9]+(?:[.-][a-z0-9]+)*", found.id)
    assert found.status in STATUSES
    assert found.title
    assert found.citation.isprintable()
    assert re.fullmatch(r"(?:\d{4}(?:[-/]\d{2,4})?)?", found.year)


def test_a_published_source_names_its_body_its_year_or_its_place() -> None:
    """One textbook chapter is known by its title and figure alone; it supports no check by itself."""
    bare = {s.id for s in register().values() if s.status == "published" and not (s.body or s.year or s.where)}
    assert bare <= {"trout-stream-example"}


def test_a_citation_marks_what_is_not_published() -> None:
    parts = ("Nozzle tables", "A body", "1999", "table 2", "")
    assert Source("a", "published", *parts).citation == "A body, Nozzle tables, 1999, table 2"
    assert Source("a", "from memory", *parts).citation == "A body, Nozzle tables, 1999, table 2 [from memory]"
    assert Source("a", "user", "The user's words", "", "", "", "").citation == "The user's words [user]"


def test_an_unknown_source_is_a_defect() -> None:
    with pytest.raises(KeyError):
        source("no-such-source")


def test_why_needs_no_source() -> None:
    assert Why("common sense") == Why("common sense", ())


@pytest.fixture
def other_register(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A register of our own under ``data/sources``; the real one is back afterwards."""
    folder = tmp_path / "data" / "sources"
    folder.mkdir(parents=True)
    monkeypatch.setattr("importlib.resources.files", lambda _package: tmp_path)
    register.cache_clear()
    yield folder
    monkeypatch.undo()
    register.cache_clear()


def write(path: Path, *lines: str) -> None:
    path.write_text("\n".join((",".join(HEADER), *lines)) + "\n", encoding="utf-8")


@pytest.mark.parametrize(("first", "second"), [
    ("a,published,T,B,1999,,", "a,published,T,B,1999,,"),
    ("a,published,T,B,1999,,", "b,rumour,T,B,1999,,"),
])  # fmt: skip
def test_a_doubled_id_or_an_unknown_status_is_named_with_its_file(
    other_register: Path, first: str, second: str
) -> None:
    write(other_register / "one.csv", first)
    write(other_register / "two.csv", second)
    with pytest.raises(ValueError, match=r"two\.csv"):
        register()


def test_other_files_and_commas_in_quotes_do_not_disturb(other_register: Path) -> None:
    write(other_register / "one.csv", 'a,published,"Pumps, hoses",B,1999,"table 2, row 3",')
    (other_register / "README.md").write_text("not a table", encoding="utf-8")
    assert register()["a"].citation == "B, Pumps, hoses, 1999, table 2, row 3"
