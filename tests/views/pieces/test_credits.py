"""Whose picture it is, in full and in brief (Creative Commons wiki, Recommended practices for attribution)."""

from __future__ import annotations

import pytest

from guidebuild.views.pieces.credits import Attribution, LicenceView
from guidebuild.words import words

BY4 = LicenceView("CC-BY-4.0", "CC BY 4.0", "https://cc.example/by/4.0/")
BY3 = LicenceView("CC-BY-SA-3.0", "CC BY-SA 3.0", "https://cc.example/by-sa/3.0/")
WHOLE = Attribution("A. Maker", "Red on green", "https://photos.example/7", BY4, "background darkened")


def test_a_page_has_title_author_source_licence_and_changes_with_their_links() -> None:
    assert [(part.words, part.address) for part in WHOLE.parts] == [
        ("“Red on green”", ""),
        ("A. Maker", ""),
        ("https://photos.example/7", "https://photos.example/7"),
        ("CC BY 4.0", "https://cc.example/by/4.0/"),
        ("background darkened", ""),
    ]
    assert [part.words for part in WHOLE.parts if part.is_licence] == ["CC BY 4.0"]


def test_a_source_in_words_links_the_address_in_it() -> None:
    (_, part) = Attribution("A. Maker", source="County archive (https://archive.example/a).").parts
    assert part.address == "https://archive.example/a"


def test_in_brief_author_licence_and_changes_stay() -> None:
    assert WHOLE.brief == "A. Maker · CC BY 4.0 · background darkened"


@pytest.mark.parametrize(("licence", "asked"), [("CC-BY-2.0", True), ("CC-BY-SA-3.0", True), ("CC-BY-4.0", False), ("CC0-1.0", False)])
def test_a_title_stays_where_the_licence_asks_for_it(licence: str, asked: bool) -> None:
    """CC BY 3.0, section 4(b)(ii): "the title of the Work if supplied"; 4.0, section 3(a)(1), no longer lists it."""
    assert LicenceView(licence, licence).asks_for_title is asked
    assert Attribution("A. Maker", "Red on green", licence=BY3).brief == "“Red on green” · A. Maker · CC BY-SA 3.0"


def test_a_line_without_links_spells_the_licence_s_address() -> None:
    assert WHOLE.line == (
        "“Red on green” · A. Maker · https://photos.example/7 · CC BY 4.0 (https://cc.example/by/4.0/) · background darkened"
    )


def test_a_sentence_tells_old_and_new_changes() -> None:
    assert WHOLE.sentence(words("en"), "cut to size") == (
        "“Red on green” by A. Maker, https://photos.example/7, CC BY 4.0 (https://cc.example/by/4.0/); background darkened; cut to size."
    )
    assert Attribution("A. Maker").sentence(words("en")) == "Photo by A. Maker."
    assert Attribution("A. Maker").sentence(words("es"), "x") == "Foto de A. Maker; x."
    assert Attribution("A. Maker").short_sentence(words("es")) == "Foto: A. Maker"


def test_what_is_not_known_leaves_no_gap() -> None:
    assert Attribution("").parts == ()
    assert Attribution("").brief == Attribution("").line == ""
