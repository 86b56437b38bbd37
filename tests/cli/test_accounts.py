"""``accounts`` and ``completion`` on the command line: a job from the agreement to the last payment.

The contract is the project's own; amounts are worked by hand beside their check (closed form).
"""

from __future__ import annotations

import io
import json
import re
import shlex
from pathlib import Path
from typing import Any

import pypdf
import pytest
from PIL import Image

from sightwash.book.done_record import PlannedIds, done_from, open_misses
from sightwash.cli.main import main
from sightwash.site.model import Site
from sightwash.site.site_file import read_document
from sightwash.site.tree import parse

AGREED = """
customer: {id: okafor, name: Okafor Property, address: [1 Road, Town]}
property: Larkspur Corner
lines:
  - {id: front, words: Front wall, amount: 812.35, taxes: [sales]}
  - {id: gum, words: Gum, amount: 100}
taxes: [{id: sales, name: Sales tax, rate: 7.225 %}]
deposit: 300
due_days: 14
late: {a_year: 18 %}
"""
SITE = {"id": "place", "name": "Place", "walls": [{"id": "front", "start": [0, 0], "end": [60, 0], "height": 16}]}
OTHERS: dict[str, dict[str, Any]] = {
    "rig": {"id": "rig", "name": "Rig", "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi"}},
    "rates": {
        "id": "rates",
        "name": "Rates",
        "labour": {"wage": "24.00"},
        "taxes": [{"name": "Sales tax", "rate": "7 %"}],
    },
    "conditions": {"id": "night"},
}
Captured = pytest.CaptureFixture[str]


@pytest.fixture
def book(tmp_path: Path, capsys: Captured) -> Path:
    """Return a book with one agreement."""
    path = tmp_path / "book.jsonl"
    (tmp_path / "agreed.yaml").write_text(AGREED, encoding="utf-8")
    assert main(["accounts", "new", "--book", str(path), "--first-invoice", "418"]) == 0
    told = ("agree", "larkspur", "--on", "2026-06-20", "--from", str(tmp_path / "agreed.yaml"))
    assert main(["accounts", *told, "--book", str(path)]) == 0
    capsys.readouterr()
    return path


def said(capsys: Captured, book: Path, *words: str) -> str:
    assert main(["accounts", *words, "--book", str(book)]) == 0
    return capsys.readouterr().out


def refused(capsys: Captured, book: Path, *words: str) -> str:
    before = book.read_bytes()
    assert main(["accounts", *words, "--book", str(book)]) == 2
    assert book.read_bytes() == before
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return err


def test_a_job_from_deposit_to_statement(book: Path, capsys: Captured, tmp_path: Path) -> None:
    """812.35 and 58.69 tax and 100: 971.04. The deposit leaves 671.04; 53.61 credited leaves 617.43."""
    out = str(tmp_path / "papers")
    paid = said(capsys, book, "payment", "larkspur", "--on", "2026-06-22", "--amount", "300", "--by", "check 1042")
    assert paid.strip() == "2026-06-22 payment payment-1 $300.00; due on larkspur: -$300.00"
    billed = said(capsys, book, "invoice", "larkspur", "--on", "2026-07-13", "--out", out)
    assert billed.strip() == "2026-07-13 invoice 2026-0418 $971.04; due on larkspur: $671.04"
    credit = ("credit", "2026-0418", "--on", "2026-07-20", "--line", "front=50", "--reason", "one door", "--out", out)
    assert "C2026-0001 $53.61; due on larkspur: $617.43" in said(capsys, book, *credit)
    # 617.43 at 18 % for the 36 days from July 28 to September 1 is 10.96
    assert "late charge on 2026-0418 $10.96" in said(capsys, book, "late", "2026-0418", "--on", "2026-09-01")
    waived = ("waive", "2026-0418", "--on", "2026-09-02", "--amount", "10.96", "--reason", "kindness")
    assert "due on larkspur: $617.43" in said(capsys, book, *waived)
    owed = said(capsys, book, "statement", "okafor", "--on", "2026-09-02", "--out", out)
    assert owed.startswith("Okafor Property: $617.43 due on 2026-09-02")
    assert "okafor: Okafor Property: $617.43 overdue, the oldest 37 days" in said(
        capsys, book, "overdue", "--on", "2026-09-02"
    )
    names = {path.name for path in (tmp_path / "papers").iterdir()}
    assert names == {"invoice-2026-0418.pdf", "credit-C2026-0001.pdf", "statement-okafor-2026-09-02.pdf"}
    first = (tmp_path / "papers" / "invoice-2026-0418.pdf").read_bytes()
    said(capsys, book, "paper", "2026-0418", "--out", str(tmp_path / "again"))
    assert (tmp_path / "again" / "invoice-2026-0418.pdf").read_bytes() == first
    assert len(said(capsys, book, "bookkeeper").splitlines()) > 10


