"""Names on a map hide neither dots nor one another, nor the flag of a meeting point. All spots are invented."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from guidebuild.views.pieces.map_labels import Label, place_labels

SIZE = (300.0, 260.0)
SPOTS = st.tuples(st.floats(10, 290), st.floats(10, 250))


def box_of(label: Label, name: str) -> tuple[float, float, float, float]:
    """The room of a name, in letters of half an em as the face has them on average, reckoned apart from the tool's own boxes."""
    long = len(name) * 5.2
    left = {"start": label.x, "end": label.x - long, "middle": label.x - long / 2}[label.anchor]
    return left, label.y - 8, left + long, label.y


def overlap(one: tuple[float, float, float, float], two: tuple[float, float, float, float]) -> bool:
    return one[0] < two[2] and one[2] > two[0] and one[1] < two[3] and one[3] > two[1]


def test_a_name_gives_way_to_the_flag_of_the_meeting_point() -> None:
    flag = (162.0, 90.0, 178.0, 106.0)
    free, beside = (place_labels([(150, 100)], ["The Long Hedge"], SIZE, 11, taken)[0] for taken in ((), (flag,)))
    assert free is not None and free.anchor == "start"
    assert beside is not None and beside.anchor == "end"
    assert not overlap(box_of(beside, "The Long Hedge"), flag)


@given(st.lists(SPOTS, min_size=1, max_size=8))
def test_no_name_hides_another(spots: list[tuple[float, float]]) -> None:
    names = ["North Bank" if number % 2 else "" for number in range(len(spots))]
    labels = place_labels(spots, names, SIZE)
    assert [label for label, name in zip(labels, names, strict=True) if label and not name] == []
    boxes = [box_of(label, name) for label, name in zip(labels, names, strict=True) if label]
    assert not [(one, two) for n, one in enumerate(boxes) for two in boxes[:n] if overlap(one, two)]
