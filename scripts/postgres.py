"""Run a command beside a PostgreSQL server of its own: ``python scripts/postgres.py COMMAND ...``.

The server lives in a temporary folder, listens on a socket there and nowhere else, runs as an ordinary user (it refuses
to be root) and is stopped when the command ends. The command finds it in SIGHTWASH_DATABASE. Where PostgreSQL is not
installed the command is left out with a line that says so; in continuous integration that is a failure.
"""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

DEBIAN: Final = Path("/usr/lib/postgresql")
UNPRIVILEGED: Final = ("postgres", "nobody")
ROLE: Final = "office"
PATIENCE: Final = 30.0
QUICK: Final = ("fsync=off", "synchronous_commit=off", "full_page_writes=off", "shared_buffers=64MB")
"""The server is thrown away: it need not survive a power cut."""


def program_folder() -> Path | None:
    """Return the folder of PostgreSQL's programs: that of the path, else Debian's newest."""
    on_path = shutil.which("initdb")
    if on_path is not None:
        return Path(on_path).resolve().parent
    found = [folder for folder in DEBIAN.glob("*/bin") if (folder / "initdb").exists()]
    return max(found, key=lambda folder: float(folder.parent.name), default=None)


def ordinary_user() -> dict[str, Any]:
    """Return how to start a process as somebody who is not root; nothing where we are not root."""
    if os.geteuid() != 0:
        return {}
    for name in UNPRIVILEGED:
        try:
            found = pwd.getpwnam(name)
        except KeyError:
            continue
        return {"user": found.pw_uid, "group": found.pw_gid, "extra_groups": []}
    raise SystemExit("PostgreSQL refuses to run as root, and there is neither a user postgres nor nobody.")


@contextmanager
def server(programs: Path) -> Iterator[str]:
    """Yield the address of a new server, and stop it afterwards."""
    user = ordinary_user()
    folder = Path(tempfile.mkdtemp(prefix="sightwash-pg-"))
    try:
        if user:
            os.chown(folder, user["user"], user["group"])
        data = folder / "data"
        made = [str(programs / "initdb"), "-D", str(data), "-U", ROLE, "-A", "trust", "-E", "UTF8", "--locale=C", "-N"]
        subprocess.run(made, check=True, stdout=subprocess.DEVNULL, cwd=folder, **user)
        settings = [word for setting in (*QUICK, "listen_addresses=") for word in ("-c", setting)]
        command = [str(programs / "postgres"), "-D", str(data), "-k", str(folder), *settings]
        with (folder / "log").open("wb") as log:
            process = subprocess.Popen(command, stdout=log, stderr=log, cwd=folder, start_new_session=True, **user)
        try:
            _wait_until_ready(programs, folder, process)
            yield f"postgres://{ROLE}@{quote(str(folder), safe='')}/postgres"
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(PATIENCE)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _wait_until_ready(programs: Path, folder: Path, process: subprocess.Popen[bytes]) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and process.poll() is None:
        asked = [str(programs / "pg_isready"), "-q", "-h", str(folder)]
        if subprocess.run(asked, check=False).returncode == 0:
            return
        time.sleep(0.1)
    raise SystemExit(f"PostgreSQL did not start:\n{(folder / 'log').read_text(errors='replace')}")


def main(command: Sequence[str]) -> int:
    """Run the command beside a server and return its exit status."""
    programs = program_folder()
    if programs is None:
        sys.stderr.write(f"Left out, PostgreSQL is not installed (apt install postgresql): {' '.join(command)}\n")
        return 1 if os.environ.get("CI", "").lower() not in ("", "0", "false") else 0
    signal.signal(signal.SIGTERM, lambda _number, _frame: sys.exit(143))
    with server(programs) as address:
        sys.stderr.write("== on PostgreSQL\n")
        return subprocess.run(command, check=False, env={**os.environ, "SIGHTWASH_DATABASE": address}).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
