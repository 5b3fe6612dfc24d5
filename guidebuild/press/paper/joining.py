"""Several tagged PDFs put one after the other into one, still tagged: a deck from cards that were printed apart.

Ordinary merging drops the structure tree, and with it everything a screen reader goes by.  Here every file's tree
becomes a part of the whole's, pages and links keep pointing into it (PDF 32000-1, sections 14.7 and 14.8), and a picture
that several files carry is kept once, and so is a typeface.
"""

from __future__ import annotations

import io
from collections.abc import Collection, Iterator, Sequence

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, OutlineItem, Pdf

from guidebuild.press.paper.font_sharing import share_fonts
from guidebuild.press.paper.picture_sharing import share_pictures
from guidebuild.press.photos.print_copy import Picture


def join_pdfs(parts: Sequence[tuple[str, bytes]], title: str, pictures: Collection[Picture] = ()) -> bytes:
    """One PDF of many (each with the words for its outline entry), titled `title`; `ValueError` when there is none.

    Of each of the `pictures` one copy is kept, the largest.
    """
    if not parts:
        raise ValueError("there is nothing to join")
    whole = Pdf.open(io.BytesIO(parts[0][1]))
    starts = [0]
    kids, numbers = _own_tree(whole)
    following = _shift(whole.pages, 0)
    for _, data in parts[1:]:
        starts.append(len(whole.pages))
        following = _append(whole, Pdf.open(io.BytesIO(data)), (kids, numbers), following)
    _plant(whole, kids, numbers, following)
    share_pictures(whole, pictures)
    share_fonts(whole)
    _entitle(whole, title, [(words, start) for (words, _), start in zip(parts, starts, strict=True)])
    return _save(whole)


def pack_objects(data: io.BytesIO) -> bytes:
    """The same file with its typefaces embedded once, its many small objects packed together, and all that it says of itself in XMP too."""
    with Pdf.open(data) as pdf:
        share_fonts(pdf)
        with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
            metadata.load_from_docinfo(pdf.docinfo)
        return _save(pdf)


def _save(pdf: Pdf) -> bytes:
    written = io.BytesIO()
    pdf.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return written.getvalue()


def _own_tree(whole: Pdf) -> tuple[list[Object], list[Object | int]]:
    root = whole.Root.get("/StructTreeRoot")
    return ([], []) if root is None else ([root.K[0]], list(root.ParentTree.Nums))


def _append(whole: Pdf, part: Pdf, tree: tuple[list[Object], list[Object | int]], offset: int) -> int:
    kids, numbers = tree
    before = len(whole.pages)
    whole.pages.extend(part.pages)
    following = _shift(list(whole.pages)[before:], offset)
    if "/StructTreeRoot" in part.Root:
        # Pages were copied first, so the tree's references find their copies.
        root = whole.copy_foreign(part.Root.StructTreeRoot)
        kids.append(root.K[0])
        nums = list(root.ParentTree.Nums)
        for key, value in zip(nums[::2], nums[1::2], strict=True):
            numbers += [int(key) + offset, value]
    return following


def _shift(pages: Sequence[pikepdf.Page] | pikepdf.PageList, offset: int) -> int:
    """Renumber what the pages and their links are called in the tree; the first number that is free after them."""
    highest = offset - 1
    for page in pages:
        for thing, key in _numbered(page):
            thing[key] = int(thing[key]) + offset
            highest = max(highest, int(thing[key]))
    return highest + 1


def _numbered(page: pikepdf.Page) -> Iterator[tuple[Object, str]]:
    if "/StructParents" in page.obj:
        yield page.obj, "/StructParents"
    for annotation in page.obj.get("/Annots", []):
        if "/StructParent" in annotation:
            yield annotation, "/StructParent"


def _plant(whole: Pdf, kids: list[Object], numbers: list[Object | int], following: int) -> None:
    if not kids:
        return
    root = whole.Root.StructTreeRoot
    document = whole.make_indirect(Dictionary(Type=Name.StructElem, S=Name.Document, P=root, K=Array(kids)))
    for kid in kids:
        kid.S, kid.P = Name.Part, document
    root.K = Array([document])
    root.ParentTree = whole.make_indirect(Dictionary(Nums=Array(numbers)))
    root.ParentTreeNextKey = following


def _entitle(whole: Pdf, title: str, entries: Sequence[tuple[str, int]]) -> None:
    with whole.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["dc:title"] = title
    with whole.open_outline() as outline:
        outline.root[:] = [OutlineItem(words, start) for words, start in entries]
