"""What the views claim of whom, in the whole guides of birds and flowers: each mark with its stage and sex, or not at all."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import FieldMark, SimilarSpecies, Stated
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from guidebuild.speech.script import join_text
from guidebuild.views.cards.card import card_view
from guidebuild.views.data.darwin_core import taxa_archive
from guidebuild.views.outdoors.walk import walk_pack_views
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.posts.posts import post_view
from guidebuild.views.scripts.draft import draft_script
from guidebuild.views.site.account import similar_view
from guidebuild.views.site.home import home_page
from guidebuild.views.site.lists import ListEntry, by_family
from guidebuild.views.site.practice import practice_page
from guidebuild.views.telling.compare import compare_view
from guidebuild.views.telling.compare_sheet import compare_sheets

GUIDES = Path(__file__).resolve().parents[1] / "guides"
BELLY, DROOP, SPOTS = "black patch on the belly", "bill that droops a little at the tip", "lines of dark spots on the sides of the belly"


@cache
def _published(name: str) -> Published:
    return make_published(read_guide(GUIDES / name).guide)


def _card(guide: str, account: str) -> tuple[list[str], str]:
    published = _published(guide)
    card = card_view(make_pieces(published), published.accounts[account])
    return [mark.said.words for mark in card.marks], card.credit()


def _posted(guide: str, account: str) -> list[str]:
    published = _published(guide)
    return [post.text for post in post_view(published, published.accounts[account]).texts]


def test_a_card_says_whose_its_marks_and_its_picture_are() -> None:
    marks, picture = _card("estuary-waders", "dunlin")
    assert marks == [f"{BELLY} (breeding plumage)", f"{DROOP} (winter plumage)", f"{SPOTS} (juvenile)"]
    assert picture.startswith("breeding plumage · ")
    marks, picture = _card("estuary-waders", "curlew")
    assert marks[:2] == ["very long bill, curved down (female)", "shorter bill, curved down (male)"]
    assert picture.startswith("female, winter plumage · ")
    assert "each leaf on a stalk of its own (in leaf)" in _card("spring-flowers", "ramsons")[0]


def test_marks_of_one_stage_are_said_where_it_is_not_the_only_grown_form() -> None:
    assert _card("spring-flowers", "wood-anemone")[0][0] == "one white star on each stem (in flower)"
    assert all(mark.endswith(" (fresh fruit body)") for mark in _card("wood-fungi", "deathcap")[0])


def test_posts_say_whose_each_mark_is() -> None:
    short, long = _posted("estuary-waders", "dunlin")
    assert f"Look for: {BELLY} (breeding plumage); {DROOP} (winter plumage); {SPOTS} (juvenile)." in long
    assert f"Look for: {DROOP} (winter plumage)." in short  # all three are too long, and the picture shows this one


def test_posts_lead_with_the_stage_of_the_picture_and_go_on_in_order_of_life() -> None:
    told = _posted("spring-flowers", "lily-of-the-valley")[-1]
    assert told.index("In flower: ") < told.index("In leaf: ") < told.index("In fruit: ")
    told = _posted("estuary-waders", "dunlin")[-1]
    assert told.index("Winter plumage: ") < told.index("Juvenile: ") < told.index("Breeding plumage: ")


def _drafted(guide: str, account: str, heading: str) -> list[tuple[str, str]]:
    published = _published(guide)
    sections = {section.heading: section.lines for section in draft_script(published, published.accounts[account])}
    return [(join_text(draft.line.pieces), draft.line.photo) for draft in sections[heading]]


@pytest.mark.parametrize(
    ("guide", "account", "said"),
    [
        ("estuary-waders", "dunlin", "In breeding plumage, look for a black patch on the belly."),
        ("estuary-waders", "bar-tailed-godwit", "In the male in breeding plumage, look for a brick-red underside right down to the tail."),
        ("estuary-waders", "redshank", "In breeding plumage, look for a red base on both halves of the bill."),
        ("spring-flowers", "lily-of-the-valley", "In fruit, look for hanging red berries."),
        ("spring-flowers", "ramsons", "Smell it: a strong smell of garlic."),
        ("southern-frogs", "southern-brown-tree-frog", "From the male, listen for a row of rising whistles."),
        ("southern-frogs", "pobblebonk", "From the male, listen for a single loud bonk."),
        ("southern-frogs", "pobblebonk", "Look first for a thick, flat gland on each shin."),
    ],
)
def test_scripts_say_a_mark_of_its_own_stage_and_sex(guide: str, account: str, said: str) -> None:
    assert said in [words for words, _ in _drafted(guide, account, "What tells it")]


def test_a_mark_of_several_stages_is_said_of_each() -> None:
    published = _published("estuary-waders")
    mark = FieldMark(Inline("grey back"), ("winter", "juvenile"))
    account = replace(published.accounts["dunlin"], diagnostics=(mark,))
    (marks,) = [section.lines for section in draft_script(published, account) if section.heading == "What tells it"]
    assert join_text(marks[0].line.pieces) == "In winter plumage and in juveniles, look for a grey back."


@pytest.mark.parametrize(
    ("guide", "account", "other", "photo"),
    [
        ("spring-flowers", "lords-and-ladies", "Ramsons", "ramsons-leaf"),  # told by the leaf, and not in fruit
        ("wood-fungi", "blusher", "the Panthercap", "panthercap-fresh"),  # the old one has lost its warts
        ("wood-fungi", "panthercap", "the Blusher", "blusher-fresh"),
        ("estuary-waders", "bar-tailed-godwit", "the Black-tailed Godwit", "black-tailed-godwit-flight"),  # told by the spread wing
        ("southern-frogs", "pobblebonk", "the Spotted Marsh Frog", "spotted-marsh-frog-adult"),
    ],
)
def test_a_look_alike_is_shown_by_what_is_told_of_it(guide: str, account: str, other: str, photo: str) -> None:
    lines = _drafted(guide, account, "Its look-alikes")
    assert [shown for words, shown in lines if words.startswith(f"Do not take it for {other}.")] == [photo]


def test_comparisons_name_all_stages_that_show_the_same() -> None:
    view = compare_view(_published("estuary-waders"), ("redshank", "spotted-redshank"))
    told = {(row.label, row.where) for row in (*view.separating, *view.shared)}
    assert ("base of the bill", "winter plumage and breeding plumage") in told
    assert ("legs", "juvenile and winter plumage") in told


def _told_apart(account: str, other: str, *tell_by: str) -> tuple[tuple[tuple[str, str, str], ...], list[str]]:
    """What page and card of a wader say of a look-alike that its author tells by these characters and without a note."""
    published = _published("estuary-waders")
    similar = SimilarSpecies(other, tell_by=tell_by)
    changed = replace(published.accounts[account], similar=Stated((similar,), said=True))
    made = make_pieces(replace(published, accounts={**published.accounts, account: changed}))
    view = similar_view(made, changed, similar)
    assert view is not None
    return view.pairs, [look_alike.tell.words for look_alike in card_view(made, changed).look_alikes]


def test_page_and_card_say_of_which_stage_and_sex_a_look_alike_is_told() -> None:
    pairs, (told,) = _told_apart("redshank", "spotted-redshank", "bill-base", "legs")
    assert pairs == (
        ("base of the bill (winter plumage and breeding plumage)", "red on both halves", "red on the lower half only"),
        ("base of the bill (juvenile)", "dark like the tip or orange", "red on the lower half only"),
        ("legs", "red or orange-red",
         "red or orange-red (juvenile and winter plumage); black or dark grey or red or orange-red (breeding plumage)"),
    )  # fmt: skip
    assert told.startswith("base of the bill (breeding plumage) red on the lower half only, here red on both halves; ")
    pairs, (told,) = _told_apart("bar-tailed-godwit", "black-tailed-godwit", "bill-base")
    assert pairs == (("base of the bill (male breeding plumage)", "dark like the tip", "orange"),)
    assert told.startswith("base of the bill (male breeding plumage) orange, here dark like the tip; ")


def test_the_two_best_characters_are_told_with_their_stage_and_sex_too() -> None:
    pairs, _ = _told_apart("bar-tailed-godwit", "black-tailed-godwit")
    assert {label for label, *_ in pairs} == {"spread wing", "tail"}
    assert _told_apart("curlew", "bar-tailed-godwit")[0][0][0] == "bill shape"


def test_comparison_sheets_say_whose_each_mark_is() -> None:
    stages = [stage.pictures for sheet in compare_sheets(_published("estuary-waders")) for stage in sheet.compared.stages]
    marks = {(side.heading, mark.of_sex.words) for side in stages for plate in side.plates for mark in plate.marks}
    assert ("birds in breeding plumage", "brick-red underside right down to the tail (male)") in marks
    assert ("birds in breeding plumage", "sooty black plumage with white spots") in marks
    assert not [mark for _, mark in marks if "plumage)" in mark]


def test_an_answer_names_what_the_picture_points_at_first() -> None:
    answers = {
        choice.link.text: choice.why.words
        for question in practice_page(make_pieces(_published("estuary-waders"))).questions
        for choice in question.choices
        if choice.right
    }
    assert answers["Bar-tailed Godwit"] == "streaked back (winter plumage); finely barred tail"
    assert answers["Curlew"] == "very long bill, curved down (female); brown streaks without a stripe on the crown"


@pytest.mark.parametrize(
    ("guide", "account", "hazards", "shot"),
    [
        ("wood-fungi", "deathcap", (), "Beside a ruler"),
        ("spring-flowers", "primrose", (), "Beside a ruler"),
        ("spring-flowers", "primrose", ("protected-species",), "Beside something of known size"),
        ("estuary-waders", "dunlin", (), "Beside something of known size"),
        ("southern-frogs", "pobblebonk", (), "Beside something of known size"),
    ],
)
def test_nobody_lays_a_ruler_beside_a_bird_or_what_is_protected(guide: str, account: str, hazards: tuple[str, ...], shot: str) -> None:
    published = _published(guide)
    of = replace(published.accounts[account], hazards=hazards)
    shots = [draft.line.shot for section in draft_script(published, of) for draft in section.lines]
    assert [found for found in shots if found.startswith("Beside ")] == [shot]


def _at_home(guide: str, day: dt.date) -> dict[str, ListEntry]:
    return {entry.link.text: entry for _, entry in home_page(make_pieces(_published(guide)), day, ()).now.entries}


@pytest.mark.parametrize(
    ("guide", "species", "day", "photo", "said"),
    [
        ("estuary-waders", "Dunlin", dt.date(2026, 1, 15), "dunlin-winter", ("", DROOP)),
        ("estuary-waders", "Dunlin", dt.date(2026, 5, 15), "dunlin-breeding", ("", BELLY)),
        ("estuary-waders", "Dunlin", dt.date(2026, 4, 15), "dunlin-breeding", ("breeding plumage", BELLY)),
        ("spring-flowers", "Primrose", dt.date(2026, 11, 28), "primrose-leaf", ("", "wrinkled leaves in a rosette")),
        ("spring-flowers", "Wood Sorrel", dt.date(2026, 5, 5), "wood-sorrel-leaf", ("in leaf", "leaf of three folded hearts")),
        ("spring-flowers", "Lords-and-Ladies", dt.date(2026, 8, 5), "lords-fruit", ("", "spike of orange-red berries")),
    ],
)
def test_home_shows_picture_and_mark_of_what_is_out(guide: str, species: str, day: dt.date, photo: str, said: tuple[str, str]) -> None:
    entry, dekad = _at_home(guide, day)[species], (day.month - 1) * 3 + (day.day - 1) // 10
    assert entry.photo is not None
    assert entry.photo.id == photo
    assert [dated.photo.id for dated in entry.photos if dated.dekads[dekad] == "1"] in ([photo], [])
    assert [(told.stage, told.words.words) for told in entry.told if told.dekads[dekad] == "1"] == [said]


def test_every_part_of_the_year_has_one_picture_on_the_home_page() -> None:
    for entry in _at_home("estuary-waders", dt.date(2026, 1, 15)).values():
        shown = [sum(int(dated.dekads[dekad]) for dated in entry.photos) for dekad in range(36)]
        assert shown == [int(seen > 0) for seen in entry.year] or not entry.photos


def test_lists_say_whose_their_mark_is_but_for_the_grown_form() -> None:
    listed = {e.link.text: e.mark.words for guide in ("estuary-waders", "southern-frogs") for e in _listed(guide)}
    assert listed["Dunlin"] == f"{BELLY} (breeding plumage)"
    assert listed["Curlew"] == "very long bill, curved down (female)"
    assert "(adult)" not in listed["Pobblebonk"]


def _listed(guide: str) -> list[ListEntry]:
    published = _published(guide)
    return [entry for group in by_family(make_pieces(published), list(published.accounts.values())) for entry in group.entries]


def test_walks_give_each_stage_its_own_mark() -> None:
    flowers = {met.link.text: met.sought for stop in walk_pack_views(_published("spring-flowers"))[0].stops for met in stop.met}
    assert [(claim.stages, claim.mark.words) for claim in flowers["Wood Sorrel"]] == [
        ("in leaf", "leaf of three folded hearts"),
        ("in flower", "fine lilac veins on white petals"),
        ("in fruit", ""),
    ]
    birds = {met.link.text: met.sought for stop in walk_pack_views(_published("estuary-waders"))[0].stops for met in stop.met}
    assert [(claim.stages, claim.mark.words) for claim in birds["Curlew"]] == [
        ("winter plumage", "very long bill, curved down (female); shorter bill, curved down (male)")
    ]


def test_data_say_whose_each_mark_is() -> None:
    described = str(taxa_archive(_published("estuary-waders")))
    assert f"{BELLY} (breeding plumage) | {DROOP} (winter plumage) | {SPOTS} (juvenile)" in described
