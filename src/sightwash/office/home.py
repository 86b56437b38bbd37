"""The folder that the office keeps its data in, and the secret made there at the first start."""

from __future__ import annotations

import os
import secrets
import sys
from pathlib import Path
from typing import Final

SECRET_FILE: Final = "office-secret"


def data_home() -> Path:
    """Return the folder for the database and the secret: SIGHTWASH_HOME, or the user's own data folder."""
    named = os.environ.get("SIGHTWASH_HOME")
    if named:
        return Path(named).expanduser().resolve()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home()) / "sightwash"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "sightwash"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "sightwash"


def office_secret() -> str:
    """Return the key that signs sessions: SIGHTWASH_SECRET, or the one kept in the data folder."""
    named = os.environ.get("SIGHTWASH_SECRET")
    if named:
        return named
    file = data_home() / SECRET_FILE
    try:
        return file.read_text(encoding="ascii")
    except FileNotFoundError:
        return _new_secret(file)


def _new_secret(file: Path) -> str:
    """Write a new secret, readable by its owner only; another process that was first wins."""
    file.parent.mkdir(parents=True, exist_ok=True)
    waiting = file.with_name(f"{file.name}.{secrets.token_hex(8)}")
    with os.fdopen(os.open(waiting, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as stream:
        stream.write(secrets.token_urlsafe(48))
    try:
        os.link(waiting, file)
    except FileExistsError:
        pass
    finally:
        waiting.unlink()
    return file.read_text(encoding="ascii")
