"""Paragraphs and items of a text as they are read aloud, with their lines."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.guide.text.blocks import Block, read_blocks, read_from_tree, split_names

PIECES = st.sampled_from(
    ("It sits.", "*Aus bus*", "*Look!*", "a bug", "[bug](account:x)", "![a](photo:b)", "(*A. b*)", "2*3*4", "5 * 3", "*a", "a*b*c", "Yes!",
     "\n", "\n\n", "6–9 mm", "*Aus* *bus*", "**b**", "~x~", "- ", "1. ", "_u_", "a_b", "<c. 5 mm", "[pause 2 s]", "*Aus\nbus*",
     "* x", "*,*", "'*a*'")
)  # fmt: skip


@settings(deadline=None, max_examples=300)
@given(st.lists(PIECES, max_size=12))
def test_what_everyday_patterns_find_is_what_the_reader_finds(pieces: list[str]) -> None:
    text = " ".join(pieces)
    shown = [(" ".join(block.text.split())) for block in read_blocks(text)]
    assert shown == [" ".join(block.text.split()) for block in read_from_tree(text)]


@pytest.mark.parametrize(
    ("text", "blocks"),
    [
        ("One\ntwo.\n\nThree.", [("One\ntwo.", 0), ("Three.", 3)]),
        ("# Head\n\nHead *Aus bus*.\n\n> quoted", [("Head *Aus bus*.", 2), ("quoted", 4)]),
        ("- one\n- two\n    - three", [("one", 0), ("two", 1), ("three", 2)]),
        ("See [a][b].\n\n[b]: account:x\n\nEnd.", [("See a.", 0), ("End.", 4)]),
        ("| a | b |\n|---|---|\n| 1 | 2 |\n\nAfter.", [("After.", 4)]),
        ("**Bold** _Aus bus_ `code`", [("Bold *Aus bus* code", 0)]),
        ("<!-- mine -->\nSaid.", [("Said.", 1)]),
        ("See ![a](photo:b)\n![c](photo:d)\nit.", [("See\n\nit.", 0)]),
    ],
)
def test_blocks_know_their_lines(text: str, blocks: list[tuple[str, int]]) -> None:
    read = [Block("\n".join(row.strip() for row in block.text.split("\n")), block.line) for block in read_blocks(text)]
    assert [(block.text, block.line) for block in read] == blocks


def test_signs_of_sums_are_no_names() -> None:
    assert [piece for piece, is_name in split_names("*Aus bus* is 2*3*4, 5 * 3 and 6 * 7.") if is_name] == ["Aus bus"]
