"""Links of a text: every way to write one, with its line and column."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from guidebuild.guide.findings import At
from guidebuild.guide.text import links
from guidebuild.guide.text.links import Link, links_in

START = At("accounts/toad.md", 10)
CASES = (
    ("See [the frog](account:frog).", [("account", "frog", "the frog", False, 10, 5)]),
    ("One\n[a](term:x) [b](plant:y)", [("term", "x", "a", False, 11, 1), ("plant", "y", "b", False, 11, 13)]),
    ("![alt](photo:p1)", [("photo", "p1", "alt", True, 10, 1)]),
    (
        "See [the frog][f] and [f].\n\n[f]: account:frog",
        [("account", "frog", "the frog", False, 10, 5), ("account", "frog", "f", False, 10, 23)],
    ),
    ("[the *big* frog](<account:Rana temporaria>)", [("account", "Rana temporaria", "the big frog", False, 10, 1)]),
    ("`[no](account:x)` but [yes](account:y)", [("account", "y", "yes", False, 10, 23)]),
    (r"\[no](account:x)", []),
    ("a[^1] b\n\n[^1]: See [it](account:z).", [("account", "z", "it", False, 12, 11)]),
    ("| a |\n|---|\n| [x](account:q) |", [("account", "q", "x", False, 12, 3)]),
    (
        "[out](https://example.org/a) [file](map.pdf)",
        [("", "https://example.org/a", "out", False, 10, 1), ("", "map.pdf", "file", False, 10, 30)],
    ),
    ("- one\n  - [two](walk:june)", [("walk", "june", "two", False, 11, 5)]),
    ("[a](account:b)[c](account:d)", [("account", "b", "a", False, 10, 1), ("account", "d", "c", False, 10, 15)]),
    ("[not one] [yes](account:b)", [("account", "b", "yes", False, 10, 11)]),
    ('[x](account:y "a title")', [("account", "y", "x", False, 10, 1)]),
    ("<div>\n[x](account:y)\n</div>", [("account", "y", "x", False, 11, 1)]),
)


@pytest.mark.parametrize(("text", "wanted"), CASES)
def test_a_link_is_found_where_it_stands(text: str, wanted: list[tuple[str, str, str, bool, int, int]]) -> None:
    found = [(x.kind, x.target, x.words, x.picture, x.at.line, x.at.column) for x in links_in(text, START)]
    assert found == wanted


PIECES = st.sampled_from(  # what may stand beside links
    ["[a](account:b)", "![c d](photo:e-f)", "[g](map.pdf)", "[h]", "(i)", "*j*", "**k**", "_l_", "\n", "\n\n", " ", "- ", "1. ",
     ">", "#", "m", ".", "[n *o*](term:p)", "[q](account:r_s)", "5*6", "!"]
)  # fmt: skip


@given(st.lists(PIECES, max_size=14).map("".join))
def test_the_quick_look_at_everyday_links_finds_what_the_reader_finds(text: str) -> None:
    assume("**" not in text)  # the library loses what follows stars of one emphasis inside another: only the reader's column is off
    quick = list(links_in(text, START))
    usual, links._MAY_CHANGE = links._MAY_CHANGE, ("",)
    try:
        read = list(links_in(text, START))
    finally:
        links._MAY_CHANGE = usual
    assert [_bare(x) for x in quick] == [_bare(x) for x in read]


def _bare(link: Link) -> tuple[str, str, str, bool, At]:
    return link.kind, link.target, " ".join(link.words.split()), link.picture, link.at
