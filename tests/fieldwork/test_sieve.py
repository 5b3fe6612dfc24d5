"""The quick look lets everything through that the exact one would find: in texts as typed, and in Markdown once it is read."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from openlocationcode import openlocationcode

from guidebuild.fieldwork.codes_of_places import encode_geohash, encode_locator, encode_quadkey
from guidebuild.fieldwork.leaks import Secrets, leaks_in, secrets_of, secrets_with
from guidebuild.fieldwork.name_finder import NO_NAMES
from guidebuild.fieldwork.sieve import Sieve, make_sieve
from guidebuild.fieldwork.telling_texts import as_shown
from guidebuild.guide.records import Place, Position, Sensitivity
from tests.fieldwork.invented import PLACES, RARE, guide

FAR = {
    "st-ives-marsh": Place("st-ives-marsh", "The Saint's Märsh", "the coast", position=Position(0.4, 0.7), sensitivity=Sensitivity(1)),
    "kookaburra": Place("kookaburra", "Kookaburra", "the bush", position=Position(-33.86, 151.21), sensitivity=Sensitivity(2)),
    "ox": Place("ox", "Ox Lea", position=Position(51.96, -0.99), sensitivity=Sensitivity(4)),
}
HELD = guide(places={**PLACES, **FAR})
SECRETS = (secrets_of(HELD), secrets_with(HELD, RARE))
EVERYTHING = re.compile("")
PIECES = (
    *("weir", "Weir", "pool", "Pool", "WEIR-POOL", "weirpool", "W", "eir", "Po", "ol", "saint’s", "Marsh", "märsh", "ox", "lea", "a"),
    *("51.1278", "-1.2846", "51", "1", "1.28", "51°07'40\"N", "1°17.076'W", "51 59.9 59", "０.４", "٥١.١٢٧٨", "0.40", "0.70"),
    *("SU 5012 3456", "SU", "501", "345", "30U", "WC", "600123", "5664123", "gcph", "gcphu", "9C3W", "4PH8+4X", "+", "0", "5"),
    *("*", "**", "_", "`", "\\", "[", "](account:weir-pool)", "](place:ox)", "](x)", "][1]", "[^1]", "<b>", "</b>", "<br>", "<!-- x -->"),
    *("&amp;", "&#87;", "%57", "\\u0057", "data:text/plain;base64,AAAA", "- ", "1. ", "2) ", "# ", "> ", "| ", "\n|-|-|\n"),
    *(" ", "  ", "\n", "\n\n", ",", ".", ", ", "-", "/", "(", ")", "!", ";"),
)  # fmt: skip
TEXTS = st.lists(st.sampled_from(PIECES), max_size=12).map("".join) | st.lists(st.sampled_from(PIECES), max_size=8).map(" ".join)


def with_open_sieve(secrets: Secrets) -> Secrets:
    """The same secrets with a sieve that holds nothing back."""
    held = replace(secrets)
    object.__setattr__(held, "sieve", Sieve(secrets.sieve.names, EVERYTHING, EVERYTHING, EVERYTHING, EVERYTHING))
    return held


WHOLE = tuple(map(with_open_sieve, SECRETS))


@settings(max_examples=400, deadline=None)  # the projections of all grids are loaded by the first
@given(TEXTS)
@example("٥١.١٢٧٨, -١.٢٨٤٦")
@example("51.1278, -1.2846")
@example("0.4, 0.7")
@example("[there](place:ox)")
def test_nothing_is_missed_in_a_text_as_typed(text: str) -> None:
    for sifted, whole in zip(SECRETS, WHOLE, strict=True):
        assert list(leaks_in(text, sifted)) == list(leaks_in(text, whole))


@pytest.mark.parametrize("secrets", SECRETS)
def test_no_code_of_a_map_is_missed_whatever_its_letters(secrets: Secrets) -> None:
    (whole,) = (held for held in WHOLE if held.places == secrets.places)
    for position, place in secrets.placed:
        plus = openlocationcode.encode(position.latitude, position.longitude)
        codes = (encode_geohash(position, 9), plus, plus[4:], plus[6:], encode_locator(position), encode_quadkey(position, place.step))
        for code in codes:
            assert secrets.sieve.may_tell_unmarked(f"near {code[:3]}**{code[3:]}** there")
            for written in (code, code.lower(), code.upper(), code.title(), code.lower().swapcase().title().swapcase()):
                found = [leak.place for leak in leaks_in(f"near {written} there", secrets)]
                assert place.name in found
                assert found == [leak.place for leak in leaks_in(f"near {written} there", whole)]


@settings(max_examples=200)
@given(TEXTS)
@example("W*ei*r Pool")
@example("W[ei](x)r Pool")
@example("W<b>ei</b>r Pool")
@example("[Weir](x) Pool")
@example("Weir ![a picture](x) Pool")
@example("| Weir *Pool* | b |\n|--|--|\n| c | d |")
@example("51.*1278*, -1.2846")
@example("51.[1278](x), -1.2846")
def test_nothing_is_missed_in_markdown_once_it_is_read(text: str) -> None:
    for sifted, whole in zip(SECRETS, WHOLE, strict=True):
        shown = {leak.place for reading in as_shown(text) for leak in leaks_in(reading, whole)}
        typed = {leak.place for leak in leaks_in(text, whole)}
        assert sifted.sieve.may_tell_unmarked(text) or shown <= typed


@pytest.mark.parametrize(
    "text",
    [
        "A broad-bodied bug of 6–9 mm, on birch from May (Linnaeus, 1758).",
        "The *Parent Bug* guards [her eggs](term:egg) for 14 days.",
        "From 1962 on, in 23 of 48 parishes.",
        "Weirs and pools, 12 × 4 m.",
    ],
)
def test_everyday_texts_are_held_back(text: str) -> None:
    sieve = secrets_of(guide()).sieve
    assert not sieve.names.search(text.casefold())
    assert not sieve.may_hold_spot(text)
    assert not sieve.may_tell_unmarked(text)


def test_a_position_that_is_rounded_over_a_full_degree_is_let_through() -> None:
    alone = secrets_with(guide(places={"ox": FAR["ox"]}), RARE)
    assert [leak.place for leak in leaks_in("52.01, -1.01", alone)] == ["Ox Lea"]


def test_figures_of_any_script_may_be_a_position() -> None:
    sieve = make_sieve(NO_NAMES, (), [Position(51.1278, -1.2846)])
    assert sieve.may_hold_spot("٥١.١٣, -١.٢٨")
    assert not sieve.may_hold_spot("neither hère nor there")
    assert not sieve.may_hold_spot("12 nymphs")


def test_what_only_a_note_tells_is_seen() -> None:
    text = "A note.[^1]\n\n[^1]: The W*ei*r Pool."
    assert any(list(leaks_in(shown, SECRETS[0])) for shown in as_shown(text))
