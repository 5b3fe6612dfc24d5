"""Rules on the structure of a PDF, read with pikepdf: the machine checks of a published protocol that bear on what we print.

Each rule is named by its number in the Matterhorn Protocol 1.02 (PDF Association), which turns ISO 14289-1 (PDF/UA-1) into failure
conditions. The numbers and their words are from memory; where the protocol has none, the section of ISO 14289-1 stands for it. Tables
of children are those of ISO 32000-1: 333 and 336 to 337, section 14.8.4.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

HEADINGS = ("H1", "H2", "H3", "H4", "H5", "H6")
STANDARD = frozenset(
    {"Document", "Part", "Art", "Sect", "Div", "BlockQuote", "Caption", "TOC", "TOCI", "Index", "NonStruct", "Private", "P", "H", *HEADINGS}
    | {"L", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "THead", "TBody", "TFoot", "Span", "Quote", "Note", "Reference", "BibEntry"}
    | {"Code", "Link", "Annot", "Figure", "Formula", "Form"}
)
CHILDREN: Mapping[str, frozenset[str]] = {
    "Table": frozenset({"TR", "THead", "TBody", "TFoot", "Caption"}),
    "THead": frozenset({"TR"}),
    "TBody": frozenset({"TR"}),
    "TFoot": frozenset({"TR"}),
    "TR": frozenset({"TH", "TD"}),
    "L": frozenset({"Caption", "LI", "L"}),
    "LI": frozenset({"Lbl", "LBody"}),
}
PARENTS: Mapping[str, frozenset[str]] = {
    "THead": frozenset({"Table"}),
    "TBody": frozenset({"Table"}),
    "TFoot": frozenset({"Table"}),
    "TR": frozenset({"Table", "THead", "TBody", "TFoot"}),
    "TH": frozenset({"TR"}),
    "TD": frozenset({"TR"}),
    "LI": frozenset({"L"}),
    "LBody": frozenset({"LI"}),
}
LISTS = frozenset({"L", "LI", "LBody"})


@dataclass(frozen=True, slots=True)
class Element:
    """One element of the structure tree, with the kinds of its parent and of its children."""

    kind: str
    parent: str
    children: tuple[str, ...]
    raw: Any

    @property
    def attributes(self) -> list[Any]:
        """Its attribute dictionaries."""
        given = self.raw.get("/A")
        return [] if given is None else list(given) if isinstance(given, Array) else [given]


def list_elements(pdf: pikepdf.Pdf) -> list[Element]:
    """All elements in reading order."""
    root = pdf.Root.get("/StructTreeRoot")
    return [] if root is None else [element for top in _children(root) for element in _walk(top, "")]


def _walk(raw: Any, parent: str) -> Iterator[Element]:
    kind, inner = str(raw.S)[1:], list(_children(raw))
    yield Element(kind, parent, tuple(str(child.S)[1:] for child in inner), raw)
    for child in inner:
        yield from _walk(child, kind)


def _children(raw: Any) -> Iterator[Any]:
    kids = raw.get("/K")
    for kid in [] if kids is None else kids if isinstance(kids, Array) else [kids]:
        if isinstance(kid, Dictionary) and "/S" in kid:
            yield kid


def find_misplaced(elements: list[Element], kinds: Callable[[str], bool]) -> Iterator[str]:
    """Elements of these kinds among parents or with children that they may not have, and such as are empty."""
    for element in elements:
        if not kinds(element.kind):
            continue
        if element.kind in PARENTS and element.parent not in PARENTS[element.kind]:
            yield f"{element.kind} in {element.parent or 'the root'}"
        allowed = CHILDREN.get(element.kind)
        if allowed is not None:
            yield from (f"{child} in {element.kind}" for child in element.children if child not in allowed)
            if not set(element.children) & (allowed - {"Caption", "Lbl"}):
                yield f"{element.kind} without {' or '.join(sorted(allowed - {'Caption', 'Lbl'}))}"


def _table_rules(_: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    return find_misplaced(elements, lambda kind: kind not in LISTS)


def _list_rules(_: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    return find_misplaced(elements, lambda kind: kind in LISTS)


def _unknown_kinds(pdf: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    mapped = {str(name)[1:] for name in pdf.Root.StructTreeRoot.get("/RoleMap", {})} if "/StructTreeRoot" in pdf.Root else set()
    return (element.kind for element in elements if element.kind not in STANDARD | mapped)


def _figures_without_words(_: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    return ("Figure" for e in elements if e.kind == "Figure" and not (str(e.raw.get("/Alt", "")) or str(e.raw.get("/ActualText", ""))))


def _first_heading(_: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    first = next((element.kind for element in elements if element.kind in HEADINGS), "H1")
    return iter([first] if first != "H1" else [])


def _skipped_levels(_: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    levels = [int(element.kind[1]) for element in elements if element.kind in HEADINGS]
    return (f"H{before} then H{after}" for before, after in pairwise(levels) if after > before + 1)


def _headers(_: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    """A TH without a scope; lists of headers that are empty, or that name no cell."""
    named = {bytes(element.raw.ID) for element in elements if "/ID" in element.raw}
    for element in elements:
        if element.kind == "TH" and not any("/Scope" in one for one in element.attributes):
            yield "TH without Scope"
        for one in element.attributes:
            headers = [bytes(header) for header in one.get("/Headers", ())]
            if "/Headers" in one and not headers:
                yield f"{element.kind} with empty Headers"
            yield from (f"{element.kind} whose header is no cell" for header in headers if header not in named)


def _no_claim(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    with pdf.open_metadata() as metadata:
        yield from () if metadata.get("pdfuaid:part") == "1" else ("no pdfuaid:part",)


def _no_title(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    with pdf.open_metadata() as metadata:
        yield from () if metadata.get("dc:title") else ("no dc:title",)


def _title_not_shown(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    yield from () if pdf.Root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False) else ("no DisplayDocTitle",)


def _not_marked(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    yield from () if pdf.Root.get("/MarkInfo", {}).get("/Marked", False) else ("no Marked",)


def _no_language(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    yield from () if str(pdf.Root.get("/Lang", "")) else ("no Lang",)


def _links(pdf: pikepdf.Pdf, elements: list[Element]) -> Iterator[str]:
    linked = {kid.Obj.objgen for e in elements if e.kind == "Link" for kid in _references(e.raw) if "/Obj" in kid}
    for number, page in enumerate(pdf.pages, 1):
        for annotation in page.obj.get("/Annots", ()):
            if annotation.Subtype == Name.Link and annotation.objgen not in linked:
                yield f"a link outside <Link> on page {number}"
            if annotation.Subtype == Name.Link and not str(annotation.get("/Contents", "")):
                yield f"a link without Contents on page {number}"


def _references(raw: Any) -> Iterator[Any]:
    kids = raw.get("/K")
    return (kid for kid in ([] if kids is None else kids if isinstance(kids, Array) else [kids]) if isinstance(kid, Dictionary))


def _tab_order(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    return (f"page {n}" for n, page in enumerate(pdf.pages, 1) if "/Annots" in page.obj and page.obj.get("/Tabs") != Name.S)


def _fonts(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    described = (thing for thing in pdf.objects if isinstance(thing, Dictionary) and thing.get("/Type") == Name.FontDescriptor)
    return (str(font.FontName) for font in described if not {"/FontFile", "/FontFile2", "/FontFile3"} & set(font.keys()))


def _unreadable_fonts(pdf: pikepdf.Pdf, _: list[Element]) -> Iterator[str]:
    fonts = (t for t in pdf.objects if isinstance(t, Dictionary) and t.get("/Type") == Name.Font and t.get("/Subtype") == Name.Type0)
    return (str(font.BaseFont) for font in fonts if "/ToUnicode" not in font)


RULES: Mapping[str, Callable[[pikepdf.Pdf, list[Element]], Iterator[str]]] = {
    "02-001 non-standard structure types are mapped": _unknown_kinds,
    "06-002 the file says that it is PDF/UA": _no_claim,
    "06-003 the file has a title": _no_title,
    "07-001 07-002 a reader shows that title": _title_not_shown,
    "7.1 the file is marked as tagged": _not_marked,
    "09-004 table elements are nested as they may be": _table_rules,
    "09-005 list elements are nested as they may be": _list_rules,
    "11-006 the file says its language": _no_language,
    "13-004 a figure has alternative words": _figures_without_words,
    "14-002 the first heading is H1": _first_heading,
    "14-003 no level of headings is skipped": _skipped_levels,
    "15-003 a header cell has its scope": _headers,
    "28-009 tab order follows the structure": _tab_order,
    "28-011 28-012 a link stands in Link and has words": _links,
    "31-009 fonts are embedded": _fonts,
    "31-027 fonts map to Unicode": _unreadable_fonts,
}


def judge_structure(path: Path) -> list[str]:
    """What of a file breaks which rule; each once."""
    with pikepdf.open(path) as pdf:
        if "/StructTreeRoot" not in pdf.Root:
            return ["01-005 nothing is tagged"]
        elements = list_elements(pdf)
        return list(dict.fromkeys(f"{rule}: {found}" for rule, find in RULES.items() for found in find(pdf, elements)))
