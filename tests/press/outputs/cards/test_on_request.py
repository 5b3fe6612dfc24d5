"""A card on the desk: both sides as they would be printed, anew after an edit, and none where it cannot be printed."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.press.outputs.cards import on_request
from guidebuild.press.outputs.cards.on_request import CardsOnRequest
from guidebuild.press.paper.formats import card_format_named
from guidebuild.reading.whole import read_guide
from tests.conftest import NOT_COPIED, SAMPLE

ACCOUNT = "accounts/parent-bug.md"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cards") / "guide"
    shutil.copytree(SAMPLE, folder, ignore=NOT_COPIED)
    return folder


def published(folder: Path) -> Published:
    guide = read_guide(folder).guide
    assert guide is not None
    return make_published(guide)


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def test_a_card_is_drawn_as_large_as_its_format_and_anew_after_an_edit(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cards = CardsOnRequest(folder)
    sides = cards.draw(published(folder), "parent-bug").sides
    a6 = card_format_named("a6")
    for side in sides:
        with Image.open(io.BytesIO(side)) as picture:
            assert picture.width / picture.height == pytest.approx(a6.size.width / a6.size.height, rel=0.01)
            assert picture.width == pytest.approx(a6.size.width / 25.4 * 220, rel=0.01)
    assert len(sides) == 2
    drawn: list[bytes] = []
    real = on_request.draw_sides
    monkeypatch.setattr(on_request, "draw_sides", lambda pdf: drawn.append(pdf) or real(pdf))
    assert cards.draw(published(folder), "parent-bug").sides == sides
    assert drawn == []  # the same card is not drawn twice
    change(folder / ACCOUNT, "vernacular: Parent Bug", "vernacular: Mothering Bug")
    after = cards.draw(published(folder), "parent-bug").sides
    assert (len(after), len(drawn), after[0] != sides[0]) == (2, 1, True)
    assert cards.draw(published(folder), "none").sides == ()


def test_a_card_that_cannot_be_printed_has_no_sides(folder: Path) -> None:
    change(folder / "guide.yaml", "card: a6", "card: a99")
    assert CardsOnRequest(folder).draw(published(folder), "parent-bug").sides == ()
    change(folder / "guide.yaml", "card: a99", "card: a6")


def test_templates_of_a_guides_own_are_read_as_they_are_now(folder: Path) -> None:
    own = folder / "theme" / "cards"
    own.mkdir(parents=True)
    cards = CardsOnRequest(folder)
    shipped = (SAMPLE.parent / "themes" / "plate" / "cards" / "card.html").read_text("utf-8")
    seen = []
    for words in ("one", "two"):
        (own / "card.html").write_text(shipped.replace("</body>", f"<p>{words}</p></body>"), "utf-8")
        seen.append(cards.draw(published(folder), "birch-shieldbug").sides)
    shutil.rmtree(folder / "theme")
    assert len(seen[0]) >= 2
    assert seen[0] != seen[1]
