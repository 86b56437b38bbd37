"""The words of the papers: what a language lacks stands in English and is listed here; places in braces agree."""

from __future__ import annotations

import re

import pytest

from sightwash.papers.catalogue import missing_texts, own_texts, texts, words_of
from sightwash.papers.phrases import PhraseBook

SPANISH = ("common", "crew", "kinds", "tenant-notice")
"""Papers that crews and tenants need in Spanish: nothing may be missing."""


def slots(words: str) -> list[str]:
    return sorted(re.findall(r"\{[^}]*\}", words))


@pytest.mark.parametrize("paper", SPANISH)
def test_crews_and_tenants_have_all_of_it_in_spanish(paper: str) -> None:
    assert any(key.startswith(f"{paper}.") for key in own_texts("en"))
    assert missing_texts("es", paper) == ()


def test_what_is_missing_stands_in_english() -> None:
    missing = missing_texts("es", "agreement", "blocks")
    assert missing
    assert all(texts("es")[key] == own_texts("en")[key] for key in missing)
    beyond = set(own_texts("es")) - set(own_texts("en"))
    assert {key.split("_")[0].split(".")[0] for key in beyond} <= {"phrases", "mix-ticket"}
    assert all(key.startswith(("phrases.", "mix-ticket.caution_")) for key in beyond)


def test_a_translation_has_the_same_places_in_braces() -> None:
    shared = [key for key in own_texts("es") if key in own_texts("en")]
    unlike = [key for key in shared if slots(own_texts("es")[key]) != slots(own_texts("en")[key])]
    assert unlike == []
    book = words_of(own_texts("es"), "phrases")
    assert [source for source, target in book.items() if not set(slots(target)) <= set(slots(source))] == []


def test_short_keys_of_a_later_paper_go_first() -> None:
    assert words_of({"a.x": "1", "b.x": "2", "ab.x": "3"}, "a", "b") == {"x": "2"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("treat Row, front (south), above the canopy, second time",
         "aplicar en Row, front (south), arriba de la marquesina, segunda vez"),
        ("drive home", "viaje de regreso"),
        ("no direct jet; isolated by Tomas; rinse door", "ningún chorro directo; desconectado por Tomas, bloqueado"),
    ],
)  # fmt: skip
def test_sentences_of_the_plan_in_spanish(words: str, said: str) -> None:
    """Names stay as they are, even one that is a word of the trade; common practice of translation, no source."""
    book = PhraseBook("es", ("Row, front (south)", "Tomas", "rinse door"))
    if "isolated" in words:
        assert book.say(words) == "ningún chorro directo; isolated by Tomas; rinse door"
        assert book.unsaid == {"isolated by ..."}
    else:
        assert book.say(words) == said
        assert book.unsaid == set()


def test_english_is_left_alone() -> None:
    assert PhraseBook("en").say("treat {a} \ue000 x") == "treat {a} \ue000 x"
