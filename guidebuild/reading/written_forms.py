"""How single values are written, as an editor can know it: words of a list, and patterns (of ECMA 262, as JSON Schema asks).

A form takes everything that the reader takes, and refuses most of what it does not: an editor underlines no value that is right.
Each is for texts only; an editor's own reader may make a number of `1959` and false of `no`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

TEXT: dict[str, Any] = {"type": ["string", "number", "boolean"]}
_DASHES = r"[-\u2010-\u2015\u2212]"
_NOT_GIVEN = r"[?–—-]|[nN]/?[aA]|(?:[nN]one|[nN]ot|[uU]n) ?known|[tT][bB][cCdD]|[nN]one|[nN]ot .*"
"""What people write for want of a fact; the reader takes it as it is meant."""
_SHARE = r"(?:\+?0*(?:100(?:\.0+)?|\d{1,2}(?:\.\d+)?)|[-\u2010-\u2015\u2212]0+(?:\.0+)?)"
_FIGURE = r"\d[\d.]*"
_SPLIT = r"[,;%\s]"

DAY = r"(?:1[789]|2[01])\d\d-(?:0?[1-9]|1[0-2])-(?:0?[1-9]|[12]\d|3[01])"
CLOCK = r"(?:[01]?\d|2[0-3])[:.][0-5]\d"
SHARE = rf"{_SPLIT}*{_SHARE}{_SPLIT}*"
INK_LIMIT = r"\s*0*(?:[1-3]\d\d|400)\s*%?\s*"
POINT = rf"{_SPLIT}*{_SHARE}{_SPLIT}+{_SHARE}{_SPLIT}*"
REACH = rf"\D*{_FIGURE}\D+{_FIGURE}\D*"
LINE = rf"\D*{_FIGURE}\D+{_FIGURE}\D+{_FIGURE}\D+{_FIGURE}\D*"
BOX = LINE
POSITION = r"[^,;]*\d[^,;]*[,;][^,;]*\d[^,;]*"
MEASURE = r".*[\d\u00bc-\u00be\u2150-\u215e].*[^\d\s.,\u2010-\u2015\u2212-].*"
"""A figure and something after or before it: a unit, in any of its many forms."""
SOME_FIGURE = r".*\d.*"
NAME = r"[^A-Za-z\u00c0-\u024f]*(?:[xX] *)?[A-Z\u00c0-\u00de\u0100-\u024f].*"
"""A genus begins with a capital; signs such as × may stand before it."""
ADDRESS = r"(?:[hH][tT][tT][pP][sS]?://.+)?"
DOI = r"(?:(?:[hH][tT][tT][pP][sS]?://)?(?:[dD][xX]\.)?[dD][oO][iI](?:\.[oO][rR][gG]/|:)\s*)?10\.\d{4,9}/\S+"
LANGUAGE = r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,3}"
COUNTRY = r"[A-Za-z]{2}"
ZONE = r"[A-Za-z0-9_+\-/]+"
WHOLE = r"\d{1,9}"
NUMBER = r"\d{1,9}(?:\.\d{1,9})?"


YES_NO = "[yYnN]|[tT][rR][uU][eE]|[fF][aA][lL][sS][eE]|[oO][nN]|[oO][fF][fF]"
OPEN = "[fF][aA][lL][sS][eE]|[nN]|[oO][fF][fF]|[oO][pP][eE][nN]"
SEX = "[mMfF♂♀]|[bB][oO][tT][hH] [sS][eE][xX][eE]?[sS]?|[aA][nN][yY]|[A-Za-z]*(?:[lL][eE]|[kK][eE][rR]|[eE][nN]|[nN][eE]|[iI][tT][eE])[sS]"
"""Males, females and castes in the plural too."""


def write_form(words: str, pattern: str = "", *, is_text: bool = False) -> dict[str, Any]:
    """Any plain value, or one of this pattern, with what an editor may show about it; `is_text` where a bare number cannot be right."""
    form: dict[str, Any] = {"type": "string"} if is_text else {**TEXT}
    if pattern:
        form["pattern"] = rf"^\s*(?:{pattern}|{_NOT_GIVEN})?\s*$"
    return {**form, "description": words}


def list_choices(words: str, choices: Iterable[str], also: str = "") -> dict[str, Any]:
    """One of these words, which an editor offers, in any case; `also` is a pattern for other ways to write them."""
    known = list(choices)
    pattern = "|".join([*map(_in_any_case, known), *([also] if also else [])])
    other = {key: value for key, value in write_form("", pattern).items() if key != "description"}
    return {"description": words, "anyOf": [{"enum": known}, other]}


def _in_any_case(word: str) -> str:
    """A pattern for a word however its letters, spaces and dashes are written."""
    signs = (_DASHES if sign == "-" else r"\s+" if sign == " " else _both_cases(sign) for sign in word)
    return "".join(signs)


def _both_cases(sign: str) -> str:
    return f"[{sign.lower()}{sign.upper()}]" if sign.lower() != sign.upper() else re.escape(sign)
