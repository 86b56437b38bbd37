"""How long modules and functions are, and which are too long.

``python scripts/code_sizes.py`` prints the report and ends with 1 if something is too long.
Lines of code are those that are neither blank nor part of a docstring; comments count.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ("src/**/*.py",)
EVERYWHERE = (*SOURCE, "tests/**/*.py", "scripts/**/*.py", "benchmarks/**/*.py", "*.py")
LONGEST_MODULE = 400
LONGEST_FUNCTION = 40
MEDIAN_MODULE = 150

Documented = ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True, slots=True)
class Size:
    """All lines of a module or function, and its lines of code."""

    place: str
    lines: int
    code: int


def python_files(root: Path, patterns: Iterable[str] = EVERYWHERE) -> list[Path]:
    """Return the Python files that the patterns find below ``root``."""
    return sorted(file for pattern in patterns for file in root.glob(pattern))


def sizes(file: Path, root: Path) -> Iterator[Size]:
    """Yield the size of a module, then those of its functions."""
    text = file.read_text(encoding="utf-8")
    tree = ast.parse(text)
    written = {number for number, line in enumerate(text.splitlines(), start=1) if line.strip()}
    for node in ast.walk(tree):
        if isinstance(node, Documented):
            written -= docstring_lines(node)
    place = str(file.relative_to(root))
    yield Size(place, len(text.splitlines()), len(written))
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            numbers = range(node.lineno, (node.end_lineno or node.lineno) + 1)
            yield Size(f"{place}:{node.lineno} {node.name}", len(numbers), len(written.intersection(numbers)))


def docstring_lines(node: Documented) -> set[int]:
    """Return the line numbers of a docstring; empty without one."""
    if ast.get_docstring(node, clean=False) is None:
        return set()
    first = node.body[0]
    return set(range(first.lineno, (first.end_lineno or first.lineno) + 1))


def too_long(root: Path) -> list[str]:
    """Return the modules and functions that are longer than allowed, in words."""
    found = []
    for file in python_files(root):
        module, *functions = sizes(file, root)
        if module.lines > LONGEST_MODULE:
            found.append(f"{module.place}: {module.lines} lines, at most {LONGEST_MODULE}")
        over = [function for function in functions if function.code > LONGEST_FUNCTION]
        found += [f"{function.place}: {function.code} lines of code, at most {LONGEST_FUNCTION}" for function in over]
    return found


def report(root: Path) -> list[str]:
    """Return the sizes of the package, line by line; an ``__init__`` without functions is not a module here."""
    by_file = {file: list(sizes(file, root)) for file in python_files(root, SOURCE)}
    modules = [found[0] for file, found in by_file.items() if file.name != "__init__.py" or len(found) > 1]
    functions = [size for found in by_file.values() for size in found[1:]]
    longest = max(modules, key=lambda size: size.lines)
    fullest = max(functions, key=lambda size: size.code)
    middle, middle_code = median(size.lines for size in modules), median(size.code for size in modules)
    return [
        f"src: {len(modules)} modules, {len(functions)} functions",
        f"median module: {middle:g} lines (aim: {MEDIAN_MODULE}); {middle_code:g} lines of code",
        f"longest module: {longest.lines} lines (limit {LONGEST_MODULE}): {longest.place}",
        f"longest function: {fullest.code} lines of code (limit {LONGEST_FUNCTION}): {fullest.place}",
    ]


def main() -> int:
    """Print the report and what is too long."""
    found = too_long(ROOT)
    sys.stdout.write("\n".join(report(ROOT) + found) + "\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
