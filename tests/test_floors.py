"""The house rules that a program can check: who may import whom, sizes, printing, and words that stay out."""

from __future__ import annotations

import ast
import fnmatch
import re
import subprocess
import sys
import textwrap
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import code_sizes

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "sightwash"

# A dot in the middle of a word keeps this list from finding itself.
FORBIDDEN = {
    "host of a package registry": [
        "py·pi.org", "python·hosted", "pypi.python.o·rg", "npm·js.", "deb.debian.o·rg", "cra·tes.io",
    ],
    "machine path": [r"(?<![\w.}])/(?:wo·rk|ro·ot|t·mp|ho·me)/"],
    "word that stays out": [
        r"practit·ioner's account", r"\btrans·cripts?\b", r"\bvid·eos?\b", r"\bA·I\b", r"\bL·LMs?\b",
    ],
    "unfinished work": [r"\bTO·DO\b", r"\bFIX·ME\b", r"\bX·XX\b"],
}  # fmt: skip


def lint_imports(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run import-linter on the contracts in ``folder``'s pyproject.toml."""
    command = (
        "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True, no_logo=True))"
    )
    environment = {"PYTHONPATH": str(folder / "src"), "PYTHONUTF8": "1", "NO_COLOR": "1", "COLUMNS": "120"}
    return subprocess.run(
        [sys.executable, "-c", command], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )


def test_imports_go_down_the_floors_only() -> None:
    run = lint_imports(ROOT)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.fixture
def small_house(tmp_path: Path) -> Path:
    """A package of the same name with one module on every floor, under the contracts of the real one."""
    contracts = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text(contracts, encoding="utf-8")
    for floor in ("basis", "science", "site", "book", "planning", "papers", "office"):
        folder = tmp_path / "src" / "sightwash" / floor
        folder.mkdir(parents=True)
        for name in ("__init__", "sums"):
            (folder / f"{name}.py").write_text("", encoding="utf-8")
    for name in ("__init__", "cli"):
        (tmp_path / "src" / "sightwash" / f"{name}.py").write_text("", encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("module", "line", "kept"),
    [
        ("science/sums", "from sightwash.basis import sums", True),
        ("office/sums", "import django, pydantic", True),
        ("site/fields", "import pydantic", True),
        ("site/site_file", "import pydantic_core", True),
        ("site/yaml_text", "import yaml", True),
        ("papers/plan_document", "import pydantic", True),
        ("__main__", "import sightwash.cli", True),
        ("basis/sums", "from sightwash.science import sums", False),
        ("science/sums", "from sightwash.site import sums", False),
        ("site/sums", "from sightwash.planning import sums", False),
        ("planning/sums", "from sightwash.papers import sums", False),
        ("book/sums", "from sightwash.planning import sums", False),
        ("planning/sums", "from sightwash.book import sums", False),
        ("papers/sums", "import sightwash.cli", False),
        ("cli", "from sightwash.office import sums", False),
        ("office/sums", "import sightwash.cli", False),
        ("attic/__init__", "", False),
        ("science/sums", "import django", False),
        ("book/sums", "import ninja", False),
        ("planning/sums", "import pydantic", False),
        ("site/sums", "import pydantic_core", False),
        ("papers/sums", "import yaml", False),
        ("cli", "import typst", False),
    ],
)
def test_contracts_tell_good_from_bad_imports(small_house: Path, module: str, line: str, kept: bool) -> None:
    file = small_house / "src" / "sightwash" / f"{module}.py"
    file.parent.mkdir(exist_ok=True)
    file.write_text(f"{line}\n", encoding="utf-8")
    run = lint_imports(small_house)
    assert (run.returncode == 0) is kept, run.stdout + run.stderr


def test_nothing_is_too_long() -> None:
    found = code_sizes.too_long(ROOT)
    assert not found, "\n".join(found)


def test_sizes_count_code_and_not_docstrings(tmp_path: Path) -> None:
    opening = 'def just():\n    """First line.\n\n    Last line.\n    """\n\n' + "    x = 1\n" * 36
    file = tmp_path / "src" / "long.py"
    file.parent.mkdir()
    file.write_text(opening + "    # a comment counts\n\n    y = 2\n    return x\n", encoding="utf-8")
    assert code_sizes.too_long(tmp_path) == []
    assert "median module: 46 lines (aim: 150); 40 lines of code" in code_sizes.report(tmp_path)
    file.write_text(opening + "    # a comment counts\n\n    y = 2\n    z = 3\n    return x\n", encoding="utf-8")
    assert code_sizes.too_long(tmp_path) == ["src/long.py:1 just: 41 lines of code, at most 40"]
    file.write_text("\n" * 401, encoding="utf-8")
    assert code_sizes.too_long(tmp_path) == ["src/long.py: 401 lines, at most 400"]


def prints(file: Path) -> list[int]:
    """Return the lines of a module on which it calls ``print``."""
    calls = (node for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))) if isinstance(node, ast.Call))
    return [call.lineno for call in calls if isinstance(call.func, ast.Name) and call.func.id == "print"]


