"""Ranges as bit sets agree with looking at each range by itself, on the margin and just beside it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.identify.ranges import RangeSets
from guidebuild.identify.splits import find_roundest

TENTHS = st.integers(0, 60).map(lambda n: n / 10)
BOUNDS = st.lists(st.one_of(st.none(), st.tuples(TENTHS, TENTHS).map(lambda ends: (min(ends), max(ends)))), max_size=8)
MARGINS = st.sampled_from([0.0, 0.1, 0.5, 1.0])
NEAR = 1e-6  # tenths are not exact in the machine


def bits(places: list[int]) -> int:
    return sum(1 << place for place in places)


@given(BOUNDS, st.tuples(TENTHS, TENTHS).map(lambda ends: (min(ends), max(ends))), MARGINS)
@settings(max_examples=300, deadline=None)
def test_apart_is_a_gap_of_at_least_the_margin(bounds: list, one: tuple[float, float], margin: float) -> None:
    gaps = {place: max(one[0] - b[1], b[0] - one[1]) for place, b in enumerate(bounds) if b}
    wanted = bits([place for place, gap in gaps.items() if gap > 0 and gap >= margin - NEAR])
    assert RangeSets(bounds).apart_from(one, margin) == wanted


@given(BOUNDS, TENTHS, MARGINS)
@settings(max_examples=300, deadline=None)
def test_a_taxon_goes_along_each_side_it_may_be_measured_on(bounds: list, cut: float, margin: float) -> None:
    known = {place: b for place, b in enumerate(bounds) if b}
    ranges = RangeSets(bounds)
    if margin:
        # A measurement may be half the margin wrong: on the very edge it is taken to be right.
        under = [p for p, (low, _) in known.items() if low < cut + margin / 2 - NEAR]
        reaching = [p for p, (_, high) in known.items() if high > cut - margin / 2 + NEAR]
    else:
        under, reaching = [p for p, (low, _) in known.items() if low < cut], [p for p, (_, high) in known.items() if high >= cut]
    assert (ranges.under(cut, margin), ranges.reaching(cut, margin)) == (bits(under), bits(reaching))
    assert ranges.under(cut, margin) | ranges.reaching(cut, margin) == ranges.everyone == bits(list(known))


@given(BOUNDS, MARGINS)
@settings(max_examples=200, deadline=None)
def test_gaps_are_where_a_range_starts_beyond_the_last_end(bounds: list, margin: float) -> None:
    known = [b for b in bounds if b]
    wanted = []
    for low in sorted({b[0] for b in known}):
        ended = [b[1] for b in known if b[1] < low and low - b[1] >= margin - NEAR]
        wanted += [(max(ended), low)] if ended else []
    assert RangeSets(bounds).gaps(margin) == wanted


@given(st.integers(0, 40_000), st.integers(1, 4000))
@settings(max_examples=300, deadline=None)
def test_the_roundest_limit_lies_between_and_none_shorter_does(low: int, width: int) -> None:
    below, above = low / 100, (low + width) / 100
    found = find_roundest(below, above)
    assert below < found <= above
    for digits in range(-2, 3):
        step = 10.0**-digits
        between = [n * step for n in range(int(below // step), int(above // step) + 2) if below + NEAR < n * step <= above + NEAR]
        if between:  # the first number of digits that reaches into the gap
            assert abs(found / step - round(found / step)) < NEAR
            middle = (below + above) / 2
            assert abs(found - middle) <= min(abs(n - middle) for n in between) + step / 2 + NEAR
            break


def test_a_limit_is_easy_to_read_off() -> None:
    assert find_roundest(9.2, 11.7) == 10
    assert find_roundest(6.1, 6.9) == 6.5
    assert find_roundest(90, 190) == 100
    assert find_roundest(8, 9) == 9  # the end itself: 9 mm or more
    assert find_roundest(6.04, 6.06) == 6.05
    assert find_roundest(7, 7) == 7
