"""Cutting runs of timed words into cues, and the time each cue is shown. The words are invented."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.speech.chunks import Chunk, Measured, find_chunks
from guidebuild.speech.cues import BROADCAST, DEFAULT_LIMITS, VERTICAL, Limits
from guidebuild.speech.cutting import _cue_cost, _cut, cut_cues
from guidebuild.speech.language import read_language
from guidebuild.speech.runs import TimedChunk
from guidebuild.speech.script import Spoken, join_text
from guidebuild.speech.script_text import read_words

SHORT = Limits("invented", line=10, lines=2, shortest=1.0, longest=4.0)
ENGLISH = read_language()


def run_of(text: str, *, start: float = 0.0, each: float = 0.4) -> tuple[TimedChunk, ...]:
    """Words said one after the other, each in the same time, with the costs that the language gives."""
    return tuple(
        TimedChunk(chunk, start + n * each, start + (n + 1) * each) for n, chunk in enumerate(find_chunks(read_words(text), ENGLISH))
    )


def lines(text: str, limits: Limits = DEFAULT_LIMITS, *, each: float = 0.4) -> list[str]:
    return [cue.text for cue in cut_cues([run_of(text, each=each)], limits)]


TEXTS = st.lists(
    st.sampled_from(["a", "bug,", "on", "the", "leaf.", "nymphs", "Larkfold", "haemorrhoidale", "it", "and"]), min_size=1, max_size=30
)
LIMITS = st.sampled_from([DEFAULT_LIMITS, BROADCAST, VERTICAL, SHORT])


@given(TEXTS, LIMITS, st.sampled_from([0.1, 0.3, 0.8]))
@settings(max_examples=80, deadline=None)
def test_every_word_is_shown_once_in_order_within_the_lines_and_never_over_the_next(words: list[str], limits: Limits, each: float) -> None:
    made = cut_cues([run_of(" ".join(words), each=each)], limits)
    assert " ".join(" ".join(cue.lines) for cue in made).split() == words
    for cue in made:
        assert len(cue.lines) <= limits.lines
        assert all(len(line) <= limits.line or " " not in line for line in cue.lines)
        assert 0 < cue.seconds <= limits.longest + each  # one more word at most: a single word is never cut
    assert all(later.start - earlier.end >= limits.gap - 1e-9 for earlier, later in pairwise(made))
    said = iter(run_of(" ".join(words), each=each))
    for cue in made:
        first, *_, last = [next(said), *(next(said) for _ in range(len(find_chunks(read_words(" ".join(cue.lines)), ENGLISH)) - 1)), None]
        assert first is not None
        assert first.start - 0.5 - 1e-9 <= cue.start <= first.start + limits.lag + 1e-9, last
    assert [cue.number for cue in made] == list(range(1, len(made) + 1))


@given(st.lists(st.integers(1, 9), min_size=1, max_size=7), st.lists(st.sampled_from([0.0, 1.5, 2.5, 5.0, 9.0]), min_size=7, max_size=7))
@settings(max_examples=120, deadline=None)
def test_lines_are_set_in_the_cheapest_way_there_is(sizes: list[int], costs: list[float]) -> None:
    """Against trying every way: half of what a break costs, and twice how uneven the lines are, as a share of the width."""
    measured = Measured([Chunk((Spoken("x" * size),), cost) for size, cost in zip(sizes, costs, strict=False)])
    count, width = len(sizes), 12
    found = measured.rows(0, count, width=width, most=2)
    if measured.width(0, count) <= width:
        assert found == (0.0, (count,))
        return
    ways = []
    for cut in range(1, count):
        upper, lower = measured.width(0, cut), measured.width(cut, count)
        if upper <= width and lower <= width:
            ways.append((costs[cut - 1] / 2 + 2 * abs(upper - lower) / width, cut))
    assert (found is None) == (not ways)
    if found:
        assert found[0] == pytest.approx(min(ways)[0])
        assert found[1][-1] == count


def test_three_lines_are_set_where_three_are_allowed() -> None:
    measured = Measured([Chunk((Spoken("x" * 8),), 2.5) for _ in range(3)])
    assert measured.rows(0, 3, width=10, most=2) is None
    # Two breaks of 2.5 at half their cost; the first line is half a character shorter than the mean of the rest.
    assert measured.rows(0, 3, width=10, most=3) == (pytest.approx(2.6), (1, 2, 3))
    assert measured.rows(0, 3, width=26, most=1) == (0.0, (3,))
    assert measured.rows(0, 3, width=25, most=1) is None
    assert measured.rows(0, 2, width=8, most=2) == (1.25, (1, 2))


def test_widths_and_words_count_what_is_seen() -> None:
    found = find_chunks(read_words("*Aus bus* is c. 6–9 mm long."), ENGLISH)
    measured = Measured(found)
    assert measured.row(0, len(found)) == (Spoken("Aus bus", is_name=True), Spoken(" is c. 6–9 mm long."))
    assert measured.width(0, len(found)) == len("Aus bus is c. 6–9 mm long.")
    assert measured.words(0, len(found)) == 7
    for since, end in combinations(range(len(found) + 1), 2):
        shown = join_text(measured.row(since, end))
        assert (measured.width(since, end), measured.words(since, end)) == (len(shown), len(shown.split()))


@pytest.mark.parametrize(
    ("text", "limits", "shown"),
    [
        # A cue ends with its sentence, and where it must be broken, after a comma.
        ("It is small. It sits on a leaf.", DEFAULT_LIMITS, ["It is small. It sits on a leaf."]),
        (
            "It is small and sits on a green leaf. It stays there until the evening and then it walks to another leaf.",
            DEFAULT_LIMITS,
            ["It is small and sits on a green leaf.", "It stays there until the evening\nand then it walks to another leaf."],
        ),
        ("Look under the leaf, by the stem", SHORT, ["Look under\nthe leaf,", "by the\nstem"]),
        # A name, and a word with the one it leads to, stay on one line where they can.
        ("we met at Larkfold Hedge again and went home", VERTICAL, ["we met at Larkfold Hedge\nagain and went home"]),
    ],
)
def test_cues_and_lines_end_where_a_reader_pauses(text: str, limits: Limits, shown: list[str]) -> None:
    assert lines(text, limits, each=0.5) == shown


def test_a_cue_stays_until_it_is_read_and_until_the_next_where_that_is_near() -> None:
    quick = cut_cues([run_of("Ten.", each=0.2)], DEFAULT_LIMITS)
    assert [(cue.start, cue.end) for cue in quick] == [(0.0, pytest.approx(1.0))]  # a second at least
    near = cut_cues([run_of("One here.", each=1.0), run_of("Two here.", start=2.8, each=1.0)], DEFAULT_LIMITS)
    assert near[0].end == pytest.approx(2.8 - DEFAULT_LIMITS.gap)
    far = cut_cues([run_of("One here.", each=1.0), run_of("Two here.", start=3.2, each=1.0)], DEFAULT_LIMITS)
    assert far[0].end == pytest.approx(2.0)
    later = cut_cues([run_of("One here.", each=1.0), run_of("Two here.", start=3.0, each=1.0)], DEFAULT_LIMITS)
    assert later[0].end == pytest.approx(2.0)  # a gap of a whole second is no flicker


def test_a_cue_too_fast_to_read_comes_a_little_early_and_trails_its_words_a_little() -> None:
    words = "Seventeen strange shieldbugs stand still"  # 40 characters: 2.4 s to read
    alone = cut_cues([run_of(words, start=5.0, each=0.1)], DEFAULT_LIMITS)[0]
    assert alone.start == pytest.approx(4.5)  # half a second before its words at most
    assert alone.end == pytest.approx(6.5)  # and a second after them
    crowded = cut_cues([run_of("Yes.", start=3.6, each=0.4), run_of(words, start=5.0, each=0.1)], DEFAULT_LIMITS)
    assert crowded[1].start >= crowded[0].end + DEFAULT_LIMITS.gap - 1e-9
    first = cut_cues([run_of(words, start=0.2, each=0.1)], DEFAULT_LIMITS)[0]
    assert first.start == pytest.approx(0.0)  # never before the film


def test_a_run_of_more_than_seven_seconds_is_cut() -> None:
    slow = cut_cues([run_of("one two three four five six", each=2.0)], DEFAULT_LIMITS)
    assert len(slow) > 1
    assert max(cue.seconds for cue in slow) <= DEFAULT_LIMITS.longest


def test_of_lines_that_are_as_good_the_upper_is_the_shorter() -> None:
    """Common practice, no source."""
    measured = Measured([Chunk((Spoken("x" * 4),), 5.0) for _ in range(3)])
    assert measured.rows(0, 3, width=10, most=2) == (pytest.approx(2.5 + 2 * 5 / 10), (1, 3))


THREE = (
    "A small bug sits upon a leaf. It stays upon the upper side of it until the sun goes down behind the hedge again. Then it walks away."
)


def test_three_sentences_that_two_cues_could_hold_are_three_cues() -> None:
    assert [" ".join(cue.lines) for cue in cut_cues([run_of(THREE)], DEFAULT_LIMITS)] == [f"{part}." for part in THREE[:-1].split(". ")]


def test_short_quick_sentences_share_a_cue_so_that_they_can_be_read() -> None:
    """Said in a second and a half, three cues of a second each would trail far behind."""
    quick = cut_cues([run_of("Look here. Not there. Up here.", each=0.25)], DEFAULT_LIMITS)
    assert [cue.text for cue in quick] == ["Look here. Not there. Up here."]
    slow = cut_cues([run_of("Look here. Not there. Up here.", each=3.0)], DEFAULT_LIMITS)
    assert [cue.text for cue in slow] == ["Look here.", "Not there.", "Up here."]


def test_a_made_cue_stands_on_no_line_of_a_file() -> None:
    assert {cue.line for cue in cut_cues([run_of(THREE)], DEFAULT_LIMITS)} == {0}


@given(
    st.lists(st.tuples(st.integers(1, 10), st.sampled_from([0.0, 1.0, 1.5, 2.5, 5.0, 9.0])), min_size=1, max_size=8),
    st.sampled_from([0.05, 0.4, 1.5]),
)
@settings(max_examples=150, deadline=None)
def test_a_run_is_cut_in_the_cheapest_way_there_is(pieces: list[tuple[int, float]], each: float) -> None:
    """Against trying every way to part it: what each cue costs, and what setting its lines does."""
    run = tuple(TimedChunk(Chunk((Spoken("x" * size),), cost), n * each, (n + 1) * each) for n, (size, cost) in enumerate(pieces))
    measured, count = Measured([timed.chunk for timed in run]), len(run)

    def cost(ends: tuple[int, ...]) -> float:
        fitted = [measured.rows(since, end, width=SHORT.line, most=SHORT.lines) for since, end in pairwise((0, *ends))]
        if None in fitted:
            return float("inf")
        cues = (_cue_cost(run, measured, since, end, SHORT) for since, end in pairwise((0, *ends)))
        return sum(cues) + sum(rows[0] for rows in fitted if rows)

    ways = [(*inner, count) for size in range(count) for inner in combinations(range(1, count), size)]
    cut, at = [], 0
    for cue in _cut(run, SHORT):
        at += "".join(cue.lines).count(" ") + len(cue.lines)
        cut.append(at)
    assert cost(tuple(cut)) == pytest.approx(min(map(cost, ways)))


def test_a_cue_may_fill_all_its_lines_to_the_last_character() -> None:
    full = tuple(TimedChunk(Chunk((Spoken("x" * 10),), cost), n, n + 1.0) for n, cost in enumerate((9.0, 0.0)))
    assert [cue.lines for cue in _cut(full, SHORT)] == [("x" * 10, "x" * 10)]


EASY = Limits("invented", line=42, lines=2, speed=10.0, shortest=1.0, longest=4.0, gap=0.1, close=0.5, lag=1.0)


def cost_of_cue(*said: tuple[str, float, float, float], of: int = 0) -> float:
    """What a cue costs of the first `of` pieces (all, if none is said): words, what a break after them costs, start and end."""
    run = tuple(TimedChunk(Chunk((Spoken(words),), cost), start, end) for words, cost, start, end in said)
    return _cue_cost(run, Measured([timed.chunk for timed in run]), 0, of or len(run), EASY)


# The figures are our own; each is what its reason adds to the least cost of a cue, 2.
def test_a_cue_costs_by_its_length_its_speed_and_where_it_ends() -> None:
    assert cost_of_cue(("bug", 0.0, 0.0, 1.0)) == pytest.approx(2.0)
    assert cost_of_cue(("bug", 5.0, 0.0, 4.0)) == pytest.approx(7.0)  # it ends between two words
    assert cost_of_cue(("bug", 0.0, 0.0, 4.5)) == pytest.approx(2 + 40 * 0.5)  # half a second longer than the longest
    assert cost_of_cue(("bug", 0.0, 0.0, 0.7)) == pytest.approx(2 + 4 * 0.3)  # shorter than the shortest, but read in the pause
    # 30 letters take 3 s to read: 2 s until its end and half a second of pause.
    assert cost_of_cue(("x" * 30, 0.0, 0.0, 2.0)) == pytest.approx(2 + 3 * 0.5)
    # The pause before the next words is there to be read in, whatever it is.
    assert cost_of_cue(("x" * 30, 0.0, 0.0, 2.0), ("y", 0.0, 3.0, 4.0), of=1) == pytest.approx(2.0)
    assert cost_of_cue(("x" * 30, 0.0, 0.0, 2.0), ("y", 0.0, 2.1, 4.0), of=1) == pytest.approx(2 + 3 * 0.9)
    # A sentence's end inside, two of them, and one whose second sentence is torn.
    assert cost_of_cue(("a", 0.0, 0.0, 1.0), ("b", 0.0, 1.0, 2.0)) == pytest.approx(2 + 1.5)
    assert cost_of_cue(("a", 0.0, 0.0, 1.0), ("b", 0.0, 1.0, 2.0), ("c", 0.0, 2.0, 3.0)) == pytest.approx(2 + 3.0)
    assert cost_of_cue(("a", 0.0, 0.0, 1.0), ("b", 1.5, 1.0, 2.0)) == pytest.approx(2 + 1.5 + 1.5)  # after a comma it is not torn
    assert cost_of_cue(("a", 0.0, 0.0, 1.0), ("b", 2.5, 1.0, 2.0)) == pytest.approx(2 + 2.5 + 1.5 + 4.0)
    assert cost_of_cue(("a", 2.5, 0.0, 1.0), ("b", 2.5, 1.0, 2.0)) == pytest.approx(2 + 2.5)


def shown(*runs: tuple[TimedChunk, ...], limits: Limits = EASY) -> list[tuple[float, float]]:
    return [(pytest.approx(cue.start), pytest.approx(cue.end)) for cue in cut_cues(runs, limits)]


def test_how_far_a_cue_trails_its_words_depends_on_how_long_the_next_is() -> None:
    """Twenty letters take 2 s and are said in one; the next word is said in 0.4 s and has to be shown for one."""
    fast, short = run_of("abcdefghijabcdefghij", start=5.0, each=1.0), run_of("Yes.", start=6.0, each=0.4)
    # From half a second early until 0.4 s late, less the gap: then the next has its second, one after its words at most.
    assert shown(fast, short) == [(4.5, 6.3), (6.4, 7.4)]
    # Where the next may hardly trail, the first trails not at all.
    assert shown(fast, short, limits=replace(EASY, lag=0.2)) == [(4.5, 5.9), (6.0, 6.9)]
    long = run_of("Yes.", start=6.0, each=2.0)
    assert shown(fast, long)[0] == (4.5, 6.5)  # as long as it takes to read
    assert shown(fast, long, limits=replace(EASY, lag=0.3))[0] == (4.5, 6.2)  # 0.3 s late, less the gap


def test_a_cue_comes_early_only_after_the_one_before_it() -> None:
    near = run_of("No.", start=3.0, each=1.8)
    fast = run_of("abcdefghijabcdefghij", start=5.0, each=1.0)
    assert shown(run_of("So.", start=0.5, each=1.0), near, fast)[2] == (4.9, 6.9)
    assert shown(run_of("So.", start=0.5, each=1.0), fast)[1] == (4.5, 6.5)
    assert shown(run_of("abcdefghijabcdefghij", start=0.2, each=1.9)) == [(0.2, 2.2)]  # there is time enough after it


def test_a_cue_that_the_next_leaves_no_time_is_still_shown_for_a_millisecond() -> None:
    crowded = replace(EASY, lag=0.0)
    assert shown(run_of("So.", each=0.05), run_of("No.", start=0.05, each=1.0), limits=crowded)[0] == (0.0, 0.001)
