"""Cards for a print shop: the same pages as PDF/X-4 (ISO 15930-7), with boxes, crop marks, profile and inks.

Screen things go (links, tags).  With the profile of a press of four inks all colours are turned into these, black and grey into black
ink alone; without one, colours are named as sRGB and left to the shop's colour management.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from importlib.resources import files
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf

from guidebuild.press.paper.into_inks import turn_into_inks
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.output_profile import OutputProfile, srgb_output
from guidebuild.press.paper.pdf import source_date
from guidebuild.press.paper.shop_marks import mark_crops

VERSION = "PDF/X-4"
_NAMESPACE = "http://www.npes.org/pdfx/ns/id/"
_FIRST_DAY = datetime(2000, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class ShopWish:
    """How a print shop wants its files: for its own profile where it gives one, and with crop marks or without."""

    profile: OutputProfile | None = None
    marks: bool = True
    ink_limit: int = 0
    """Per cent of one full ink that all inks of a spot may come to; 0 where none is given."""


PLAIN_WISH = ShopWish()


def to_print_shop(data: bytes, wish: ShopWish = PLAIN_WISH, *, folds: Sequence[float] = (), made: datetime | None = None) -> bytes:
    """PDF/X-4 of pages that carry trim and bleed boxes; without a profile they are meant for sRGB.

    `folds` are marked beside the crop marks, in millimetres from the left edge of each page. `made` is the date that the standard
    asks for: by default SOURCE_DATE_EPOCH, else a fixed day, so that the same cards give the same bytes.
    """
    condition = wish.profile or srgb_output()
    with Pdf.open(io.BytesIO(data)) as pdf:
        _leave_only_print(pdf)
        _name_colours(pdf, pdf.make_indirect(Array([Name.ICCBased, _srgb(pdf)])))
        if condition.cmyk:
            turn_into_inks(pdf, condition)
        if wish.marks:
            mark_crops(pdf, cmyk=condition.cmyk, folds=folds)
        _intend(pdf, condition)
        return _finish(pdf, sha256(data).hexdigest(), made)


def join_for_shop(parts: Sequence[tuple[str, bytes]], title: str, *, made: datetime | None = None) -> bytes:
    """One file of many that are PDF/X-4 for the same shop, all that they share in it once; `ValueError` when there is none."""
    data = join_pdfs(parts, title)
    with Pdf.open(io.BytesIO(data)) as pdf:
        _name_colours(pdf, pdf.pages[0].obj.Resources.ColorSpace.DefaultRGB)
        return _finish(pdf, sha256(data).hexdigest(), made)


def _name_colours(pdf: Pdf, rgb: Any) -> None:
    """Say of every colour in figures of red, green and blue which these are."""
    for resources in _resources(pdf):
        spaces = resources.get("/ColorSpace", Dictionary())
        resources.ColorSpace = Dictionary({**dict(spaces.items()), "/DefaultRGB": rgb})


def _finish(pdf: Pdf, digest: str, made: datetime | None) -> bytes:
    _declare(pdf, digest, made or source_date() or _FIRST_DAY)
    written = io.BytesIO()
    pdf.save(written, deterministic_id=True, force_version="1.6")
    return written.getvalue()


def _leave_only_print(pdf: Pdf) -> None:
    for key in ("/StructTreeRoot", "/MarkInfo", "/Metadata", "/Names", "/AcroForm"):
        if key in pdf.Root:
            del pdf.Root[key]
    for page in pdf.pages:
        # All round the trim that was drawn: WeasyPrint says 10 pt of a bleed at most.
        page.obj["/BleedBox"] = page.mediabox
        for key in ("/Annots", "/StructParents", "/Tabs", "/CropBox", "/ArtBox"):
            if key in page.obj:
                del page.obj[key]


def _resources(pdf: Pdf) -> Iterator[Any]:
    """The resources of every page, form and pattern, each once."""
    seen: set[tuple[int, int]] = set()
    holders: list[Any] = [page.obj for page in pdf.pages]
    holders += [t for t in pdf.objects if isinstance(t, pikepdf.Stream) and "/Resources" in t]
    for holder in holders:
        resources = holder.Resources
        if resources.is_indirect and resources.objgen in seen:
            continue
        seen.add(resources.objgen)
        yield resources


def _srgb(pdf: Pdf) -> pikepdf.Stream:
    profile = files("weasyprint").joinpath("pdf", "sRGB2014.icc").read_bytes()
    return pikepdf.Stream(pdf, profile, N=3, Alternate=Name.DeviceRGB)


def _intend(pdf: Pdf, condition: OutputProfile) -> None:
    intent = Dictionary(
        Type=Name.OutputIntent,
        S=Name.GTS_PDFX,
        OutputConditionIdentifier=condition.name,
        Info=condition.name,
        DestOutputProfile=pikepdf.Stream(pdf, condition.data, N=condition.colorants),
    )
    pdf.Root.OutputIntents = Array([pdf.make_indirect(intent)])


def _declare(pdf: Pdf, digest: str, made: datetime) -> None:
    title = str(pdf.docinfo.get("/Title", "Cards"))
    written = made.astimezone(UTC).strftime("D:%Y%m%d%H%M%SZ")
    # The version in the older place too: the standard reads it from the metadata, older checks from here.
    pdf.docinfo.update({"/Title": title, "/Trapped": Name("/False"), "/GTS_PDFXVersion": VERSION})
    pdf.docinfo["/CreationDate"] = pdf.docinfo["/ModDate"] = written
    pikepdf.models.PdfMetadata.register_xml_namespace(_NAMESPACE, "pdfxid")
    day = made.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        metadata[f"{{{_NAMESPACE}}}GTS_PDFXVersion"] = VERSION
        metadata["dc:title"] = title
        metadata["pdf:Trapped"] = "False"
        for key in ("xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate"):
            metadata[key] = day
        metadata["xmpMM:DocumentID"] = f"uuid:{digest[:8]}-{digest[8:12]}-{digest[12:16]}-{digest[16:20]}-{digest[20:32]}"
        metadata["xmpMM:VersionID"] = "1"
        metadata["xmpMM:RenditionClass"] = "default"
