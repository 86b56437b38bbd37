"""The firm: who signs the papers, how they look, and the terms of payment. Its wording stands in text blocks.

A file name here (``logo``, ``blocks``) means a file beside the document; a name that leads elsewhere is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from sightwash.site.fields import CalendarDay, Count, Id, Record, SchemaVersion, Share, Text
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import Finding

PaperSize = Literal["letter", "a4"]
Language = Literal["en", "es"]
MOST_DAYS: Final = 365
_COLOUR: Final = re.compile(r"#[0-9a-fA-F]{6}")
_FILE_NAME: Final = re.compile(r"[^/\\:\x00-\x1f]{1,120}")


@dataclass(frozen=True, slots=True)
class Terms(Record):
    """Days and shares of the agreement: 0 leaves a term out of the papers.

    ``late_charge`` is a share of what is overdue for each month; ``notice_days`` ends repeat visits, and their price is
    looked at again after ``review_months``.
    """

    validity_days: Count = 30
    payment_days: Count = 14
    deposit: Share = 0.0
    late_charge: Share = 0.0
    notice_days: Count = 30
    review_months: Count = 12


@dataclass(frozen=True, slots=True)
class Firm(Record):
    """The firm behind the papers.

    ``licences`` and ``insurance`` are printed as written; ``accent`` is a colour such as ``#1f4e79``; ``terms_read`` is
    the day on which the firm's own lawyer read the text blocks.
    """

    kind: Literal["firm"]
    schema: SchemaVersion
    id: Id
    name: Text
    address: Text | None = None
    phone: Text | None = None
    email: Text | None = None
    licences: tuple[Text, ...] = ()
    insurance: Text | None = None
    tax_number: Text | None = None
    pay_to: Text | None = None
    logo: Text | None = None
    accent: Text | None = None
    paper: PaperSize = "letter"
    language: Language = "en"
    terms: Terms = Terms()
    blocks: Text | None = None
    terms_read: CalendarDay | None = None
    night_phone: Text | None = None
    note: Text | None = None


def check_firm(firm: Firm) -> tuple[Finding, ...]:
    """Return everything that is wrong in a firm."""
    return (*_looks(firm), *_days(firm))


def _looks(firm: Firm) -> Iterator[Finding]:
    if firm.accent is not None and not _COLOUR.fullmatch(firm.accent):
        yield Finding("bad-colour", "this is no colour", ("accent",), "# and six of 0-9, a-f", "write `#1f4e79`")
    for key, name in (("logo", firm.logo), ("blocks", firm.blocks)):
        if name is not None and not is_file_name(name):
            message = "the name leads away from the firm's own folder"
            yield Finding("path-escapes", message, (key,), "the name of a file beside this one", "move the file here")


def _days(firm: Firm) -> Iterator[Finding]:
    terms = firm.terms
    for key in ("validity_days", "payment_days", "notice_days"):
        if getattr(terms, key) > MOST_DAYS:
            path: KeyPath = ("terms", key)
            yield Finding("too-many-days", f"{getattr(terms, key)} days", path, f"0 to {MOST_DAYS}", "write `30`")


def is_file_name(name: str) -> bool:
    """Return whether a text names a file and no folder.

    >>> is_file_name("logo.png"), is_file_name("../logo.png"), is_file_name("..")
    (True, False, False)
    """
    return bool(_FILE_NAME.fullmatch(name)) and name.strip(". ") != ""
