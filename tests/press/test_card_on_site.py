"""Whole runs of an invented guide: the card of each species stands on the site too, and its page says how large it is."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.cli import exit_code
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.press.engine.trees import MANIFEST
from guidebuild.views.cards import card
from guidebuild.views.pieces.parts import PieceMaker
from tests.guide_files import write_files

FILES = {
    "guide.yaml": "title: Toads\nlevel: sketch\ngroup: amphibian\nlanguages: [en, es]\naddress: https://toads.example\n",
    "accounts/toad.md": "---\nname: Bufo bufo\nvernacular: Toad\nfamily: Bufonidae\n---\n## In brief\nA toad.\n",
    "accounts/frog.md": "---\nname: Rana temporaria\nvernacular: Frog\nfamily: Ranidae\n---\n## In brief\nA frog.\n",
}
LINK = re.compile(r'<a href="([^"]*)" type="application/pdf"( hreflang="en")?>(.+?) \(PDF, (\d+)\skB\)</a>( <span [^>]*lang="en">English)?')


def make(folder: Path, *words: str) -> dict[str, bytes]:
    exit_code(["make", str(folder), *words, "--quiet"])
    place = folder / "published"
    return {path.relative_to(place).as_posix(): path.read_bytes() for path in place.rglob("*") if path.is_file()}


def link_of(files: dict[str, bytes], page: str) -> tuple[str, ...] | None:
    found = LINK.search(files[f"site/{page}"].decode())
    return found and tuple(part or "" for part in found.groups())


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_files(tmp_path, FILES)
    return tmp_path


def test_the_site_brings_the_card_and_says_its_size_in_each_language(folder: Path) -> None:
    files = make(folder, "cards", "site")
    card = files["cards/toad.pdf"]
    assert files["site/cards/toad.pdf"] == card and card.startswith(b"%PDF")
    assert {path for path in files if path.startswith("site/cards/")} == {"site/cards/toad.pdf", "site/cards/frog.pdf"}
    size = str(round(len(card) / 1000))
    assert link_of(files, "accounts/toad.html") == ("../cards/toad.pdf", "", "Card to print", size, "")
    spanish = link_of(files, "es/accounts/toad.html")
    assert spanish and spanish[:4] == ("../../cards/toad.pdf", ' hreflang="en"', "Ficha para imprimir", size)
    assert spanish[4], "nothing says that the card is in English"
    assert {"site/cards/toad.pdf", "site/cards/frog.pdf"} <= set(json.loads(files[MANIFEST])["files"])
    kept = [data for path, data in files.items() if path.startswith("site/offline/")]
    assert kept and not [data for data in kept if b"cards/" in data], "cards are for printing, and take room on a phone"


def test_the_site_alone_offers_the_cards_that_stand_and_no_others(folder: Path) -> None:
    files = make(folder, "site")
    assert link_of(files, "accounts/toad.html") is None
    assert not [path for path in files if path.startswith("site/cards/")]
    make(folder, "cards")
    files = make(folder, "site")
    assert link_of(files, "accounts/toad.html") and files["site/cards/toad.pdf"] == files["cards/toad.pdf"]
    again = make(folder, "site")
    assert again == files


def test_a_page_follows_its_cards_size(folder: Path) -> None:
    before = make(folder, "cards", "site")
    stood = {path: (folder / "published" / path).stat().st_mtime_ns for path in before}
    text = FILES["accounts/toad.md"].replace("family:", "size: 60–110 mm\nvoice: A short bark, when it is held.\nfamily:")
    (folder / "accounts/toad.md").write_text(text, "utf-8")
    after = make(folder, "cards", "site")
    first, then = link_of(before, "accounts/toad.html"), link_of(after, "accounts/toad.html")
    assert first and then and then[3] == str(round(len(after["cards/toad.pdf"]) / 1000))
    assert after["site/cards/toad.pdf"] == after["cards/toad.pdf"] != before["cards/toad.pdf"]
    for path in ("site/cards/frog.pdf", "site/accounts/frog.html"):
        assert (folder / "published" / path).stat().st_mtime_ns == stood[path]


def test_a_card_that_no_longer_says_what_its_account_says_is_not_offered(folder: Path) -> None:
    make(folder, "cards", "site")
    text = FILES["accounts/toad.md"].replace("family:", "caution: Its skin is poisonous.\nfamily:")
    (folder / "accounts/toad.md").write_text(text, "utf-8")
    files = make(folder, "site")
    assert "cards/toad.pdf" in files, "this run has made no cards"
    assert link_of(files, "accounts/toad.html") is None and "site/cards/toad.pdf" not in files
    assert link_of(files, "accounts/frog.html") and "site/cards/frog.pdf" in files
    files = make(folder)
    assert link_of(files, "accounts/toad.html") and files["site/cards/toad.pdf"] == files["cards/toad.pdf"]


def test_a_card_that_another_hand_has_changed_is_not_offered(folder: Path) -> None:
    make(folder, "cards", "site")
    card = folder / "published/cards/toad.pdf"
    card.write_bytes(card.read_bytes() + b"%" * 40_000)
    files = make(folder, "site")
    assert link_of(files, "accounts/toad.html") is None and "site/cards/toad.pdf" not in files


def test_a_card_with_another_picture_than_its_account_is_not_offered(folder: Path) -> None:
    account = folder / "accounts/toad.md"
    account.write_text(FILES["accounts/toad.md"].replace("family:", "photos: [toad]\nfamily:"), "utf-8")
    (folder / "photos").mkdir()
    photo = folder / "photos/toad.jpg"
    Image.new("RGB", (640, 480), "#806030").save(photo)
    told = "toad:\n  file: photos/toad.jpg\n  shows: Adult\n  account: toad\n  alt: A toad.\n  credit: A Friend\n  licence: CC0-1.0\n"
    (folder / "photos.yaml").write_text(told, "utf-8")
    files = make(folder, "cards", "site")
    assert link_of(files, "accounts/toad.html") and [path for path in files if path.startswith("site/photos/toad-")]
    Image.new("RGB", (640, 480), "#306080").save(photo)
    files = make(folder, "site")
    assert link_of(files, "accounts/toad.html") is None and link_of(files, "accounts/frog.html")


def test_cards_without_the_pictures_that_may_not_be_sold_are_offered_too(folder: Path) -> None:
    guide = folder / "guide.yaml"
    guide.write_text(guide.read_text("utf-8") + "sold: [cards]\n", "utf-8")
    make(folder, "cards")
    assert link_of(make(folder, "site"), "accounts/toad.html")


def test_a_species_that_is_no_longer_published_has_no_card_on_the_site(folder: Path) -> None:
    make(folder, "cards", "site")
    (folder / "accounts/frog.md").unlink()
    files = make(folder, "site")
    assert "cards/frog.pdf" in files, "this run has made no cards"
    assert "site/cards/frog.pdf" not in files and "site/cards/toad.pdf" in files


def test_only_cards_that_stand_and_may_say_something_else_are_read_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The author waits at each edit for what is read again; of a thousand cards that is as much as all else together."""
    asked: list[str] = []
    read = card.field_card

    def listened(pieces: PieceMaker, account: PublicAccount) -> card.CardView:
        asked.append(account.id)
        return read(pieces, account)

    monkeypatch.setattr(card, "field_card", listened)
    make(folder, "site")
    assert asked == [], "no card stands"
    make(folder, "cards")
    asked.clear()
    make(folder, "site")
    assert sorted(asked) == ["frog", "toad"]
    asked.clear()
    (folder / "accounts/toad.md").write_text(FILES["accounts/toad.md"].replace("A toad.", "A large toad."), "utf-8")
    make(folder, "site")
    assert asked in ([], ["toad"])
    (folder / "accounts/toad.md").write_text(FILES["accounts/toad.md"].replace("family:", "voice: A short bark.\nfamily:"), "utf-8")
    asked.clear()
    make(folder, "site")
    assert asked == ["toad"]
