"""Texts of posts: lengths in user-perceived characters, credit, secrecy, and what may be cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
import regex

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import SimilarSpecies, StageSeason, Stated
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import Guide, Licence, PostLimit
from guidebuild.guide.records import Section
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from guidebuild.views.posts.lengths import perceived_length
from guidebuild.views.posts.posts import PostView, post_view, post_views
from guidebuild.views.posts.texts import _join_short
from tests.as_published import with_account as published_with
from tests.checks.invented import JUNE, at, guide, with_account

SAMPLE = Path(__file__).resolve().parents[3] / "sample_guide"


def red(base: Guide, *limits: PostLimit) -> PostView:
    settings = replace(base.settings, post_limits=limits) if limits else base.settings
    return post_view(*published_with(replace(base, settings=settings), base.accounts["red-bug"]))


# Unicode Standard Annex #29, Unicode Text Segmentation: table 1a and its rules GB6-GB13, as read with `regex`'s \X.
@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("e\u0301", 1),
        ("\r\n", 1),
        ("\U0001f468\u200d\U0001f469\u200d\U0001f467\u200d\U0001f466", 1),
        ("\U0001f1ec\U0001f1e7", 1),
        ("1\ufe0f\u20e3", 1),
        ("\u2764\ufe0f", 1),
        ("\U0001f44d\U0001f3fd", 1),
        ("\u1100\u1161\u11a8", 1),
        ("\u0915\u094d\u0937\u093f", 1),
        ("\u0ba8\u0bbf", 1),
        ("\U0001f408\u200d\u2b1b", 1),
        ("\U0001f98b", 1),
        ("\U0001f1ec\U0001f1e7\U0001f1eb", 2),
        ("\U0001f1ec\U0001f1e7\U0001f1eb\U0001f1f7", 2),
        ("ch", 2),
    ],
)
def test_a_length_is_counted_in_user_perceived_characters(text: str, count: int) -> None:
    assert perceived_length(text) == count
    assert perceived_length(f"a{text}b") == count + 2


@pytest.mark.parametrize(
    ("text", "cost", "length"),
    [
        ("See https://larkfold.example/a-very-long-address/of/a/page.html now", 23, len("See  now") + 23),
        ("See https://larkfold.example/a now", 0, len("See https://larkfold.example/a now")),
        ("(https://larkfold.example/a). Then", 5, len("(). Then") + 5),
        ("https://a.example https://b.example", 10, 21),
    ],
)
def test_a_link_counts_what_it_is_said_to_cost(text: str, cost: int, length: int) -> None:
    assert perceived_length(text, cost) == length


def test_a_short_post_says_first_what_decides() -> None:
    settings = replace(guide().settings, address="https://larkfold.example/guide/", hashtags=("hedge watch", "bugs"))
    post = red(guide(settings=settings), PostLimit("short", 178, 23, 2))
    (text,) = post.texts
    assert text.text == (
        "Red Bug (Inventa rubra). Look for: dark spot on the back. Adult: June. Size: 6–9 mm.\n\n"
        "https://larkfold.example/guide/accounts/red-bug.html\n\n"
        "Photo by A. Maker, CC BY 4.0; cut to size.\n\n"
        "#RedBug #HedgeWatch"
    )
    assert text.length == perceived_length(text.text, 23) <= text.limit == 178


def test_a_long_post_has_paragraphs_and_the_whole_credit_line() -> None:
    base = with_account(guide(), "red-bug", hazards=Stated(("stings",), said=True))
    (text,) = red(base, PostLimit("long", 900, 0, 1)).texts
    assert text.text == (
        "Red Bug (Inventa rubra). Words under In brief.\n\n"
        "Look for: dark spot on the back. Look at the spot on the back: the Red Bug has a dark spot; the Pale Bug has no spot. "
        "Words under How to know it.\n\n"
        "Adult: June. Host plants: tall herb. Size: 6–9 mm.\n\n"
        "Take care: It stings.\n\n"
        "Photo by A. Maker, CC BY 4.0; cut to size.\n\n"
        "#RedBug"
    )


def test_every_post_of_the_sample_keeps_to_its_limit_and_says_who_made_the_picture() -> None:
    base = read_guide(SAMPLE).guide
    assert base is not None
    posts = list(post_views(make_published(base)))
    assert len(posts) == len(base.accounts)
    costs = {limit.name: limit.link_cost for limit in base.settings.post_limits}
    for post in posts:
        assert [text.name for text in post.texts] == ["short", "medium", "long"]
        for text in post.texts:
            bare = regex.sub(r"https?://[^\s)]+", "x" * costs[text.name], text.text) if costs[text.name] else text.text
            assert len(regex.findall(r"\X", bare)) == text.length <= text.limit
            assert "Larkfold Hedge Group" in text.text
            assert "CC BY 4.0" in text.text
            assert f"/accounts/{post.account}.html" in text.text
            assert f"({post.name.plain})" in text.text
            assert "**" not in text.text
        assert post.alt
        assert post.findings == ()


def test_the_young_are_not_told_where_the_grown_ones_do_not_fit() -> None:
    sets = {"bug": replace(guide().stage_sets["bug"], sought=("egg", "adult"))}
    many = "January, March, May, July, September, November"
    seasons = (StageSeason("egg", JUNE), StageSeason("adult", replace(JUNE, typed=many, dekads=frozenset(range(0, 36, 4)))))
    base = with_account(guide(stage_sets=sets), "red-bug", seasons=seasons)
    (short,) = red(base, PostLimit("short", 150, 23, 0)).texts
    (long,) = red(base, PostLimit("long", 900, 23, 0)).texts
    assert "Egg: June." not in short.text
    assert long.text.index("Adult: ") < long.text.index("Egg: June.")


def test_where_a_group_names_no_stage_to_look_for_the_most_seen_leads_however_they_stand() -> None:
    sets = {"bug": replace(guide().stage_sets["bug"], sought=())}
    seasons = (StageSeason("adult", replace(JUNE, typed="all year", dekads=frozenset(range(36)))), StageSeason("egg", JUNE))
    base = with_account(guide(stage_sets=sets), "red-bug", seasons=seasons)
    (long,) = red(base, PostLimit("long", 900, 23, 0)).texts
    assert 0 < long.text.index("Adult: ") < long.text.index("Egg: June.")


def test_a_post_in_spanish_has_spanish_words() -> None:
    base = guide(settings=replace(guide().settings, languages=("es",)))
    text = red(base, PostLimit("long", 900, 0, 1)).texts[0].text
    assert "Fíjese en: dark spot on the back." in text
    assert "Tamaño: 6–9 mm." in text


def test_a_limit_too_small_for_name_link_and_credit_is_found() -> None:
    post = red(guide(), PostLimit("tiny", 20, 23, 3))
    (finding,) = post.findings
    assert (finding.code, finding.level, finding.account) == ("post-too-long", Level.WARNING, "red-bug")
    assert finding.message == (
        f"The tiny post of Red Bug takes {post.texts[0].length} characters, 20 are allowed: name, link and credit alone are too long."
    )
    assert "#" not in post.texts[0].text


ND = Licence("CC-BY-ND-4.0", "CC BY-ND 4.0", "https://creativecommons.org/licenses/by-nd/4.0/", derivatives=False)


def with_licence(base: Guide, licence: Licence) -> Guide:
    photo = replace(base.photos["red-bug-adult"], licence=licence.id, title=Inline("Red on green"), source="own work")
    licences = {**base.licences, licence.id: licence}
    return replace(base, photos={**base.photos, photo.id: photo}, licences=licences)


def test_a_picture_under_no_derivatives_is_never_cut_and_a_finding_says_so() -> None:
    post = red(with_licence(guide(), ND))
    assert post.crops == ()
    assert post.uncut == "CC BY-ND 4.0 does not allow changed copies"
    (finding,) = post.findings
    assert (finding.code, finding.level, finding.account, finding.at.file) == ("photo-not-cut", Level.NOTE, "red-bug", "photos.yaml")
    assert "cut to size" not in post.credit + post.texts[0].text


def test_a_picture_that_may_be_changed_is_cut_to_four_shapes() -> None:
    post = red(guide())
    assert [(crop.name, crop.ratio) for crop in post.crops] == [
        ("square", (1, 1)),
        ("portrait", (4, 5)),
        ("tall", (9, 16)),
        ("wide", (191, 100)),
    ]
    assert post.findings == ()


# Creative Commons wiki, Recommended practices for attribution: title, author, source, licence; say if changed.
def test_the_credit_has_title_author_source_and_licence() -> None:
    base = with_licence(guide(), replace(ND, id="CC-BY-4.0", title="CC BY 4.0", address="https://cc.example/by/4.0/", derivatives=True))
    assert red(base).credit == "“Red on green” by A. Maker, own work, CC BY 4.0 (https://cc.example/by/4.0/); cut to size."


def test_an_account_without_a_picture_has_its_texts() -> None:
    post = red(with_account(replace(guide(), photos={}), "red-bug", photos=(), diagnostics=()))
    assert post.photo is None
    assert (post.crops, post.alt, post.credit) == ((), "", "")
    assert "Photo" not in post.texts[0].text


def test_a_sentence_that_leans_on_one_that_does_not_fit_is_left_out() -> None:
    sections = (Section("In brief", f"It is a short one. {'Very ' * 120}long. So it is.", at("red-bug", 40)),)
    (text,) = red(with_account(guide(), "red-bug", sections=sections), PostLimit("medium", 600, 23, 0)).texts
    assert "It is a short one." in text.text
    assert "So it is." not in text.text


@pytest.mark.parametrize("name", ["sample_guide", "tests/guides/wood-fungi", "tests/guides/spring-flowers"])
def test_cautions_push_no_post_out_of_its_first_mark_where_a_short_form_leaves_room(name: str) -> None:
    base = read_guide(SAMPLE.parent / name).guide
    assert base is not None
    made = make_published(base)
    without = []
    for post in post_views(made):
        (short, *_) = sorted(post.texts, key=lambda text: text.limit)
        first = made.accounts[post.account].diagnostics[0].mark.words
        if first.casefold() not in short.text.casefold() and short.length + len(first) + 12 <= short.limit:
            without.append(post.account)
    assert without == []
    if name == "sample_guide":
        shorts = [min(post.texts, key=lambda text: text.limit).text for post in post_views(made)]
        assert sum("Look for: " in text or "Know it by: " in text for text in shorts) == len(shorts)


def test_a_sentence_of_a_word_or_two_stands_with_the_next() -> None:
    assert list(_join_short(["Listen.", "It calls two clear notes.", "Smell, then stalk.", "Look.", "The end."])) == [
        "Listen. It calls two clear notes.",
        "Smell, then stalk. Look.",
        "The end.",
    ]


def test_a_note_on_a_look_alike_keeps_its_figures_and_loses_only_its_italics() -> None:
    base = guide()
    note = Inline("Unlike *Aus niger* it has 2*3*4 spots.")
    made = with_account(base, "red-bug", similar=Stated((SimilarSpecies("stranger", note=note),), said=True))
    (post,) = red(made, PostLimit("long", 2000, 0, 0)).texts
    assert "Unlike Aus niger it has 2*3*4 spots." in post.text
