"""The book on disk: it reads back as itself, is only added to, and tells a line that was touched."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

from sightwash.basis.errors import InputError
from sightwash.book.book_file import append, book_from, book_text, create_book, line_mark, read_book
from sightwash.book.entries import AgreedLine, Customer, Job, LateTerms, Opening
from sightwash.book.entry_checks import added
from sightwash.book.new_entries import with_credit, with_invoice, with_late_charge, with_payment, with_return

D = Decimal
JOB = Job(
    "job", date(2026, 6, 20), "shops", Customer("owner", "An owner é 店", ("1 Road",)), "Shops <b>#strong</b>",
    (AgreedLine("wash", "washing, \"front\"", D("100.10")),), deposit=D(20), late=LateTerms(0.18),
)  # fmt: skip


def filled(path: Path) -> Path:
    held = create_book(path, Opening("book", 1))
    book = added(held.book, JOB)
    book = with_payment(book, "shops", date(2026, 6, 21), D(20), "check")
    book = with_invoice(book, "shops", date(2026, 7, 1))
    held = append(held, book)
    book = with_return(held.book, "payment-1", date(2026, 7, 5), "no funds")
    book = with_credit(book, "2026-0001", date(2026, 7, 6), {"wash": D("0.10")}, "rounding")
    append(held, with_late_charge(book, "2026-0001", date(2026, 9, 1)))
    return path


def test_a_book_reads_back_as_itself(tmp_path: Path) -> None:
    path = filled(tmp_path / "deep" / "book.jsonl")
    found = read_book(path)
    assert book_text(found.book) == found.text == path.read_text(encoding="utf-8")
    assert [json.loads(line)["entry"] for line in found.text.splitlines()] == [
        "book", "job", "payment", "invoice", "returned", "credit", "late charge",
    ]  # fmt: skip


def test_each_line_carries_the_mark_of_the_one_before(tmp_path: Path) -> None:
    """SHA-256 by the standard library's own hashlib is the reference; checked on a line of another form."""
    assert line_mark("") == "e3b0c44298fc1c14"  # SHA-256 of nothing (NIST FIPS 180-4, published)
    lines = filled(tmp_path / "book.jsonl").read_text(encoding="utf-8").splitlines()
    assert all(json.loads(after)["after"] == line_mark(before) for before, after in pairwise(lines))


def test_what_was_touched_is_told_with_its_line(tmp_path: Path) -> None:
    text = filled(tmp_path / "book.jsonl").read_text(encoding="utf-8")
    lines = text.splitlines(keepends=True)
    for broken, code, line in (
        ("".join(lines).replace('"amount": "20"', '"amount": "21"', 1), "broken-chain", 4),
        ("".join(lines[:2] + lines[3:]), "broken-chain", 3),
        ("".join(lines[:4] + lines[5:]), "broken-chain", 5),
        (text[:-1], "cut-off", 7),
        (text[:-20] + "\n", "not-json", 7),
        ("".join(lines[1:]), "not-a-book", 1),
    ):
        with pytest.raises(InputError) as caught:
            book_from(broken, "book.jsonl")
        problem = caught.value.problems[0]
        assert (problem.code, problem.line, problem.file) == (code, line, "book.jsonl"), problem


def test_an_unknown_entry_and_an_unknown_key_are_refused(tmp_path: Path) -> None:
    text = book_text(create_book(tmp_path / "book.jsonl", Opening("book", 1)).book)
    mark = line_mark(text.rstrip("\n"))
    for line, code in (
        ({"entry": "gift", "after": mark}, "unknown-entry"),
        (
            {"entry": "refund", "on": "2026-07-01", "job": "x", "amount": 1, "by": "y", "colour": "red", "after": mark},
            "unknown-key",
        ),
        ({"entry": "refund", "on": "soon", "job": "x", "amount": 1, "by": "y", "after": mark}, "not-a-date"),
    ):
        with pytest.raises(InputError) as caught:
            book_from(f"{text}{json.dumps(line)}\n", "book.jsonl")
        assert (caught.value.problems[0].code, caught.value.problems[0].line) == (code, 2)


def test_a_book_is_not_written_over_and_not_on_top_of_another_hand(tmp_path: Path) -> None:
    path = filled(tmp_path / "book.jsonl")
    with pytest.raises(InputError) as caught:
        create_book(path, Opening("book", 1))
    assert caught.value.problems[0].code == "cannot-write"
    first, second = read_book(path), read_book(path)
    append(first, with_payment(first.book, "shops", date(2026, 9, 2), D(1), "check"))
    before = path.read_bytes()
    with pytest.raises(InputError) as caught:
        append(second, with_payment(second.book, "shops", date(2026, 9, 2), D(2), "check"))
    assert caught.value.problems[0].code == "changed-meanwhile"
    assert path.read_bytes() == before


def test_what_cannot_be_written_whole_is_cut_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = filled(tmp_path / "book.jsonl")
    held = read_book(path)
    before = path.read_bytes()

    def fail(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("sightwash.book.book_file.os.fsync", fail)
    with pytest.raises(InputError):
        append(held, with_payment(held.book, "shops", date(2026, 9, 2), D(1), "check"))
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "opening", [Opening("book", 1, credit_numbers="{year}-{number:04}"), Opening("book", 1, first_invoice=0)]
)
def test_an_opening_that_could_not_work_is_refused(tmp_path: Path, opening: Opening) -> None:
    with pytest.raises(InputError):
        create_book(tmp_path / "book.jsonl", opening)
    assert not (tmp_path / "book.jsonl").exists()
