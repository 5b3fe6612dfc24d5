"""Sets of slides: what they show in which order, of the right stage, with every caution, and nothing that is kept secret."""

from __future__ import annotations

import datetime as dt
import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from guidebuild.checks.scripts import UNKNOWN_SLOT
from guidebuild.fieldwork.claims import is_mark_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import OwnSlides
from guidebuild.reading.sections import split_sections
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.cautions import cautions_of_account, cautions_of_set
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.slides.chosen import choose_sets
from guidebuild.views.slides.sets import account_set, dekad_set, pair_set, walk_set
from guidebuild.views.slides.slide import SlideKind, SlideSet, describe_slide
from tests.guides.whole_guides import HERE, NAMES
from tests.sample.drawings import SAMPLE

TODAY = dt.date(2026, 11, 28)
FOLDERS = (SAMPLE, *(HERE / name for name in NAMES))


@cache
def whole_guide(folder: Path) -> Guide:
    guide = read_guide(folder).guide
    assert guide is not None
    return guide


@cache
def published(folder: Path) -> Published:
    return make_published(whole_guide(folder))


def sets_of(guide: Published, *words: str, day: dt.date = TODAY) -> tuple[SlideSet, ...]:
    sets, findings = choose_sets(replace(guide, settings=replace(guide.settings, slides=words)), day)
    assert findings == ()
    return sets


def kinds(one: SlideSet) -> list[SlideKind]:
    return [slide.kind for slide in one.slides]


def test_a_set_of_an_account_asks_shows_compares_and_ends_with_care_and_credits() -> None:
    (one,) = sets_of(published(SAMPLE), "parent-bug")
    assert kinds(one) == ["question", "plate", "alikes", "alikes", "when", "care", "credits"]
    question, plate, *_, care, credit = one.slides
    assert describe_slide(question).startswith("Shieldbugs of Larkfold Hedge. Parent Bug. Elasmucha grisea. Look for 2 things.")
    assert [(mark.number, mark.words) for mark in plate.marks] == [
        (1, "dark spot on the scutellum"),
        (2, "banded edge of the body (the connexivum)"),
    ]
    assert {mark.number for photo in plate.photos for mark in photo.marks} == {1, 2}
    assert "Ask whoever owns the land" in describe_slide(care)
    assert credit.address == "https://larkfold.example/guide/accounts/parent-bug.html"
    assert "Photo: Larkfold Hedge Group, CC BY 4.0; cut to size" in credit.credits


def test_a_set_of_two_asks_without_names_and_then_tells() -> None:
    (one,) = sets_of(published(SAMPLE), "parent-bug--birch-shieldbug")
    assert one.id == "birch-shieldbug--parent-bug"
    assert kinds(one) == ["question", "plate", "plate", "alikes", "when", "care", "credits"]
    question, _, _, answer, *_ = one.slides
    assert question.title == "Which is which?"
    assert question.side is not None
    assert answer.side is not None
    assert [plate.link.text for plate in question.side.plates] == ["A", "B"]
    assert not any(photo.marks for photo in question.photos)
    assert all(len(plate.marks) == 1 for plate in answer.side.plates)
    assert all(answer.told)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_every_set_has_five_to_eight_slides_and_says_only_what_its_pictures_show(folder: Path) -> None:
    guide = published(folder)
    for one in sets_of(guide, "all", day=dt.date(2026, 6, 10)):
        assert 5 <= len(one.slides) <= 8, one.id
        assert kinds(one)[-2:] == ["care", "credits"], one.id
        for slide in one.slides:
            assert describe_slide(slide), (one.id, slide.title)
            if slide.kind is not SlideKind.PLATE or slide.photo is None:
                continue
            photo = guide.photos[slide.photo.id]
            account = next(account for account in guide.accounts.values() if photo.id in account.photos)
            stages, sexes = ((photo.stage,) if photo.stage else ()), ((photo.sex,) if photo.sex else ())
            texts = {mark.mark.words for mark in account.diagnostics if is_mark_of(mark, stages, sexes)}
            assert {mark.words for mark in slide.marks} <= texts, (one.id, slide.title)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_no_caution_is_left_out(folder: Path) -> None:
    guide = published(folder)
    make = make_pieces(guide)
    warned = 0
    for account in guide.accounts.values():
        care = next(slide for slide in account_set(make, account).slides if slide.kind is SlideKind.CARE)
        cautions = cautions_of_account(make, account)
        assert care.cautions[: len(cautions)] == cautions
        assert all(caution.title in describe_slide(care) for caution in cautions)
        warned += len(cautions)
    assert warned or folder.name == "estuary-waders"


