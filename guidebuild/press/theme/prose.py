"""Authors' Markdown → safe HTML, with what it says left as it was typed.

Markdown was made for prose; field notes are full of signs that it would swallow: `<c. 5 mm`, `5*6*7 mm`, a line that
starts with `1986.`.  These are guarded before the conversion, so that the words a reader sees are the words typed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from html import escape
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.extensions import Extension
from markdown.treeprocessors import Treeprocessor

from guidebuild.press.theme.clean import clean
from guidebuild.views.pieces.common import LinkView, PhotoView, ProseView

_REFERENCE_KINDS = ("account", "term", "photo", "plant", "place", "source", "character", "walk", "caution")
# Private-use characters round a photo's id, from the conversion until after the cleaning.
_OPEN, _CLOSE = "\ue000", "\ue001"
_OURS = re.compile(f"[{_OPEN}{_CLOSE}]|&#(?:x0*e00[01]|0*5734[45]);", re.IGNORECASE)
# Written as `&#x202e;`, such a sign turns the line round: Unicode Standard Annex 9, and controls that XML does not take.
_UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
_PHOTO = re.compile(f"<span>{_OPEN}([^{_CLOSE}]*){_CLOSE}</span>")
_PHOTO_ALONE = re.compile(rf"<p>\s*{_PHOTO.pattern}\s*</p>")
_FOOTNOTE_ID = re.compile(r'((?:id="|href="#)fn(?:ref\d*)?:)')

_CODE = re.compile(r"(`+[^`]+`+)")
_TAGS = "a|abbr|aside|b|blockquote|br|caption|cite|code|dd|del|details|div|dl|dt|em|figcaption|figure|h[1-6]|hr|i|img|ins|kbd|li|mark"
_TAGS += "|ol|p|pre|q|s|section|small|span|strong|sub|summary|sup|table|tbody|td|tfoot|th|thead|tr|u|ul|var|script|style|iframe"
_NOT_A_TAG = re.compile(
    rf"(?<!\]\()<(?!/?(?:{_TAGS})(?:\s[^<>]*|/)?>|https?://|mailto:|[^\s<>@]+@[^\s<>]+>|!--|\w+:[^<>\s]+>)", re.IGNORECASE
)
_TIMES = re.compile(r"(?<=\d)\*(?=\d)")
_YEAR_FIRST = re.compile(r"^(\s{0,3}\d{3,})\.(?=\s)", re.MULTILINE)
_MORE_THAN = re.compile(r"^>(?=\d)", re.MULTILINE)
_HASHTAG = re.compile(r"^(#+)(?=[^\s#])", re.MULTILINE)
_PLAIN_BLOCK = re.compile(r"^<(div|section|aside|details|figure)(\s[^<>]*)?>\s*$", re.MULTILINE | re.IGNORECASE)
_BULLET = re.compile(r"^[ ]*(?:[-*+]|\d{1,2}\.)[ ]", re.MULTILINE)
_RULE_ROW = re.compile(r"^\s*\|?\s*:?-+:?\s*(\|\s*:?-+:?\s*)*\|?\s*$")
_PIPE = re.compile(r"(?<!\\)\|")
_TIGHT_PIPE = re.compile(r"(?<=[^\s|\\])\|(?=[^\s|])")
_FIGURE = re.compile(r"(?<![\w–-])(\d[\d.,]*(?:\s?[–-]\s?\d[\d.,]*)?\s(?:mm|cm|m|km|g|mg|kg|ha|°C|%))(?![\w])")
_BETWEEN_TAGS = re.compile(r"(<[^>]*>)")  # the cleaner has escaped every > inside an attribute

Draw = Callable[[PhotoView, bool], str]
"""Draws a picture that stands in prose: (picture, stands alone) → HTML."""


@dataclass(frozen=True, slots=True)
class Html:
    """HTML that is safe to put on a page as it is."""

    text: str

    def __html__(self) -> str:
        """What a template puts on the page."""
        return self.text

    def __str__(self) -> str:
        """The HTML."""
        return self.text


def prose_html(prose: ProseView, *, root: str = "", draw: Draw | None = None, links: bool = True) -> Html:
    """The HTML of a piece of prose.

    `root` leads from the page to the site's root; `draw` puts in pictures (without it they are left out); without `links`
    cross-references are plain words, as on paper.
    """
    targets = dict(prose.targets) if links else {}
    _converter.references.answer(targets, root)
    # The signs that stand for pictures are ours alone: an author's own would put a picture into the middle of a tag.
    html = _converter.markdown.reset().convert(guarded(_OURS.sub("", prose.text)))
    html = _with_footnote_ids(_UNSEEN.sub("", clean(html)), prose.prefix)
    html = _with_photos(html, {photo.id: photo for photo in prose.photos}, draw)
    return Html(_with_whole_figures(html))


def inline_html(prose: ProseView, *, root: str = "", links: bool = True) -> Html:
    """The HTML of a piece of prose that is one paragraph, without the paragraph's tags."""
    html = prose_html(prose, root=root, links=links).text.strip()
    if html.startswith("<p>") and html.endswith("</p>") and html.count("<p>") == 1:
        html = html[3:-4]
    return Html(html)


