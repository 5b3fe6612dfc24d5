"""Names of any letters in any text: found where they stand, nothing where they do not, never a crash."""

from __future__ import annotations

import os
import pickle

from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.hidden_words import read_bytes
from guidebuild.fieldwork.leaks import Secret, Secrets, leaks_in, names_in_bytes
from guidebuild.fieldwork.letters import letters_of, placed_letters
from guidebuild.fieldwork.name_finder import make_finder

EXAMPLES = int(os.environ.get("GUIDEBUILD_EXAMPLES", "60"))
"""Set it higher for a long run."""
LONG = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))

LETTERS = st.characters(categories=("Lu", "Ll", "Lt", "Lo"))
WORDS = st.text(LETTERS, min_size=2, max_size=8) | st.text("abcdefghijklmnopqrstuvwxyzéüßœ", min_size=2, max_size=9)
NAMES = st.lists(WORDS, min_size=1, max_size=4).map(" ".join)
SIGNS = st.characters(categories=("Zs", "Cf", "Po", "Pd", "Ps", "Pe", "Sm", "Sc"), exclude_characters="<>&%\\\u0640")
TEXTS = st.text(max_size=200) | st.lists(
    st.sampled_from(("weir", "pool", "a", "<b>", "&amp;", "%20", "\\u", "\\x41", "\n", "-", "1")) | WORDS
).map(" ".join)


def secrets(*names: str) -> Secrets:
    return Secrets(tuple(Secret(f"p{number}", name, (name,), None, 1.0) for number, name in enumerate(names)), ())


@LONG
@example("Weir Pool", "™", "", "")
@given(NAMES, st.text(SIGNS, min_size=1, max_size=6), TEXTS, TEXTS)
def test_a_name_is_found_wherever_it_stands_and_however_its_words_are_joined(name: str, joint: str, before: str, after: str) -> None:
    assume(all(letters_of(word) for word in name.split()) and not letters_of(joint))
    written = name.replace(" ", joint)
    assert list(leaks_in(f"{before}\n{written}\n{after}", secrets(name)))


@LONG
@given(NAMES)
def test_capitals_and_small_letters_are_the_same_name(name: str) -> None:
    assume(all(letters_of(word) for word in name.split()))
    for written in (name.upper(), name.lower(), name.title(), name.casefold()):
        assume(letters_of(written) == letters_of(name))
        assert list(leaks_in(f"({written})", secrets(name)))


@LONG
@given(st.lists(NAMES, min_size=1, max_size=4), TEXTS)
def test_only_what_stands_there_is_found(names: list[str], text: str) -> None:
    finder = make_finder(tuple(enumerate(names)))
    found = list(finder.find(text))
    assert not found or finder.search(text)
    assert found == list(pickle.loads(pickle.dumps(finder)).find(text))
    for _, start, end in found:
        assert 0 <= start < end <= len(text)
        assert letters_of(text[start:end])


@LONG
@given(st.text(max_size=300))
def test_the_letters_of_a_text_are_those_of_its_characters(text: str) -> None:
    letters, places = placed_letters(text)
    assert letters == letters_of(text)
    assert len(letters) == len(places)
    assert places == sorted(places)


@LONG
@given(st.binary(max_size=2000), st.binary(max_size=2000), st.sampled_from(("utf-8", "utf-16-le", "utf-16-be")))
def test_a_name_among_any_bytes_is_found_and_bytes_never_crash(before: bytes, after: bytes, encoding: str) -> None:
    assert isinstance(read_bytes(before), str)
    held = before + b"\x00\x00\x00\x00" + "Brackenwick Weir".encode(encoding) + b"\x00\x00\x00\x00" + after
    assert list(names_in_bytes(held, secrets("Brackenwick Weir")))
