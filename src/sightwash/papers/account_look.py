"""How the papers of the account book look: the firm, its paper, language and logo, without a plan behind them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from sightwash.papers.catalogue import day_words, texts, words_of
from sightwash.papers.job import NO_FIRM, firm_lines, money_words
from sightwash.papers.typesetter import JSON, typeset
from sightwash.site.firm import Firm, Language, PaperSize


@dataclass(frozen=True, slots=True)
class AccountLook:
    """The firm and its papers; ``currency`` is the book's."""

    firm: Firm = NO_FIRM
    paper: PaperSize = "letter"
    language: Language = "en"
    logo: bytes | None = None
    currency: str = "USD"

    def words(self, *papers: str) -> dict[str, str]:
        """Return the words of some papers by their short keys."""
        return words_of(texts(self.language), "common", *papers)

    def day(self, day: date) -> str:
        """Return a day in words."""
        return day_words(day, texts(self.language))

    def money(self, amount: Decimal) -> str:
        """Return an amount with the book's currency."""
        return money_words(amount, self.currency)

    def typeset(self, template: str, title: str, data: Mapping[str, JSON]) -> bytes:
        """Return a paper with the firm's name, lines, colour and logo."""
        firm = self.firm
        shared: dict[str, JSON] = {
            "title": title,
            "language": self.language,
            "accent": firm.accent,
            "firm": {"name": firm.name, "lines": firm_lines(firm)} if firm.name else None,
        }
        return typeset(template, {**shared, **data}, {} if self.logo is None else {"logo": self.logo}, self.paper)


def percent(share: Decimal) -> str:
    """Return a share as percent, with as many places as it has.

    >>> percent(Decimal("0.07225")), percent(Decimal("0.1"))
    ('7.225 %', '10 %')
    """
    text = f"{share * 100:f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"