# No text needs so many in a row, and the converter's work grows with the square of their number.
_BRACKETS = re.compile(r"\[{20,}")


def guarded(text: str) -> str:
    """Markdown in which measurements, years and comparison signs can no longer be taken for marks."""
    text = _BRACKETS.sub(lambda run: "\\[" * len(run.group()), text)
    if "|" in text:
        text = _guard_tables(text)
    if _BULLET.search(text):
        text = _guard_lists(text)
    text = _YEAR_FIRST.sub(r"\1\\.", text)
    text = _MORE_THAN.sub("&gt;", text)
    text = _HASHTAG.sub(lambda m: "\\#" * len(m[1]), text)
    text = _PLAIN_BLOCK.sub(lambda m: f'<{m[1]}{m[2] or ""} markdown="1">', text)
    pieces = _CODE.split(text)
    pieces[::2] = [_TIMES.sub(r"\\*", _NOT_A_TAG.sub("&lt;", piece)) for piece in pieces[::2]]
    return "".join(pieces)


def _guard_lists(text: str) -> str:
    """Lists whose levels are told by two spaces or more get the four that the converter asks for."""
    out: list[str] = []
    levels: list[int] = []  # indents of the items that are open
    for line in text.expandtabs(4).split("\n"):
        indent = len(line) - len(line.lstrip(" "))
        if not line.strip():
            out.append(line)
            continue
        if _BULLET.match(line):
            while levels and indent < levels[-1]:
                levels.pop()
            if not levels or indent >= levels[-1] + 2:
                levels.append(indent)
            out.append("    " * (len(levels) - 1) + line.lstrip(" "))
            continue
        while levels and indent < levels[-1] + 2 and (indent or not out[-1].strip()):
            levels.pop()
        out.append("    " * len(levels) + line.lstrip(" ") if levels and indent else line)
    return "\n".join(out)


def _guard_tables(text: str) -> str:
    """Tables that follow a line of text, and rows with more cells than their header, keep all they hold."""
    lines = text.split("\n")
    out: list[str] = []
    columns = 0
    for number, line in enumerate(lines):
        following = lines[number + 1] if number + 1 < len(lines) else ""
        if "|" in line and "|" in following and _RULE_ROW.match(following) and not _RULE_ROW.match(line):
            columns = _cell_count(line)
            if out and out[-1].strip():
                out.append("")
        elif "|" not in line:
            columns = 0
        elif columns and not _RULE_ROW.match(line):
            out.append(_with_cells(line, columns))
            continue
        out.append(line)
    return "\n".join(out)


def _cell_count(row: str) -> int:
    return len(_PIPE.findall(row.strip().strip("|"))) + 1


