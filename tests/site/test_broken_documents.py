"""One broken document for each mistake: what is reported, for which key, at which line and column.

Checked against: the files themselves. In a YAML file the comment ``# <-`` stands on the line where the mistake
is; the table below was written from the position of that comment and of the wrong word in the line.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from sightwash.basis.errors import EXIT_BAD_INPUT, InputError
from sightwash.site.site_file import MOST_PROBLEMS, document_from, read_document
from sightwash.site.tree import LARGEST_DOCUMENT, parse

FOLDER = Path(__file__).parent.parent / "broken_sites"
GOOD = ("good_conditions.yaml", "good_rates.yaml", "good_rig.yaml", "good_site.json", "good_site.yaml")


class Case(NamedTuple):
    """A file, what must be reported for it, and the kind of document that was asked for."""

    file: str
    code: str
    key: str | None
    line: int | None
    column: int | None
    asked: str | None = None


TABLE = (
    Case("empty.yaml", "empty", None, None, None),
    Case("only_comments.yaml", "empty", None, None, None),
    Case("not_utf8.yaml", "not-utf-8", None, 4, 10),
    Case("alias_laughs.yaml", "alias", None, 1, 4),
    Case("anchor.yaml", "alias", None, 4, 7),
    Case("alias_to_nothing.yaml", "alias", None, 4, 7),
    Case("tag_python.yaml", "tag", None, 4, 7),
    Case("tag_plain.yaml", "tag", None, 15, 13),
    Case("doubled_key.yaml", "doubled-key", None, 16, 5),
    Case("doubled_key.json", "doubled-key", None, 11, 7),
    Case("tab_indent.yaml", "not-yaml", None, 12, 1),
    Case("deep_nesting.yaml", "too-deep", None, 21, 46),
    Case("deep_nesting.json", "too-deep", None, 3, 50),
    Case("not_a_mapping.yaml", "not-a-mapping", None, 1, 1),
    Case("bare_word.yaml", "not-a-mapping", None, 1, 1),
    Case("two_documents.yaml", "not-yaml", None, 21, 1),
    Case("key_is_list.yaml", "bad-key", None, 5, 3),
    Case("control_character.yaml", "control-character", None, 4, 14),
    Case("control_escape.json", "control-character", "name", 5, 3),
    Case("half_character.json", "half-character", None, 5, 11),
    Case("nan.json", "not-finite", None, 10, 17),
    Case("infinity.json", "not-finite", None, 10, 17),
    Case("overflow.json", "not-a-quantity", "walls[0].height", 10, 7),
    Case("huge_integer.json", "not-finite", None, 10, 17),
    Case("unfinished.json", "not-json", None, 11, 1),
    Case("unfinished.yaml", "not-yaml", None, 14, 8),
    Case("nan_word.yaml", "not-a-quantity", "walls[0].height", 15, 5),
    Case("overflow.yaml", "not-finite", "walls[0].height", 15, 5),
    Case("missing_kind.yaml", "missing-key", "kind", 1, 1),
    Case("unknown_kind.yaml", "unknown-kind", "kind", 1, 1),
    Case("kind_in_capitals.yaml", "unknown-kind", "kind", 1, 1),
    Case("wrong_kind.yaml", "wrong-kind", "kind", 1, 1, "site"),
    Case("unknown_schema.yaml", "unknown-schema", "schema", 2, 1),
    Case("missing_schema.yaml", "missing-key", "schema", 1, 1),
    Case("missing_name.yaml", "missing-key", "name", 1, 1),
    Case("missing_outline.yaml", "missing-key", "buildings[0].outline", 8, 5),
    Case("unknown_key.yaml", "unknown-key", "walls[0].heigth", 15, 5),
    Case("unknown_key_at_top.yaml", "unknown-key", "watchers", 19, 1),
    Case("unknown_key.json", "unknown-key", "walls[0].lenght", 9, 7),
    Case("list_for_mapping.yaml", "wrong-type", "place", 6, 1),
    Case("mapping_for_list.yaml", "wrong-type", "walls", 10, 1),
    Case("nothing_for_list.yaml", "wrong-type", "eyes", 19, 1),
    Case("mapping_for_text.yaml", "not-a-text", "name", 4, 1),
    Case("nothing_for_text.yaml", "not-a-text", "name", 4, 1),
    Case("isolated_by_nobody.yaml", "empty-text", "walls[0].fixtures[0].isolated_by", 18, 58),
    Case("list_for_number.yaml", "not-a-quantity", "walls[0].height", 15, 5),
    Case("true_for_number.json", "not-a-quantity", "walls[0].height", 10, 7),
    Case("number_for_text.json", "not-a-text", "name", 5, 3),
    Case("word_for_flag.yaml", "wrong-type", "surfaces[0].wash", 18, 60),
    Case("number_for_time.json", "not-a-time", "quiet_hours.start", 4, 19),
    Case("point_of_three.yaml", "wrong-length", "walls[0].end", 14, 5),
    Case("point_of_one.yaml", "wrong-length", "walls[0].end[1]", 14, 5),
    Case("bad_id.yaml", "bad-id", "walls[0].id", 11, 5),
    Case("unknown_material.yaml", "unknown-word", "walls[0].material", 16, 5),
    Case("unknown_units.yaml", "unknown-word", "units", 5, 1),
    Case("text_too_long.yaml", "text-too-long", "name", 4, 1),
    Case("negative_height.yaml", "out-of-range", "walls[0].height", 15, 5),
    Case("height_in_inches.yaml", "out-of-range", "walls[0].height", 15, 5),
    Case("depth_in_inches.yaml", "out-of-range", "walls[0].projections[0].depth", 18, 81),
    Case("door_in_inches.yaml", "out-of-range", "walls[0].doors[0].width", 18, 29),
    Case("canopy_twelve_feet_thick.yaml", "above-wall", "walls[0].projections[0].height", 18, 67),
    Case("decimal_comma.yaml", "not-a-quantity", "walls[0].height", 15, 5),
    Case("unknown_unit.yaml", "unknown-unit", "walls[0].height", 15, 5),
    Case("wrong_unit.yaml", "wrong-unit", "walls[0].height", 15, 5),
    Case("two_signs.yaml", "not-a-quantity", "place.elevation", 6, 9),
    Case("share_or_percent.yaml", "share-or-percent", "surfaces[0].fall.slope", 18, 47),
    Case("self_crossing.yaml", "self-crossing", "buildings[0].outline", 9, 5),
    Case("two_corners.yaml", "too-few-corners", "buildings[0].outline", 9, 5),
    Case("no_area.yaml", "no-area", "buildings[0].outline", 9, 5),
    Case("hole_of_two_corners.yaml", "too-few-corners", "buildings[0].holes[0]", 10, 13),
    Case("hole_outside.yaml", "hole-outside", "buildings[0].holes[0]", 10, 13),
    Case("holes_meet.yaml", "holes-meet", "buildings[0].holes", 10, 5),
    Case("zero_length_wall.yaml", "zero-length", "walls[0].end", 14, 5),
    Case("half_a_wall.yaml", "half-a-wall", "walls[0]", 11, 5),
    Case("length_differs.yaml", "length-differs", "walls[0].length", 15, 5),
    Case("wall_wrong_way.yaml", "wall-wrong-way", "walls[0].start", 13, 5),
    Case("wall_off_building.yaml", "wall-off-building", "walls[0].start", 13, 5),
    Case("wall_turned_off_building.yaml", "wall-off-building", "walls[0].start", 13, 5),
    Case("two_heights.yaml", "two-heights", "walls[0].height", 15, 5),
    Case("profile_order.yaml", "profile-order", "walls[0].profile", 15, 5),
    Case("profile_low.yaml", "profile-low", "walls[0].profile[1].height", 15, 49),
    Case("profile_past_end.yaml", "outside-wall", "walls[0].profile[1].left", 15, 39),
    Case("profile_spike.yaml", "profile-spike", "walls[0].profile", 15, 5),
    Case("ground_above_wall.yaml", "ground-above-wall", "walls[0].base", 16, 5),
    Case("base_as_elevation.yaml", "out-of-range", "walls[0].base[0]", 16, 12),
    Case("ground_falls_away.yaml", "ground-steep", "walls[0].base", 16, 5),
    Case("canopy_above_wall.yaml", "above-wall", "walls[0].projections[0].height", 18, 68),
    Case("sign_above_wall.yaml", "above-wall", "walls[0].projections[0].bottom", 18, 57),
    Case("canopy_past_end.yaml", "outside-wall", "walls[0].projections[0].left", 18, 36),
    Case("awning_drop.yaml", "outer-drop", "walls[0].projections[0].outer_drop", 18, 88),
    Case("opening_past_end.yaml", "outside-wall", "walls[0].openings[0].left", 18, 34),
    Case("opening_above_wall.yaml", "above-wall", "walls[0].openings[0].height", 18, 65),
    Case("door_past_end.yaml", "outside-wall", "walls[0].doors[0].left", 18, 20),
    Case("doors_overlap.yaml", "doors-overlap", "walls[0].doors[1].left", 19, 22),
    Case("fixture_past_end.yaml", "outside-wall", "walls[0].fixtures[0].left", 18, 39),
    Case("fixture_without_spacing.yaml", "no-spacing", "walls[0].fixtures[0].count", 18, 59),
    Case("fixture_above_wall.yaml", "above-wall", "walls[0].fixtures[0].height", 18, 47),
    Case("soiling_upside_down.yaml", "no-height", "walls[0].soiling[0].top", 18, 45),
    Case("soiling_above_top.yaml", "no-height", "walls[0].soiling[0].bottom", 18, 33),
    Case("soiling_past_end.yaml", "outside-wall", "walls[0].soiling[0].left", 18, 33),
    Case("soiling_too_high.yaml", "above-wall", "walls[0].soiling[0].top", 18, 44),
    Case("opening_without_kind.yaml", "missing-key", "walls[0].openings[0].kind", 18, 9),
    Case("doubled_id.yaml", "doubled-id", "walls[1].id", 17, 6),
    Case("doubled_id_of_another_kind.yaml", "doubled-id", "surfaces[0].id", 18, 6),
    Case("doubled_id_inside_a_wall.yaml", "doubled-id", "eyes[0].id", 22, 6),
    Case("dangling_building.yaml", "dangling-reference", "walls[0].building", 12, 5),
    Case("dangling_wall.yaml", "dangling-reference", "surfaces[0].along", 18, 16),
    Case("dangling_surface.yaml", "dangling-reference", "gum[0].surface", 20, 15),
    Case("two_shapes.yaml", "two-shapes", "surfaces[0].outline", 18, 40),
    Case("walk_past_wall.yaml", "outside-wall", "surfaces[0].length", 18, 40),
    Case("gum_inside.yaml", "gum-inside", "gum[0].at[1]", 20, 45),
    Case("eye_inside.yaml", "eye-inside", "eyes[0].path[0]", 20, 39),
    Case("eye_without_place.yaml", "no-place", "eyes[0].path", 20, 32),
    Case("eye_levels.yaml", "level-count", "eyes[0].levels", 20, 59),
    Case("unknown_time_zone.yaml", "unknown-time-zone", "place.time_zone", 6, 9),
    Case("time_zone_path.yaml", "unknown-time-zone", "place.time_zone", 6, 9),
    Case("half_a_place.yaml", "half-a-place", "place", 6, 1),
    Case("hour_25.yaml", "not-a-time", "quiet_hours.end", 7, 29),
    Case("fence_of_one_point.yaml", "no-length", "fences[0].path", 20, 17),
    Case("line_without_length.yaml", "no-length", "overhead_lines[0].end", 20, 36),
    Case("stalls_accessible.yaml", "stall-count", "stalls[0].accessible", 20, 73),
    Case("stalls_van.yaml", "stall-count", "stalls[0].van", 20, 88),
    Case("stalls_none.yaml", "no-stalls", "stalls[0].count", 20, 41),
    Case("count_of_half.yaml", "not-a-count", "gum[0].count", 20, 30),
    Case("negative_count.yaml", "not-a-number", "eyes[0].per_day", 20, 59),
    Case("strength_bare.yaml", "strength-without-term", "bleach.strength", 10, 3),
    Case("strength_percent.yaml", "strength-without-term", "bleach.strength", 10, 3),
    Case("strength_unknown_term.yaml", "unknown-strength-term", "bleach.strength", 10, 3),
    Case("strength_too_strong.yaml", "out-of-range", "bleach.strength", 10, 3),
    Case("strength_nothing.yaml", "out-of-range", "bleach.strength", 10, 3),
    Case("strength_word.yaml", "not-a-strength", "bleach.strength", 10, 3),
    Case("bleach_date.yaml", "not-a-date", "bleach.dated", 11, 3),
    Case("specific_gravity.yaml", "specific-gravity", "bleach.specific_gravity", 12, 3),
    Case("injector_draws_all.yaml", "injector-draw", "injector.draw", 8, 12),
    Case("unloader_too_high.yaml", "unloader-too-high", "machine.unloader", 5, 50),
    Case("flow_in_pounds.yaml", "wrong-unit", "machine.flow", 5, 11),
    Case("tip_size.yaml", "tip-size", "tips[0].size", 7, 17),
    Case("tip_fan.yaml", "fan-angle", "tips[0].fan", 7, 27),
    Case("no_crew.yaml", "no-crew", "crew.people", 13, 8),
    Case("shift_of_40_hours.yaml", "shift-length", "crew.longest_shift", 13, 19),
    Case("rates_out_of_order.yaml", "rate-order", "production[0].low", 9, 24),
    Case("rate_of_nothing.yaml", "rate-order", "production[0].low", 9, 24),
    Case("doubled_work.yaml", "doubled-work", "production[1].work", 10, 6),
    Case("soiling_without_surface.yaml", "missing-key", "production[0].soiling", 7, 71),
    Case("wage_zero.yaml", "no-wage", "labour.wage", 5, 10),
    Case("wage_decimal_comma.yaml", "not-an-amount", "labour.wage", 5, 10),
    Case("wage_negative.yaml", "not-an-amount", "labour.wage", 5, 10),
    Case("rounding_zero.yaml", "rounding", "rounding", 7, 1),
    Case("missing_labour.yaml", "missing-key", "labour", 1, 1),
    Case("february_30.yaml", "not-a-date", "date", 4, 1),
    Case("year_206.yaml", "out-of-range", "date", 4, 1),
    Case("start_of_words.yaml", "not-a-time", "start", 5, 1),
    Case("no_hours.yaml", "no-hours", "end", 6, 1),
    Case("gust_below_wind.yaml", "gust-below-wind", "weather.gust", 10, 3),
    Case("no_nights.yaml", "nights-out-of-range", "nights", 7, 1),
    Case("owner_too_early.yaml", "promise-order", "owner_visit", 6, 1),
    Case("owner_visit_words.yaml", "not-a-moment", "owner_visit", 6, 1),
    Case("no_machines.yaml", "machines-out-of-range", "machine.count", 5, 70),
    Case("temperature_kelvin.yaml", "wrong-unit", "weather.air_temperature", 8, 3),
    Case("temperature_too_hot.yaml", "out-of-range", "weather.air_temperature", 8, 3),
)


@pytest.mark.parametrize("case", TABLE, ids=[case.file for case in TABLE])
def test_the_mistake_is_named_with_its_place(case: Case) -> None:
    path = FOLDER / case.file
    before = path.read_bytes()
    with pytest.raises(InputError) as caught:
        read_document(path, case.asked)
    assert [problem.code for problem in caught.value.problems] == [case.code]
    problem = caught.value.problems[0]
    assert (problem.key, problem.line, problem.column) == (case.key, case.line, case.column)
    assert problem.file == str(path)
    assert problem.message.strip()
    assert problem.expected or problem.fix
    assert str(problem).isprintable()
    assert len(str(problem)) < 1000
    assert caught.value.exit_code == EXIT_BAD_INPUT
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", GOOD)
def test_without_the_mistake_the_document_is_read(name: str) -> None:
    read_document(FOLDER / name)


def test_every_file_of_the_folder_is_in_the_table() -> None:
    listed = [case.file for case in TABLE]
    assert len(listed) == len(set(listed))
    assert {path.name for path in FOLDER.iterdir()} == {*listed, *GOOD}


def test_the_marks_in_the_files_agree_with_the_table() -> None:
    wrong = []
    for case in TABLE:
        lines = (FOLDER / case.file).read_bytes().split(b"\n")
        marks = [number for number, line in enumerate(lines, 1) if b"# <-" in line]
        if case.file.endswith(".yaml") and marks != ([] if case.line is None else [case.line]):
            wrong.append((case.file, case.line, marks))
    assert not wrong


def test_a_broken_document_leaves_no_file_behind(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_bytes((FOLDER / "self_crossing.yaml").read_bytes())
    with pytest.raises(InputError):
        read_document(path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["site.yaml"]


def code_of(path: Path) -> str:
    """Return the code of the only problem of a file that cannot be read."""
    with pytest.raises(InputError) as caught:
        read_document(path)
    (problem,) = caught.value.problems
    assert problem.message
    assert problem.expected
    return problem.code


def test_a_file_of_50_megabytes_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as stream:
        stream.truncate(50_000_000)
    assert code_of(path) == "too-large"


def test_the_largest_document_is_still_parsed(tmp_path: Path) -> None:
    path = tmp_path / "long.yaml"
    text = (FOLDER / "good_site.yaml").read_text(encoding="utf-8")
    path.write_text(text + "#" * (LARGEST_DOCUMENT - len(text)), encoding="utf-8")
    read_document(path, "site")
    path.write_text(path.read_text(encoding="utf-8") + "#", encoding="utf-8")
    assert code_of(path) == "too-large"


@pytest.mark.parametrize("text", ["a: " + "[" * 10_000, '{"a": ' + "[" * 10_000 + "]" * 10_000 + "}", '{"a":' * 10_000,
                                  "\n".join(" " * depth + "a:" for depth in range(2000))])  # fmt: skip
def test_ten_thousand_brackets_are_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "deep.yaml"
    path.write_text(text, encoding="utf-8")
    assert code_of(path) == "too-deep"


def test_what_is_no_readable_file_is_refused(tmp_path: Path) -> None:
    assert code_of(tmp_path) == "unreadable"
    assert code_of(tmp_path / "missing.yaml") == "unreadable"
    assert code_of(tmp_path / "no\0name.yaml") == "unreadable"
    assert code_of(tmp_path / ("n" * 4000)) == "unreadable"


@pytest.mark.parametrize("data", [b"\xff\xfek\x00i\x00", b"kind: \xc3\x28\n", b"\xed\xa0\x80: 1\n", bytes(range(256))])
def test_bytes_that_are_no_utf8_are_refused(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "bytes.yaml"
    path.write_bytes(data)
    assert code_of(path) == "not-utf-8"


def test_a_byte_order_mark_and_windows_line_ends_are_taken(tmp_path: Path) -> None:
    for name in ("good_site.yaml", "good_site.json"):
        path = tmp_path / name
        text = (FOLDER / name).read_text(encoding="utf-8")
        path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
        assert read_document(path) == read_document(FOLDER / name)


def test_all_mistakes_are_reported_together() -> None:
    text = (FOLDER / "good_site.yaml").read_text(encoding="utf-8")
    text = text.replace("height: 14", "height: -14").replace("stucco", "stuco").replace("width: 6", "width: 6 gal")
    with pytest.raises(InputError) as caught:
        document_from(parse(text, "site.yaml"))
    assert [problem.line for problem in caught.value.problems] == [15, 16, 18]


def test_no_more_problems_than_a_person_reads() -> None:
    text = "kind: site\nschema: 1\nid: a\nname: A\n" + "".join(f"key-{number}: 1\n" for number in range(5000))
    with pytest.raises(InputError) as caught:
        document_from(parse(text, "site.yaml"))
    assert len(caught.value.problems) == MOST_PROBLEMS
    assert [problem.line for problem in caught.value.problems[:3]] == [5, 6, 7]


def test_an_unknown_key_of_any_length_stays_short_in_the_message() -> None:
    text = '{"kind": "site", "schema": 1, "id": "a", "name": "A", "' + "k" * 100_000 + '\\n": 1}'
    with pytest.raises(InputError) as caught:
        document_from(parse(text, "site.json"))
    (problem,) = caught.value.problems
    assert problem.code == "unknown-key"
    assert len(str(problem)) < 1000
    assert str(problem).isprintable()
