"""HTML to PDF with WeasyPrint: the same bytes for the same page, packaged fonts only, log lines as problems.

The fonts of the machine are left out on purpose.  With them, a sign that the packaged faces lack would be drawn by
whatever happens to be installed, differently on each machine; without them it is reported.
"""

from __future__ import annotations

import logging
import os
import re
import tempfile
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.closer import set_closer
from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.page_source import PageSource
from guidebuild.press.paper.spill import pull_back, tell_short
from guidebuild.press.paper.typesetter import CSS, Document, FontConfiguration
from guidebuild.press.theme.fonts import ORIGINAL_FAMILIES, SANS, SERIF, list_faces

_LOG = logging.getLogger("weasyprint")
ONE_AT_A_TIME = threading.Lock()
_MISSING_SIGN = re.compile(r'^\.notdef glyph .*"(?P<sign>.+)" \((?P<code>U\+[0-9A-F]+)\)', re.DOTALL)
_MISSING_FILE = re.compile(r"^Failed to load (?P<kind>image|stylesheet|font) at '?(?P<address>\S+?)'? ?: (?P<reason>.*)", re.DOTALL)
_MISSING_ATTACHMENT = re.compile(r"^Failed to load attachment: (?:\w+: )?(?P<reason>.*)", re.DOTALL)
_MISSING_FONT = re.compile(r"^Font-face '(?P<family>.*)' cannot be loaded")
_LONGEST_ADDRESS = 120
_POINTS_PER_PIXEL = 0.75
_EXCEPTION_NAME = re.compile(r"^\w+: ")


@dataclass(frozen=True, slots=True)
class Pdf:
    """One finished document."""

    data: bytes
    pages: int
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class PdfSettings:
    """How a document is written."""

    variant: str | None = "pdf/ua-1"
    """One of WeasyPrint's PDF/A or PDF/UA names; PDF/X is refused, because it carries a random identifier."""
    forms: bool = False
    """Make form fields of the page fillable."""
    compress: bool = True
    made: datetime | None = None
    """The document's date.  Without it, the date is that of SOURCE_DATE_EPOCH, and without that none is written, so that a run
    on another day gives the same bytes."""
    stylesheets: tuple[str, ...] = ()
    """Texts of CSS laid over the document's own."""
    least_type: float | None = None
    """Points that type may shrink to where that leaves no last page nearly empty; without it, the document stays as it is laid out."""


STANDARD = PdfSettings()


def html_to_pdf(html: str, *, fetcher: GuideFetcher, where: str, settings: PdfSettings = STANDARD) -> Pdf:
    """Lay out one HTML document whose addresses are relative to `fetching.BASE`; `where` names it in problems."""
    variant = settings.variant
    if variant and variant.startswith("pdf/x"):
        raise ValueError(f"{variant} carries a random identifier; choose a PDF/A or PDF/UA variant")
    common = {"pdf_variant": variant, "pdf_tags": True, "pdf_forms": settings.forms}
    with ONE_AT_A_TIME, log_lines() as lines:
        document = _fitted(html, fetcher, settings, common)
        write_date(document.metadata, settings.made or source_date())
        data = document.write_pdf(pdf_identifier=True, uncompressed_pdf=not settings.compress, finisher=mend_tags, **common)
    short = tell_short(document, where) if settings.least_type else ()
    return Pdf(data, len(document.pages), (*problems_of(lines, where, BASE), *short))


def _fitted(html: str, fetcher: GuideFetcher, settings: PdfSettings, common: Mapping[str, object]) -> Document:
    """The document laid out, and where it may be, laid out again until its last page is not short."""
    fonts, least = font_configuration(), settings.least_type

    def lay(scale: float) -> Document:
        sized = fetcher if scale == 1.0 else fetcher.with_styles(lambda css: set_closer(css, scale, least or 0.0))
        sheets = [CSS(string=text, base_url=BASE, url_fetcher=sized, font_config=fonts) for text in settings.stylesheets]
        source = PageSource(html, sized, (*settings.stylesheets, *sized.texts()))
        return source.render(font_config=fonts, stylesheets=sheets, **common)

    return lay(1.0) if least is None else pull_back(lay, lambda document: document)


def mend_tags(document: Document, pdf: Any) -> None:
    """Mend what WeasyPrint leaves: links that viewers may hide in print, boxes of figures in the wrong units, headers without scope.

    PDF 32000-1, table 165: bit 3 of a link's flags prints it; table 380: a figure's box is in the page's own points.
    """
    heights = dict(zip(pdf.page_references, (page.height for page in document.pages), strict=True))
    for thing in pdf.objects:
        if not isinstance(thing, dict):
            continue
        if thing.get("Subtype") == "/Link":
            thing["F"] = 4
        elif thing.get("S") == "/Figure" and "A" in thing:
            box, height = thing["A"]["BBox"], heights[thing["Pg"]]
            left, top, right, foot = box
            box[:] = [round(side * _POINTS_PER_PIXEL, 3) for side in (left, height - foot, right, height - top)]
    _give_scope([thing for thing in pdf.objects if isinstance(thing, dict) and thing.get("S") in {"/TH", "/TD"}])