def test_only_the_command_line_prints(tmp_path: Path) -> None:
    doors = ("cli.py", "cli/")
    modules = [file for file in PACKAGE.rglob("*.py") if not str(file.relative_to(PACKAGE)).startswith(doors)]
    assert {str(file.relative_to(ROOT)): prints(file) for file in modules if prints(file)} == {}
    (tmp_path / "loud.py").write_text('"""print(1)"""\nprint(2)\n', encoding="utf-8")
    assert prints(tmp_path / "loud.py") == [2]


def project_files(root: Path) -> Iterator[Path]:
    """Yield the files below ``root`` that .gitignore does not leave out; without git, which need not be installed."""
    patterns = [".git", *(line.rstrip("/") for line in (ROOT / ".gitignore").read_text(encoding="utf-8").split())]
    for entry in sorted(root.iterdir()):
        if any(fnmatch.fnmatch(entry.name, pattern) for pattern in patterns):
            continue
        if entry.is_dir():
            yield from project_files(entry)
        else:
            yield entry


def unwanted(text: str) -> list[str]:
    """Return what a text holds that must not be in a committed file."""
    found = []
    for kind, patterns in FORBIDDEN.items():
        matches = (re.search(pattern.replace("·", ""), text) for pattern in patterns)
        found += [f"{kind}: {match[0]}" for match in matches if match]
    return found


def test_no_host_path_or_word_that_stays_out() -> None:
    texts = ((file, file.read_bytes().decode("utf-8", "replace")) for file in project_files(ROOT))
    assert {str(file.relative_to(ROOT)): unwanted(text) for file, text in texts if unwanted(text)} == {}


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("see https://py" + "pi.org/simple", 1),
        ("a " + "tran" + "script of it", 1),
        ("cp x /wo" + "rk/main", 1),
        ("out/wo" + "rk/main and a work-out, a deck of FAIR size", 0),
    ],
)
def test_unwanted_text_is_found(text: str, count: int) -> None:
    assert len(unwanted(text)) == count


def test_locks_hold_no_address() -> None:
    locks = sorted(ROOT.glob("requirements*.lock"))
    assert [lock.name for lock in locks] == [
        "requirements-boot.lock",
        "requirements-data.lock",
        "requirements-dev.lock",
        "requirements-peers.lock",
        "requirements.lock",
    ]
    assert [lock.name for lock in locks if "://" in lock.read_text(encoding="utf-8")] == []


def pins(lock: str) -> set[str]:
    """Return the pinned versions of a lock with their conditions, hashes left away."""
    lines = (ROOT / lock).read_text(encoding="utf-8").splitlines()
    return {line.removesuffix("\\").strip() for line in lines if "==" in line and not line.startswith(" ")}


def test_environment_for_tests_holds_what_users_run() -> None:
    assert pins("requirements.lock") <= pins("requirements-dev.lock")
    assert pins("requirements.lock") <= pins("requirements-peers.lock")


def test_requirements_are_those_of_the_package() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = (ROOT / "requirements.in").read_text(encoding="utf-8").splitlines()
    assert [line for line in lines if line and not line.startswith("#")] == project["dependencies"]


def test_shell_scripts_are_well_formed() -> None:
    for shell, script in (("sh", "run"), ("bash", ".ci/run")):
        assert subprocess.run([shell, "-n", str(ROOT / script)], check=False).returncode == 0, script
        assert (ROOT / script).stat().st_mode & 0o111, f"{script} is not executable"


def test_unknown_command_is_bad_usage() -> None:
    run = subprocess.run(["sh", str(ROOT / "run"), "no-such-command"], capture_output=True, text=True, check=False)
    assert run.returncode == 2
    assert textwrap.shorten(run.stderr, 60).startswith("Unknown command: no-such-command")
