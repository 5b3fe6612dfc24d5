"""Measurements and ranges on finished pages, held together so that no line breaks inside them.

A span does it and no no-break space or joiner: what a reader copies or looks for stays what was typed.
"""

from __future__ import annotations

import re

_PART = "[½¼¾⅓⅔⅛]"
_NUMBER = rf"(?:\d+(?:[.,:]\d+)*(?:\s?{_PART})?|{_PART})"
_UNIT = r"(?:[µm]m|cm|dm|m|km|mg|g|kg|t|ha|in|ft|oz|lb|h|min|s|°C|%)"
_DASH = r"\s?[–-]\s?"
_FIGURE = re.compile(
    rf"(?<![\w–&#.:-])(?:\({_NUMBER}{_DASH}\)\s?)?{_NUMBER}(?:{_DASH}{_NUMBER})?(?:\s?\({_DASH}{_NUMBER}\))?"
    rf"(?P<unit>\s?{_UNIT})?(?![\w-])"
)
_MAY_BREAK = re.compile(r"[–\s(]")
_WORTH_LOOKING = re.compile(r"[\d½¼¾⅓⅔⅛](?:[–(]|\s\S)")
# What is no running text is passed over whole; in a tag, every > inside an attribute is escaped.
_UNTOUCHED = re.compile(r"(<(?P<raw>script|style|title|svg|option|textarea)\b.*?</(?P=raw)>|<[^>]*>)", re.DOTALL | re.IGNORECASE)


def hold_figures(html: str) -> str:
    """The page with each range and each measurement as one piece: 4–9 cm, (3–)5–8(–10) mm, 12 °C, 1913–1926."""
    if not _WORTH_LOOKING.search(html):
        return html
    held, end = [], 0
    for passed_over in _UNTOUCHED.finditer(html):
        held += [_FIGURE.sub(_hold, html[end : passed_over.start()]), passed_over[0]]
        end = passed_over.end()
    return "".join([*held, _FIGURE.sub(_hold, html[end:])])


def _hold(found: re.Match[str]) -> str:
    figure = found[0]
    ranges = "–" in figure or found["unit"]
    return f'<span class="figure">{figure}</span>' if ranges and _MAY_BREAK.search(figure) else figure
