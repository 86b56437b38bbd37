"""The office as a process: its start, its data folder, its copies, and what is left when it is killed.

That SQLite in write-ahead mode keeps what it has acknowledged when the process dies is its own statement (SQLite
documentation, "Write-Ahead Logging", 2024) [published]; here it is held against a real kill.
"""

from __future__ import annotations

import os
import re
import signal
import socket
import sqlite3
import stat
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPResponse
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.error import HTTPError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener

import dj_database_url
import psycopg
import pytest
from django.conf import settings

OFFICE = [sys.executable, "-W", "error", "-P", "-m", "sightwash.office"]
SOURCE = Path(__file__).resolve().parents[2] / "src"
PATIENCE = 30.0


@dataclass
class Served:
    """An office that runs: its process, its address, what it said at the start."""

    process: subprocess.Popen[str]
    address: str
    said: str

    def signed_in(self) -> OpenerDirector:
        """Return a browser of sorts, signed in with what the start said."""
        match = re.search(r"Sign in with (\S+) and (\S+)", self.said)
        assert match is not None, self.said
        opener = build_opener(HTTPCookieProcessor(CookieJar()))
        self.send(opener, "/sign-in/", username=match[1], password=match[2])
        return opener

    def read(self, opener: OpenerDirector, path: str) -> str:
        """Return a page."""
        with opener.open(self.address + path, timeout=PATIENCE) as answer:
            found: str = answer.read().decode()
            return found

    def send(self, opener: OpenerDirector, path: str, **fields: str) -> str:
        """Send a form with the token of its page; return where it led."""
        token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', self.read(opener, path))
        assert token is not None
        body = urlencode({"csrfmiddlewaretoken": token[1], **fields}).encode()
        with opener.open(self.address + path, body, timeout=PATIENCE) as answer:
            found: str = answer.url
            return found


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


@pytest.fixture
def environment(tmp_path: Path) -> Iterator[dict[str, str]]:
    """The environment of an office of its own: a new home, on PostgreSQL a new database too."""
    inherited = {key: value for key, value in os.environ.items() if not key.startswith(("SIGHTWASH_", "DJANGO_"))}
    found = {**inherited, "SIGHTWASH_HOME": str(tmp_path / "home"), "PYTHONPATH": str(SOURCE)}
    given = os.environ.get("SIGHTWASH_DATABASE", "")
    if not given.startswith("postgres"):
        yield found
        return
    database = settings.DATABASES["default"]
    name = f"office_{os.getpid()}_{time.monotonic_ns()}"
    with psycopg.connect(host=database["HOST"], user=database["USER"], dbname="postgres", autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}".encode())
        yield {**found, "SIGHTWASH_DATABASE": given.rpartition("/")[0] + f"/{name}"}
        server.execute(f"DROP DATABASE {name} WITH (FORCE)".encode())


