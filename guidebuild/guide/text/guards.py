"""Field notes are full of signs that Markdown would swallow: `<c. 5 mm`, `5*6*7 mm`, a line that starts with `1986.`.

They are guarded before Markdown is read, so that the words that come out are the words typed.
"""

from __future__ import annotations

import re

from guidebuild.guide.text.typed_signs import hide_sign, hide_unpaired

_CODE = re.compile(r"(`+[^`]+`+)")
_TAGS = "a|abbr|aside|b|blockquote|br|caption|cite|code|dd|del|details|div|dl|dt|em|figcaption|figure|h[1-6]|hr|i|img|ins|kbd|li|mark"
_TAGS += "|ol|p|pre|q|s|section|small|span|strong|sub|summary|sup|table|tbody|td|tfoot|th|thead|tr|u|ul|var|script|style|iframe"
_NOT_A_TAG = re.compile(
    rf"(?<!\]\()<(?!/?(?:{_TAGS})(?:\s[^<>]*|/)?>|(?:https?://|mailto:)[^<>]*>|[^\s<>@]+@[^\s<>]+>|!--|\w+:[^<>\s]+>)", re.IGNORECASE
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
# A heading with a line under it; what follows at once is set apart, or the converter looks through the rest again for each.
_UNDERLINED = re.compile(r"[=-]+ *$")


def guard_signs(text: str) -> str:
    """Markdown in which measurements, years and comparison signs can no longer be taken for marks."""
    text = hide_unpaired(text)
    if "|" in text:
        text = _guard_tables(text)
    if _BULLET.search(text):
        text = _guard_lists(text)
    if "\n=" in text or "\n-" in text:
        text = _guard_headings(text)
    text = _YEAR_FIRST.sub(r"\1" + hide_sign("."), text)
    text = _MORE_THAN.sub(hide_sign(">"), text)
    text = _HASHTAG.sub(lambda m: hide_sign(m[1]), text)
    text = _PLAIN_BLOCK.sub(lambda m: f'<{m[1]}{m[2] or ""} markdown="1">', text)
    pieces = _CODE.split(text)
    pieces[::2] = [_TIMES.sub(hide_sign("*"), _NOT_A_TAG.sub(hide_sign("<"), piece)) for piece in pieces[::2]]
    return "".join(pieces)


def _guard_headings(text: str) -> str:
    """Headings with a line under them, at the beginning of a paragraph, end it."""
    out: list[str] = []
    first = heading = ""
    for line in text.split("\n"):
        if heading:
            out += [""] if line.strip() else []
            heading = ""
        if first and len(out) and out[-1] is first and _UNDERLINED.match(line):
            heading, first = line, ""
        elif line.strip():
            first = line if not out or not out[-1].strip() else ""
        else:
            first = ""
        out.append(line)
    return "\n".join(out)


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
