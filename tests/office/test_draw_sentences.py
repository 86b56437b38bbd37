"""The sentences of the draw page against the schema of the site document: a blank is a key, or it is not there."""

from __future__ import annotations

import pytest

from sightwash.office.draw.sentences import SENTENCES, Sentence, all_blanks, all_sentences, blanks_of, sentence_parts
from sightwash.office.draw.sheet import sheet_of
from sightwash.office.models import Property
from sightwash.site.element_tree import element_lists
from sightwash.site.model import Site
from sightwash.site.site_file import document_from, document_schema, plain
from sightwash.site.tree import parse


@pytest.mark.parametrize("sentence", SENTENCES, ids=lambda each: each.slug)
def test_every_blank_is_a_key_and_every_needed_key_a_blank(sentence: Sentence) -> None:
    blanks = blanks_of(sentence.list, sentence.on)
    carrier = element_lists(Site)[sentence.on] if sentence.on else Site
    schema = document_schema("site")["$defs"][element_lists(carrier)[sentence.list].__name__]
    parts = [part for part in sentence_parts(sentence) if isinstance(part, dict)]
    asked = {part["key"] for part in parts if not part["made"] and part["key"] != "on"}
    assert asked <= set(schema["properties"])
    assert asked <= set(blanks)
    needed = set(schema["required"]) - {"id"}
    assert needed <= {part["key"] for part in parts if part["needed"]}
    assert bool(sentence.on) == any(part["key"] == "on" for part in parts)


def test_every_list_of_elements_can_be_drawn() -> None:
    drawn = {each["list"] for each in all_sentences() if not each["on"]}
    assert drawn == set(element_lists(Site))
    for carrier in ("walls", "surfaces"):
        on = {each["list"] for each in all_sentences() if each["on"] == carrier}
        assert on == set(element_lists(element_lists(Site)[carrier]))


def test_choices_are_those_of_the_schema() -> None:
    blanks = all_blanks()
    kinds = document_schema("site")["$defs"]["Projection"]["properties"]["kind"]["enum"]
    assert blanks["walls.projections"]["kind"]["choices"] == kinds
    assert blanks["walls"]["paint.state"]["form"] == "choice"
    assert blanks["surfaces"]["fall.slope"]["us"] == "%"
    assert blanks["drains"]["at"]["form"] == "point"


def test_the_sheet_of_typed_walls_is_there_at_once() -> None:
    """A wall 40 ft by 12 ft with a door 10 ft along: 12.192 m by 3.6576 m and 3.048 m (1 ft = 0.3048 m)."""
    text = """{"kind": "site", "schema": 1, "id": "a", "name": "A", "walls": [{"id": "front", "length": "40 ft",
    "height": "12 ft", "doors": [{"id": "d", "left": "10 ft", "width": "3 ft", "height": "7 ft"}]}]}"""
    site = document_from(parse(text, "a"), "site")
    assert isinstance(site, Site)
    sheet = sheet_of(Property(revision=3), site)
    wall = sheet["walls"][0]
    assert (wall["length"], wall["placed"], wall["top"]) == (12.192, False, [[0.0, 3.6576], [12.192, 3.6576]])
    assert wall["parts"][0]["box"] == [3.048, 0.0, 3.9624, 2.1336]
    assert sheet["tree"] == plain(site)
    assert (sheet["revision"], sheet["runs"], sheet["ground"]) == (3, [["front"]], [])
