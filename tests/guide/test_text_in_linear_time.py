"""Texts made to explode: twice as long takes about twice as long, and what is no mark stays as it was typed."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

from guidebuild.guide.text.plain_text import write_plain
from guidebuild.guide.text.reader import read_tree
from guidebuild.guide.text.sentences import split_sentences
from guidebuild.guide.text.typed_signs import find_overfull, hide_unpaired, show_signs

PIECES = [
    *("![", "`", "[", "<", "<a ", "[a](", "[a][", "<http://", "[^1]: ", "[^1] ", "=\n", "a\n=\n", "\n- ", "#", "#a\n", "``a`"),
    *("[a [", "(a](", "[a]:\n", "1986. a\n", ">5\n", "5*", "*a*", "\\*", "&amp;", "<!--", "<b ", "**a", "`a` ", "[a](b) "),
    *("![a](b) ", "- ", "> ", "a|b\n-|-\n"),
]
LENGTH = 12_000


def read(text: str) -> str:
    return read_tree(text).html(lambda root: None)


def seconds(work: Callable[[str], object], text: str) -> float:
    start = time.process_time()
    work(text)
    return time.process_time() - start


@pytest.mark.parametrize("work", [read, write_plain], ids=["html", "words"])
@pytest.mark.parametrize("piece", PIECES)
def test_twice_as_long_takes_no_four_times_as_long(piece: str, work: Callable[[str], object]) -> None:
    text = piece * (4 * LENGTH // len(piece))
    # Wide bounds and three tries, for a busy machine: what grows with the square takes sixteen times as long for four times the length.
    assert any(seconds(work, text) < 8 * seconds(work, text[:LENGTH]) + 0.5 for _ in range(3))


def test_sentences_are_cut_in_linear_time() -> None:
    assert seconds(split_sentences, ".!" * 40_000) < 1


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("a [b [c](d) e", '<p>a [b <a href="d">c</a> e</p>'),
        ("[" * 30 + "c](d)", "<p>" + "[" * 29 + '<a href="d">c</a></p>'),
        ("[a](b (c) d)" + "(" * 30, '<p><a href="b (c) d">a</a>' + "(" * 30 + "</p>"),
        ("[a](b" * 25 + " [c](d)", "<p>" + "[a](b" * 25 + ' <a href="d">c</a></p>'),
        ("`[` " * 30 + "[c](d)", "<p>" + "<code>[</code> " * 30 + '<a href="d">c</a></p>'),
        ("``[`` " * 30 + "[c](d)", "<p>" + "<code>[</code> " * 30 + '<a href="d">c</a></p>'),
        ('[a](b "c (d") ' + "[a](b" * 3, '<p><a href="b" title="c (d">a</a> [a](b[a](b[a](b</p>'),
        ("`" * 30 + " and `code`", "<p>" + "`" * 30 + " and <code>code</code></p>"),
        ("\\[ " * 30 + "[c](d)", "<p>" + "[ " * 30 + '<a href="d">c</a></p>'),
        ("<c. 5 mm and `<b>`", "<p>&lt;c. 5 mm and <code>&lt;b&gt;</code></p>"),
        ("<p>wing <5 mm</p>", "<p>wing &lt;5 mm</p>"),
        ("1986. A year", "<p>1986. A year</p>"),
        (">5 mm", "<p>&gt;5 mm</p>"),
        ("##bugs", "<p>##bugs</p>"),
        ("2*3*4", "<p>2*3*4</p>"),
        ("A\n=\nb\n\nC\n-\n- d", "<h1>A</h1>\n<p>b</p>\n<h2>C</h2>\n<ul>\n<li>d</li>\n</ul>"),
        ("\U0010005bA sign of the private use area", "<p>A sign of the private use area</p>"),
    ],
)
def test_what_is_a_mark_is_read_and_what_is_none_stays(text: str, html: str) -> None:
    assert read(text) == html


@pytest.mark.parametrize("text", ["[a](b) `c` [d", "[" * 50, "``a` " * 50, "[a](" * 50, "[(" * 40 + "])" * 40])
def test_hidden_signs_come_back_as_they_were(text: str) -> None:
    assert show_signs(hide_unpaired(text)) == text


def test_a_paragraph_with_too_many_marks_is_read_as_typed() -> None:
    full = "A bug.\n\n" + "*a* " * 6_000
    assert find_overfull(full) == 2
    assert read_tree(full).is_typed
    assert write_plain(full).startswith("A bug.\n\n*a* *a*")
    assert find_overfull("*a* " * 2_400 + "\n\n" + "*a* " * 2_400) is None


def test_a_text_that_is_nested_too_deep_spoils_no_other() -> None:
    assert read_tree("1. " * 6_000).is_typed
    assert '<li id="fn:2">' in read_tree("[^2]: a\n\nb[^2]").html(lambda root: None)
