"""What is missing is a gap, not an error; what bears on safety or chemistry comes first and takes the worst case.

Checked against: the rules of the design, row by row (common practice, no source).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from sightwash.site.gaps import Gap, document_gaps
from sightwash.site.site_file import Document, document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parent.parent.parent / "examples" / "demo"
SITE = "kind: site\nschema: 1\nid: a\nname: A\n"
RIG = "kind: rig\nschema: 1\nid: a\nname: A\nmachine: {flow: 4, pressure: 3000}\n"
RATES = "kind: rates\nschema: 1\nid: a\nname: A\nlabour: {wage: 20}\n"
CONDITIONS = "kind: conditions\nschema: 1\nid: a\n"
FIRST_WALK = SITE + "walls: [{id: front, length: 40, height: 14}]\nsurfaces: [{id: walk, along: front, width: 6}]\n"


def gaps(text: str) -> dict[str, Gap]:
    found = document_gaps(document_from(parse(text, "text")))
    assert len({gap.key for gap in found}) == len(found)
    return {gap.key: gap for gap in found}


def all_documents() -> list[Document]:
    demo = [read_document(DEMO / f"{kind}.yaml") for kind in ("site", "rig", "rates", "conditions")]
    return demo + [document_from(parse(text, "text")) for text in (SITE, RIG, RATES, CONDITIONS, FIRST_WALK)]


def test_one_length_one_height_and_one_walk_width_are_enough_to_read_a_site() -> None:
    found = gaps(FIRST_WALK)
    assert "walls[0].length" not in found
    assert "walls[0].height" not in found
    assert "surfaces[0]" not in found
    assert found["walls[0].start"].changes == "what hides it from whom"


@pytest.mark.parametrize("document", all_documents(), ids=lambda document: f"{document.kind}-{document.id}")
def test_every_gap_says_what_it_changes_and_what_is_taken(document: Document) -> None:
    found = document_gaps(document)
    assert all(gap.key and gap.missing and gap.changes and gap.taken for gap in found)
    assert [gap.safety for gap in found] == sorted((gap.safety for gap in found), reverse=True)


@pytest.mark.parametrize(("text", "key"), [
    (FIRST_WALK, "place.latitude"),
    (FIRST_WALK, "walls[0].material"),
    (FIRST_WALK, "surfaces[0].material"),
    (FIRST_WALK, "surfaces[0].fall"),
    (FIRST_WALK, "drains"),
    (FIRST_WALK, "local.discharge"),
    (FIRST_WALK, "overhead_lines"),
    (SITE + "drains: [{id: d, at: [0, 0]}]\n", "drains[0].leads_to"),
    (SITE + "walls: [{id: w, material: painted brick}]\n", "walls[0].paint"),
    (SITE + "walls: [{id: w, material: stucco, paint: {age: 9}}]\n", "walls[0].paint"),
    (SITE + "walls: [{id: w, fixtures: [{id: f, kind: outlet, left: 1, height: 2}]}]\n",
     "walls[0].fixtures[0].isolated_by"),
    (SITE + "walls: [{id: w, doors: [{id: d, left: 1, width: 3, height: 7}]}]\n", "walls[0].doors[0].threshold"),
    (RIG, "bleach"),
    (RIG + "bleach: {strength: 12.5 trade %}\n", "bleach.dated"),
    (RIG + "bleach: {strength: 12.5 trade %}\n", "bleach.storage_temperature"),
    (CONDITIONS, "weather"),
    (CONDITIONS, "weather.wind_speed"),
    (CONDITIONS, "weather.coldest_before_dry"),
    (CONDITIONS, "start"),
])  # fmt: skip
def test_what_bears_on_safety_is_marked(text: str, key: str) -> None:
    assert gaps(text)[key].safety


@pytest.mark.parametrize(("text", "key"), [
    (SITE, "place.time_zone"),
    (SITE, "walls"),
    (SITE, "surfaces"),
    (SITE, "eyes"),
    (SITE, "taps"),
    (SITE + "walls: [{id: w}]\n", "walls[0].length"),
    (SITE + "walls: [{id: w}]\n", "walls[0].height"),
    (SITE + "walls: [{id: w}]\n", "walls[0].soiling"),
    (SITE + "surfaces: [{id: s}]\n", "surfaces[0]"),
    (SITE + "surfaces: [{id: s}]\ngum: [{id: g, surface: s}]\n", "gum[0].density"),
    (RIG, "hoses"),
    (RIG, "tips"),
    (RIG, "injector"),
    (RIG, "ladders"),
    (RIG, "surface_cleaners"),
    (RIG + "bleach: {strength: 12.5 trade %}\n", "bleach.specific_gravity"),
    (RATES, "production"),
    (RATES, "overhead"),
    (RATES, "labour.burden"),
    (RATES, "machine_hour"),
    (RATES, "taxes"),
])  # fmt: skip
def test_what_bears_on_work_and_price_is_listed(text: str, key: str) -> None:
    assert not gaps(text)[key].safety


def test_a_fact_closes_its_gap_and_no_other() -> None:
    closed = FIRST_WALK.replace("height: 14}", "height: 14, material: brick}")
    assert set(gaps(FIRST_WALK)) - set(gaps(closed)) == {"walls[0].material"}
    assert set(gaps(closed)) <= set(gaps(FIRST_WALK))


def test_an_excluded_wall_has_no_gaps_of_its_own() -> None:
    excluded = FIRST_WALK.replace("height: 14}", "excluded: offered apart}")
    assert not [key for key in gaps(excluded) if key.startswith("walls")]


def test_the_demo_leaves_only_what_it_says_it_leaves() -> None:
    """The demo's own comments: nobody isolates the sign light and the wall pack, the empty shop has no threshold."""
    site = document_gaps(read_document(DEMO / "site.yaml"))
    assert all(gap.safety for gap in site)
    assert {gap.key.split(".")[-1] for gap in site} == {"isolated_by", "threshold"}
    assert document_gaps(read_document(DEMO / "rig.yaml")) == ()
    assert document_gaps(read_document(DEMO / "conditions.yaml")) == ()