def _with_cells(row: str, columns: int) -> str:
    """A row with no more cells than its header: pipes inside words are text, then the last ones are."""
    surplus = _cell_count(row) - columns
    if surplus > 0:
        row, done = _TIGHT_PIPE.subn(r"\\|", row, count=surplus)
        surplus -= done
    closing = "|" if row.rstrip().endswith("|") else ""
    body = row.rstrip()[: len(row.rstrip()) - len(closing)]
    for _ in range(max(surplus, 0)):
        last = [m.start() for m in _PIPE.finditer(body)][-1]
        body = f"{body[:last]}\\|{body[last + 1 :]}"
    return body + closing


def _with_footnote_ids(html: str, prefix: str) -> str:
    return _FOOTNOTE_ID.sub(rf"\g<1>{escape(prefix)}-", html) if prefix and "fn:" in html else html


def _with_photos(html: str, photos: Mapping[str, PhotoView], draw: Draw | None) -> str:
    if _OPEN not in html:
        return html

    def drawn(alone: bool) -> Callable[[re.Match[str]], str]:
        return lambda m: draw(photos[m[1]], alone) if draw and m[1] in photos else ""

    return _PHOTO.sub(drawn(alone=False), _PHOTO_ALONE.sub(drawn(alone=True), html))


def _with_whole_figures(html: str) -> str:
    """Figures held together with their units: a span, because a no-break space would change what is copied."""
    if not _FIGURE.search(html):
        return html
    pieces = _BETWEEN_TAGS.split(html)
    pieces[::2] = [_FIGURE.sub(r'<span class="figure">\1</span>', piece) for piece in pieces[::2]]
    return "".join(pieces)


class _References(Treeprocessor):
    """Resolves `account:…` and its like; what leads nowhere becomes plain words."""

    def __init__(self) -> None:
        super().__init__()
        self.targets: Mapping[str, LinkView] = {}
        self.root = ""

    def answer(self, targets: Mapping[str, LinkView], root: str) -> None:
        """Set what the next text's references point at."""
        self.targets, self.root = targets, root

    def run(self, root: Element) -> None:
        """Change the tree in place."""
        for element in root.iter():
            if element.tag == "a":
                self._link(element)
            elif element.tag == "img":
                _picture(element)
            elif element.tag in ("h1", "h2"):
                element.tag = "h3"  # the page and its sections have the first two levels

    def _link(self, element: Element) -> None:
        address = element.get("href", "")
        kind, _, wanted = address.partition(":")
        if kind not in _REFERENCE_KINDS:
            return
        link = self.targets.get(f"{kind}:{_unquoted(wanted)}")
        if link is None:
            element.tag = "span"
            element.attrib.clear()
            return
        element.set("href", self.root + link.path)
        if kind == "term":
            element.set("class", "term")


def _unquoted(text: str) -> str:
    return re.sub(r"%20", " ", text).strip()


def _picture(element: Element) -> None:
    """A picture becomes its id between two signs; pictures that are not the guide's own are left out."""
    kind, _, wanted = element.get("src", "").partition(":")
    tail = element.tail
    element.clear()
    element.tag, element.tail = "span", tail
    element.text = f"{_OPEN}{_unquoted(wanted)}{_CLOSE}" if kind == "photo" else ""


class _Guide(Extension):
    """Our references, two-space lists, and no code blocks made by indenting."""

    def __init__(self, references: _References) -> None:
        super().__init__()
        self.references = references

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 (the library's name)
        """Register with the converter."""
        md.parser.blockprocessors.deregister("code")
        md.treeprocessors.register(self.references, "guide-references", 5)


class _Converter:
    """One Markdown converter a process: making it costs more than converting an account."""

    def __init__(self) -> None:
        self.references = _References()
        footnotes = {"BACKLINK_TEXT": "↑", "BACKLINK_TITLE": "{}"}
        self.markdown = Markdown(
            extensions=["tables", "sane_lists", "footnotes", "md_in_html", _Guide(self.references)],
            extension_configs={"footnotes": footnotes},
        )


_converter = _Converter()
