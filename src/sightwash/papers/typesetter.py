"""The typesetter: a template, data and pictures in, the bytes of a tagged PDF (PDF/UA-1) out.

What a user typed reaches the page as data, never as markup. The same data give the same bytes: the faces
come from packages, the machine's own faces are ignored and no time of making is written. A letter that no
face can draw is written as its code point, such as [U+5E97], with a warning; no empty box is ever printed.
"""

from __future__ import annotations

import atexit
import json
import re
import shutil
import tempfile
import threading
import warnings
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Final, TypeAlias

import typst

from sightwash.basis.errors import InputError, Problem, SightwashWarning
from sightwash.papers.pictures import picture_svg
from sightwash.papers.printed_drawing import printed
from sightwash.site.firm import PaperSize

JSON: TypeAlias = "Mapping[str, JSON] | Sequence[JSON] | str | int | float | bool | None"

_SIZES: Final[dict[PaperSize, str]] = {"letter": "us-letter", "a4": "a4"}
_FACES: Final = ("Regular", "It", "Semibold", "Bold")
_STANDARD: Final = "ua-1"
_MOST_TRIES: Final = 12
_NOT_DRAWN: Final = re.compile(r'the text `"((?:[^"\\]|\\.)*)"` could not|codepoint `"((?:[^"\\]|\\.)*)"`')
_NO_LETTER: Final = re.compile("[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\ud800-\\udfff\\ufeff]")
_ESCAPED: Final = re.compile(r"\\u\{([0-9a-fA-F]+)\}|\\(.)")
_SENTENCE_OF_DRAWINGS: Final = re.compile(r"<(title|desc)>([^<]*)</\1>")


class NotDrawn(SightwashWarning):
    """A letter has no drawing in any face at hand and stands on the paper as its code point."""


def typeset(
    template: str, data: Mapping[str, JSON], pictures: Mapping[str, bytes], paper: PaperSize = "letter"
) -> bytes:
    """Return the PDF of ``templates/<template>.typ`` over ``base.typ``.

    ``data`` needs ``title`` and ``language`` (such as ``en``); it stands in the template as ``data``. A picture is
    set with ``#picture("name", alt: "what it shows")``; without ``alt`` a drawing speaks for itself.
    """
    clean = _each_text(dict(data), _printable)
    drawings = {name: printed(_printable(picture_svg(name, content))) for name, content in sorted(pictures.items())}
    source = _source("base") + b"\n" + _source(template)
    replaced: dict[str, str] = {}
    for _ in range(_MOST_TRIES):
        try:
            found = _compilers().own.compile(
                source, sys_inputs=_inputs(clean, drawings, paper), pdf_standards=_STANDARD, timestamp=0
            )
        except typst.TypstError as error:
            missing = _not_drawn(error.diagnostic)
            if not missing:
                raise _refusal(template, error) from error
            replaced |= missing
            swap = _swap(missing)
            clean = _each_text(clean, swap)
            drawings = {name: swap(text) for name, text in drawings.items()}
        else:
            _warn(replaced)
            assert isinstance(found, bytes)
            return found
    raise InputError(Problem("too-many-letters", "too many letters have no drawing in the faces at hand", key=template))


class _Compilers(threading.local):
    """One compiler for each thread, as it works on one paper at a time; the faces are read once for all."""

    def __init__(self) -> None:
        self.own = typst.Compiler(root=_folder(), font_paths=_faces(), ignore_system_fonts=True)


@cache
def _compilers() -> _Compilers:
    return _Compilers()


@cache
def _folder() -> Path:
    """Return a folder with the four faces of the text and nothing else."""
    folder = Path(tempfile.mkdtemp(prefix="sightwash-faces-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    home = files("font_source_sans_pro").joinpath("files")
    for face in _FACES:
        name = f"SourceSansPro-{face}.ttf"
        (folder / name).write_bytes(home.joinpath(name).read_bytes())
    return folder


@cache
def _faces() -> typst.Fonts:
    """Return the faces of the text and those that the typesetter brings; the machine's own are ignored."""
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[_folder()])


@cache
def _source(template: str) -> bytes:
    return files("sightwash.papers").joinpath("templates", f"{template}.typ").read_bytes()


def _inputs(data: JSON, drawings: Mapping[str, str], paper: PaperSize) -> dict[str, str]:
    """Return what the template reads through ``sys.inputs``: text only, so JSON."""
    spoken = {
        name: ". ".join(found[1] for found in _SENTENCE_OF_DRAWINGS.findall(text)) for name, text in drawings.items()
    }
    return {
        "data": json.dumps(data, ensure_ascii=False, allow_nan=False),
        "pictures": json.dumps(drawings, ensure_ascii=False),
        "spoken": json.dumps(spoken, ensure_ascii=False),
        "paper": _SIZES[paper],
    }


def _each_text(value: JSON, change: Callable[[str], str]) -> JSON:
    """Return a tree with every text in it changed; keys stay."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, Mapping):
        return {key: _each_text(item, change) for key, item in value.items()}
    return [_each_text(item, change) for item in value] if isinstance(value, (list, tuple)) else value


def _printable(text: str) -> str:
    """Return a text without the characters that are no letters: controls, half characters, byte-order marks."""
    return _NO_LETTER.sub("", text)


def _not_drawn(diagnostic: str) -> dict[str, str]:
    """Return the letters that the compiler could not draw and what is printed in their place."""
    found = (first or second for first, second in _NOT_DRAWN.findall(diagnostic))
    letters = {_ESCAPED.sub(lambda m: chr(int(m[1], 16)) if m[1] else m[2], text) for text in found}
    return {text: "".join(f"[U+{ord(letter):04X}]" for letter in text) for text in letters if text}


def _swap(missing: Mapping[str, str]) -> Callable[[str], str]:
    pattern = re.compile("|".join(re.escape(text) for text in sorted(missing, key=lambda t: (-len(t), t))))
    return lambda text: pattern.sub(lambda m: missing[m[0]], text)


def _warn(replaced: Mapping[str, str]) -> None:
    if replaced:
        words = " ".join(sorted(replaced.values()))
        warnings.warn(f"no face at hand can draw these letters; they are printed as {words}", NotDrawn, stacklevel=3)


def _refusal(template: str, error: typst.TypstError) -> Exception:
    """Return the error to raise: a picture that is no picture is the user's, all else is ours."""
    if "SVG" in error.message or "image" in error.message:
        message = f"a picture cannot be read: {error.message}"
        return InputError(Problem("broken-picture", message, key=template, fix="choose another picture"))
    return RuntimeError(f"the template {template} does not compile: {error.diagnostic}")
