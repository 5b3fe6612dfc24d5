"""How long a text is by each rule by which places count."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.guide.guide import PostLimit
from guidebuild.guide.post_counting import COUNTING, SIGNS, UNITS, WIDE
from guidebuild.views.posts.lengths import perceived_length
from guidebuild.views.posts.posts import post_view
from tests.as_published import with_account as published_with
from tests.checks.invented import guide

FAMILY = "\U0001f468\u200d\U0001f469\u200d\U0001f467\u200d\U0001f466"


# Signs: Unicode Standard Annex #29, the kinds of case of its test file GraphemeBreakTest.txt (Hangul, Indic conjuncts, emoji with
# joiners, flags). Wide signs: twitter-text, configuration version 3 (weights of 100 and 200 in a scale of 100, an emoji counts two whatever
# its parts); values from memory.
# Units: The Unicode Standard, 3.9, D91 (UTF-16).
@pytest.mark.parametrize(
    ("text", "signs", "wide", "units"),
    [
        ("This is a test.", 15, 15, 15),
        ("café", 4, 4, 4),
        ("cafe\u0301", 4, 4, 5),
        ("6–9 mm ♀", 8, 9, 8),
        ("©", 1, 1, 1),
        ("の", 1, 2, 1),
        ("저찀쯿쿿", 4, 8, 4),
        ("ツノカメムシ", 6, 12, 6),
        ("\U0001f431", 1, 2, 2),
        (FAMILY, 1, 2, 11),
        ("\U0001f1ec\U0001f1e7", 1, 2, 4),
        ("1\ufe0f\u20e3", 1, 2, 3),
        ("\u2764\ufe0f", 1, 2, 2),
        ("\U0001f44d\U0001f3fd", 1, 2, 4),
        ("\u0915\u094d\u0937\u093f", 1, 4, 4),
        ("\r\n", 1, 2, 2),
        ("", 0, 0, 0),
    ],
)
def test_each_rule_counts_as_its_places_do(text: str, signs: int, wide: int, units: int) -> None:
    assert [perceived_length(text, counted=rule) for rule in (SIGNS, WIDE, UNITS)] == [signs, wide, units]


@pytest.mark.parametrize("rule", COUNTING)
def test_a_link_counts_alike_by_every_rule(rule: str) -> None:
    assert perceived_length("Test https://test.example test", 23, rule) == len("Test  test") + 23


def test_a_post_keeps_to_its_length_as_its_place_counts() -> None:
    base = guide(settings=replace(guide().settings, hashtags=("ツノカメムシ", "カメムシ")))
    lengths = {}
    for rule in COUNTING:
        limit = PostLimit("short", 150, 23, 3, rule)
        settings = replace(base.settings, post_limits=(limit,))
        (text,) = post_view(*published_with(replace(base, settings=settings), base.accounts["red-bug"])).texts
        assert text.length == perceived_length(text.text, 23, rule) <= 150
        lengths[rule] = len(text.text)
    assert lengths[WIDE] < lengths[SIGNS]