def _give_scope(cells: Sequence[Any]) -> None:
    """Say of each header cell whether it heads its row or its column, in place of lists of headers in the cells that it heads.

    WeasyPrint writes no scope (ISO 14289-1, 7.5, asks for one where not every cell names its headers), lists that are empty, and no tree
    by which an identifier is found; identifiers would also meet their likes when documents are joined.
    """
    in_rows = {(id(key), cell["P"]) for cell in cells for key in cell["A"].pop("Headers", ())}
    for cell in cells:
        identifier = cell.pop("ID", None)
        if cell["S"] == "/TH":
            cell["A"]["Scope"] = "/Row" if (id(identifier), cell["P"]) in in_rows else "/Column"


def source_date() -> datetime | None:
    """The moment SOURCE_DATE_EPOCH gives, in UTC (reproducible-builds specification), or nothing when it is not set."""
    text = os.environ.get("SOURCE_DATE_EPOCH", "")
    return datetime.fromtimestamp(int(text), UTC) if text.isascii() and text.isdigit() else None


@cache
def font_configuration() -> FontConfiguration:
    """Packaged faces under their own names and `Guide Serif`/`Guide Sans`; no font of the machine. The same one for all of a process."""
    with tempfile.TemporaryDirectory(prefix="guidebuild-fonts-") as folder:
        settings = Path(folder) / "fonts.conf"
        settings.write_text(_font_settings(), encoding="utf-8")
        former = os.environ.get("FONTCONFIG_FILE")
        os.environ["FONTCONFIG_FILE"] = str(settings)
        try:
            return FontConfiguration()
        finally:
            if former is None:
                del os.environ["FONTCONFIG_FILE"]
            else:
                os.environ["FONTCONFIG_FILE"] = former


def _font_settings() -> str:
    folders = sorted({str(face.path.parent) for face in list_faces()})
    accepted = "".join(f"<glob>{escape(str(face.path))}</glob>" for face in list_faces())
    generic = {"serif": SERIF, "sans-serif": SANS, "monospace": SANS, "system-ui": SANS}
    aliases = {**ORIGINAL_FAMILIES, **{name: ORIGINAL_FAMILIES[family] for name, family in generic.items()}}
    return (
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd"><fontconfig>'
        + "".join(f"<dir>{escape(folder)}</dir>" for folder in folders)
        + '<cachedir prefix="xdg">fontconfig</cachedir>'
        + f"<selectfont><acceptfont>{accepted}</acceptfont>"
        "<rejectfont><glob>*.otf</glob><glob>*Light*</glob><glob>*Black*</glob></rejectfont></selectfont>"
        + "".join(
            f'<alias binding="same"><family>{name}</family><prefer><family>{family}</family></prefer></alias>'
            for name, family in aliases.items()
        )
        + "</fontconfig>"
    )


def write_date(metadata: object, moment: datetime | None) -> None:
    """Set a WeasyPrint document's dates, when there is a moment to write."""
    if moment is not None:
        written = moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        metadata.created = metadata.modified = written  # type: ignore[attr-defined]


@contextmanager
def log_lines() -> Iterator[list[str]]:
    """WeasyPrint's warnings and errors on this thread, collected while the block runs and kept off the terminal."""
    lines: list[str] = []
    thread = threading.get_ident()

    class Collector(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            if record.thread == thread:
                lines.append(record.getMessage())

    collector = Collector(logging.WARNING)
    propagated = _LOG.propagate
    _LOG.addHandler(collector)
    _LOG.propagate = False
    try:
        yield lines
    finally:
        _LOG.removeHandler(collector)
        _LOG.propagate = propagated


def problems_of(lines: Sequence[str], where: str, base: str) -> tuple[Problem, ...]:
    """Log lines as problems, each once, in their order; addresses are told relative to `base`."""
    return tuple(dict.fromkeys(_problem(line, where, base) for line in lines))


def _problem(line: str, where: str, base: str) -> Problem:
    if sign := _MISSING_SIGN.match(line):
        return Problem(
            "missing-sign",
            where,
            f"no font of the theme has the sign “{sign['sign']}” ({sign['code']}), an empty box is printed in its place; "
            "write it in words, or add a font that has it to the theme",
        )
    if file := _MISSING_FILE.match(line):
        address = _short(file["address"].removeprefix(base))
        reason = _EXCEPTION_NAME.sub("", _EXCEPTION_NAME.sub("", file["reason"]))
        return Problem(f"missing-{file['kind']}", where, f"the {file['kind']} “{address}” could not be loaded: {reason}")
    if attachment := _MISSING_ATTACHMENT.match(line):
        return Problem("missing-attachment", where, f"a file to attach could not be loaded: {attachment['reason']}")
    if font := _MISSING_FONT.match(line):
        return Problem("missing-font", where, f"the font “{font['family']}” could not be loaded from the theme")
    return Problem("layout", where, line)


def _short(address: str) -> str:
    # Addresses that hold the data itself can be as long as a book.
    return address if len(address) <= _LONGEST_ADDRESS else f"{address[:_LONGEST_ADDRESS]}…"
