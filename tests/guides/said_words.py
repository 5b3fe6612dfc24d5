"""Every sentence that a guide says, output by output, as one text that a person has read and a test compares.

A sentence that an earlier file of the same output has said is not said again: headers and footers stand once.

    python -m tests.guides.said_words            writes tests/guides/said/NAME.txt anew, for all four guides
    python -m tests.guides.said_words NAME DIR   makes the whole guide in a new folder and writes said.txt beside published/
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pypdfium2
from bs4 import BeautifulSoup
from bs4.element import NavigableString, PageElement, Tag

from guidebuild.cli import exit_code
from tests.guides.said_prints import list_prints, list_scripts, read_published
from tests.guides.whole_guides import HERE, NAMES, copy_guide

OUTPUTS = ("scripts", "posts", "cards", "walks", "data", "site")
"""Folders of `published/`, in the order in which the text lists them."""

ON_A_DAY = "1795824000"  # 2026-11-28: what is out and what is posted hangs on the day
MADE = ("posts", "data", "site")
"""Outputs whose finished files are read; scripts and prints are read from their views."""
# Made of what is read in other files.
_REPEATING = re.compile(r"posts/index\.html$|seen-dates\.csv$|(?:(?:deck|sheets|booklet-)[\w-]*|scripts/.*)\.pdf$|\.prompter\.html$")
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
    return join_files(_read_made(published, OUTPUTS))


def say_guide(name: str, into: Path) -> str:
    """All that one of the guides says, of a copy in a folder that is not there yet."""
    folder = copy_guide(name, into)
    assert exit_code(["make", str(folder), *MADE, "--quiet"]) == 0
    guide = read_published(folder)
    prints = [(file, list_words(html)) for file, html in list_prints(guide)]
    return join_files((*list_scripts(guide), *prints, *_read_made(folder / "published", MADE)))


def _read_made(published: Path, outputs: Iterable[str]) -> Iterator[tuple[str, Iterable[str]]]:
    for output in outputs:
        for path in _files_of(published, output):
            yield path.relative_to(published).as_posix(), _READERS[path.suffix](path)


def join_files(files: Iterable[tuple[str, Iterable[str]]]) -> str:
    """The lines of each file under its name, those left out that another file of its output has said before."""
    told: dict[str, list[str]] = {}
    said: set[tuple[str, str]] = set()
    for file, lines in files:
        output = file.partition("/")[0]
        fresh = [line for line in dict.fromkeys(_with_words(lines)) if (output, line) not in said]
        said.update((output, line) for line in fresh)
        if fresh:
            told[file] = fresh
    ordered = sorted(told, key=lambda file: OUTPUTS.index(file.partition("/")[0]))
    return "\n\n".join("\n".join((f"== {file}", *told[file])) for file in ordered) + "\n"


def _files_of(published: Path, output: str) -> list[Path]:
    """The files of an output that say something of their own."""
    found = (path for path in (published / output).rglob("*") if path.suffix in _READERS)
    return sorted(path for path in found if not _REPEATING.search(path.relative_to(published).as_posix()))


def _with_words(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
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
    return list_words(path.read_text(encoding="utf-8"))


def list_words(html: str) -> Iterator[str]:
    """Blocks of a page in order, and what its pictures and buttons are called."""
    soup = BeautifulSoup(html, "html.parser")
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


def make_whole(name: str, into: str) -> int:
    """Copy and make a guide in a new folder, and write what it says into `said.txt` there."""
    folder = copy_guide(name, Path(into))
    code = exit_code(["make", str(folder), "--quiet"])
    (folder / "said.txt").write_text(collect_words(folder / "published"), encoding="utf-8")
    return code


def write_said() -> int:
    """Write the reviewed texts anew, to be read as a diff."""
    for name in NAMES:
        with tempfile.TemporaryDirectory() as folder:
            (HERE / "said" / f"{name}.txt").write_text(say_guide(name, Path(folder)), encoding="utf-8")
    return 0


if __name__ == "__main__":
    os.environ["SOURCE_DATE_EPOCH"] = ON_A_DAY
    sys.exit(make_whole(*sys.argv[1:3]) if len(sys.argv) == 3 else write_said())
