"""Reading and writing the four documents.

Checked against: round trips; the JSON grammar of the standard library and PyYAML's own loader for what a text
holds (independent programs); counted lines and columns of the texts; the exact foot and inch of the
international yard and pound agreement, 1959 (published).
"""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass, replace
from datetime import date, time
from decimal import Decimal
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from sightwash.basis.errors import InputError
from sightwash.basis.units import Measure
from sightwash.site.conditions import Conditions
from sightwash.site.eyes import CrewEye
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import document_from, document_schema, document_text, plain, read_document, read_site
from sightwash.site.tree import key_text, parse

DEMO = Path(__file__).parent.parent.parent / "examples" / "demo"
KINDS = ("site", "rig", "rates", "conditions")
FOOT = 0.3048


def read(text: str, kind: str | None = None) -> Any:
    return document_from(parse(text, "text"), kind)


def problems(text: str) -> list[tuple[str, int | None, int | None]]:
    with pytest.raises(InputError) as caught:
        read(text)
    return [(problem.key or "", problem.line, problem.column) for problem in caught.value.problems]


def fix_for(text: str) -> str:
    with pytest.raises(InputError) as caught:
        read(text)
    (problem,) = caught.value.problems
    return problem.fix or ""


HEAD = "kind: site\nschema: 1\nid: a\nname: A\n"


@pytest.mark.parametrize("kind", KINDS)
def test_written_and_read_again_a_document_is_the_same(kind: str) -> None:
    document = read_document(DEMO / f"{kind}.yaml", kind)
    text = document_text(document)
    assert read(text, kind) == document
    assert document_text(read(text)) == text
    assert isinstance(document, {"site": Site, "rig": Rig, "rates": Rates, "conditions": Conditions}[kind])


@pytest.mark.parametrize("kind", KINDS)
def test_yaml_and_json_give_the_same_document(kind: str) -> None:
    """PyYAML's loader with every scalar as text, written by the standard library's JSON, is the peer."""
    text = (DEMO / f"{kind}.yaml").read_text(encoding="utf-8")
    as_json = json.dumps(yaml.load(text, Loader=yaml.BaseLoader))
    assert read(as_json) == read(text)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_written_keeps_to_the_schema(kind: str) -> None:
    """The jsonschema package is the independent judge."""
    schema = document_schema(kind)
    jsonschema.Draft202012Validator.check_schema(schema)
    document = json.loads(document_text(read_document(DEMO / f"{kind}.yaml")))
    jsonschema.Draft202012Validator(schema).validate(document | {"schema": 1})


def test_the_schema_may_be_changed_by_whoever_asked_for_it() -> None:
    document_schema("site").clear()
    assert "properties" in str(document_schema("site"))


def test_read_site_refuses_another_kind() -> None:
    assert read_site(DEMO / "site.yaml").id == "larkspur-corner"
    with pytest.raises(InputError, match="rig document where a site"):
        read_site(DEMO / "rig.yaml")


def test_typed_text_is_kept_beside_the_inner_value() -> None:
    site = read(HEAD + "walls: [{id: w, length: 12 ft 6 in, height: 14, material: brick}]\n")
    wall = site.walls[0]
    assert wall.length == pytest.approx(12.5 * FOOT, rel=1e-12)
    assert isinstance(wall.length, Measure)
    assert (wall.length.typed, wall.height.typed) == ("12 ft 6 in", "14")
    assert json.loads(document_text(site))["walls"][0]["length"] == "12 ft 6 in"
    rig = read_document(DEMO / "rig.yaml")
    assert isinstance(rig, Rig)
    assert rig.bleach is not None
    strength = rig.bleach.strength
    assert (strength.value, strength.term, strength.typed) == (12.5, "trade %", "12.5 trade %")


def near(one: Any, two: Any) -> bool:
    """Return whether two documents agree, numbers to one part in 1e9, apart from the declared system."""
    if is_dataclass(one) and type(one) is type(two):
        return all(
            near(getattr(one, part.name), getattr(two, part.name)) for part in fields(one) if part.name != "units"
        )
    if isinstance(one, tuple):
        return len(one) == len(two) and all(map(near, one, two))
    return bool(one == (pytest.approx(two, rel=1e-9, abs=1e-12) if isinstance(two, float) else two))


