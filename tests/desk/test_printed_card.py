"""A card printed from the desk: a PDF of one account, looked through as everything is that leaves the guide."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator

import pytest
from pypdf import PdfReader

from guidebuild.press.outputs.cards.on_request import CardsOnRequest, DrawnCard
from tests.desk.opened import Opened, copy_sample, open_desk

SECRET = "Gorse Bank quarry lip"
"""Invented, and kept secret in the guide of this test."""


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    folder = copy_sample(tmp_path_factory.mktemp("desk") / "hedge")
    with (folder / "places.yaml").open("a", encoding="utf-8") as places:
        places.write(f"quarry-lip:\n  name: {SECRET}\n  sensitive: high\n")
    account = folder / "accounts" / "dock-bug.md"
    account.write_text(re.sub("\nsize: .*", "\nsize: rather large", account.read_text("utf-8")), "utf-8")
    with open_desk(folder) as desk:
        yield desk


def test_a_card_is_printed_as_a_pdf_with_both_sides(opened: Opened) -> None:
    answer = opened.look("/-desk/card/parent-bug.pdf")
    assert (answer.status, answer.headers["content-type"]) == (200, "application/pdf")
    pages = PdfReader(io.BytesIO(answer.body)).pages
    assert len(pages) == 2
    assert "Parent Bug" in pages[0].extract_text()
    assert b'href="/-desk/card/parent-bug.pdf"' in opened.look("/-desk/account/parent-bug").body
    assert opened.ask("/-desk/card/parent-bug.pdf").status != 200, "only for its author"


@pytest.mark.parametrize("account", ["dock-bug", "nobody"])
def test_what_must_be_mended_first_is_not_printed(opened: Opened, account: str) -> None:
    answer = opened.look(f"/-desk/card/{account}.pdf")
    assert answer.status == 404
    assert "cannot be printed yet" in answer.body.decode()


def test_a_card_that_would_tell_a_secret_place_is_not_handed_out(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """What views keep back cannot be written here at all: so a card is put in that tells it all the same."""
    told = DrawnCard(f"Seen at {SECRET}.".encode())
    monkeypatch.setattr(CardsOnRequest, "draw", lambda *_: told)
    answer = opened.look("/-desk/card/parent-bug.pdf")
    assert answer.status == 409
    assert SECRET in answer.body.decode()