def test_what_is_out_is_shown_in_the_stage_that_is_out() -> None:
    guide = published(SAMPLE)
    one = dekad_set(make_pieces(guide), dt.date(2026, 6, 10))
    assert one is not None
    assert one.title == "early June"
    assert one.accounts
    for slide, account in zip(one.slides[1:-2], one.accounts, strict=True):
        assert slide.photo is not None
        photo = guide.photos[slide.photo.id]
        season = guide.accounts[account].season_of(photo.stage)
        assert season is not None
        assert 15 in season.dekads, (account, photo.stage)
    # In midwinter there are few, and the set says what there is.
    winter = dekad_set(make_pieces(guide), dt.date(2026, 1, 3))
    assert winter is None or len(winter.slides) >= 4


def test_a_walk_says_when_where_and_all_that_it_warns_of() -> None:
    guide = published(SAMPLE)
    walk = guide.walks["april-gorse"]
    one = walk_set(make_pieces(guide), walk)
    assert describe_slide(one.slides[0]).startswith("A walk. First sun on the gorse. 11 April 2027, 11:00–12:30. Meet: The stile")
    care = one.slides[-2]
    assert {"Spines and thorns", "Ticks"} <= {caution.title for caution in care.cautions}
    assert walk.leader not in " ".join(map(describe_slide, one.slides))


def test_a_pair_warns_of_both() -> None:
    guide = published(HERE / "wood-fungi")
    one, other = guide.accounts["sheathed-woodtuft"], guide.accounts["funeral-bell"]
    care = pair_set(make_pieces(guide), one, other).slides[-2]
    assert care.cautions == cautions_of_set(make_pieces(guide), (one.id, other.id))
    assert "poisonous" in describe_slide(care).casefold()


def test_due_are_this_weeks_species_the_ten_days_and_the_next_walk_that_is_near() -> None:
    guide = published(SAMPLE)
    assert [one.id for one in sets_of(guide, "due")] == ["spiked-shieldbug", "now"]
    assert [one.id for one in sets_of(guide, "due", day=dt.date(2027, 4, 1))][1:] == ["now", "walk-april-gorse"]
    assert [one.id for one in sets_of(guide, "due", day=dt.date(2027, 4, 12))][1:] == ["now"]


def test_what_there_is_not_is_said_with_what_to_write() -> None:
    guide = published(SAMPLE)
    sets, (finding,) = choose_sets(replace(guide, settings=replace(guide.settings, slides=("parent-bag", "april-gorse"))), TODAY)
    assert [one.id for one in sets] == ["walk-april-gorse"]
    assert finding.code == "slides-unknown"
    assert finding.message == "No account, pair or walk is called “parent-bag”."
    assert finding.mend == "Write due, all, the id of an account or a walk, or two accounts with -- between them."


OWN = """## Question: Who stays with her eggs?
She does not fly off, and is only {size} long.

## A guard for three weeks
![](photo:parent-guarding)
{egg}

## Look-alikes
"""


def own_slides(name: str, text: str) -> dict[str, OwnSlides]:
    return {name: OwnSlides(name, ("square",), split_sections(text, 5, f"posts/{name}.md"), At(f"posts/{name}.md", 1))}


def test_an_authors_own_words_and_order_stand_with_facts_and_keep_credits() -> None:
    guide = replace(published(SAMPLE), own_slides=own_slides("parent-bug", OWN))
    (one,) = sets_of(guide)
    assert one.shapes == ("square",)
    assert kinds(one) == ["question", "own", "alikes", "alikes", "credits"]
    question, own, *_ = one.slides
    assert (question.about, question.title) == ("Parent Bug", "Who stays with her eggs?")
    assert [line.words for line in question.lines] == ["She does not fly off, and is only 6–9 mm long."]
    assert [photo.id for photo in own.photos] == ["parent-guarding"]
    assert own.lines[0].words.startswith("A diamond of thirty to forty eggs")


def test_what_an_author_says_where_a_set_has_no_such_slide_stands_all_the_same() -> None:
    walk = next(iter(published(SAMPLE).walks))
    text = "## When: Bring a lamp\nMoths come after nine.\n![](photo:parent-guarding)\n"
    (one,) = sets_of(replace(published(SAMPLE), own_slides=own_slides(f"walk-{walk}", text)))
    (own,) = (slide for slide in one.slides if slide.title == "Bring a lamp")
    assert [line.words for line in own.lines] == ["Moths come after nine."]
    assert [photo.id for photo in own.photos] == ["parent-guarding"]


def test_a_picture_that_an_author_chooses_says_its_stage() -> None:
    text = "## Question: What is this?\n![](photo:parent-nymph)\n"
    (one,) = sets_of(replace(published(SAMPLE), own_slides=own_slides("parent-bug", text)))
    assert "nymph" in one.slides[0].note


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_marks_are_numbered_from_one_where_the_picture_points_at_them(folder: Path) -> None:
    guide = published(folder)
    for one in sets_of(guide, *guide.accounts):
        plate = next(slide for slide in one.slides if slide.kind is SlideKind.PLATE)
        pointed = [mark.number for mark in plate.marks if mark.number]
        assert pointed == list(range(1, len(pointed) + 1)), one.id
        assert [mark.number for photo in plate.photos for mark in photo.marks] == pointed, one.id


