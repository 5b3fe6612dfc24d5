"""What gives way when a card is too full, and that nothing is done twice for one that is not."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from weasyprint import HTML

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Stated
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards import plate
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.shown import IN_FULL, shown_cautions
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.giving_way import Setting
from guidebuild.press.paper.layout import Laid
from guidebuild.press.paper.measuring import count_lines, measure_width
from guidebuild.press.paper.theme import FACTS, read_theme
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.reading.shipped_lists import cautions
from guidebuild.views.cards.card import CardFact, CardView, card_views
from guidebuild.views.pieces.common import CautionView, Wording
from tests.press.small_guide import THEME, account, guide

LONG = ("spines-and-thorns", "defensive-fluid", "ticks")


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages)


def warned(*hazards: str, own: str = "") -> CardView:
    """The card of an account with shipped cautions and one of its author's own."""
    made = guide(account("parent", "Parent Bug", "Elasmucha", "grisea", hazards=Stated(hazards, said=True), caution=Inline(own)))
    return card_views(make_published(replace(made, cautions=cautions())))[0]


def test_weasyprint_lays_a_card_out_once_where_it_fits_at_once(
    views: tuple[CardView, ...], pictures: Pictures, monkeypatch: pytest.MonkeyPatch
) -> None:
    done, bare = [], HTML.render

    def counted(*given: Any, **named: Any) -> Any:
        done.append(1)
        return bare(*given, **named)

    monkeypatch.setattr(HTML, "render", counted)
    assert render_card(views[0], pictures, format_named("a6"), THEME).layouts == 1
    assert len(done) == 1


@pytest.mark.parametrize("hazard", cautions())
def test_the_short_form_of_a_caution_is_one_short_sentence(hazard: str) -> None:
    """Two lines of the smallest card at the least type, with the title."""
    short = cautions()[hazard].short
    assert short.endswith(".")
    assert short.count(".") == 1
    assert count_lines(f"W {cautions()[hazard].title} {short}", 6.5, format_named("id-1").inner.width - 2.4) <= 2


def test_a_full_wallet_card_prints_cautions_in_their_short_form_and_says_so(pictures: Pictures) -> None:
    result = render_card(warned(*LONG, own="Nobody may pick it up."), pictures, format_named("id-1"), THEME)
    assert result.pdf, result.problems
    text = text_of(result.pdf)
    for hazard in LONG:
        assert cautions()[hazard].title in text
        assert cautions()[hazard].short in text
        assert cautions()[hazard].text not in text
    assert "Nobody may pick it up. (more on its page)" in text
    assert any(IN_FULL in problem.message for problem in result.problems)


def test_a_card_with_room_prints_cautions_in_full(pictures: Pictures) -> None:
    result = render_card(warned("spines-and-thorns"), pictures, format_named("a6"), THEME)
    text = text_of(result.pdf)
    assert cautions()["spines-and-thorns"].text in text
    assert cautions()["spines-and-thorns"].local in text
    assert "more on its page" not in text


def test_an_authors_own_caution_is_never_shortened() -> None:
    own, usual = CautionView("Caution", "Long and exact.", "Ask."), CautionView("Ticks", "Long.", "Ask.", short="Short.")
    assert shown_cautions((own, usual), frozenset()) == (own, usual)
    assert shown_cautions((own, usual), frozenset({IN_FULL})) == (own, replace(usual, text="Short.", local=""))


def test_the_plants_come_back_once_the_cautions_are_short(pictures: Pictures) -> None:
    """Where the short forms make room, what ranks below them and was to go first stays after all."""
    result = render_card(warned(*LONG), pictures, format_named("index-3x5"), THEME)
    told = " ".join(problem.message for problem in result.problems)
    assert "leaves out: cautions in full" in told
    assert "(catkins and leaves, food)" in text_of(result.pdf)


