"""One typeface embedded once in a document that was put together from others.

Each part carries its own subset of a face, with the glyphs that it uses under the numbers that they have in the whole face. So subsets
of one face can be laid over one another, and all parts use what comes of it (PDF 32000-1, 9.9: a font program is a stream of its own).
"""

from __future__ import annotations

import io
import struct
import sys
from array import array
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph
from pikepdf import Dictionary, Name, Object, Pdf

_TAG = 7
"""Letters of a subset's name before that of its face (9.6.4)."""
_NEEDED = (b"head", b"maxp", b"hhea", b"hmtx", b"loca", b"glyf")


@dataclass(frozen=True, slots=True)
class Subset:
    """A subset as far as it is laid over others: outlines and advances by the numbers of their glyphs, as they are stored."""

    data: bytes
    units: int
    outlines: Mapping[int, bytes]
    advances: Mapping[int, int]


def share_fonts(pdf: Pdf) -> None:
    """Have all subsets of a face use one font program. What cannot be laid over one another stays as it is."""
    faces: dict[str, list[Object]] = {}
    for thing in pdf.objects:
        if isinstance(thing, Dictionary) and thing.get("/Type") == Name.FontDescriptor and "/FontFile2" in thing:
            faces.setdefault(str(thing.FontName)[1 + _TAG :], []).append(thing)
    for described in faces.values():
        programs = list(dict.fromkeys(one.FontFile2.read_bytes() for one in described))
        whole = lay_over(programs) if len(programs) > 1 else None
        if whole is not None:
            stream = pdf.make_stream(whole, Length1=len(whole))
            for one in described:
                one.FontFile2 = stream


def lay_over(programs: Sequence[bytes]) -> bytes | None:
    """One TrueType font with the glyphs of several subsets that number them alike; None where they do not."""
    subsets = [subset for data in programs if (subset := read_subset(data))]
    outlines: dict[int, bytes] = {}
    advances: dict[int, int] = {}
    for subset in subsets:
        if any(outlines.setdefault(number, drawn) != drawn for number, drawn in subset.outlines.items()):
            return None
        advances.update(subset.advances)
    if len(subsets) < len(programs) or len({subset.units for subset in subsets}) > 1:
        return None
    return _write_whole(subsets, outlines, advances)


def _write_whole(subsets: Sequence[Subset], outlines: Mapping[int, bytes], advances: Mapping[int, int]) -> bytes:
    """The subset that reaches furthest, with what the others have."""
    furthest = max(subsets, key=lambda subset: max(subset.outlines, default=0))
    whole = TTFont(io.BytesIO(furthest.data), recalcBBoxes=False, recalcTimestamp=False)
    order, glyphs, metrics = whole.getGlyphOrder(), whole["glyf"].glyphs, whole["hmtx"].metrics
    for number, drawn in outlines.items():
        if number not in furthest.outlines:
            glyphs[order[number]] = Glyph(drawn)
    for number, advance in advances.items():
        if number < len(order):
            # How far a glyph stands from its origin is told by its outline, which begins with its box.
            left = struct.unpack(">h", outlines[number][2:4])[0] if number in outlines else 0
            metrics[order[number]] = (advance, left)
    for subset in subsets:
        _raise_limits(whole["maxp"], subset.data)
    written = io.BytesIO()
    whole.save(written, reorderTables=None)
    return written.getvalue()


def read_subset(data: bytes) -> Subset | None:
    """The glyphs of a TrueType font, told from its tables alone: a deck of a thousand cards holds some thousands of them."""
    tables = _tables(data)
    if not all(name in tables for name in _NEEDED):
        return None
    head, hhea = tables[b"head"], tables[b"hhea"]
    long = struct.unpack(">h", head[50:52])[0] == 1
    places = _numbers("I" if long else "H", tables[b"loca"])
    step, glyf = (1 if long else 2), tables[b"glyf"]
    outlines = {n: glyf[places[n] * step : places[n + 1] * step] for n in range(len(places) - 1) if places[n] != places[n + 1]}
    widths = _numbers("H", tables[b"hmtx"][: 4 * struct.unpack(">H", hhea[34:36])[0]])[::2]
    return Subset(data, struct.unpack(">H", head[18:20])[0], outlines, {n: wide for n, wide in enumerate(widths) if wide})


def _tables(data: bytes) -> dict[bytes, bytes]:
    count = struct.unpack(">H", data[4:6])[0] if len(data) > 12 else 0
    entries = (struct.unpack(">4sIII", data[at : at + 16]) for at in range(12, 12 + 16 * count, 16))
    return {name: data[start : start + length] for name, _, start, length in entries}


def _numbers(kind: str, data: bytes) -> array[int]:
    numbers = array(kind, data[: len(data) // array(kind).itemsize * array(kind).itemsize])
    if sys.byteorder == "little":
        numbers.byteswap()
    return numbers


def _raise_limits(maxp: object, data: bytes) -> None:
    """What a font says of the most that one of its glyphs needs (OpenType, maxp: thirteen numbers from the seventh byte on)."""
    table = _tables(data)[b"maxp"]
    if len(table) < 32:
        return
    names = ("maxPoints", "maxContours", "maxCompositePoints", "maxCompositeContours", "maxZones", "maxTwilightPoints", "maxStorage")
    more = (
        "maxFunctionDefs",
        "maxInstructionDefs",
        "maxStackElements",
        "maxSizeOfInstructions",
        "maxComponentElements",
        "maxComponentDepth",
    )
    for name, value in zip((*names, *more), struct.unpack(">13H", table[6:32]), strict=True):
        setattr(maxp, name, max(value, getattr(maxp, name)))
