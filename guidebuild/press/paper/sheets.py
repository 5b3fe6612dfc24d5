"""Cards and pages on sheets for an office printer: n-up with marks, backs that meet their fronts, booklets.

Pages are placed with pypdf as form XObjects, never redrawn, so type and pictures stay as they were.  Sheets ask viewers
not to scale and to flip as they were imposed; the 50 mm rule shows whether the printer did as asked.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from math import cos, radians, sin
from types import MappingProxyType
from typing import cast

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    NullObject,
    PdfObject,
    RectangleObject,
    TextStringObject,
)

from guidebuild.press.engine.digest import digest, digest_bytes
from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import POINTS_PER_MM, Area, Format, Paper
from guidebuild.press.paper.imposition import (
    Flip,
    Grid,
    Placed,
    booklet_crops,
    booklet_sides,
    flips_sideways,
    n_up,
    one_sided,
)
from guidebuild.press.paper.joining import pack_objects
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.paper.room import booklet_sheet, grid_for
from guidebuild.press.paper.sheet_marks import draw_furniture, draw_marks
from guidebuild.words import WRITTEN_IN

_PRODUCER = "guidebuild"
NO_WISHES: Mapping[str, PdfObject] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class SheetsNamed:
    """How a file of sheets is called, and what it is: pages in the order of the printer, not of a reader."""

    title: str
    what: str = ""
    language: str = WRITTEN_IN


@dataclass(slots=True)
class Press:
    """One file of sheets in the making."""

    paper: Area
    writer: PdfWriter = field(default_factory=PdfWriter)
    _pictures: dict[str, IndirectObject] = field(default_factory=dict)
    """Those that stand already, by their digests."""

    def side(self, forms: Sequence[tuple[IndirectObject, Placed, Area]], overlay: IndirectObject | None, *, folded: bool = False) -> None:
        """Add one side: forms in their places, marks on top. On a `folded` one none reaches over the fold in its middle."""
        page = self.writer.add_blank_page(*self.paper.points)
        drawn = [_drawn(f"/P{n}", place, trim) for n, (_, place, trim) in enumerate(forms)]
        if folded:
            drawn = [_in_half(one, place, self.paper) for one, (_, place, _) in zip(drawn, forms, strict=True)]
        resources = {f"/P{n}": form for n, (form, _, _) in enumerate(forms)}
        if overlay is not None:
            resources["/M"] = overlay
            drawn.append("/M Do")
        content = DecodedStreamObject()
        content.set_data("\n".join(drawn).encode("ascii"))
        page[NameObject("/Resources")] = DictionaryObject(
            {NameObject("/XObject"): DictionaryObject({NameObject(name): form for name, form in resources.items()})}
        )
        page[NameObject("/Contents")] = self.writer._add_object(content.flate_encode())

    def form(self, page: PageObject, keep: RectangleObject) -> IndirectObject:
        """A page as a form; what lies outside `keep` is cut off."""
        stream = DecodedStreamObject()
        contents = page.get_contents()
        stream.set_data(contents.get_data() if contents is not None else b"")
        form = stream.flate_encode()
        form.update(
            {
                NameObject("/Type"): NameObject("/XObject"),
                NameObject("/Subtype"): NameObject("/Form"),
                NameObject("/BBox"): ArrayObject(FloatObject(round(float(edge), 4)) for edge in keep),
                NameObject("/Resources"): page["/Resources"].clone(self.writer),
            }
        )
        return self.writer._add_object(form)

    def share_pictures(self, forms: Sequence[IndirectObject]) -> None:
        """Have pictures that former forms show too stand once at once: all are in memory until the end."""
        moved: dict[int, IndirectObject] = {}
        for form in forms:
            shown = cast(DictionaryObject, cast(DictionaryObject, form.get_object())["/Resources"]).get("/XObject", DictionaryObject())
            for name in list(shown):
                picture = shown.raw_get(name)
                if picture.idnum not in moved:
                    stream = picture.get_object()
                    if stream.get("/Subtype") != "/Image" or "/SMask" in stream:
                        continue
                    mark = digest(repr(sorted(stream.items())), digest_bytes(stream._data))
                    moved[picture.idnum] = self._pictures.setdefault(mark, picture)
                    if moved[picture.idnum].idnum != picture.idnum:
                        self.writer._replace_object(picture, NullObject())
                shown[NameObject(name)] = moved[picture.idnum]

    def drawn(self, drawing: str, sheet: Area) -> IndirectObject:
        """A drawing of the whole sheet as a form."""
        css = f"@page{{size:{sheet.width}mm {sheet.height}mm;margin:0}}svg{{display:block}}"
        laid = lay_out(f'<html lang="en"><title>marks</title><body style="margin:0">{drawing}', css, GuideFetcher())
        page = PdfReader(io.BytesIO(write_pdf(laid, "sheet marks")[0])).pages[0]
        return self.form(page, page.mediabox)

    def finished(self, named: SheetsNamed, flip: Flip | None) -> bytes:
        """The file, asking for true size and, for two-sided sheets, the right flip."""
        wishes: dict[str, PdfObject] = {"/PrintScaling": NameObject("/None")}
        if flip:
            wishes["/Duplex"] = NameObject("/DuplexFlipLongEdge" if flip is Flip.LONG else "/DuplexFlipShortEdge")
        return write_named(self.writer, named, wishes)


class CardSheets:
    """Cards on sheets, those with two sides fronts and backs in turn; each card is taken over as it comes and let go of."""

    def __init__(self, card_format: Format, paper: Paper, flip: Flip, bleed: float = 0.0) -> None:
        """Raises `NoRoomError` where not one card fits on the paper."""
        self._grid = grid_for(card_format, paper, bleed)
        self._press = Press(self._grid.paper)
        self._format = card_format
        self._flip = flip
        self._bleed = bleed
        self._once: dict[str, tuple[IndirectObject, ...]] = {}
        self._cards: list[tuple[IndirectObject, ...]] = []

    def add(self, card: bytes) -> None:
        """Set one more card; a set for thirty people holds each many times and carries it once."""
        mark = digest_bytes(card)
        if mark not in self._once:
            self._once[mark] = tuple(take_forms(self._press, card, self._format.size, self._bleed))
        self._cards.append(self._once[mark])

    def finished(self, named: SheetsNamed | None = None) -> bytes:
        """The file; nothing where there is no card."""
        if not self._cards:
            return b""
        grid, trim, two_sided = self._grid, self._format.size, self._format.sides == 2
        forms = list(chain.from_iterable(self._cards))
        marks = _furniture(self._press, grid, self._bleed, self._format)
        sides = n_up(len(self._cards), grid, self._flip) if two_sided else one_sided(len(self._cards), grid)
        for number, side in enumerate(sides):
            overlay = marks[number % 2] if two_sided else marks[0]
            self._press.side([(forms[place.page], place, trim) for place in side], overlay)
        return self._press.finished(named or SheetsNamed(self._format.title), self._flip if two_sided else None)


def make_booklet(pages: bytes, leaf: Format, paper: Paper, named: SheetsNamed | None = None, *, bleed: float = 0.0) -> bytes:
    """Pages of a booklet two by two, to print on both sides (flipped on the short edge), fold and stitch; a `bleed` is kept."""
    sheet = booklet_sheet(leaf, paper)
    press = Press(sheet)
    forms = list(take_forms(press, pages, leaf.size, bleed))
    crops = booklet_crops(sheet, leaf.size, bleed)
    marks = press.drawn(draw_marks(crops, sheet, PLAIN), sheet) if crops else None
    for side in booklet_sides(len(forms), sheet, leaf.size, paper.thickness):
        press.side([(forms[place.page], place, leaf.size) for place in side], marks, folded=True)
    flip = Flip.SHORT if flips_sideways(sheet, Flip.SHORT) else Flip.LONG
    return press.finished(named or SheetsNamed(leaf.title), flip)


def write_named(writer: PdfWriter, named: SheetsNamed, wishes: Mapping[str, PdfObject] = NO_WISHES) -> bytes:
    """A file without tags, which does not claim to be PDF/UA, with its title where viewers look for it; `wishes` are for them too."""
    writer.pdf_header = "%PDF-1.7"
    asked = {"/DisplayDocTitle": BooleanObject(True), **wishes}
    writer.root_object[NameObject("/ViewerPreferences")] = DictionaryObject({NameObject(key): value for key, value in asked.items()})
    writer.root_object[NameObject("/Lang")] = TextStringObject(named.language)
    writer.metadata = {"/Title": named.title, "/Subject": named.what, "/Producer": _PRODUCER}
    writer.compress_identical_objects()
    written = io.BytesIO()
    writer.write(written)
    return pack_objects(written)


def take_forms(press: Press, document: bytes, trim: Area, bleed: float) -> Sequence[IndirectObject]:
    """The pages of a document as forms, in their order, with so much round the trim."""
    reader, forms = PdfReader(io.BytesIO(document)), []
    for page in reader.pages:
        box = page.trimbox
        width, height = trim.points
        if abs(float(box.width) - width) > 0.5 or abs(float(box.height) - height) > 0.5:
            raise ValueError(
                f"a page is {float(box.width):.1f} × {float(box.height):.1f} pt where {width:.1f} × {height:.1f} pt was expected"
            )
        more = bleed * POINTS_PER_MM
        forms.append(press.form(page, RectangleObject((box.left - more, box.bottom - more, box.right + more, box.top + more))))
    # Else the writer keeps every card that it was ever given in memory, until the end.
    press.writer.reset_translation(reader)
    press.share_pictures(forms)
    return forms


def _furniture(press: Press, grid: Grid, bleed: float, card_format: Format) -> tuple[IndirectObject, IndirectObject]:
    """Marks for fronts (with the rule) and for backs."""
    front, back = (
        press.drawn(draw_furniture(grid, bleed, card_format.margin, PLAIN, with_rule=with_rule), grid.paper) for with_rule in (True, False)
    )
    return front, back


def _in_half(drawn: str, place: Placed, paper: Area) -> str:
    """What is drawn of a page cut off at the fold: its bleed, and what creeps over, would lie on the page beside it."""
    width, height = paper.points
    left = 0.0 if place.x + place.size.width / 2 < paper.width / 2 else width / 2
    return f"q {left:.4f} 0 {width / 2:.4f} {height:.4f} re W n {drawn} Q"


def _drawn(name: str, place: Placed, trim: Area) -> str:
    """Operators that set a form turned into its place; forms have their trimmed corner at the origin."""
    c, s = round(cos(radians(place.turn))), round(sin(radians(place.turn)))
    width, height = trim.width, trim.height
    # The lower left corner of the turned page, so that it can be brought to the place's own.
    left = min(0.0, c * width, -s * height, c * width - s * height)
    low = min(0.0, s * width, c * height, s * width + c * height)
    x, y = (place.x - left) * POINTS_PER_MM, (place.y - low) * POINTS_PER_MM
    return f"q {c} {s} {-s} {c} {x:.4f} {y:.4f} cm {name} Do Q"
