"""Copies of the office's whole database: one file out, one file in, for SQLite and for PostgreSQL.

SQLite is copied page by page by its own online backup, so that the office may stay open; PostgreSQL by its own
``pg_dump`` and ``pg_restore``, which belong to the server's version.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path
from typing import Any, Final

from django.conf import settings
from django.db import connection

TABLE: Final = "office_firm"


class NoCopy(Exception):
    """A copy cannot be made or brought back; says why in words."""


def write_copy(file: Path) -> None:
    """Write a copy of the database to a new file, whole or not at all."""
    if file.exists():
        raise NoCopy(f"{file} is there already; choose another name")
    waiting = file.with_name(f".{file.name}.part")
    waiting.unlink(missing_ok=True)
    try:
        os.close(os.open(waiting, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        if connection.vendor == "sqlite":
            _copied(Path(_database()["NAME"]), waiting)
        else:
            _run("pg_dump", "--format=custom", f"--file={waiting}", *_server())
        waiting.replace(file)
    except OSError as error:
        raise NoCopy(f"cannot write {file}: {error.strerror}") from None
    finally:
        waiting.unlink(missing_ok=True)


def bring_back(file: Path) -> None:
    """Put a copy in the place of the database; a file that is no copy changes nothing."""
    if not file.is_file():
        raise NoCopy(f"there is no file {file}")
    connection.close()
    if connection.vendor == "sqlite":
        _check(file)
        _copied(file, Path(_database()["NAME"]))
    else:
        _run("pg_restore", "--clean", "--if-exists", "--no-owner", "--single-transaction", *_server(), str(file))


def _copied(source: Path, target: Path) -> None:
    with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(target, timeout=20)) as new:
        old.backup(new)


def _check(file: Path) -> None:
    """Refuse a file that is damaged or no copy of an office."""
    try:
        with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True)) as copy:
            sound = copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            known = copy.execute("SELECT count(*) FROM sqlite_master WHERE name = ?", (TABLE,)).fetchone()[0]
    except sqlite3.DatabaseError:
        sound = known = False
    if not (sound and known):
        raise NoCopy(f"{file} is no sound copy of an office")


def _database() -> dict[str, Any]:
    found: dict[str, Any] = settings.DATABASES["default"]
    return found


def _server() -> list[str]:
    """Return how the programs of PostgreSQL find the database; the password goes by the environment."""
    database = _database()
    given = (("host", "HOST"), ("port", "PORT"), ("username", "USER"), ("dbname", "NAME"))
    return [f"--{option}={database[key]}" for option, key in given if database.get(key)]


def _run(program: str, *words: str) -> None:
    found = shutil.which(program)
    if found is None:
        raise NoCopy(f"{program} is not on the path; install PostgreSQL's client programs")
    environment = {**os.environ, "PGPASSWORD": str(_database().get("PASSWORD") or "")}
    ran = subprocess.run([found, *words], env=environment, capture_output=True, text=True, check=False)
    if ran.returncode:
        raise NoCopy(f"{program} failed: {ran.stderr.strip()[-500:]}")
