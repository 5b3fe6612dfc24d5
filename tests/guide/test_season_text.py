"""Seasons as people write them."""

import time

import pytest

from guidebuild.guide.problem import Unreadable
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import DEKADS, Season


def span(first: int, last: int) -> frozenset[int]:
    """Dekads from first to last round the circle."""
    return frozenset((first + n) % DEKADS for n in range((last - first) % DEKADS + 1))


def read(text: str, hemisphere: str = "") -> Season:
    season = parse_season(text, hemisphere)
    assert isinstance(season, Season), season
    assert season.typed == text
    return season


JUNE, JULY, MAY = span(15, 17), span(18, 20), span(12, 14)
ALL = frozenset(range(36))

READ = {
    "June": JUNE,
    "mid May – early July": span(13, 18),
    "mid-May to early-July": span(13, 18),
    "Apr–Jun and Aug–Oct": span(9, 17) | span(21, 29),
    "Apr.-Jun., Aug.-Oct.": span(9, 17) | span(21, 29),
    "overwinters October to March": span(27, 8),
    "between May and July": span(12, 20),
    "April, May and June": span(9, 17),
    "all year": ALL,
    "All year round": ALL,
    "all year except January": ALL - span(0, 2),
    "all year, but not in July": ALL - JULY,
    "Nov–Feb": span(30, 5),
    "15 Dec – 10 Jan": span(34, 0),
    "5–20 May": span(12, 13),
    "May 5–20": span(12, 13),
    "May 5 – June 12": span(12, 16),
    "10th of May to 21st of June": span(12, 17),
    "10.V. – 20.VII.": span(12, 19),
    "V–VIII": span(12, 23),
    "2026-05-10/2026-07-05": span(12, 18),
    "2026-05": MAY,
    "--05-10 – --05-31": MAY,
    "early to mid May": span(12, 13),
    "mid- to late May": span(13, 14),
    "early May to mid": span(12, 13),
    "first half of June": span(15, 16),
    "second half of June to August": span(16, 23),
    "end of May – beginning of July": span(14, 18),
    "weeks 20–26": span(13, 18),
    "week 20": span(13, 13),
    "early–mid May": span(12, 13),
    "May 2024 – July 2024": span(12, 20),
    "May–July (peak June) and September": span(12, 20) | span(24, 26),
    "Dec—Feb": span(33, 5),
    "none": frozenset(),
    "never": frozenset(),
}


@pytest.mark.parametrize(("text", "dekads"), READ.items(), ids=READ)
def test_a_season_gives_these_dekads(text: str, dekads: frozenset[int]) -> None:
    assert read(text).dekads == dekads


def test_most_seen_is_kept_apart_from_the_whole() -> None:
    season = read("all year; most seen May–June, August–September")
    assert season.dekads == ALL
    assert season.most_seen == span(12, 17) | span(21, 26)
    assert read("all year, most seen in May").most_seen == MAY
    assert read("May–September, peak in July").most_seen == JULY
    assert read("May–July (peak June) and September").most_seen == JUNE


def test_only_a_peak_is_the_whole_season() -> None:
    season = read("mostly May–July")
    assert (season.dekads, season.most_seen) == (span(12, 20), frozenset())


def test_doubtful_ends_are_marked() -> None:
    season = read("c. mid May – early July")
    assert (season.dekads, season.uncertain) == (span(13, 18), {13})
    season = read("May–August, sometimes to October")
    assert (season.dekads, season.uncertain) == (span(12, 29), span(24, 29))
    season = read("May–August; rarely November")
    assert (season.dekads, season.uncertain) == (span(12, 23) | span(30, 32), span(30, 32))


def test_a_time_left_out_and_then_named_as_doubtful_is_doubtful() -> None:
    season = read("all year except December–February; sometimes February")
    assert (season.dekads, season.uncertain) == (ALL - span(33, 2), span(3, 5))
    assert read("all year; sometimes July; except July").dekads == ALL - JULY


def test_a_season_over_new_year_is_listed_in_january_and_not_in_june() -> None:
    season = read("Nov–Feb")
    assert season.months == {11, 12, 1, 2}
    assert read("15 Dec – 10 Jan").months == {12, 1}
    assert season.runs() == ((30, 5),)


def test_months_are_never_shifted_by_the_hemisphere() -> None:
    assert read("Jun–Sep", "south").months == {6, 7, 8, 9}


def test_season_words_follow_the_hemisphere() -> None:
    assert read("spring", "south").months == {9, 10, 11}
    assert read("spring", "north").months == {3, 4, 5}
    assert read("winter", "north").months == {12, 1, 2}
    assert read("early spring", "north").months == {3}
    assert read("late winter to early summer", "south").months == {8, 9, 10, 11, 12}


def test_a_season_word_without_hemisphere_asks_for_months() -> None:
    assert parse_season("spring") == Unreadable(
        "The season “spring” cannot be read: “spring” means other months north and south of the equator.",
        "Write the months, or give “hemisphere: north” or “hemisphere: south” in guide.yaml.",
        "season-needs-hemisphere",
    )


REFUSED = {
    "": "it names no month",
    "Juen": "“Juen” is not a word for a time of year",
    "May onwards": "one end is open",
    "until October": "a range has no start",
    "May –": "a range has no end",
    "late May to early May": "the range ends before it starts",
    "31 June": "there is no day 31 in that month",
    "5–8": "the number 5 has no month beside it",
    "May–June; most seen in August": "the time it is most seen lies outside the months given",
    "not in May": "it says only when not",
    "mid": "“mid” has no month after it",
    "week 60": "there is no week 60",
    "the rainy season": "“rainy” is not a word for a time of year",
    "13/05": "the number 13 has no month beside it",
}


@pytest.mark.parametrize(("text", "why"), REFUSED.items(), ids=REFUSED)
def test_what_cannot_be_read_says_why(text: str, why: str) -> None:
    problem = parse_season(text)
    assert isinstance(problem, Unreadable)
    assert problem.message == f"The season “{text}” cannot be read: {why}."
    assert problem.mend


def test_a_slip_of_the_pen_gets_the_nearest_word() -> None:
    problem = parse_season("mid Juen")
    assert isinstance(problem, Unreadable)
    assert problem.mend == "Did you mean “June”?"


def test_a_season_as_long_as_a_book_is_refused_at_once() -> None:
    begun = time.process_time()
    told = parse_season("mid June – August; " * 9_000)
    assert isinstance(told, Unreadable)
    assert told.message.endswith("…” cannot be read: it has 171,000 signs, and 1,000 is the most.")
    assert time.process_time() - begun < 1
