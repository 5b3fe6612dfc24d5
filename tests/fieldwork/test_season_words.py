"""Seasons back into words and bars."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.season_words import PLAIN, dated_words, month_letters, text_bar, typed_words
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import DEKADS, Season
from tests.fieldwork.invented import season

WORDS = {
    "mid May to early Jul": "mid May – early July",
    "Apr-Jun and Aug-Oct": "April–June and August–October",
    "all year most seen May-June, August to September": "all year; most seen in May–June and August–September",
    "Nov–Feb": "November–February",
    "15 Dec – 10 Jan": "mid December – early January",
    "May–Aug, sometimes to October": "May–August; sometimes September–October",
    "none": "none",
    "1–20 May": "early to mid May",
    "all year except mid May": "all year except mid May",
    "June": "June",
    "January – early December, late December; sometimes mid December": "January – early December and late December; sometimes mid December",
}


@pytest.mark.parametrize(("typed", "words"), WORDS.items(), ids=WORDS)
def test_a_season_in_words(typed: str, words: str) -> None:
    assert typed_words(season(typed)) == words


dekads = st.frozensets(st.integers(0, DEKADS - 1), max_size=DEKADS)
ALL = frozenset(range(DEKADS))


@example(present=ALL, peak=frozenset(), doubt=frozenset({34}))  # certain but for one dekad inside a month, and that in doubt
@example(present=ALL, peak=ALL, doubt=frozenset({34}))
@example(present=frozenset({34}), peak=frozenset(), doubt=ALL - {34})
@example(present=ALL - {34}, peak=ALL - {34}, doubt=frozenset())
@example(present=ALL - {17}, peak=ALL - {17}, doubt=frozenset({5}))
@given(dekads, dekads, dekads)
@settings(max_examples=300, deadline=None)
def test_words_read_again_give_the_same_season(present: frozenset[int], peak: frozenset[int], doubt: frozenset[int]) -> None:
    held = Season("", present | doubt, peak & (present | doubt) if present - doubt else frozenset(), doubt)
    again = parse_season(typed_words(held))
    assert isinstance(again, Season), again
    assert (again.dekads, again.most_seen, again.uncertain) == (held.dekads, held.most_seen, held.uncertain)


DATED = {
    "es": "11 may – 10 jul", "en": "May 11 – Jul 10", "de": "11. Mai – 10. Juli", "fr": "11 mai – 10 juil.", "cy": "11 Mai – 10 Gorff",
    "ja": "5月11日 – 7月10日",
}  # fmt: skip


@pytest.mark.parametrize(("language", "words"), DATED.items(), ids=DATED)
def test_dates_of_a_season_in_any_language(language: str, words: str) -> None:
    assert dated_words(season("mid May – early July"), language) == words


def test_whole_months_keep_their_names() -> None:
    assert dated_words(season("April–June and August"), "es") == "abril – junio y agosto"


def test_the_bar_reads_without_colour() -> None:
    bar = text_bar(season("May–July; most seen in June; sometimes August"), PLAIN)
    assert bar == "............oooo##########"[:12] + "ooo###ooo---............"
    assert len(text_bar(season("all year"))) == DEKADS


def test_month_letters_stand_over_their_dekads() -> None:
    assert month_letters("en") == "J  F  M  A  M  J  J  A  S  O  N  D"
    assert text_bar(season("Nov–Feb")) == "▄▄▄▄▄▄························▄▄▄▄▄▄"
    assert month_letters("en").index("N") == text_bar(season("Nov")).index("▄")
    assert month_letters("en", 6) == "J  A  S  O  N  D  J  F  M  A  M  J"
    assert month_letters("en", 6).index("N") == text_bar(season("Nov"), first=18).index("▄")
    assert month_letters("es").startswith("E  F  M")  # Unicode CLDR, narrow months of es
