"""Text blocks: the file that a person edits is only ever added to.

Properties by hypothesis; the rules are the project's own (issue: every block that a person rewrites stays rewritten).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.papers.text_blocks import LONGEST, blocks_text, draft_blocks, filled, read_blocks, with_new_blocks

OWN = st.text(
    st.characters(codec="utf-8", exclude_characters="\r\x0b\x0c\x1c\x1d\x1e\x85\u2028\u2029"), max_size=200
).filter(lambda text: not any(line.startswith("##") for line in text.split("\n")))


def test_the_drafts_read_back_as_themselves() -> None:
    text = blocks_text("en")
    assert "lawyer" in text.split("## ")[0]
    assert read_blocks(text, "blocks.txt") == {key: words.strip() for key, words in draft_blocks("en").items()}


@given(key=st.sampled_from(sorted(draft_blocks("en"))), words=OWN)
def test_a_rewritten_block_stays_and_missing_ones_are_added_behind(key: str, words: str) -> None:
    before = f"Our own terms.\n\n## {key}\n{words}\n"
    after = with_new_blocks(before, "blocks.txt", "en")
    assert after.startswith(before.rstrip("\n"))
    found = read_blocks(after, "blocks.txt")
    assert found[key] == "\n".join(words.split("\n")).strip()
    assert set(found) == set(draft_blocks("en"))
    assert with_new_blocks(after, "blocks.txt", "en") == after


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("## weathr\nx\n", "unknown-block", 1),
        ("x\n## weather\na\n## weather\nb\n", "doubled-block", 4),
        (f"## weather\n{'x' * (LONGEST + 1)}", "text-too-long", None),
    ],
)
def test_what_is_wrong_in_a_file(text: str, code: str, line: int | None) -> None:
    with pytest.raises(InputError) as caught:
        read_blocks(text, "blocks.txt")
    problem = caught.value.problems[0]
    assert (problem.code, problem.line, problem.file) == (code, line, "blocks.txt")
    if code == "unknown-block":
        assert "## weather" in str(problem.fix)


def test_only_known_names_in_braces_are_filled() -> None:
    words = "{payment_days} {other} {0} {} {payment_days.__class__} {{payment_days}}"
    assert filled(words, {"payment_days": "14"}) == "14 {other} {0} {} {payment_days.__class__} {14}"
