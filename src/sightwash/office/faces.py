"""The typeface of the pages: the letters we use of Source Sans, as small web fonts made when first asked for.

The package's font files hold some two thousand letters and are 290 kB each; a page on a bad signal needs two hundred.
A font is a table of tables (ISO/IEC 14496-22, "Open Font Format"); the web form of it packs each table (W3C, WOFF File
Format 1.0, 2012). What is made from a font whose name is reserved carries another name (SIL Open Font License 1.1).
"""

from __future__ import annotations

import struct
import zlib
from functools import cache
from pathlib import Path
from typing import Final

import font_source_sans_pro
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from sightwash import __version__
from sightwash.office.access import open_page

FILES: Final = {"regular": "SourceSansPro-Regular.ttf", "semibold": "SourceSansPro-Semibold.ttf"}
NAME: Final = "Office Sans"
LETTERS: Final = (
    "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x180))))
    + "\u2002\u2009\u2010\u2011\u2013\u2014\u2018\u2019\u201c\u201d\u201e\u2022\u2026\u2032\u2033\u20ac"
    + "\u2190\u2191\u2192\u2193\u2212\u2248\u2260\u2264\u2265\u25b8\u2713\u00d7"
)
KEPT: Final = ("OS/2", "cvt ", "fpgm", "gasp", "hhea", "hmtx", "maxp", "prep")
_COMPOSITE_MORE: Final = 0x20
_CHECKSUM: Final = 0xB1B0AFBA

Tables = dict[str, bytes]


@open_page
@require_safe
def face(request: HttpRequest, weight: str) -> HttpResponse:
    """Send a web font."""
    del request
    if weight not in FILES:
        raise Http404
    answer = HttpResponse(web_font(weight), content_type="font/woff")
    answer.headers["Cache-Control"] = "public, max-age=604800"
    answer.headers["ETag"] = f'"{__version__}-{weight}"'
    return answer


@cache
def web_font(weight: str) -> bytes:
    """Return the letters we use of one weight as a web font."""
    data = (Path(font_source_sans_pro.font_directory) / FILES[weight]).read_bytes()
    return _packed(_small(_tables(data), weight))


def _tables(data: bytes) -> Tables:
    (count,) = struct.unpack_from(">H", data, 4)
    entries = (struct.unpack_from(">4s3L", data, 12 + 16 * index) for index in range(count))
    return {tag.decode("ascii"): data[start : start + size] for tag, _, start, size in entries}


def _small(tables: Tables, weight: str) -> Tables:
    """Return the tables of a font that holds LETTERS only; glyphs keep their numbers, the others become empty."""
    places = _letter_places(tables["cmap"])
    letters = {code: glyph for code in map(ord, LETTERS) if (glyph := places.get(code, 0))}
    (count,) = struct.unpack_from(">H", tables["maxp"], 4)
    (wide,) = struct.unpack_from(">h", tables["head"], 50)
    ends = struct.unpack_from(f">{count + 1}{'L' if wide else 'H'}", tables["loca"])
    starts = [end if wide else 2 * end for end in ends]
    outlines = [tables["glyf"][starts[index] : starts[index + 1]] for index in range(count)]
    used = _with_parts({0, *letters.values()}, outlines)
    kept = [outline if index in used else b"" for index, outline in enumerate(outlines)]
    padded = [outline + bytes(-len(outline) % 4) for outline in kept]
    offsets = [0]
    for outline in padded:
        offsets.append(offsets[-1] + len(outline))
    head = tables["head"]
    return {
        **{tag: tables[tag] for tag in KEPT if tag in tables},
        "cmap": _letter_table(letters),
        "glyf": b"".join(padded),
        "head": head[:8] + bytes(4) + head[12:50] + struct.pack(">h", 1) + head[52:],
        "loca": struct.pack(f">{count + 1}L", *offsets),
        "name": _name_table(weight),
        "post": struct.pack(">L", 0x00030000) + tables["post"][4:32],
    }


def _letter_places(cmap: bytes) -> dict[int, int]:
    """Return the glyph of each letter, from the table for the basic plane (format 4)."""
    (count,) = struct.unpack_from(">H", cmap, 2)
    entries = (struct.unpack_from(">HHL", cmap, 4 + 8 * index) for index in range(count))
    at = next(start for platform, encoding, start in entries if (platform, encoding) == (3, 1))
    segments = struct.unpack_from(">H", cmap, at + 6)[0] // 2
    columns = [at + 14 + 2 * segments * index + (2 if index else 0) for index in range(4)]
    found: dict[int, int] = {}
    for index in range(segments):
        end, start, delta, offset = (struct.unpack_from(">H", cmap, column + 2 * index)[0] for column in columns)
        for code in range(start, min(end, 0xFFFE) + 1):
            glyph = code
            if offset:
                place = columns[3] + 2 * index + offset + 2 * (code - start)
                glyph = struct.unpack_from(">H", cmap, place)[0]
            if glyph or not offset:
                found[code] = (glyph + delta) & 0xFFFF
    return found


