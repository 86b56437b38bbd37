"""Commands for whoever looks after the office, and the files it keeps."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from world import World

from sightwash.office import backup, home
from sightwash.office.models import FirmDocument, Person, Property


def called(name: str, *words: str) -> str:
    """Return what a command says."""
    said = StringIO()
    call_command(name, *words, stdout=said)
    return said.getvalue()


@pytest.mark.django_db
def test_another_firm_is_made_with_a_link_for_its_owner(client_of: Callable[..., Client]) -> None:
    said = called("new_firm", "Cedar Wash", "Cy@example.org")
    link = re.search(r"/join/\S+/", said)
    assert link is not None
    client_of().post(link[0], {"name": "Cy", "password": "moss-on-the-cap-stone"})
    owner = Person.objects.get()
    assert (owner.email, owner.role, owner.firm.name) == ("cy@example.org", "owner", "Cedar Wash")
    assert FirmDocument.objects.of(owner.firm).count() == 3
    with pytest.raises(CommandError, match="already"):
        called("new_firm", "Other", "cy@example.org")


@pytest.mark.django_db
def test_demo_fills_once_and_gives_a_new_password_each_time(client_of: Callable[..., Client]) -> None:
    first, second = (re.search(r"with (\S+) and (\S+)", called("demo")) for _ in range(2))
    assert first is not None
    assert second is not None
    assert first[1] == second[1]
    assert first[2] != second[2]
    owner = Person.objects.get()
    assert owner.check_password(second[2])
    assert Property.objects.of(owner.firm).count() == 5
    page = client_of(owner).get("/").content.decode()
    for words in ("not answered", "not paid for", "Stopped by weather", "Due since"):
        assert words in page


def test_demo_keeps_out_of_an_office_in_use(world: World) -> None:
    with pytest.raises(CommandError, match="in use"):
        called("demo")
    assert Property.objects.of(world.firm).count() == 1


@pytest.mark.django_db
def test_demo_says_where_it_looked_for_the_example(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="no example"):
        called("demo", "--example", str(tmp_path))
    assert not Person.objects.exists()


@pytest.fixture
def office_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A database of SQLite with one firm in it, in the place of the office's."""
    file = tmp_path / "office.sqlite3"
    with closing(sqlite3.connect(file)) as database:
        database.execute("CREATE TABLE office_firm (name text)")
        database.execute("INSERT INTO office_firm VALUES ('Alder Wash')")
        database.commit()

    class Connection:
        vendor = "sqlite"

        def close(self) -> None:
            """Have nothing open."""

    monkeypatch.setattr(backup, "_database", lambda: {"NAME": str(file)})
    monkeypatch.setattr(backup, "connection", Connection())
    return file


def firms(file: Path) -> list[Any]:
    """Return the names of the firms in a file."""
    with closing(sqlite3.connect(file)) as database:
        return database.execute("SELECT name FROM office_firm").fetchall()


def test_copy_is_whole_and_never_written_over(office_file: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    backup.write_copy(copy)
    assert firms(copy) == [("Alder Wash",)]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copy", "office.sqlite3"]
    with pytest.raises(backup.NoCopy, match="there already"):
        backup.write_copy(copy)
    with pytest.raises(backup.NoCopy, match="cannot write"):
        backup.write_copy(tmp_path / "no" / "folder")
    assert firms(office_file) == [("Alder Wash",)]


@pytest.mark.parametrize("data", [b"", b"not a database", b"SQLite format 3\x00" + bytes(5000)])
def test_what_is_no_copy_changes_nothing(office_file: Path, tmp_path: Path, data: bytes) -> None:
    copy = tmp_path / "copy"
    copy.write_bytes(data)
    with pytest.raises(backup.NoCopy, match="no sound copy"):
        backup.bring_back(copy)
    with pytest.raises(backup.NoCopy, match="no file"):
        backup.bring_back(tmp_path / "nothing")
    assert firms(office_file) == [("Alder Wash",)]


def test_restore_asks_for_the_word(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="--yes"):
        called("restore", str(tmp_path / "copy"))


def test_secret_is_made_once_and_taken_from_the_environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SIGHTWASH_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("SIGHTWASH_SECRET")
    first = home.office_secret()
    assert len(first) >= 50
    assert home.office_secret() == first
    assert [path.name for path in (tmp_path / "home").iterdir()] == [home.SECRET_FILE]
    monkeypatch.setenv("SIGHTWASH_SECRET", "another")
    assert home.office_secret() == "another"
