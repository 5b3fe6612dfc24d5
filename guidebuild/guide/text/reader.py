"""The one reading of Markdown: a text, guarded, becomes a tree; HTML, plain words, links and footnotes are asked of the tree.

Before the text is read, a sign of the private use area is put before each opening bracket, so that a link in the tree can say
where it stands in the text. The signs are taken out again of all that leaves this module.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from functools import cache, lru_cache
from xml.etree.ElementTree import Element, SubElement

from markdown import Markdown
from markdown.extensions import Extension
from markdown.extensions.footnotes import FootnoteExtension
from markdown.extensions.md_in_html import MarkdownInHtmlExtension
from markdown.extensions.sane_lists import SaneListExtension
from markdown.extensions.tables import TableExtension, TableProcessor
from markdown.treeprocessors import InlineProcessor
from markdown.util import AMP_SUBSTITUTE, HTML_PLACEHOLDER_RE

from guidebuild.guide.text.guards import guard_signs
from guidebuild.guide.text.typed_signs import drop_hidden, find_overfull, show_in_html, show_signs, show_signs_below

AMPERSAND, ASIDE = AMP_SUBSTITUTE, HTML_PLACEHOLDER_RE
"""How the library writes an ampersand in a tree, and where a piece of HTML that stands aside belongs, with its number."""
_FIRST_MARK, _MOST_MARKS = 0xF0000, 0xFFFD
_MARKS = re.compile(f"[{chr(_FIRST_MARK)}-{chr(_FIRST_MARK + _MOST_MARKS)}]")
# Not where a sign would part what belongs together: `\[`, `[words][name]`, `[words] [name]`, and `[name]: address` on its line.
_OPENS = re.compile(r"(?<!\\)(?<!\])(?<!\]\s)!?\[")
_DEFINES = re.compile(r"^ {0,3}\[[^\]\n]*\]:", re.MULTILINE)
_DEEPEST = 100  # levels of lists, quotations and blocks; no text needs so many
# A pattern of the library is tried only where a sign without which it cannot match stands in the text.
_NEEDS = {
    "backtick": "`",
    "escape": "\\",
    "footnote": "[^",
    "reference": "[",
    "link": "[",
    "image_link": "![",
    "image_reference": "![",
    "short_reference": "[",
    "short_image_ref": "![",
    "autolink": "<",
    "automail": "<",
    "linebreak": "  \n",
    "html": "<",
    "entity": "&",
}


@dataclass(frozen=True, slots=True, eq=False)
class Tree:
    """A text as read: its elements, the pieces of HTML that stand aside in it, and where in the text each mark was put.

    `notes` are the footnotes that are written in it, by name; `called` are the names of those that it calls, in their order. A note
    that nothing calls is not in the tree. `is_typed` says that no mark of the text was read.
    """

    root: Element
    aside: tuple[str | Element, ...]
    marks: tuple[int, ...]
    text: str
    notes: tuple[tuple[str, str], ...] = ()
    called: tuple[str, ...] = ()
    is_typed: bool = False

    def html(self, change: Callable[[Element], None]) -> str:
        """The HTML, neither cleaned nor safe, after `change` was made to a copy of the tree."""
        root = deepcopy(self.root)
        change(root)
        return _MARKS.sub("", _converter().write(root, self.aside))

    def linked(self) -> Iterator[tuple[Element, int]]:
        """Every link and picture in the order of the tree, each with where its bracket opens in the text."""
        seen, right_before = -1, False
        for piece in _stream(self.root):
            if isinstance(piece, str):
                found = _MARKS.findall(piece)
                right_before = bool(found) and piece.endswith(found[-1])
                seen = self.marks[ord(found[-1]) - _FIRST_MARK] if found else seen
            elif piece.tag in ("a", "img"):
                # A link that follows on another has no mark of its own: its bracket is the next one.
                seen = seen if right_before else max(seen, self.text.find("[", seen + 1))
                right_before = False
                is_after_sign = piece.tag == "img" and self.text[max(seen - 1, 0) : seen + 1] == "!["
                yield piece, max(seen - is_after_sign, 0)


def without_marks(text: str) -> str:
    """A text of the tree without its marks."""
    return _MARKS.sub("", text)


def _stream(element: Element) -> Iterator[Element | str]:
    """Elements and the texts in and after them, in the order of the document."""
    yield element
    if element.text:
        yield element.text
    for inner in element:
        yield from _stream(inner)
        if inner.tail:
            yield inner.tail


@lru_cache(maxsize=256)
def read_tree(text: str) -> Tree:
    """Read a text. Its tree is shared: never change it. One that is nested or full of marks past all sense is taken as typed."""
    text = drop_hidden(_MARKS.sub("", text))
    if find_overfull(text) is not None:
        return _as_typed(text)
    try:
        tree = _converter().read(text)
    except RecursionError:
        _converter.cache_clear()  # it was left in the midst of its work, and would read the next text wrongly
        return _as_typed(text)
    return tree if _is_flat_enough(tree.root) else _as_typed(text)


def _as_typed(text: str) -> Tree:
    root = Element("div")
    SubElement(root, "p").text = text
    return Tree(root, (), (), text, is_typed=True)


def _is_flat_enough(root: Element) -> bool:
    """Whether what goes down into the tree comes back: Python stops at some depth."""
    level = list(root)
    for _ in range(_DEEPEST):
        level = [inner for element in level for inner in element]
        if not level:
            return True
    return False


class _Footnotes(FootnoteExtension):
    """Footnotes in the order in which they are called, without those that nothing calls."""

    def __init__(self) -> None:
        super().__init__(BACKLINK_TEXT="↑", BACKLINK_TITLE="{}", USE_DEFINITION_ORDER=False)

    def unique_ref(self, reference: str, found: bool = False) -> str:
        """The name of a call of a note; one that is called often has its calls numbered, and none is counted through again."""
        if not found:
            return reference
        calls = self.found_refs[reference] = self.found_refs.get(reference, 0) + 1
        first, rest = reference.split(self.get_separator(), 1)
        return reference if calls == 1 else f"{first}{calls}{self.get_separator()}{rest}"

    def leave_out_uncalled(self, root: Element) -> None:
        """Take the notes out of the tree that nothing calls, and their list where it is empty then."""
        uncalled = {self.makeFootnoteId(name) for name in self.footnotes if name not in self.footnote_order}
        places = [(parent, inner) for parent in root.iter() for inner in parent if inner.get("class") == "footnote"]
        for parent, place in places if uncalled else ():
            for notes in place.findall("ol"):
                for note in [note for note in notes if note.get("id") in uncalled]:
                    notes.remove(note)
            if not place.findall("ol/li"):
                parent.remove(place)


class _Tables(TableProcessor):
    """Tables, which begin with a bar in their first line: no other text is looked through for one."""

    def test(self, parent: Element, block: str) -> bool:
        """Whether a block is a table."""
        return "|" in block.partition("\n")[0] and super().test(parent, block)


class _Extension(Extension):
    """No code blocks made by indenting, for an author who indents means no code; and tables."""

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 (the library's name)
        """Register with the converter."""
        md.parser.blockprocessors.deregister("code")
        md.parser.blockprocessors.register(_Tables(md.parser, {"use_align_attribute": False}), "table", 75)


class _Converter:
    """The library's converter with what we add to it: making one costs more than reading an account."""

    def __init__(self) -> None:
        self._footnotes = _Footnotes()
        others = [TableExtension(), SaneListExtension(), MarkdownInHtmlExtension(), _Extension()]
        self._markdown = Markdown(extensions=[*others[:2], self._footnotes, *others[2:]])
        registry = self._markdown.inlinePatterns
        needs = {id(registry[name]): need for name, need in _NEEDS.items() if name in registry}
        self._patterns = [(needs.get(id(pattern), ""), pattern) for pattern in registry]
        inline = self._markdown.treeprocessors["inline"]
        assert isinstance(inline, InlineProcessor)  # noqa: S101 -- for the type checker
        self._inline = inline

    def read(self, text: str) -> Tree:
        """The tree of a text."""
        md = self._markdown.reset()
        marked, marks = _mark(text)
        source = guard_signs(marked)
        self._inline.inlinePatterns = [pattern for need, pattern in self._patterns if need in source]  # type: ignore[assignment]
        lines = source.split("\n")
        for processor in md.preprocessors:
            lines = processor.run(lines)
        root = md.parser.parseDocument(lines).getroot()
        assert root is not None  # noqa: S101 -- a document always has a root: for the type checker
        for finisher in md.treeprocessors:
            changed = finisher.run(root)
            root = changed if changed is not None else root
        notes = tuple((name, show_signs(note)) for name, note in self._footnotes.footnotes.items())
        if notes:
            self._footnotes.leave_out_uncalled(root)
        aside = tuple(_shown(piece) for piece in md.htmlStash.rawHtmlBlocks)
        show_signs_below(root)
        return Tree(root, aside, marks, text, notes, tuple(self._footnotes.footnote_order))

    def write(self, root: Element, aside: tuple[str | Element, ...]) -> str:
        """The HTML of a tree."""
        md = self._markdown.reset()
        md.htmlStash.rawHtmlBlocks, md.htmlStash.html_counter = list(aside), len(aside)
        html = md.serializer(root)
        start, end = html.find("<div>"), html.rfind("</div>")
        html = html[start + len("<div>") : end].strip() if 0 <= start < end else ""
        for processor in md.postprocessors:
            html = processor.run(html)
        return html.strip()


def _shown(piece: str | Element) -> str | Element:
    """A piece of a tree, or of HTML beside it, with its hidden signs put back."""
    if isinstance(piece, str):
        return show_in_html(piece)
    show_signs_below(piece)
    return piece


@cache
def _converter() -> _Converter:
    return _Converter()


def _mark(text: str) -> tuple[str, tuple[int, ...]]:
    """The text with a mark before each bracket that may open a link, and where they stand."""
    if "[" not in text:
        return text, ()
    defined = {match.end(0) - len(match[0].lstrip(" ")) for match in _DEFINES.finditer(text)} if "]:" in text else set()
    marks: list[int] = []
    pieces: list[str] = []
    last = 0
    for match in _OPENS.finditer(text):
        if match.start() in defined or len(marks) >= _MOST_MARKS:
            continue
        pieces += [text[last : match.start()], chr(_FIRST_MARK + len(marks))]
        last = match.start()
        marks.append(last)
    return "".join(pieces) + text[last:], tuple(marks)
