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

from markupsafe import Markup
from markupsafe import escape as as_markup

from guidebuild.guide.text.links import KINDS
from guidebuild.guide.text.plain_text import UNSEEN
from guidebuild.guide.text.reader import read_tree
from guidebuild.press.theme.clean import clean_html
from guidebuild.views.pieces.common import LinkView, PhotoView, ProseView, Wording

# Private-use characters round a photo's id, from the conversion until after the cleaning.
_OPEN, _CLOSE = "\ue000", "\ue001"
_OURS = re.compile(f"[{_OPEN}{_CLOSE}]|&#(?:x0*e00[01]|0*5734[45]);", re.IGNORECASE)
_PHOTO = re.compile(f"<span>{_OPEN}([^{_CLOSE}]*){_CLOSE}</span>")
_PHOTO_ALONE = re.compile(rf"<p>\s*{_PHOTO.pattern}\s*</p>")
_FOOTNOTE_ID = re.compile(r'((?:id="|href="#)fn(?:ref\d*)?:)')

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
    # The signs that stand for pictures are ours alone: an author's own would put a picture into the middle of a tag.
    html = read_tree(_OURS.sub("", prose.text)).html(_References(targets, root).resolve)
    html = _with_footnote_ids(UNSEEN.sub("", clean_html(html)), prose.prefix)
    return Html(_with_photos(html, {photo.id: photo for photo in prose.photos}, draw))


def inline_html(prose: ProseView, *, root: str = "", links: bool = True) -> Html:
    """The HTML of a piece of prose that is one paragraph, without the paragraph's tags."""
    html = prose_html(prose, root=root, links=links).text.strip()
    if html.startswith("<p>") and html.endswith("</p>") and html.count("<p>") == 1:
        html = html[3:-4]
    return Html(html)


def write_words(text: str | Wording) -> Markup:
    """Words for print, with their italics: links are for those who can follow them."""
    if isinstance(text, Wording) and text.marked:
        return as_markup(inline_html(text.marked, links=False))
    return as_markup(str(text))


def _with_footnote_ids(html: str, prefix: str) -> str:
    return _FOOTNOTE_ID.sub(rf"\g<1>{escape(prefix)}-", html) if prefix and "fn:" in html else html


def _with_photos(html: str, photos: Mapping[str, PhotoView], draw: Draw | None) -> str:
    if _OPEN not in html:
        return html

    def drawn(alone: bool) -> Callable[[re.Match[str]], str]:
        return lambda m: draw(photos[m[1]], alone) if draw and m[1] in photos else ""

    return _PHOTO.sub(drawn(alone=False), _PHOTO_ALONE.sub(drawn(alone=True), html))


class _References:
    """Resolves `account:…` and its like; what leads nowhere becomes plain words."""

    def __init__(self, targets: Mapping[str, LinkView], root: str) -> None:
        self.targets, self.root = targets, root

    def resolve(self, tree: Element) -> None:
        """Change the tree in place."""
        for element in tree.iter():
            if element.tag == "a":
                self._link(element)
            elif element.tag == "img":
                _picture(element)
            elif element.tag in ("h1", "h2"):
                element.tag = "h3"  # the page and its sections have the first two levels

    def _link(self, element: Element) -> None:
        address = element.get("href", "")
        kind, _, wanted = address.partition(":")
        if kind not in KINDS:
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
