"""The account book on disk: one JSON object a line, the opening first, every further line added at the end.

Each line carries in ``after`` a mark of the line before it, so that a line which was changed, taken out or put in by
hand is found and named when the book is read.
"""

from __future__ import annotations

import errno
import fcntl
import hashlib
import json
import os
from dataclasses import dataclass, replace
from io import FileIO
from pathlib import Path
from typing import Final, NoReturn

from sightwash.basis.errors import InputError, Problem
from sightwash.book.account_book import Book, new_book
from sightwash.book.entries import ENTRIES, Entry, Opening
from sightwash.book.entry_checks import added
from sightwash.site.nodes import KeyPath, Places
from sightwash.site.site_file import plain, record_from
from sightwash.site.tree import Parsed, parse, read_text

LARGEST_BOOK: Final = 50_000_000
MARK: Final = 16
FIX: Final = "bring back a copy of the book"


@dataclass(frozen=True, slots=True)
class BookFile:
    """A book, its file, and the text that the file held when it was read."""

    path: Path
    text: str
    book: Book


def line_mark(line: str) -> str:
    """Return the mark of a line: the first 16 hexadecimal digits of its SHA-256."""
    return hashlib.sha256(line.encode()).hexdigest()[:MARK]


def book_text(book: Book) -> str:
    """Return a whole book as text, which reads back as the same book."""
    opening = json.dumps(plain(book.opening), ensure_ascii=False)
    return f"{opening}\n{_more_text(book.entries, opening)}"


def _more_text(entries: tuple[Entry, ...], before: str) -> str:
    """Return entries as lines, each with the mark of the line before it."""
    lines = []
    for entry in entries:
        before = json.dumps(plain(entry) | {"after": line_mark(before)}, ensure_ascii=False)
        lines.append(f"{before}\n")
    return "".join(lines)


def read_book(path: Path | str) -> BookFile:
    """Return the book in a file; InputError names the line that does not follow from those before it."""
    text = read_text(Path(path), LARGEST_BOOK)
    return BookFile(Path(path), text, book_from(text, str(path)))


def book_from(text: str, file: str) -> Book:
    """Return the book that a text holds."""
    if not text.endswith("\n"):
        at = text.count("\n") + 1
        raise InputError(Problem("cut-off", "the last line does not end", file, at, fix=FIX))
    book: Book | None = None
    before = ""
    for number, line in enumerate(text[:-1].split("\n"), 1):
        try:
            parsed = _parsed(line, file, number)
            book = new_book(_opening(parsed)) if book is None else added(book, _entry(parsed, before))
        except InputError as error:
            raise InputError(replace(each, file=file, line=number) for each in error.problems) from None
        before = line
    assert book is not None
    return book


def _parsed(line: str, file: str, number: int) -> Parsed:
    """Return a line's tree, whose places count the lines of the whole file."""
    found = parse(line, file)

    def places() -> Places:
        return {path: (number, column) for path, (_, column) in found.places().items()}

    return replace(found, places=places)


def _opening(parsed: Parsed) -> Opening:
    if not isinstance(parsed.tree, dict) or parsed.tree.get("entry") != "book":
        _refuse(parsed, (), "not-a-book", "the first line opens no account book", '`{"entry": "book", "schema": 1}`')
    return record_from(parsed, Opening)


def _entry(parsed: Parsed, before: str) -> Entry:
    tree = dict(parsed.tree) if isinstance(parsed.tree, dict) else {}
    kind = tree.get("entry")
    if not isinstance(kind, str) or kind not in ENTRIES:
        _refuse(parsed, ("entry",), "unknown-entry", f"{kind!r} is no entry of a book", "one of: " + ", ".join(ENTRIES))
    if tree.pop("after", None) != line_mark(before):
        message = "this line does not follow the line before it: one of them was changed, or a line is missing"
        _refuse(parsed, ("after",), "broken-chain", message, f"after: {line_mark(before)}")
    record: type[Entry] = ENTRIES[kind]
    return record_from(replace(parsed, tree=tree), record)


def _refuse(parsed: Parsed, path: KeyPath, code: str, message: str, expected: str) -> NoReturn:
    line, column = parsed.place(path) or (None, None)
    key = str(path[-1]) if path else None
    raise InputError(Problem(code, message, parsed.file, line, column, key, expected, FIX))


def create_book(path: Path, opening: Opening) -> BookFile:
    """Write a new book; a file that is there already is left as it is and refused."""
    book = new_book(opening)
    text = book_text(book)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        raise _unwritable(path, error) from None
    return BookFile(path, text, book)


def append(old: BookFile, newer: Book) -> BookFile:
    """Add to the file what a newer book has more, if the file still holds what was read from it.

    All lines are written at the end in one go; where that fails, the file is cut back to what it was.
    """
    before = old.text[:-1].rsplit("\n", 1)[-1]
    more = _more_text(newer.entries[len(old.book.entries) :], before)
    held = old.text.encode()
    try:
        with old.path.open("r+b", buffering=0) as file:
            fcntl.flock(file, fcntl.LOCK_EX)
            if file.read() != held:
                message = "the book was changed by somebody else meanwhile"
                raise InputError(Problem("changed-meanwhile", message, str(old.path), fix="do it again"))
            try:
                _write_whole(file, more.encode())
            except OSError:
                file.truncate(len(held))
                raise
    except OSError as error:
        raise _unwritable(old.path, error) from None
    return BookFile(old.path, old.text + more, newer)


def _write_whole(file: FileIO, data: bytes) -> None:
    written = file.write(data)
    os.fsync(file.fileno())
    if written != len(data):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def _unwritable(path: Path, error: OSError) -> InputError:
    message = f"cannot write {path}: {error.strerror}"
    return InputError(Problem("cannot-write", message, str(path), fix="choose another file, or make room"))