def test_a_payment_comes_back_and_held_money_is_paid_back(book: Path, capsys: Captured) -> None:
    said(capsys, book, "payment", "larkspur", "--on", "2026-06-22", "--amount", "1,000.00", "--by", "check")
    back = said(capsys, book, "returned", "payment-1", "--on", "2026-06-25", "--reason", "no funds")
    assert "due on larkspur: $0.00" in back
    said(capsys, book, "payment", "larkspur", "--on", "2026-06-26", "--amount", "$40", "--by", "check")
    said(capsys, book, "refund", "larkspur", "--on", "2026-06-27", "--amount", "40", "--by", "transfer")
    assert "payment-3" in said(capsys, book, "payment", "larkspur", "--on", "2026-06-28", "--amount", "1", "--by", "x")


def test_a_change_and_invoices_in_parts(book: Path, capsys: Captured) -> None:
    change = ("change", "larkspur", "--on", "2026-07-12", "--line", "pad=120:Dumpster pad, contained", "--tax", "sales",
              "--approved-by", "Ines Okafor", "--how", "message at 02:10")  # fmt: skip
    said(capsys, book, *change)
    assert "$128.67" in said(capsys, book, "invoice", "larkspur", "--on", "2026-07-13", "--line", "pad")
    assert "2026-0419" in said(capsys, book, "invoice", "larkspur", "--on", "2026-07-13", "--part", "50 %")
    assert "2026-0420" in said(capsys, book, "invoice", "larkspur", "--on", "2026-07-13")
    assert "there is nothing on it" in refused(capsys, book, "invoice", "larkspur", "--on", "2026-07-14")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("invoice", "lark", "--on", "2026-07-13"), "no job 'lark'"),
        (("invoice", "larkspur", "--on", "13 July"), "is not a date"),
        (("invoice", "larkspur", "--on", "2026-07-13", "--part", "lots"), "is no share"),
        (("payment", "larkspur", "--on", "2026-07-13", "--amount", "ten", "--by", "x"), "is not an amount"),
        (("payment", "larkspur", "--on", "2026-07-13", "--amount", "inf", "--by", "x"), "is not an amount"),
        (("payment", "larkspur", "--on", "2026-07-13", "--amount", "-5", "--by", "x"), "amount"),
        (("credit", "2026-0418", "--on", "2026-07-13", "--reason", "x"), "no invoice '2026-0418'"),
        (("change", "larkspur", "--on", "2026-07-13", "--line", "pad", "--approved-by", "x", "--how", "y"), "no words"),
        (("late", "2026-0418", "--on", "2026-07-13"), "no invoice"),
        (("statement", "west", "--on", "2026-07-13"), "no customer 'west'"),
        (("paper", "2026-0418"), "no invoice"),
        (("agree", "larkspur", "--on", "2026-07-13", "--from", "nowhere.yaml"), "nowhere.yaml"),
    ],
)
def test_what_is_wrong_is_told_and_nothing_is_written(
    book: Path, capsys: Captured, words: tuple[str, ...], told: str
) -> None:
    assert told in refused(capsys, book, *words)


def test_a_touched_book_is_told_with_its_line(book: Path, capsys: Captured) -> None:
    said(capsys, book, "payment", "larkspur", "--on", "2026-06-22", "--amount", "300", "--by", "check 1042")
    text = book.read_text(encoding="utf-8")
    book.write_text(text.replace("812.35", "712.35"), encoding="utf-8")
    assert "book.jsonl:3" in refused(capsys, book, "overdue", "--on", "2026-09-01")


def plan_of(tmp_path: Path) -> Path:
    """Return the folder with a small plan."""
    for kind, tree in {"site": SITE, **OTHERS}.items():
        (tmp_path / f"{kind}.json").write_text(json.dumps({"kind": kind, "schema": 1, **tree}), encoding="utf-8")
    words = ["plan", str(tmp_path / "site.json"), "--on", "2026-07-11", "--out", str(tmp_path)]
    for kind in OTHERS:
        words += [f"--{kind}", str(tmp_path / f"{kind}.json")]
    assert main(words) == 0
    return tmp_path


