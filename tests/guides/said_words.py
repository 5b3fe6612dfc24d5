"""Every sentence that a made guide says, file by file, as one text that a person reads once and a test compares later.

A sentence that an earlier file of the same output has said is not said again: headers and footers stand once.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pypdfium2
from bs4 import BeautifulSoup
from bs4.element import NavigableString, PageElement, Tag

from guidebuild.cli import exit_code
from tests.guides.whole_guides import copy_guide

OUTPUTS = ("scripts", "posts", "cards", "walks", "data", "site")
"""Folders of `published/`, in the order in which the text lists them."""

_REPEATING = re.compile(r"(?:(?:deck|sheets|booklet-)[\w-]*|scripts/.*)\.pdf$|-prompter\.html$")  # made of what is read in other files
_BLOCKS = frozenset(
    {
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "p",
        "li",
        "dt",
        "dd",
        "td",
        "th",
        "tr",
        "caption",
        "figcaption",
        "summary",
        "label",
        "button",
        "legend",
        "option",
        "text",
        "title",
        "div",
        "section",
        "main",
        "nav",
        "header",
        "footer",
        "article",
        "aside",
        "ul",
        "ol",
        "dl",
        "table",
        "form",
        "fieldset",
        "figure",
        "body",
        "svg",
        "blockquote",
        "details",
    }
)
_SPOKEN_ATTRIBUTES = ("alt", "aria-label", "title", "placeholder")
_SENTENCE_END = re.compile(r"(?<=[.!?…])\s+(?=[A-Z0-9“‘(])")


def collect_words(published: Path) -> str:
    """What a published folder says, under a heading for each output and each file."""
    lines: list[str] = []
    for output in OUTPUTS:
        said: set[str] = set()
        for path in _files_of(published, output):
            fresh = [line for line in dict.fromkeys(_read_lines(path)) if line not in said]
            said.update(fresh)
            if fresh:
                lines += ["", f"== {path.relative_to(published).as_posix()}", *fresh]
    return "\n".join(lines).lstrip("\n") + "\n"


def _files_of(published: Path, output: str) -> list[Path]:
    """The files of an output that say something of their own."""
    found = (path for path in (published / output).rglob("*") if path.suffix in _READERS)
    return sorted(path for path in found if not _REPEATING.search(path.relative_to(published).as_posix()))


def _read_lines(path: Path) -> Iterator[str]:
    for line in _READERS[path.suffix](path):
        plain = " ".join(line.split())
        if re.search(r"[^\W\d_]", plain):
            yield plain


def _text_lines(path: Path) -> Iterator[str]:
    return iter(path.read_text(encoding="utf-8").splitlines())


def _calendar_lines(path: Path) -> Iterator[str]:
    """Summaries, places and descriptions of events, unfolded (RFC 5545, 3.1)."""
    unfolded = re.sub(r"\r?\n[ \t]", "", path.read_text(encoding="utf-8"))
    return (line for line in unfolded.splitlines() if line.startswith(("SUMMARY", "LOCATION", "DESCRIPTION")))


def _paper_lines(path: Path) -> Iterator[str]:
    """Sentences of a PDF: lines are joined first, since where they break is no part of what is said."""
    document = pypdfium2.PdfDocument(path)
    try:
        for page in document:
            text = page.get_textpage().get_text_range()
            yield from _SENTENCE_END.split(" ".join(text.split()))
    finally:
        document.close()


def _page_lines(path: Path) -> Iterator[str]:
    """Blocks of a page in order, and what its pictures and buttons are called."""
    soup = BeautifulSoup(path.read_text(encoding="utf-8"), "html.parser")
    for hidden in soup("template"):
        hidden.decompose()
    words: list[str] = []
    for part in soup.descendants:
        if _opens_block(part):
            yield "".join(words)
            words.clear()
        if isinstance(part, Tag):
            yield from (f"[{name}] {part[name]}" for name in _SPOKEN_ATTRIBUTES if part.get(name))
        elif type(part) is NavigableString:  # not a comment or a doctype
            words.append(str(part))
    yield "".join(words)


def _opens_block(part: PageElement) -> bool:
    """Whether a line ends here: a block begins, or one has ended just before."""
    if isinstance(part, Tag) and part.name in _BLOCKS:
        return True
    before = part.previous_sibling
    return isinstance(before, Tag) and before.name in (_BLOCKS | {"br"})


_READERS: dict[str, Callable[[Path], Iterator[str]]] = {
    ".csv": _text_lines,
    ".html": _page_lines,
    ".ics": _calendar_lines,
    ".md": _text_lines,
    ".pdf": _paper_lines,
    ".txt": _text_lines,
}


def main(name: str, into: str) -> int:
    """Copy and make a guide in a new folder, and write what it says into `said.txt` there."""
    folder = copy_guide(name, Path(into))
    code = exit_code(["make", str(folder), "--quiet"])
    (folder / "said.txt").write_text(collect_words(folder / "published"), encoding="utf-8")
    return code


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
