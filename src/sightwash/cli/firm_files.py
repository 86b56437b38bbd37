"""The firm and its logo read from files, and other pictures: whole, and not larger than a paper can take."""

from __future__ import annotations

from pathlib import Path

from sightwash.basis.errors import InputError, Problem
from sightwash.papers.job import NO_FIRM
from sightwash.papers.pictures import LARGEST_BYTES
from sightwash.site.firm import Firm, is_file_name
from sightwash.site.site_file import read_document


def read_firm(path: Path | None) -> tuple[Firm, bytes | None]:
    """Return a firm and its logo, which lies beside the document; without a document a firm that has no name."""
    if path is None:
        return NO_FIRM, None
    firm = read_document(path, "firm")
    assert isinstance(firm, Firm)
    return firm, read_picture(path.parent, firm.logo) if firm.logo else None


def read_picture(folder: Path, name: str) -> bytes:
    """Return the content of a picture that lies in a folder; a name that leads out of it is refused."""
    path = folder / name
    if not is_file_name(name) or path.resolve().parent != folder.resolve():
        message = f"{name!r} leads out of the folder"
        raise InputError(Problem("path-escapes", message, str(folder), expected="the name of a file in the folder"))
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(Problem("unreadable", f"cannot be read: {reason}", str(path), fix="check the name")) from None
    if len(content) > LARGEST_BYTES:
        expected = f"at most {LARGEST_BYTES / 1e6:.0f} MB"
        raise InputError(Problem("picture-too-large", "the picture is too large", str(path), expected=expected))
    return content
