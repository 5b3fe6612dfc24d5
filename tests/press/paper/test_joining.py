"""Joined files keep their tags, their pages' numbers in the tree, and one copy of a shared picture."""

from __future__ import annotations

import io

import pikepdf
import pytest
from pikepdf import Name, Pdf

from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.setup import CardResult


@pytest.fixture(scope="module")
def deck(cards: tuple[CardResult, ...]) -> Pdf:
    return Pdf.open(io.BytesIO(join_pdfs([(card.id, card.pdf) for card in cards], "Bugs")))


def test_there_is_nothing_to_join_from_nothing() -> None:
    with pytest.raises(ValueError, match="nothing to join"):
        join_pdfs([], "Bugs")


def test_pages_title_and_outline(deck: Pdf) -> None:
    assert len(deck.pages) == 6
    with deck.open_metadata() as metadata:
        assert metadata["dc:title"] == "Bugs"
        assert metadata["pdfuaid:part"] == "1"
    with deck.open_outline() as outline:
        assert [item.title for item in outline.root] == ["parent", "birch", "juniper"]


def test_every_marked_piece_of_every_page_has_its_place_in_the_tree(deck: Pdf) -> None:
    """PDF 32000-1, 14.7.4.4: the number tree leads from a page's marked content to the element that owns it."""
    nums = list(deck.Root.StructTreeRoot.ParentTree.Nums)
    tree = dict(zip(nums[::2], nums[1::2], strict=True))
    assert list(nums[::2]) == sorted(nums[::2])
    for page in deck.pages:
        owners = tree[page.obj.StructParents]
        assert all(owner.Pg.objgen == page.obj.objgen for owner in owners)
        for annotation in page.obj.get("/Annots", []):
            assert Name.Link == tree[annotation.StructParent].S


def test_each_card_is_a_part_of_one_document(deck: Pdf) -> None:
    (document,) = deck.Root.StructTreeRoot.K
    assert Name.Document == document.S
    assert [part.S for part in document.K] == [Name.Part] * 3
    assert {part.P.objgen for part in document.K} == {document.objgen}


def test_a_picture_on_three_cards_is_kept_once(deck: Pdf) -> None:
    pictures = [thing for thing in deck.objects if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == Name.Image]
    assert len({picture.read_raw_bytes() for picture in pictures}) == 1
    used = {
        page.obj.Resources.XObject[name].objgen
        for page in deck.pages
        for name in page.obj.Resources.XObject
        if page.obj.Resources.XObject[name].get("/Subtype") == Name.Image
    }
    assert len(used) == 1


def test_joining_twice_gives_the_same_bytes(cards: tuple[CardResult, ...]) -> None:
    parts = [(card.id, card.pdf) for card in cards]
    assert join_pdfs(parts, "Bugs") == join_pdfs(parts, "Bugs")