def test_an_agreement_from_a_plan_carries_its_price_to_the_cent(book: Path, capsys: Captured, tmp_path: Path) -> None:
    plan = plan_of(tmp_path) / "plan.json"
    capsys.readouterr()
    words = (
        "agree",
        "place-2026",
        "--on",
        "2026-07-01",
        "--plan",
        str(plan),
        "--customer",
        "owner",
        "--name",
        "An owner",
    )
    said(capsys, book, *words)
    price = json.loads(plan.read_text(encoding="utf-8"))["plan"]["price"]
    billed = said(capsys, book, "invoice", "place-2026", "--on", "2026-07-12")
    assert f"${float(price['total']):,.2f};" in billed
    assert "does not say who pays" in refused(capsys, book, "agree", "x", "--on", "2026-07-01", "--plan", str(plan))
    assert "no extra 'gum'" in refused(capsys, book, *words[:1], "other", *words[2:], "--extra", "gum")


def test_a_completion_record_from_files(tmp_path: Path, capsys: Captured) -> None:
    plan = plan_of(tmp_path)
    record = {"kind": "done", "schema": 1, "site": "place", "on": "2026-07-12", "crew": ["R. Abara"],
              "parts": [{"part": "front", "how": "as planned"}]}  # fmt: skip
    (tmp_path / "done.json").write_text(json.dumps(record), encoding="utf-8")
    words = [
        "completion",
        str(plan / "plan.json"),
        "--record",
        str(tmp_path / "done.json"),
        "--out",
        str(tmp_path / "o"),
    ]
    assert main(words) == 0
    text = pypdf.PdfReader(io.BytesIO((tmp_path / "o" / "completion-record.pdf").read_bytes())).pages[0].extract_text()
    assert "R. Abara" in text
    Image.new("RGB", (20, 20)).save(tmp_path / "shot.jpg")
    for file, told in (("../shot.jpg", "leads out"), ("none.jpg", "cannot be read")):
        shots = [{"eye": "road", "when": "after", "file": file, "on": "2026-07-12"}]
        site = {**SITE, "eyes": [{"id": "road", "kind": "road", "path": [[0, -100], [60, -100]]}]}
        (tmp_path / "site.json").write_text(json.dumps({"kind": "site", "schema": 1, **site}), encoding="utf-8")
        tree = json.loads((plan / "plan.json").read_text(encoding="utf-8"))
        tree["inputs"]["site"] = {"kind": "site", "schema": 1, **site}
        (plan / "plan.json").write_text(json.dumps(tree), encoding="utf-8")
        (tmp_path / "done.json").write_text(json.dumps({**record, "photographs": shots}), encoding="utf-8")
        assert main(words) == 2
        assert told in capsys.readouterr().err


ROOT = Path(__file__).parents[2]


def test_the_page_on_accounts_can_be_followed_word_by_word(
    tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every command of docs/accounts.md runs, in its order, on the documents that the page shows and the small plan."""
    page = (ROOT / "docs" / "accounts.md").read_text(encoding="utf-8")
    agreed, done = re.findall(r"```yaml\n(.*?)```", page, re.DOTALL)
    plan_of(tmp_path)
    (tmp_path / "out" / "demo").mkdir(parents=True)
    (tmp_path / "plan.json").rename(tmp_path / "out" / "demo" / "plan.json")
    (tmp_path / "out" / "damson.yaml").write_text(agreed, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    commands = "".join(re.findall(r"```sh\n(.*?)```", page, re.DOTALL)).replace("\\\n", " ").splitlines()
    assert len(commands) > 12
    for command in commands:
        words = shlex.split(command)[2:]
        if words[0] == "accounts":
            assert main(words) == 0, (command, capsys.readouterr().err)
    assert (tmp_path / "out" / "entries.csv").exists()
    assert {path.name for path in (tmp_path / "out" / "papers").glob("invoice-*")} == {
        "invoice-2026-0418.pdf", "invoice-2026-0419.pdf",
    }  # fmt: skip
    site = read_document(ROOT / "examples" / "demo" / "site.yaml", "site")
    assert isinstance(site, Site)
    planned = PlannedIds(
        site.id,
        [wall.id for wall in site.walls],
        ["row-front-missed-1", "row-front-missed-2"],
        [eye.id for eye in site.eyes],
    )
    assert open_misses(done_from(parse(done, "done.yaml"), planned), planned) == ("row-front-missed-2",)