def _letter_table(letters: dict[int, int]) -> bytes:
    """Return a letter table (format 4) with a segment for each letter."""
    codes = [*sorted(letters), 0xFFFF]
    deltas = [*((letters[code] - code) & 0xFFFF for code in codes[:-1]), 1]
    size = len(codes)
    step = 1 << (size.bit_length() - 1)
    row = f">{size}H"
    body = struct.pack(">4H", 2 * size, 2 * step, step.bit_length() - 1, 2 * (size - step))
    body += struct.pack(row, *codes) + bytes(2) + struct.pack(row, *codes) + struct.pack(row, *deltas) + bytes(2 * size)
    table = struct.pack(">3H", 4, len(body) + 6, 0) + body
    return struct.pack(">HHHHL", 0, 1, 3, 1, 12) + table


def _with_parts(glyphs: set[int], outlines: list[bytes]) -> set[int]:
    """Return the glyphs with those that they are put together from."""
    found: set[int] = set()
    waiting = list(glyphs)
    while waiting:
        glyph = waiting.pop()
        if glyph not in found:
            found.add(glyph)
            waiting += _parts(outlines[glyph])
    return found


def _parts(outline: bytes) -> list[int]:
    if len(outline) < 10 or struct.unpack_from(">h", outline)[0] >= 0:
        return []
    found, place, flags = [], 10, _COMPOSITE_MORE
    while flags & _COMPOSITE_MORE:
        flags, part = struct.unpack_from(">HH", outline, place)
        found.append(part)
        place += 4 + (4 if flags & 0x1 else 2) + (2 if flags & 0x8 else 4 if flags & 0x40 else 8 if flags & 0x80 else 0)
    return found


def _name_table(weight: str) -> bytes:
    words = {1: NAME, 2: "Regular", 4: f"{NAME} {weight}", 6: f"{NAME}-{weight}".replace(" ", "")}
    records, text = b"", b""
    for kind, word in words.items():
        encoded = word.encode("utf-16-be")
        records += struct.pack(">6H", 3, 1, 0x409, kind, len(encoded), len(text))
        text += encoded
    return struct.pack(">3H", 0, len(words), 6 + 12 * len(words)) + records + text


def _checksum(data: bytes) -> int:
    padded = data + bytes(-len(data) % 4)
    words: tuple[int, ...] = struct.unpack(f">{len(padded) // 4}L", padded)
    return sum(words) & 0xFFFFFFFF


def _packed(tables: Tables) -> bytes:
    """Return the tables as a WOFF file."""
    tags = sorted(tables)
    step = 1 << (len(tags).bit_length() - 1)
    bare = 12 + 16 * len(tags)
    directory = struct.pack(">L4H", 0x00010000, len(tags), 16 * step, step.bit_length() - 1, 16 * (len(tags) - step))
    place = bare
    for tag in tags:
        directory += struct.pack(">4s3L", tag.encode("ascii"), _checksum(tables[tag]), place, len(tables[tag]))
        place += len(tables[tag]) + -len(tables[tag]) % 4
    whole = (_checksum(directory) + sum(_checksum(tables[tag]) for tag in tags)) & 0xFFFFFFFF
    sums = {tag: _checksum(tables[tag]) for tag in tags}
    head = tables["head"]
    tables = {**tables, "head": head[:8] + struct.pack(">L", (_CHECKSUM - whole) & 0xFFFFFFFF) + head[12:]}
    entries, body = b"", b""
    start = 44 + 20 * len(tags)
    for tag in tags:
        data = tables[tag]
        squeezed = zlib.compress(data, 9)
        kept = squeezed if len(squeezed) < len(data) else data
        entries += struct.pack(">4s4L", tag.encode("ascii"), start + len(body), len(kept), len(data), sums[tag])
        body += kept + bytes(-len(kept) % 4)
    total = start + len(body)
    header = struct.pack(">4sLLHHLHHLLLLL", b"wOFF", 0x00010000, total, len(tags), 0, place, 1, 0, 0, 0, 0, 0, 0)
    return header + entries + body