def test_words_are_broken_only_where_one_is_longer_than_its_line(pictures: Pictures) -> None:
    """“Broad-leaved Dock” in a list that runs on stays whole on every width; a word of ninety letters is broken, not clipped."""
    card = warned()
    for length in range(8):
        hosts = (
            *card.hosts,
            replace(card.hosts[0], name=replace(card.hosts[0].name, vernacular=f"{'i' * length} Broad-leaved Dock"), use=""),
        )
        text = text_of(render_card(replace(card, hosts=hosts), pictures, format_named("a7"), THEME).pdf)
        assert "Broad-leaved Dock" in text.replace("Broad- leaved", "Broad-leaved")
    word = "abcdefghij" * 9
    result = render_card(replace(card, facts=(CardFact("prey", "Prey", Wording(word)),)), pictures, format_named("a7"), THEME)
    assert result.pdf, result.problems
    assert word in text_of(result.pdf).replace(" ", "")


def test_a_word_longer_than_a_line_takes_several() -> None:
    word = "m" * 40
    room = measure_width(word, 10) / 3.5
    assert count_lines(word, 10, room) == 4
    assert count_lines(f"a {word}", 10, room) == 5


def test_a_full_card_leaves_the_voice_out_and_says_so(pictures: Pictures) -> None:
    card = warned("spines-and-thorns")
    voice, prey = CardFact("voice", "Voice", Wording("a thin, high hiss")), CardFact("prey", "Prey", Wording("aphids " * 18))
    full = render_card(replace(card, facts=(prey, voice)), pictures, format_named("id-1"), THEME)
    assert full.pdf, full.problems
    assert any("voice" in problem.message.partition("leaves out: ")[2].split(", ") for problem in full.problems)
    assert "a thin, high hiss" not in text_of(full.pdf)
    assert "aphids" in text_of(full.pdf)
    roomy = render_card(replace(warned(), facts=(voice,)), pictures, format_named("a6"), THEME)
    assert "Voice a thin, high hiss" in text_of(roomy.pdf)


def test_a_theme_may_rank_one_fact_by_itself(tmp_path: Path) -> None:
    shipped = read_theme(THEME).left_out["back"]
    assert "voice" in shipped
    assert FACTS not in shipped
    assert "prey" not in shipped
    (tmp_path / "cards").mkdir()
    (tmp_path / "cards/card.yaml").write_text("left out first: {back: [habitat, voice, facts], plate: [facts]}", encoding="utf-8")
    assert read_theme((tmp_path, *THEME)).left_out["back"] == ("habitat", "voice")
    assert read_theme((tmp_path, *THEME)).left_out["plate"] == ("voice",)


def test_the_words_of_the_law_go_last_and_its_day_stays(pictures: Pictures) -> None:
    law = CautionView(
        "Law",
        "It may not be caught, sold or kept by anyone, in any stage of its life, without a licence. " * 2,
        "As of 1 March 2026: check the current law.",
        is_law=True,
    )
    roomy = render_card(replace(warned(), laws=(law,)), pictures, format_named("a6"), THEME)
    assert f"{law.text}{law.local}" in text_of(roomy.pdf)
    full = render_card(replace(warned("spines-and-thorns"), laws=(law,) * 3), pictures, format_named("id-1"), THEME)
    assert full.pdf, full.problems
    assert "It may not be caught" not in text_of(full.pdf)
    assert law.local in text_of(full.pdf)
    assert any(problem.message.endswith("law in full") for problem in full.problems), full.problems


def test_no_setting_of_a_page_is_tried_twice(pictures: Pictures, monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[Setting] = []
    bare = plate._laid

    def noted(fitting: plate.PlateFitting, setting: Setting, high: float) -> Laid:
        tried.append(setting)
        return bare(fitting, setting, high)

    monkeypatch.setattr(plate, "_laid", noted)
    facts = tuple(CardFact(f"own-{number}", "Voice", Wording("chirps at dusk, not by day, " * 6)) for number in range(9))
    for count in range(0, len(facts) + 1, 3):
        tried.clear()
        result = plate.render_plate(replace(warned(*LONG), facts=facts[:count]), pictures, format_named("plate-a5"), THEME)
        assert result.layouts == len(tried) == len(set(tried))
