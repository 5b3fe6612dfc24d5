"""An author's words on the way to a page: joined, led in and cut into sentences, they keep their italics and links and lose no sign."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.text.inline import Inline
from guidebuild.guide.text.plain_text import escape_signs, write_plain
from guidebuild.press.theme.prose import inline_html
from guidebuild.views.pieces.common import NO_WORDS, Wording, join_wordings
from guidebuild.views.pieces.parts import list_wordings, make_pieces
from guidebuild.words import words
from tests.views.invented_site import GUIDE

MAKE = make_pieces(make_published(GUIDE))
SIGNS = st.text(alphabet="ab1 *_[]()<>`#|&\\!~-+.=:/", min_size=1, max_size=12)


def html_of(wording: Wording) -> str:
    return inline_html(wording.marked).text if wording.marked else wording.words


@settings(deadline=None, max_examples=400)
@given(SIGNS)
def test_words_as_markdown_say_the_same_words(typed: str) -> None:
    plain = " ".join(typed.split())
    assert write_plain(escape_signs(plain)) == plain
    assert write_plain(f"*x* {escape_signs(plain)}").removeprefix("x").strip() == plain


@pytest.mark.parametrize(
    "plain", ["1. egg", "- egg", "# egg", "> 5 mm", "2*3*4", "a_b_c", "[x](y:z)", "<em>x</em>", "R&D &amp;", "`x`", "| a |"]
)
def test_what_looks_like_a_mark_stays_as_it_is(plain: str) -> None:
    assert write_plain(escape_signs(plain)) == plain


def test_joined_words_keep_italics_and_links() -> None:
    parts = [MAKE.word(Inline("like *Aus bus*")), MAKE.word(Inline("2*3*4 spots")), MAKE.word(Inline("see [that](account:birch-bug)"))]
    joined = join_wordings("; ", parts)
    assert joined.words == "like Aus bus; 2*3*4 spots; see that"
    assert joined.marked
    assert [target for target, _ in joined.marked.targets] == ["account:birch-bug"]
    assert html_of(joined).startswith("like <em>Aus bus</em>; 2*3*4 spots; see <a ")
    assert html_of(joined.without_stop().between("Say: ", " (adult_x_)")).startswith("Say: like <em>Aus bus</em>;")
    assert html_of(joined.between(after=" (adult_x_)")).endswith("</a> (adult_x_)")
    assert join_wordings("; ", [Wording("a"), NO_WORDS, Wording("b")]) == Wording("a; b")


def test_a_list_of_words_is_one_in_the_readers_language() -> None:
    habitats = [MAKE.word(Inline(text)) for text in ("wood", "*Sphagnum* bog", "park")]
    assert html_of(list_wordings(words("en"), habitats).as_sentence()) == "Wood, <em>Sphagnum</em> bog and park."
    assert html_of(list_wordings(words("en"), habitats[1:]).as_sentence()) == "<em>Sphagnum</em> bog and park."
    assert list_wordings(words("es"), habitats[::2]) == Wording("wood y park")
    assert list_wordings(words("en"), []).as_sentence() == NO_WORDS


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("One *Aus bus*. Two [x](account:y). Three.", ("One *Aus bus*.", "Two [x](account:y).", "Three.")),
        ("On *A. bus* only. **Beware.** It bites.", ("On *A. bus* only.", "**Beware.**", "It bites.")),
        ("One. Two.", ("One.", "Two.")),
        (
            "It is *red. And* round. 2*3*4.",
            ("It is red.", "And round.", "2&#42;3&#42;4&#46;"),
        ),  # over the end of a sentence
        ("", ()),
    ],
)
def test_sentences_keep_their_marks(text: str, sentences: tuple[str, ...]) -> None:
    assert tuple(one.text for one in Inline(text).sentences) == sentences
