"""The handbook as a folder of pages that a browser opens from the disk."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from html import unescape
from pathlib import Path
from types import MappingProxyType

from guidebuild import __version__
from guidebuild.guide.findings import Code
from guidebuild.handbook.chapters import Chapter, WordUsed, list_chapters, list_words, make_html
from guidebuild.handbook.explaining import RULES_PAGE, CommandTold
from guidebuild.handbook.keys import FileOfKeys
from guidebuild.handbook.theme_keys import list_all_files
from guidebuild.press.engine.durable import write_safely
from guidebuild.press.theme.font_cutting import make_font
from guidebuild.press.theme.sandbox import fill_template
from guidebuild.press.theme.sign_font import sign_font
from guidebuild.press.theme.typefaces import ALWAYS, font_css, font_work
from guidebuild.rules import gather_rules
from guidebuild.shipped import on_disk, themes

_TAGS = re.compile(r"<[^>]+>")
_HEADINGS = re.compile(r'<h2 id="(?P<id>[^"]+)">(?P<title>.*?)</h2>(?P<text>.*?)(?=<h2 |\Z)', re.DOTALL)
_SHOWN = 240
"""Letters of each place that a search looks through and shows."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its file's name without the ending, and what its template is given."""

    name: str
    title: str
    template: str
    lede: str = ""
    html: str = ""
    headings: tuple[tuple[str, str], ...] = ()
    file: FileOfKeys | None = None
    rules: tuple[Code, ...] = ()
    words: tuple[WordUsed, ...] = ()
    commands: tuple[CommandTold, ...] = ()


class UnknownLinkError(ValueError):
    """A chapter links to something that is not there."""


def list_pages(commands: Sequence[CommandTold]) -> tuple[Page, ...]:
    """All pages but the first: chapters, then what is looked up."""
    return (*map(_page_of, list_chapters()), *_looked_up(tuple(commands)))


def _page_of(chapter: Chapter) -> Page:
    html, headings = make_html(chapter.text, find_address)
    return Page(chapter.id, chapter.title, "chapter", chapter.lede, html, headings)


def _looked_up(commands: tuple[CommandTold, ...]) -> Iterator[Page]:
    for file in list_all_files():
        yield Page(f"keys-{file.kind}", f"Keys of {file.place}", "keys", file=file)
    yield Page("rules", RULES_PAGE, "rules", "What `guidebuild check` and `make` look at, and why.", rules=gather_rules())
    yield Page("commands", "Commands", "commands", commands=commands)
    yield Page("words", "Words", "words", words=list_words())


def find_address(kind: str, name: str) -> str:
    """Where a key (`photos/measured`), rule, word, command or chapter stands in the pages; raises `UnknownLinkError`."""
    if kind == "key":
        places = {
            "/".join((file.kind, *key.path)): f"keys-{file.kind}.html#{key.address}" for file in list_all_files() for key in file.keys
        }
        found = places.get(name)
    elif kind == "rule":
        found = f"rules.html#{name}" if any(rule.code == name for rule in gather_rules()) else None
    elif kind == "word":
        found = next((f"words.html#{word_id(used.word)}" for used in list_words() if used.word == name), None)
    elif kind == "command":
        found = f"commands.html#{name}"
    else:
        home, _, heading = name.partition("#")
        found = f"{home}.html" + (f"#{heading}" if heading else "") if home in _list_homes() else None
    if found is None:
        raise UnknownLinkError(f"{kind}:{name}")
    return found


def _list_homes() -> frozenset[str]:
    chapters, files = (chapter.id for chapter in list_chapters()), (f"keys-{file.kind}" for file in list_all_files())
    return frozenset((*chapters, *files, "rules", "commands", "words"))


def word_id(word: str) -> str:
    """A word as the anchor of its entry."""
    return word.replace(" ", "-")


def write_book(folder: Path, commands: Sequence[CommandTold]) -> Path:
    """Write all pages into a folder of the tool's own, and give the first of them."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in make_files(tuple(commands)).items():
        write_safely(folder / name, data)
    return folder / "index.html"


@cache
def make_files(commands: tuple[CommandTold, ...]) -> Mapping[str, bytes]:
    """All pages and what they need but their typefaces, by name."""
    pages = list_pages(commands)
    home = Page("index", "Handbook", "index")
    made = [(f"{page.name}.html", _fill(page, pages).encode()) for page in (home, *pages)]
    look = on_disk(themes()) / "plate"
    tokens, style = (look / "static/tokens.css").read_bytes(), (look / "handbook/handbook.css").read_bytes()
    made += [("handbook.css", font_css("swap").encode() + tokens + style), ("signs.woff2", sign_font())]
    made += [("handbook.js", (look / "handbook/handbook.js").read_bytes()), ("places.js", _places(pages).encode())]
    return MappingProxyType(dict(made))


def write_typefaces(folder: Path) -> None:
    """Write the typefaces of the pages where they are not there yet; a second or two the first time."""
    for work in font_work(ALWAYS):
        file = folder / f"{work.name}.woff2"
        if not file.exists():
            write_safely(file, make_font(work).parts[0])


def _fill(page: Page, pages: tuple[Page, ...]) -> str:
    chapters = tuple(shown for shown in pages if shown.template == "chapter")
    told = {"page": page, "chapters": chapters, "looked_up": pages[len(chapters) :], "version": __version__, "word_id": word_id}
    return fill_template((on_disk(themes()) / "plate",), f"handbook/{page.template}.html", "en", **told)


def _places(pages: Sequence[Page]) -> str:
    """What can be looked for, as a script that a page from the disk may read: title, page, and the words there."""
    found = [[title, address, " ".join(words.replace("`", "").split())] for page in pages for title, address, words in _places_of(page)]
    return f"window.places = {json.dumps(found, ensure_ascii=False)};\n"


def _places_of(page: Page) -> Iterator[tuple[str, str, str]]:
    home = f"{page.name}.html"
    if page.template == "chapter":
        yield page.title, home, page.lede
        for match in _HEADINGS.finditer(page.html):
            yield f"{page.title}: {_words(match['title'])}", f"{home}#{match['id']}", _words(match["text"])
    if page.file:
        yield from ((f"{key.name} ({page.file.place})", f"{home}#{key.address}", f"{key.meaning} {key.effect}") for key in page.file.keys)
    yield from ((rule.code, f"{home}#{rule.code}", f"{rule.title}. {rule.why} {rule.mend}") for rule in page.rules)
    yield from ((used.word, f"{home}#{word_id(used.word)}", used.meaning) for used in page.words)
    yield from ((f"guidebuild {command.name}", f"{home}#{command.name}", command.help) for command in page.commands)


def _words(html: str) -> str:
    return unescape(_TAGS.sub(" ", html))
