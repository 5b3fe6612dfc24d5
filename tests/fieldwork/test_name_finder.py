"""Where a name begins and ends in a text, what its words may be parted by, and in which order names are found. The names are invented."""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.letters import letters_of
from guidebuild.fieldwork.name_finder import make_finder, read_deeply


def found_in(text: str, *names: str) -> list[str]:
    """The words that are taken for one of the names."""
    return [text[start:end] for _, start, end in make_finder(tuple(enumerate(names))).find(text)]


def test_names_come_as_they_stand_in_the_text_and_of_those_at_one_place_the_longest_first() -> None:
    finder = make_finder(((0, "Weir Pool"), (0, "Weir"), (1, "Weir"), (2, "Alder Gate")))
    text = "By Alder Gate, at the Weir Pool, over Alder Gate"
    assert [(holder, text[start:end]) for holder, start, end in finder.find(text)] == [
        (2, "Alder Gate"),
        (0, "Weir Pool"),
        (0, "Weir"),
        (1, "Weir"),
        (2, "Alder Gate"),
    ]
    assert list(make_finder(()).find(text)) == []
    assert found_in("Weir Pool Lane", "Weir Pool", "Pool Lane") == ["Weir Pool", "Pool Lane"]


@pytest.mark.parametrize("text", ["weir", "a weir.", "x Weir", "xWeir", "2weir", "a 12weir", "柳weir", "_weir", "page2 weir"])
def test_a_name_begins_behind_a_sign_a_figure_or_at_a_capital(text: str) -> None:
    assert [word.lower() for word in found_in(text, "Weir")] == ["weir"]


def test_figures_touch_no_name_that_may_be_a_number_to_the_base_of_sixteen() -> None:
    assert found_in("1cafe2", "Cafe") == found_in("12cafe", "Cafe") == []
    assert found_in("12beck", "Beck") == ["beck"]
    assert found_in("12kade", "Kade") == ["kade"]


@pytest.mark.parametrize("text", ["xweir", "XWeir", "XWEIR", "a2weir", "A12Weir", "éweir", "ж12weir"])
def test_a_name_begins_in_no_word(text: str) -> None:
    assert found_in(text, "Weir") == []


@pytest.mark.parametrize(
    "text",
    ["weir", "Weir.", "weirX", "weir2", "weir22 a", "weir2_", "weirs", "weir's", "Weir’s", "weires", "WEIRS", "weirs_b", "weir柳", "weir٣"],
)
def test_a_name_ends_before_a_sign_a_figure_a_capital_or_as_a_plural(text: str) -> None:
    assert [word.lower() for word in found_in(text, "Weir")] == ["weir"]


@pytest.mark.parametrize("text", ["weirx", "WEIRX", "weir2a", "weir22a", "weir2柳", "weirsx", "weirs2x", "weirese", "weiré"])
def test_a_name_ends_in_no_word(text: str) -> None:
    assert found_in(text, "Weir") == []


def test_a_figure_is_part_of_no_longer_one() -> None:
    for text in ("17 Acre", "x7 Acre"):
        assert found_in(text, "7 Acre") == []
    for text in ("Plot 77", "Plot 7a"):
        assert found_in(text, "Plot 7") == []
    assert found_in("Plot 7, 7 Acre", "Plot 7", "7 Acre") == ["Plot 7", "7 Acre"]


def test_letters_that_are_also_figures_to_the_base_of_sixteen_touch_no_figure() -> None:
    for text in ("1cafe", "cafe1", "9cafe2", "#0cafe0", "cafe1 and so on", "a 1cafe is"):
        assert found_in(text, "Cafe") == []
    assert found_in("cafe", "Cafe") == ["cafe"]
    assert found_in("the Cafe 2", "Cafe") == ["Cafe"]
    assert found_in("deed2", "Deed", "Deeds") == []
    assert found_in("weir2", "Weir") == ["weir"]
    assert found_in("caféa2", "Caféa") == ["caféa"]  # no figure has an accent


def test_a_letter_that_stands_for_two_is_not_cut() -> None:
    assert found_in("ßand", "Sand") == []
    assert found_in("in der ßand", "Sand") == []
    assert found_in("Groß", "Gros") == []
    assert found_in("Groß.", "Gros", "Gross") == ["Groß"]
    assert found_in("ß", "SS") == ["ß"]
    assert found_in("die Straße", "Strasse") == ["Straße"]


@pytest.mark.parametrize(
    "text", ["W e i r", "W.e.i.r", "W  e  i  r", "W-e-i-r", "W <b>e</b> i r", "We-\nir", "W\u00adeir", "We\r\n ir", "W**e**ir"]
)
def test_a_word_may_be_spaced_cut_at_the_end_of_a_line_or_marked(text: str) -> None:
    assert found_in(text, "Weir") == [text]


@pytest.mark.parametrize("text", ["We ir", "W   e   i   r", "W e  i r", "We\nir", "W, e, ir", "Wei r"])
def test_two_words_of_a_text_are_not_one_of_a_name(text: str) -> None:
    assert found_in(text, "Weir") == []


def test_three_letters_that_stand_apart_may_be_letters_of_a_list() -> None:
    assert found_in("F e n", "Fen") == []
    assert found_in("F e n s", "Fens") == ["F e n s"]
    assert found_in("G r o ß", "Groß") == ["G r o ß"]
    assert found_in("the W e i r P o o l", "Weir Pool") == ["W e i r P o o l"]


def test_letters_of_scripts_without_borders_may_stand_apart() -> None:
    assert found_in("柳の 角の 池で", "柳の角の池") == ["柳の 角の 池"]
    assert found_in("die T 字 entlang", "T字") == ["T 字"]


def test_tags_are_looked_through_and_into() -> None:
    assert found_in('<a title="Weir Pool">', "Weir Pool") == ["Weir Pool"]
    assert found_in("W<b>ei</b>r P<i>oo</i>l and 3 < 4", "Weir Pool") == ["W<b>ei</b>r P<i>oo</i>l"]
    assert found_in("5 <Weir Pool", "Weir Pool") == ["Weir Pool"]
    assert make_finder(((0, "Weir Pool"),)).search("the W<b>ei</b>r P<i>oo</i>l")
    assert not make_finder(((0, "Weir Pool"),)).search("the <b>pool</b> at the <i>weir</i>")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("Weir&nbsp;Pool", "Weir\xa0Pool"),
        ("Weir%20Pool", "Weir Pool"),
        (r"\x57eir", "Weir"),
        (r"\u{57}eir\nPool", "Weir Pool"),
        (r"\u{00057}eir", "Weir"),
        (r"\tWeir\vPool", " Weir Pool"),
    ],
)
def test_what_was_escaped_twice_is_read_as_well(text: str, read: str) -> None:
    assert read in list(read_deeply(text))


def test_a_text_without_escapes_is_read_once() -> None:
    assert list(read_deeply("Weir Pool")) == ["Weir Pool"]


def test_no_unseen_or_decorative_sign_is_a_letter() -> None:
    assert letters_of("".join(map(chr, range(128)))) == b"0123456789" + b"abcdefghijklmnopqrstuvwxyz" * 2
    assert letters_of("一ア") == "一ア".encode()
    assert letters_of("Ⓦeir™ Pool℠ ㏂") == b"weirpool"