@pytest.fixture
def served(environment: dict[str, str]) -> Iterator[Callable[[], Served]]:
    """Return what starts an office with the demo."""
    running: list[subprocess.Popen[str]] = []

    def start() -> Served:
        port = free_port()
        command = [*OFFICE, "--demo", "--port", str(port)]
        process = subprocess.Popen(
            command,
            env=environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        running.append(process)
        assert process.stdout is not None
        said = ""
        for line in process.stdout:
            said += line
            if "The office is open" in line:
                return Served(process, f"http://127.0.0.1:{port}", said)
        raise AssertionError(said)

    yield start
    for process in running:
        process.kill()
        process.wait(PATIENCE)
        assert process.stdout is not None
        process.stdout.close()


def kept_by_owner_only(path: Path) -> bool:
    """Return whether nobody but its owner may read a file or enter a folder."""
    return stat.S_IMODE(path.stat().st_mode) & 0o077 == 0


def names(environment: dict[str, str]) -> set[str]:
    """Return the names of all properties, read from the database itself."""
    address = environment.get("SIGHTWASH_DATABASE")
    query = "SELECT name FROM office_property"
    if address is None:
        with closing(sqlite3.connect(Path(environment["SIGHTWASH_HOME"]) / "office.sqlite3")) as database:
            return {row[0] for row in database.execute(query)}
    found = dj_database_url.parse(address)
    with psycopg.connect(host=str(found["HOST"]), user=str(found["USER"]), dbname=str(found["NAME"])) as server:
        return {row[0] for row in server.execute(query.encode())}


def run(environment: dict[str, str], *words: str) -> subprocess.CompletedProcess[str]:
    """Run a command of the office."""
    return subprocess.run([*OFFICE, *words], env=environment, capture_output=True, text=True, check=False, timeout=120)


def add(office: Served, opener: OpenerDirector, name: str) -> None:
    """Add a property; returns when the office has acknowledged it."""
    assert "/draw/" in office.send(opener, "/properties/add/draw/", name=name, units="us")


def killed_while_adding(office: Served, opener: OpenerDirector, after: float) -> list[str]:
    """Kill the office in the midst of its work; return the names that it had acknowledged."""
    acknowledged: list[str] = []
    killer = threading.Timer(after, office.process.kill)
    killer.start()
    try:
        for number in range(10_000):
            add(office, opener, f"Unit {after}-{number}")
            acknowledged.append(f"Unit {after}-{number}")
    except OSError:
        pass
    killer.join()
    return acknowledged


def test_office_starts_is_killed_copied_and_brought_back(
    served: Callable[[], Served], environment: dict[str, str], tmp_path: Path
) -> None:
    """One long day, as each start takes seconds."""
    home, copy = Path(environment["SIGHTWASH_HOME"]), tmp_path / "copy"
    office = served()
    opener = office.signed_in()
    assert "Larkspur Corner shops" in office.read(opener, "/")
    assert kept_by_owner_only(home)
    assert kept_by_owner_only(home / "office-secret")
    with pytest.raises(HTTPError) as refused:
        office.read(opener, "/properties/1/nothing/")
    assert refused.value.code == 404
    refused.value.close()

    add(office, opener, "Before the copy")
    made = run(environment, "backup", str(copy))
    assert (made.returncode, made.stderr) == (0, "")
    assert kept_by_owner_only(copy)
    acknowledged = killed_while_adding(office, opener, 0.6)

    office = served()
    acknowledged += killed_while_adding(office, office.signed_in(), 0.9)
    assert len(acknowledged) >= 2
    assert set(acknowledged) - names(environment) == set()

    back = run(environment, "restore", str(copy), "--yes")
    assert (back.returncode, back.stderr) == (0, "")
    assert "Before the copy" in names(environment)
    assert set(acknowledged) & names(environment) == set()


def test_office_behind_a_proxy_trusts_its_word_and_stops_cleanly(
    served: Callable[[], Served], environment: dict[str, str]
) -> None:
    environment.update(SIGHTWASH_HTTPS="1", SIGHTWASH_HOSTS="office.example")
    office = served()
    port = int(office.address.rpartition(":")[2])

    def asked(**headers: str) -> HTTPResponse:
        connection = HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
        connection.request("GET", "/sign-in/", headers={key.replace("_", "-"): word for key, word in headers.items()})
        answer = connection.getresponse()
        answer.read()
        connection.close()
        return answer

    bare = asked(Host="office.example")
    assert (bare.status, bare.headers["Location"]) == (301, "https://office.example/sign-in/")
    secure = asked(Host="office.example", X_Forwarded_Proto="https")
    assert secure.status == 200
    assert "Secure" in secure.headers["Set-Cookie"]
    assert secure.headers["Strict-Transport-Security"]
    assert asked(Host="elsewhere.example", X_Forwarded_Proto="https").status == 400

    taken = run(environment, "--port", str(port))
    assert (taken.returncode, "Traceback" in taken.stderr) == (2, False)
    assert "choose another --port" in taken.stderr
    office.process.send_signal(signal.SIGTERM)
    assert office.process.wait(PATIENCE) == 0
