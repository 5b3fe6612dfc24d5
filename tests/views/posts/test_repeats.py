"""No fact twice in a post."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import PostLimit
from guidebuild.reading.whole import read_guide
from guidebuild.views.posts.hashtags import write_hashtag
from guidebuild.views.posts.posts import post_view
from guidebuild.views.posts.repeats import join_differences, repeats, says_fact

ROOT = Path(__file__).resolve().parents[3]


def test_look_alikes_that_one_character_tells_stand_in_a_row() -> None:
    assert join_differences(["In A, a thorn; in B, none.", "The hair of A is long; that of C short.", "In A, a thorn; in D, a hook."]) == (
        ("In A, a thorn; in B, none; in D, a hook.", "In A, a thorn; in B, none."),
        ("The hair of A is long; that of C short.",),
    )
    assert join_differences(["Alone.", "Alone.", "Another."]) == (("Alone.", "Alone."), ("Another.",))


@pytest.mark.parametrize(
    ("text", "fact", "said"),
    [
        ("The body length of A is 6–9 mm; that of B is 8–11 mm.", "6–9 mm", True),
        ("It is 6 to 9 mm long.", "6–9 mm", True),
        ("De 6 a 9 mm.", "6–9 mm", True),
        ("It is 16–9 mm long.", "6–9 mm", False),
        ("It is 6–9 cm long.", "6–9 mm", False),
        ("Six of 9 mm.", "6–9 mm", False),
        ("On Silver birch and alder.", "silver birch and alder", True),
        ("On silver birch.", "silver birch and alder", False),
        ("Length 40.", "40 cm", False),
    ],
)
def test_a_fact_is_said_in_the_same_words_or_with_the_same_figures(text: str, fact: str, said: bool) -> None:
    assert says_fact(text, fact) is said


def test_a_sentence_of_words_that_all_stand_before_it_is_a_repeat() -> None:
    told = "Look for: dark spot on the scutellum; banded edge of the body."
    assert repeats("A dark spot on the scutellum, and the edge of the body has bands.", told)
    assert not repeats("A dark spot on the scutellum, and red legs.", told)
    assert not repeats("The spot.", told)


@pytest.mark.parametrize(
    ("name", "tag"),
    [
        ("hedge watch", "#HedgeWatch"),
        ("Lily-of-the-Valley", "#LilyOfTheValley"),
        ("Lawson's Cypress", "#LawsonsCypress"),
        ("chinche del árbol", "#ChincheDelÁrbol"),
        ("Grüne Stinkwanze", "#GrüneStinkwanze"),
        ("weiße Blüte", "#WeißeBlüte"),
        ("u\u0308bersehen", "#übersehen"),
        ("shieldbugs", "#shieldbugs"),
        ("UK bugs", "#UKBugs"),
        ("ツノカメムシ", "#ツノカメムシ"),
        ("2026", ""),
        ("–", ""),
    ],
)
def test_a_hashtag_is_written_as_its_language_writes_words(name: str, tag: str) -> None:
    assert write_hashtag(name) == tag


def test_no_post_of_the_sample_gives_the_size_or_the_same_half_of_a_difference_twice() -> None:
    base = read_guide(ROOT / "sample_guide").guide
    assert base is not None
    limits = (PostLimit("short", 280), PostLimit("long", 4000))
    made = make_published(replace(base, settings=replace(base.settings, post_limits=limits)))
    for account in made.accounts.values():
        for text in post_view(made, account).texts:
            if account.size:
                assert text.text.count(account.size.typed) <= 1, (account.id, text.text)
            halves = [sentence.partition("; ")[0] for sentence in text.text.split(". ") if sentence.startswith("Look at the ")]
            assert len(set(halves)) == len(halves), (account.id, text.text)