def test_what_is_heard_or_smelt_is_not_looked_for() -> None:
    (ramsons,) = sets_of(published(HERE / "spring-flowers"), "ramsons")
    assert "Know it by" in describe_slide(ramsons.slides[0])
    assert "Look for" not in describe_slide(ramsons.slides[0])


def test_an_authors_own_order_leaves_no_caution_out() -> None:
    guide = replace(published(HERE / "wood-fungi"), own_slides=own_slides("funeral-bell", "## Question: Good enough to eat?\n"))
    (one,) = sets_of(guide)
    assert kinds(one) == ["question", "care", "credits"]
    assert "poisonous" in describe_slide(one.slides[1]).casefold()


def test_own_words_for_what_there_is_not_are_told_with_their_file() -> None:
    guide = replace(published(SAMPLE), own_slides=own_slides("parent-bag", OWN))
    _, (finding,) = choose_sets(replace(guide, settings=replace(guide.settings, slides=())), TODAY)
    assert (finding.code, str(finding.at.file)) == ("slides-unknown", "posts/parent-bag.md")
    assert finding.message == "No account, pair or walk is called “parent-bag”, as this file is."


def test_own_words_stay_with_an_account_that_was_renamed() -> None:
    base = published(SAMPLE)
    renamed = replace(base.accounts["parent-bug"], formerly=("mother-bug",))
    guide = replace(base, accounts={**base.accounts, "parent-bug": renamed}, own_slides=own_slides("mother-bug", OWN))
    (one,) = sets_of(guide)
    assert (one.id, one.slides[0].title) == ("parent-bug", "Who stays with her eggs?")


def test_a_slot_that_no_fact_fills_is_told() -> None:
    guide = replace(whole_guide(SAMPLE), own_slides=own_slides("parent-bug", "## When\nIt is {sise} long.\n"))
    (finding,) = [found for found in UNKNOWN_SLOT.run(guide) if found.at.file == "posts/parent-bug.md"]
    assert finding.message == "The slot {sise} is not a fact of Parent Bug."
    assert finding.at.line == 6


def test_own_words_are_read_from_posts_and_tell_nothing_secret(tmp_path: Path) -> None:
    folder = tmp_path / "guide"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing", "photos"))
    secret = next(place.name for place in whole_guide(SAMPLE).places.values() if place.sensitivity)
    (folder / "posts").mkdir(exist_ok=True)
    text = f"---\nshapes: [tall]\n---\n## Question: Seen today\nIt is at {secret}. It guards its eggs.\n"
    (folder / "posts/parent-bug.md").write_text(text, encoding="utf-8")
    guide = read_guide(folder).guide
    assert guide is not None
    assert guide.own_slides["parent-bug"].shapes == ("tall",)
    (one,) = sets_of(make_published(guide))
    told = " ".join(map(describe_slide, one.slides))
    assert "Seen today" in told
    assert secret not in told


def test_nothing_secret_stands_in_any_slide() -> None:
    base = whole_guide(SAMPLE)
    hidden = "Wexcombe Fold"  # invented
    places = {
        **base.places,
        "long-hedge": replace(
            base.places["long-hedge"],
            name=hidden,
            sensitivity=next(place.sensitivity for place in base.places.values() if place.sensitivity),
        ),
    }
    told = "".join(
        f"{describe_slide(slide)} {slide.address}"
        for one in sets_of(make_published(replace(base, places=places)), "all", day=dt.date(2027, 4, 1))
        for slide in one.slides
    )
    assert "Parent Bug" in told
    assert hidden not in told


def test_a_guide_in_spanish_has_slides_in_spanish() -> None:
    base = whole_guide(SAMPLE)
    spanish = make_published(replace(base, settings=replace(base.settings, languages=("es",))))
    (one,) = sets_of(spanish, "parent-bug--birch-shieldbug")
    assert [slide.title for slide in one.slides if slide.kind in {SlideKind.QUESTION, SlideKind.WHEN, SlideKind.CARE}] == [
        "¿Cuál es cuál?",
        "Cuándo y dónde",
        "Mirar sin hacer daño",
    ]


def test_words_above_the_first_heading_make_no_slide_and_that_is_told(tmp_path: Path) -> None:
    (tmp_path / "guide.yaml").write_text("title: A\n", "utf-8")
    (tmp_path / "posts").mkdir()
    (tmp_path / "posts/red-bug.md").write_text("---\nshapes: square\n---\nWords of nothing.\n\n## question\n\nWho is it?\n", "utf-8")
    (finding,) = (found for found in read_guide(tmp_path).findings if found.code == "text-before-heading")
    assert str(finding.at) == "posts/red-bug.md:4"
    assert finding.mend == "Put a heading above it, such as ## question: each heading makes a slide."
