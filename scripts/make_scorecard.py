"""Run the benchmarks and write docs/scorecard.md: every figure with its bar, worse ones too.

Usage: ``python scripts/make_scorecard.py DATE [NAME ...]`` with the names of benchmarks, all by default. A row of
a benchmark that is not run again stays as it was.
"""

from __future__ import annotations

import json
import os
import platform
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "scorecard.md"
HEAD = """# Scorecard

What the benchmarks printed, worse rows left in. Make a row again with the command beside it; times depend on the
machine, ratios to a peer in the same run less so. A benchmark exits 0 whether or not its bar holds.

| benchmark | holds | measured | bar | day | machine |
|---|---|---|---|---|---|
"""


def words(values: dict[str, object]) -> str:
    """Return a mapping of figures as a short cell."""
    return "; ".join(f"{key} {json.dumps(value)}" for key, value in values.items()).replace("|", "/")


def measured(name: str) -> dict[str, object]:
    """Run one benchmark as ``./run bench`` does and return its last line."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    script = ROOT / "benchmarks" / f"{name}.py"
    peers = ROOT / ".venv-peers" / "bin" / "python"
    python = str(peers) if ".venv-peers" in script.read_text(encoding="utf-8") and peers.exists() else sys.executable
    done = subprocess.run([python, str(script)], env=environment, check=True, capture_output=True, text=True)
    found: dict[str, object] = json.loads(done.stdout.splitlines()[-1])
    return found


def as_mapping(value: object) -> dict[str, object]:
    """Return a figure or a mapping of figures as a mapping."""
    return value if isinstance(value, dict) else {"value": value}


def main() -> None:
    """Measure and write the page."""
    day, *names = sys.argv[1:]
    known = sorted(path.stem for path in (ROOT / "benchmarks").glob("*.py"))
    rows: dict[str, str] = {}
    if PAGE.exists():
        for line in PAGE.read_text(encoding="utf-8").splitlines():
            match = re.match(r"\| `\./run bench (\w+)` \|", line)
            if match:
                rows[match[1]] = line
    machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}"
    for name in names or known:
        found = measured(name)
        value, bar = (words(as_mapping(found[key])) for key in ("value", "bar"))
        holds = "yes" if found["holds"] else "**no**"
        rows[name] = f"| `./run bench {name}` | {holds} | {value} | {bar} | {day} | {machine} |"
        sys.stdout.write(rows[name] + "\n")
    PAGE.write_text(HEAD + "".join(rows[name] + "\n" for name in known if name in rows), encoding="utf-8")


if __name__ == "__main__":
    main()
