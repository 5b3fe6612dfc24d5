"""A name written in every way that people, programs and files write names: more than two hundred of each."""

from __future__ import annotations

import html
import json
import unicodedata
from collections.abc import Callable, Iterator
from itertools import product
from urllib.parse import quote, quote_plus

JOINTS = {
    **{f"joined by {sign!r}": sign for sign in " -_+./,:;·•|–—‐‑'’\"“”()[]{}#&!?=*~\\\t\n…→×"},
    "no joint": "",
    "two spaces": "  ",
    "a line and an indent": "\n    ",
    "a Windows line": "\r\n",
    "an empty line": "\n\n",
    "many spaces": " " * 40,
    "a hard space": "\u00a0",
    "a thin space": "\u2009",
    "an ideographic space": "\u3000",
    "a narrow hard space": "\u202f",
    "a zero-width space": "\u200b",
    "a word joiner": "\u2060",
    "a byte order mark": "\ufeff",
    "a soft hyphen": "\u00ad",
    "a direction mark": "\u200e ",
    "a line separator": "\u2028",
    "a comma and a space": ", ",
    "a dash with spaces": " – ",
    "a slash with spaces": " / ",
    "a tag": "<br>",
    "a tag with spaces": " <wbr> ",
    "tags": "</b> <i>",
    "a long tag": f'</span><span class="{"x" * 500}" title="a b">',
    "a comment": "<!-- and so on -->",
    "a cell": "</td>\n<td>",
    "a hard space as a reference": "&nbsp;",
    "a dash as a reference": "&ndash;",
    "a reference in figures": "&#160;",
    "a reference escaped twice": "&amp;nbsp;",
    "a soft hyphen as a reference": "&shy;",
    "a percent sign": "%20",
    "a percent sign escaped twice": "%2520",
    "a JSON escape": "\\u00a0",
    "a JSON line": "\\n",
    "a quoted mark": '\\"',
    "stars": "** **",
    "strokes": "__ __",
    "a cell of a table": " | ",
    "a quotation": "\n> ",
    "an item": "\n- ",
    "a heading": "\n## ",
    "a line of a cue": "\n<v Leader>",
    "two texts": '", "',
    "a bracket of an array": "'], ['",
    "a folded line": "\r\n ",
}
_BOLD = {ord(sign): 0x1D400 + place for place, sign in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz")}
_WIDE = {code: code + 0xFEE0 for code in range(0x21, 0x7F)} | {0x20: 0x3000}
_CIRCLED = {ord(sign): 0x24B6 + place for place, sign in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZ")} | {
    ord(sign): 0x24D0 + place for place, sign in enumerate("abcdefghijklmnopqrstuvwxyz")
}
_CYRILLIC = str.maketrans("aeopcxyi", "аеорсхуі")
LETTERS: dict[str, Callable[[str], str]] = {
    "as it is": str,
    "capitals": str.upper,
    "small": str.lower,
    "titled": str.title,
    "swapped": str.swapcase,
    "folded": str.casefold,
    "NFC": lambda name: unicodedata.normalize("NFC", name),
    "NFD": lambda name: unicodedata.normalize("NFD", name),
    "NFKC": lambda name: unicodedata.normalize("NFKC", name),
    "NFKD": lambda name: unicodedata.normalize("NFKD", name),
    "without accents": lambda name: "".join(s for s in unicodedata.normalize("NFD", name) if not "\u0300" <= s <= "\u036f"),
    "with accents": lambda name: "".join(f"{sign}\u0301" if sign in "aeiou" else sign for sign in name),
    "underlined": lambda name: "".join(f"{sign}\u0332" for sign in name),
    "bold": lambda name: name.translate(_BOLD),
    "wide": lambda name: name.translate(_WIDE),
    "circled": lambda name: name.translate(_CIRCLED),
    "look-alikes": lambda name: name.translate(_CYRILLIC),
    "soft hyphens": "\u00ad".join,
    "zero-width spaces": "\u200b".join,
    "zero-width joiners": "\u200d".join,
    "direction marks": "\u200f".join,
    "word joiners": "\u2060".join,
    "invisible signs": "\u2063".join,
    "variation selectors": "\ufe0f".join,
    "soft hyphens as references": "&shy;".join,
    "spaced": " ".join,
    "dotted": ".".join,
    "a tag in the midst": lambda name: f"{name[:2]}<b>{name[2:]}</b>",
    "a tag with words": lambda name: f'{name[:3]}<i lang="en" id="a-b">{name[3:]}',
    "stars in the midst": lambda name: f"{name[:2]}**{name[2:]}**",
    "a hyphen at the line's end": lambda name: f"{name[:2]}-\n{name[2:]}",
    "a hyphen of a PDF": lambda name: f"{name[:2]}\ufffe\n{name[2:]}",
    "a folded line": lambda name: f"{name[:3]}\r\n {name[3:]}",
    "a soft line of a mail": lambda name: f"{name[:3]}=\n{name[3:]}",
    "references": html.escape,
    "references in figures": lambda name: "".join(f"&#{ord(sign)};" for sign in name),
    "references to the base of sixteen": lambda name: "".join(f"&#x{ord(sign):x};" for sign in name),
    "percent signs": quote,
    "a form": quote_plus,
    "all percent signs": lambda name: "".join(f"%{byte:02X}" for byte in name.encode()),
    "JSON": lambda name: json.dumps(name)[1:-1],
    "JSON escapes": lambda name: "".join(f"\\u{ord(s):04x}" if ord(s) < 65536 else s for s in name),
    "a JavaScript escape": lambda name: "".join(f"\\x{ord(s):02x}" if ord(s) < 128 else s for s in name),
    "a JavaScript escape in braces": lambda name: "".join(f"\\u{{{ord(s):x}}}" for s in name),
    "an owner": "{}’s".format,
    "an owner, typed": "{}'s".format,
    "plural": "{}s".format,
    "plural owner": "{}s’".format,
    "plural with e": "{}es".format,
    "in quotes": "“{}”".format,
    "in brackets": "({})".format,
    "a file": "/photos/2026-{}-2.jpg".format,
    "a numbered file": "{}2.jpg".format,
    "an address": "https://example.org/{}/?q=1#top".format,
    "a tag's word": '<img alt="near {}, in May">'.format,
    "a comment": "<!-- {} -->".format,
    "a key": '{{"at": "{}"}}'.format,
    "a tag of a post": "#{} ".format,
    "a link": "[{}](https://example.org)".format,
    "a heading": "# {}\n".format,
    "with a full stop": "{}.".format,
    "behind a letter and a tag": "<td>North</td><td>{}</td>".format,
    "in a Chinese sentence": "我们在{}见面".format,
    "in camel case": "at{}Nest".format,
    "behind a stroke": "_{}_".format,
    "in a formula": "={}+1".format,
    "before a colon": "{}: at dawn".format,
    "with the words in the plural": lambda name: name.replace(" ", "s ", 1),
    "with the first word an owner": lambda name: name.replace(" ", "’s ", 1),
    "upside down tags": lambda name: f"</p>{name}<p",
    "in a style": '<p style="color: red">{}</p>'.format,
    "between figures": "12 {} 34".format,
    "in a list": "mill, {}, ford".format,
    "behind an article": "the {}".format,
    "in the midst of a sentence": "We walked from {} to the ford.".format,
    "escaped twice": lambda name: html.escape(html.escape(name)),
    "a percent sign twice": lambda name: quote(quote(name)),
}
OF_CASES = ("small", "capitals", "as it is")


def write_name(name: str) -> Iterator[tuple[str, str]]:
    """The name in every way, each with what was done to it."""
    seen: set[str] = set()
    ways = [(how, as_letters(name)) for how, as_letters in LETTERS.items()]
    if " " in name:
        ways += [(f"{how}, {case}", LETTERS[case](name).replace(" ", joint)) for (how, joint), case in product(JOINTS.items(), OF_CASES)]
    for how, written in ways:
        if written not in seen:
            seen.add(written)
            yield how, written
