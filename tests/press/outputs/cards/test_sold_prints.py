"""What is sold is printed without the pictures that may not be sold; what is not sold keeps them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from guidebuild.reading.shipped_lists import licences
from tests.press.outputs.cards.test_out_cards import files, folder_with_photo, make, small

PRINTS = {
    "cards": ("parent.pdf", "sheets-a4.pdf"),
    "deck": ("deck.pdf",),
    "walk cards": ("walk-june-a4.pdf",),
    "comparisons": ("compare-birch--juniper--parent.pdf",),
    "id-1": ("id-1/parent.pdf",),
    "plate-a5": ("plate-a5/parent.pdf",),
}
"""Files that show the one picture of the guide, by the name under which they are sold."""


def shows_picture(path: Path) -> bool:
    return any(page.images for page in PdfReader(path).pages)


def printed(folder: Path, sold: tuple[str, ...], licence: str = "CC-BY-NC-4.0") -> tuple[set[str], set[str]]:
    """Files with and without the picture, of those in PRINTS and of what is made for sale only."""
    base = small(prints=("id-1", "plate-a5"), sold=sold)
    photos = {ident: replace(photo, licence=licence) for ident, photo in base.photos.items()}
    make(folder_with_photo(folder), replace(base, photos=photos, licences=licences()))
    cards = folder / "published" / "cards"
    looked_at = {file for named in PRINTS.values() for file in named} | {file for file in files(folder) if file.startswith("sold/")}
    shown = {file for file in looked_at if shows_picture(cards / file)}
    return shown, looked_at - shown


EVERY_FILE = {file for named in PRINTS.values() for file in named}


@pytest.mark.parametrize("name", ["comparisons", "id-1", "Plate-A5"])
def test_a_sold_print_lacks_what_may_not_be_sold_and_no_other_does(tmp_path: Path, name: str) -> None:
    shown, bare = printed(tmp_path, (name,))
    assert bare == set(PRINTS[name.casefold()])
    assert shown == EVERY_FILE - bare


def test_what_is_made_of_sold_cards_is_sold_too(tmp_path: Path) -> None:
    """The deck and a walk's cards of the same format are the same cards."""
    _, bare = printed(tmp_path, ("cards",))
    assert bare == {*PRINTS["cards"], *PRINTS["deck"], *PRINTS["walk cards"]}


@pytest.mark.parametrize("name", ["deck", "walk cards"])
def test_cards_that_are_sold_together_only_are_made_apart(tmp_path: Path, name: str) -> None:
    shown, bare = printed(tmp_path, (name,))
    assert bare == {*PRINTS[name], "sold/parent.pdf", "sold/birch.pdf", "sold/juniper.pdf"}
    assert shown == EVERY_FILE - bare


@pytest.mark.parametrize(("sold", "licence"), [((), "CC-BY-NC-4.0"), (("cards", "deck"), "CC-BY-4.0"), (("checklists",), "CC-BY-NC-4.0")])
def test_all_pictures_stay_where_all_may(tmp_path: Path, sold: tuple[str, ...], licence: str) -> None:
    assert printed(tmp_path, sold, licence) == (EVERY_FILE, set())