def test_a_bare_number_takes_the_declared_systems_unit() -> None:
    """1 ft = 0.3048 m, 1 in = 25.4 mm (1959, exact); 1 psi and 1 US gallon from the same and 231 cubic inches."""
    us = """kind: site
schema: 1
id: a
name: A
units: us
place: {elevation: 1000}
walls:
  - {id: w, start: [0, 0], end: [100, 0], height: 20, paint: {age: 7},
     projections: [{id: c, kind: canopy, left: 10, width: 50, bottom: 10, height: 1, depth: 5}]}
surfaces: [{id: s, along: w, width: 10, fall: {slope: 2, toward: 180}}]
gum: [{id: g, surface: s, density: 1}]
taps: [{id: t, at: [5, 5], flow: 6}]
markings: [{id: m, kind: line, path: [[0, -10], [50, -10]], width: 4}]
eyes: [{id: e, kind: road, path: [[-100, -100], [200, -100]], height: 4, speed: 40}]
"""
    metric = """kind: site
schema: 1
id: a
name: A
units: metric
place: {elevation: 304.8}
walls:
  - {id: w, start: [0, 0], end: [30.48, 0], height: 6.096, paint: {age: 7},
     projections: [{id: c, kind: canopy, left: 3.048, width: 15.24, bottom: 3.048, height: 0.3048, depth: 1.524}]}
surfaces: [{id: s, along: w, width: 3.048, fall: {slope: 2, toward: 180}}]
gum: [{id: g, surface: s, density: 10.76391041670972}]
taps: [{id: t, at: [1.524, 1.524], flow: 22.712470704}]
markings: [{id: m, kind: line, path: [[0, -3.048], [15.24, -3.048]], width: 101.6}]
eyes: [{id: e, kind: road, path: [[-30.48, -30.48], [60.96, -30.48]], height: 1.2192, speed: 64.37376}]
"""
    assert near(read(us), read(metric))
    assert not near(read(us), read(metric.replace("22.712470704", "22.8")))


def test_the_rig_and_the_weather_in_both_systems() -> None:
    us = """kind: rig
schema: 1
id: a
name: A
machine: {flow: 5, pressure: 1000}
hoses: [{id: h, length: 100, bore: 3/8}]
tanks: [{id: t, volume: 100}]
"""
    metric = """kind: rig
schema: 1
id: a
name: A
units: metric
machine: {flow: 18.92705892, pressure: 68.94757293168361}
hoses: [{id: h, length: 30.48, bore: 9.525}]
tanks: [{id: t, volume: 378.5411784}]
"""
    assert near(read(us), read(metric))
    weather = "kind: conditions\nschema: 1\nid: a\nunits: {}\nweather: {{air_temperature: {}, wind_speed: {}}}\n"
    assert near(read(weather.format("us", 50, 10)), read(weather.format("metric", 10, 16.09344)))


def test_yaml_words_and_times_stay_what_was_typed() -> None:
    text = """quiet_hours: {start: 22:00, end: 6:30}
buildings:
  - {id: no, outline: [[0, 0], [9, 0], [9, 9]], name: no}
  - {id: on, outline: [[20, 0], [29, 0], [29, 9]], name: 0x1F}
note: null and void
"""
    site = read(HEAD + text)
    assert (site.quiet_hours.start, site.quiet_hours.end) == (time(22, 0), time(6, 30))
    assert [building.id for building in site.buildings] == ["no", "on"]
    assert [building.name for building in site.buildings] == ["no", "0x1F"]
    assert site.note == "null and void"
    conditions = read("kind: conditions\nschema: 1\nid: y\ndate: 2026-07-11\nstart: 21:30\n")
    assert (conditions.id, conditions.date, conditions.start) == ("y", date(2026, 7, 11), time(21, 30))


def test_a_key_without_a_value_is_a_missing_fact() -> None:
    site = read(HEAD + "walls:\n  - {id: w, length: 40, height: }\n  - {id: v, length: ~, height: 12}\nnote:\n")
    assert (site.walls[0].height, site.walls[1].length, site.note) == (None, None, None)


def test_flags_are_read_from_words() -> None:
    words = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}
    for word, flag in words.items():
        assert read(HEAD + f"surfaces: [{{id: s, wash: {word}}}]\n").surfaces[0].wash is flag


def test_money_is_exact_and_a_comma_marks_thousands() -> None:
    text = "kind: rates\nschema: 1\nid: a\nname: A\nlabour: {{wage: {}}}\nminimum_charge: {}\n"
    rates = read(text.format("0.10", '"1,250.50"'))
    assert (rates.labour.wage, rates.minimum_charge) == (Decimal("0.10"), Decimal("1250.50"))
    assert read(text.format("$24", "$ 450")).labour.wage == Decimal(24)


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("heigth", "height"),
        ("Height", "height"),
        ("materail", "material"),
        ("lenght", "length"),
        ("paints", "paint"),
        ("door", "doors"),
    ],
)
def test_an_unknown_key_gets_the_key_that_was_meant(wrong: str, right: str) -> None:
    assert fix_for(HEAD + f"walls: [{{id: w, length: 40, {wrong}: 10}}]\n") == f"write `{right}`"


@pytest.mark.parametrize(("path", "wrong", "right"), [
    ("quiet_hours: {{start: 22:00, end: 06:00, {}: 1}}", "star", "start"),
    ("walls: [{{id: w, doors: [{{id: d, left: 1, width: 3, height: 7, {}: 1}}]}}]", "tresholds", "threshold"),
    ("surfaces: [{{id: s, fall: {{slope: 2, toward: 180, {}: 1}}}}]", "towards", "toward"),
    ("crew_eye: {{{}: 1}}", "hight", "height"),
    ("{}: 1", "wals", "walls"),
])  # fmt: skip
def test_an_unknown_key_is_compared_with_the_keys_of_its_own_place(path: str, wrong: str, right: str) -> None:
    assert fix_for(HEAD + path.format(wrong) + "\n") == f"write `{right}`"


