"""What authors' HTML may hold: prose, lists, tables, footnotes; no scripts, no styles, nothing fetched from elsewhere."""

from __future__ import annotations

import nh3

_TAGS = {
    "a",
    "abbr",
    "aside",
    "b",
    "blockquote",
    "br",
    "caption",
    "cite",
    "code",
    "dd",
    "del",
    "details",
    "div",
    "dl",
    "dt",
    "em",
    "h3",
    "h4",
    "h5",
    "h6",
    "hr",
    "i",
    "ins",
    "kbd",
    "li",
    "mark",
    "ol",
    "p",
    "pre",
    "q",
    "s",
    "section",
    "small",
    "span",
    "strong",
    "sub",
    "summary",
    "sup",
    "table",
    "tbody",
    "td",
    "tfoot",
    "th",
    "thead",
    "tr",
    "u",
    "ul",
    "var",
}
_ATTRIBUTES = {
    "*": {"lang", "title", "dir"},
    "a": {"href", "class", "id"},
    "abbr": {"title"},
    "ol": {"start", "reversed"},
    "li": {"id", "value"},
    "sup": {"id"},
    "div": {"class"},
    "td": {"colspan", "rowspan", "align"},
    "th": {"colspan", "rowspan", "scope", "align"},
}
_CLEANER = nh3.Cleaner(
    tags=_TAGS,
    attributes=_ATTRIBUTES,
    url_schemes={"http", "https", "mailto", "tel"},
    link_rel=None,
    strip_comments=True,
)


def clean_html(html: str) -> str:
    """The HTML without anything that could run, fetch or restyle; the words in it stay."""
    return _CLEANER.clean(html)
