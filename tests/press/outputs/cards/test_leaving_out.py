"""What gives way on a full card goes sentence by sentence, no more of it than must, and all of it is told."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import fit_card, render_card
from guidebuild.press.outputs.cards.fitting import BACK, CardFitting
from guidebuild.press.outputs.cards.leaving_out import rank_pieces, rank_sentences, tell_left_out
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.outputs.cards.shown import shown_look, shown_stages
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.giving_way import LeftOut
from guidebuild.press.paper.setup import make_setup
from guidebuild.press.paper.theme import read_theme
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.session import open_session
from guidebuild.views.cards.card import CardView, StageLine, card_view, card_views
from guidebuild.views.pieces.common import Wording
from guidebuild.views.pieces.parts import make_pieces
from tests.press.small_guide import THEME, guide

SAMPLE = Path(__file__).parents[4] / "sample_guide"
SENTENCE = "Sentence {} of {} goes on about what can be seen there for a line and a bit of another one."


def said(of: str, count: int) -> tuple[Wording, ...]:
    return tuple(Wording(SENTENCE.format(n, of)) for n in range(1, count + 1))


def card_with(look: int, **stages: int) -> CardView:
    """A card with so many sentences of where to look, and of each stage."""
    card = card_views(make_published(guide()))[0]
    lines = tuple(StageLine(stage, stage, said(stage, count)) for stage, count in stages.items())
    return replace(card, look=said("look", look), stages=lines, sought=("adult",))


def words_on(pdf: bytes) -> str:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return " ".join(" ".join((page.extract_text() or "").split()) for page in opened.pages)


def test_later_sentences_go_before_first_ones_and_what_is_looked_for_last() -> None:
    card = card_with(4, egg=2, adult=3)
    assert rank_sentences(card) == ("where to look 4", "where to look 3", "stage egg 2", "stage adult 3", "stage adult 2")
    theme = read_theme(THEME).left_out["back"]
    ranked = rank_pieces(card, theme)
    assert ranked.index("where to look 2") < ranked.index("where to look 1") < ranked.index("stage egg 1") < ranked.index("stage adult 1")
    out = frozenset({"where to look 4", "stage egg 2", "stage egg 1"})
    assert shown_look(card, out).words == " ".join(sentence.words for sentence in card.look[:3])
    assert [line.stage for line in shown_stages(card, out)] == ["adult"]
    assert tell_left_out(card, rank_sentences(card), out) == "“Sentence 4 of look goes …”, “Sentence 2 of egg goes …” (egg)"


@pytest.mark.parametrize(
    ("over", "gone"),
    [(0.1, {"a 3"}), (2.0, {"a 3"}), (2.1, {"a 3", "a 2"}), (4.9, {"a 3", "a 2"}), (5.1, {"a 3", "b"}), (99.0, {"a 3", "a 2", "b"})],
)
def test_no_more_goes_than_must(over: float, gone: set[str]) -> None:
    """Of a 3, a 2 and b with 2, 3 and 4 mm; where “a 2” alone makes the room, “a 3” does not come back without it."""
    lines = {"a 3": 2.0, "a 2": 3.0, "b": 4.0}
    out = LeftOut().take_out(("a 3", "a 2", "b"), lambda out: sum(high for piece, high in lines.items() if piece not in out), over)
    assert out.pieces == gone


def test_what_makes_room_enough_brings_back_what_went_before_it() -> None:
    lines = {"use": 2.0, "caution": 9.0}
    out = LeftOut().take_out(("use", "caution"), lambda out: sum(high for piece, high in lines.items() if piece not in out), 6.0)
    assert out.pieces == {"caution"}


def test_what_was_refused_once_is_not_tried_again() -> None:
    def height(out: frozenset[str]) -> float:
        return sum(2.0 for piece in ("x", "y") if piece not in out)

    tried = LeftOut(frozenset({"x", "y"})).bring_back(("x", "y"), height, 4.0)
    assert (tried.pieces, tried.fitted) == (frozenset(), {"x", "y"})
    after = tried.take_out(("x", "y"), height, 1.0)  # the layout says it is over: the least needed goes back
    assert (after.pieces, after.refused, after.fitted) == ({"x"}, {"x"}, {"x", "y"})
    assert after.settle().bring_back(("x", "y"), height, 4.0).pieces == {"x"}


def fitting_of(card: CardView, pictures: Pictures, name: str) -> CardFitting:
    return CardFitting(card, make_setup(pictures, format_named(name), THEME))


@pytest.mark.parametrize("name", ["a6", "a7", "id-1"])
@pytest.mark.parametrize("look", [3, 9])
def test_a_full_back_has_no_room_for_the_next_sentence(name: str, look: int, pictures: Pictures) -> None:
    """The layout itself is asked: with the most needed sentence that was left out, the back is over."""
    fitting = fitting_of(card_with(look, egg=3, nymph=3, adult=4), pictures, name)
    setting, laid, _, layouts = fit_card(fitting)
    side, out = laid.side(BACK), setting.back.left_out
    assert layouts < 9
    assert not side.over
    assert out, "the case is meant to be too full"
    line = setting.back.points * 1.24 * 25.4 / 72
    wanted = next(piece for piece in reversed(fitting.pieces(BACK)) if piece in out)
    assert side.free < line * 2.5, (wanted, side.free)


def test_all_that_goes_is_told_and_the_card_says_where_more_stands(pictures: Pictures) -> None:
    card = card_with(9, egg=3, nymph=3, adult=4)
    for result in (render_card(card, pictures, format_named("a6"), THEME), render_plate(card, pictures, format_named("plate-a5"), THEME)):
        text, told = words_on(result.pdf), " ".join(problem.message for problem in result.problems)
        every = [*card.look, *(sentence for line in card.stages for sentence in line.sentences)]
        gone = [sentence.words for sentence in every if sentence.words not in text.replace("- ", "-")]
        assert gone
        assert [words for words in gone if " ".join(words.split()[:5]) not in told] == []
        assert told.count("“Sentence") == len(gone)
        assert "More on its page: hedge.example/guide/accounts/parent.html" in text


def test_a_card_that_says_all_points_to_nothing_more(views: tuple[CardView, ...], pictures: Pictures) -> None:
    result = render_card(views[0], pictures, format_named("a6"), THEME)
    assert "More on" not in words_on(result.pdf)
    nowhere = replace(card_with(9, egg=3, adult=4), address="", words=replace(views[0].words, more_there="More in the guide"))
    assert "More in the guide" in words_on(render_card(nowhere, pictures, format_named("a6"), THEME).pdf)


def test_the_green_shieldbug_keeps_its_winter_brown_and_drops_one_sentence() -> None:
    """It has room for four lines more than its sentences of where to look would leave."""
    made = make_pieces(make_published(open_session(SAMPLE).guide))
    card = card_view(made, made.guide.accounts["green-shieldbug"])
    pictures = {photo.id: Picture(SAMPLE / made.guide.photos[photo.id].file, 1500, 1125) for photo in card.photos}
    result = render_card(card, pictures, format_named("a6"), THEME)
    text = words_on(result.pdf)
    assert "In November it turns brown and goes to ground; in April it comes out and turns green again." in text
    assert "On a bright day in early May" in text
    (told,) = [problem.message for problem in result.problems if problem.what == "left-out"]
    assert told.endswith("leaves out: “They come up there to …”")


def test_what_has_room_only_without_its_lesser_part_comes_back_without_it() -> None:
    """A season of three rows takes 15 mm, without those of two other stages 8: with 10 mm free it comes back without them."""

    def height(out: frozenset[str]) -> float:
        return 60.0 + (0.0 if "season" in out else 8.0 if "others" in out else 15.0)

    out = LeftOut(frozenset({"season"}))
    assert out.bring_back(("others", "season"), height, 7.9) == out
    assert out.bring_back(("others", "season"), height, 10.0).pieces == {"others"}
    assert out.bring_back(("others", "season"), height, 15.0).pieces == set()
    assert out.bring_back(("season", "others"), height, 10.0) == out  # nothing that is needed more goes for it
    went = LeftOut().take_out(("others", "season"), height, 9.0)
    assert went.pieces == {"season"}  # the others take no room by themselves, and are not told