def test_a_key_that_resembles_nothing_goes_into_the_note() -> None:
    assert "note" in fix_for(HEAD + "xyzzy: 1\n")


@pytest.mark.parametrize(
    ("typed", "word"), [("stuco", "stucco"), ("Brick", "brick"), ("painted bricks", "painted brick")]
)
def test_an_unknown_word_gets_the_word_that_was_meant(typed: str, word: str) -> None:
    assert fix_for(HEAD + f"walls: [{{id: w, material: {typed}}}]\n") == f"write `{word}`"


def test_lines_and_columns_in_yaml() -> None:
    text = (
        "kind: site\n"
        "schema: 1\n"
        "id: a\n"
        'name: "Größe 🚿: a"\n'
        "walls:\n"
        "- id: w\n"
        "  height: x\n"
        "-   {id: v, name: Größe 🚿, height: y}\n"
        "eyes: [{id: e, kind: road, path: [[0, 0], [z, 0]]}]\n"
    )
    assert problems(text) == [
        ("walls[0].height", 7, 3),
        ("walls[1].height", 8, text.splitlines()[7].index("height") + 1),
        ("eyes[0].path[1][0]", 9, text.splitlines()[8].index("z,") + 1),
    ]


def test_lines_and_columns_in_json() -> None:
    text = (
        '{"kind": "site", "schema": 1,\n'
        ' "id": "a", "name": "Gr\\u00f6\\u00dfe \\ud83d\\udebf: {[,\\"\\/",\n'
        '\t"walls": [\n'
        '   {"id": "w", "height": "x"},\n'
        '   {"id": "v", "note": "a\\tb", "height"  :\n'
        '"y"} ],\n'
        ' "eyes": [{"id": "e", "kind": "road", "path": [[0, 0], ["z", 0]]}]}\n'
    )
    lines = text.splitlines()
    assert problems(text) == [
        ("walls[0].height", 4, lines[3].index('"height"') + 1),
        ("walls[1].height", 5, lines[4].index('"height"') + 1),
        ("eyes[0].path[1][0]", 7, lines[6].index('"z"') + 1),
    ]


def test_a_missing_key_stands_where_its_mapping_begins() -> None:
    assert problems(HEAD + "walls:\n  - length: 4\n") == [("walls[0].id", 6, 5)]
    text = json.dumps({"kind": "site", "schema": 1, "id": "a", "name": "A", "walls": [{"length": 4}]}, indent=2)
    assert problems(text) == [("walls[0].id", 7, 5)]


def test_places_in_json_agree_with_those_in_yaml() -> None:
    """A JSON text of plain words is YAML too, so PyYAML's marks are the peer of our own scan."""
    text = document_text(read_document(DEMO / "site.yaml"))
    parsed, peer = parse(text, "json"), parse("# not json\n" + text, "yaml")
    found = {path: (line + 1, column) for path, (line, column) in parsed.places().items()}
    assert found == peer.places()
    assert len(found) > 500


def test_a_quantity_that_nobody_typed_is_written_with_its_inner_unit() -> None:
    """Changing a document in a program puts plain metres into it; they must not come back as feet."""
    site = read_site(DEMO / "site.yaml")
    wall = replace(site.walls[0], base=(0.125, -0.3), start=(0.0, 1 / 300))
    place = replace(site.place, elevation=123.456, north=0.1)
    changed = replace(site, walls=(wall, *site.walls[1:]), place=place, crew_eye=CrewEye(1.7, 4.0))
    assert plain(changed)["place"]["elevation"] == "123.456 m"
    again = read(document_text(changed))
    assert again == changed
    rig = read_document(DEMO / "rig.yaml")
    assert isinstance(rig, Rig)
    machine = replace(rig.machine, engine_speed=0.623456789, flow=0.3, pressure=2.4e7)
    assert read(document_text(replace(rig, machine=machine))) == replace(rig, machine=machine)


def test_windows_line_ends_inside_a_text_become_plain_ones() -> None:
    text = '{"kind": "site", "schema": 1, "id": "a", "name": "A", "note": "one\\r\\ntwo\\n\\tthree"}'
    assert read(text).note == "one\ntwo\n\tthree"


def test_key_paths_are_printable_and_short() -> None:
    assert key_text(()) is None
    assert key_text(("walls", 3, "doors", 0)) == "walls[3].doors[0]"
    assert (key_text(("a\nb\ud800",)) or "").isprintable()
    assert len(key_text(("k" * 1000,)) or "") < 70


def test_defaults_are_not_written() -> None:
    assert json.loads(document_text(read(HEAD))) == {
        "kind": "site",
        "schema": 1,
        "id": "a",
        "name": "A",
        "crew_eye": {},
    }
