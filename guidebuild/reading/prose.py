"""Dangers in prose that come out wrong on the page: lost table cells, stars left over, text taken for tags or lists."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidebuild.counting import count_of
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.guide.texts import find_markdown
from guidebuild.reading.notes import Notes

_FENCE = re.compile(r"\s{0,3}(`{3,}|~{3,})")
_CODE = re.compile(r"(`+)(?!`).+?(?<!`)\1(?!`)")
# An opening star right before a letter, a closing one right after a space. What must stand before the star is looked at after it:
# a pattern that begins with a plain sign is found many times faster.
_STAR_AFTER_SPACE = re.compile(r"\*(?<![*\w\\]\*)(?:(\*?)(?![\s*])[^*\n]*?[^*\s]\s+\*\1(?![*\s\w])|(?![\s*])[^*\n]*\S\s+\*(?=[(\w]))")
_LIKE_A_TAG = re.compile(r"<(?=[a-z][^<>\n]*>)(?![a-z][a-z0-9]*(?:\s+[a-z-]+(?:=|\s*>|\s*/)|\s*/?>))(?!\w+:|[\w.+-]+@)", re.IGNORECASE)
_NUMBERS_IN_STARS = re.compile(r"(?<![\d*])\d+\*\d[^*\n]{0,12}\*\d")
_STAR_BEFORE_NUMBER = re.compile(r"\*\d")
_SPACE_AFTER_BRACKET = re.compile(r"\]\([^()\n]*\s")
_SPACE_IN_LINK = re.compile(r"!?\[[^\]\n]*\]\((?![<\s])[^()\n\"'<>]*[^()\n\"'<>\s]\s+[^()\n\"'<>\s][^()\n\"'<>]*\)")
_FAULTS = (
    ("*", _STAR_AFTER_SPACE, "star-left", "A space stands before the closing * in"),
    ("<", _LIKE_A_TAG, "reads-as-tag", "Browsers take this for a tag and show nothing:"),
    ("](", _SPACE_IN_LINK, "space-in-link", "There is a space in the address of"),
    ("*", _NUMBERS_IN_STARS, "reads-as-italics", "Numbers between stars turn italic in"),  # the last: see _STAR_BEFORE_NUMBER
)
"""A sign without which there is no such fault, what finds the fault, its code, and how the message begins."""
_YEAR_LIST = re.compile(r"\s{0,3}(\d{3,9})[.)]\s+\S")
_BLOCK_TAG = re.compile(
    r"\s{0,3}<(/?)(address|article|aside|blockquote|details|div|dl|fieldset|figure|footer|form|h[1-6]|header|main|nav|ol|p|section|table|ul)\b",
    re.IGNORECASE,
)
# Most sections hold none of the signs that can go wrong.
_SUSPECT = ("*", "<", "|", "`", "~~~")
_NUMBERED = re.compile(r"\n\s*[0-9]{3,9}[.)]")  # begins with a plain sign: found many times faster
_EMPHASIS = re.compile(r"(?<![*\w\\])\*{1,2}[^*\s][^*\n]*?(?<=[^\s*])\*{1,2}(?![*\w])")
_TABLE_RULE = re.compile(r"\s*\|?\s*:?-+:?\s*(\|\s*:?-+:?\s*)*\|?\s*$")


def lint_texts(guide: Guide, notes: Notes) -> None:
    """Note what would come out wrong in any piece of Markdown of the guide, in files or in facts."""
    for text in find_markdown(guide):
        if not _can_go_wrong(text.text):
            continue
        for code, words, at in find_dangers(Section("", text.text, text.at)):
            # A text in the facts may be folded: only its start is sure.
            notes.add(code, words, text.at if text.at.column else at, account=text.account)


def _can_go_wrong(text: str) -> bool:
    """Whether the text holds any of the signs at all: most hold none."""
    has_suspect_link = "](" in text and _SPACE_AFTER_BRACKET.search(text) is not None
    return has_suspect_link or any(map(text.__contains__, _SUSPECT)) or _has_long_number(text)


def _has_long_number(text: str) -> bool:
    """Whether a line begins as an item of a list does whose number has three figures or more."""
    return _NUMBERED.search(f"\n{text}") is not None


def check_headings(sections: tuple[Section, ...], notes: Notes, account: str, *, mend: str = "") -> None:
    """Note text without a heading, with what else than the rule says would `mend` it; and headings that stand twice."""
    seen: set[str] = set()
    for section in sections:
        if not section.heading:
            notes.add("text-before-heading", "There is text before the first heading.", section.at, mend=mend, account=account)
        elif section.heading.casefold() in seen:
            words = f"The heading '{section.heading}' stands twice."
            notes.add("duplicate-heading", words, section.at, account=account)
        seen.add(section.heading.casefold())


def find_dangers(section: Section) -> Iterator[tuple[str, str, At]]:
    """Code, message and position of each danger in a section."""
    text = section.text
    numbered = _has_long_number(text)
    faults = [fault for fault in (_FAULTS if _STAR_BEFORE_NUMBER.search(text) else _FAULTS[:-1]) if fault[0] in text]
    lines = text.split("\n")
    for number, line in lines_without_code(lines):
        if number < 0:
            yield "fence-not-closed", "A code block in this section is opened and never closed.", section.at
            break
        for sign, pattern, code, begins in faults:
            if sign in line:
                for start in (found.start() for found in pattern.finditer(line)):
                    words = f"{begins} '{line[start : start + 40].strip()}'."
                    yield code, words, At(section.at.file, section.at.line + number, start + 1)
        if numbered and not (number and lines[number - 1].strip()):
            yield from _year_list(line, section.at, number)
    if "|" in text:
        yield from _tables(lines, section)
    if "<" in text:
        yield from _html(lines, section)


def lines_without_code(lines: list[str]) -> Iterator[tuple[int, str]]:
    """Lines that are shown as text, code blanked out; number −1 at the end where a code block is not closed."""
    if not any("`" in line or "~~~" in line for line in lines):
        yield from enumerate(lines)
        return
    fence = ""
    for number, line in enumerate(lines):
        match = _FENCE.match(line)
        if match and not fence:
            fence = match[1][:3]
        elif fence:
            fence = "" if match and match[1].startswith(fence) else fence
        else:
            yield number, _CODE.sub(lambda m: " " * len(m[0]), line) if "`" in line else line
    if fence:
        yield -1, ""


def _year_list(line: str, start: At, number: int) -> Iterator[tuple[str, str, At]]:
    listed = _YEAR_LIST.match(line)
    if listed:
        yield "reads-as-list", f"'{line.strip()[:40]}' is read as item {listed[1]} of a list.", At(start.file, start.line + number, 1)


def _tables(lines: list[str], section: Section) -> Iterator[tuple[str, str, At]]:
    """Rows with more cells than the header, for each table (a header line, then a line of hyphens)."""
    for number in range(1, len(lines)):
        if not (_TABLE_RULE.fullmatch(lines[number]) and "|" in lines[number - 1] and "-" in lines[number]):
            continue
        wanted = len(_cells(lines[number - 1]))
        for row in range(number + 1, len(lines)):
            if "|" not in lines[row]:
                break
            count = len(_cells(lines[row]))
            if count > wanted:
                words = f"This table row has {count_of(count, 'cell')}, its header has {wanted}: '{lines[row].strip()[:60]}'."
                yield "table-cells", words, At(section.at.file, section.at.line + row, 1)


def _cells(row: str) -> list[str]:
    inner = row.strip().removeprefix("|")
    inner = inner[:-1] if inner.endswith("|") and not inner.endswith(r"\|") else inner
    return re.split(r"(?<!\\)\|", _CODE.sub("", inner))


def _html(lines: list[str], section: Section) -> Iterator[tuple[str, str, At]]:
    """Emphasis between an HTML block tag and the next blank line stays as typed."""
    inside = False
    for number, line in enumerate(lines):
        if _BLOCK_TAG.match(line):
            inside = True
        elif not line.strip():
            inside = False
        match = _EMPHASIS.search(line) if inside else None
        if match:
            words = f"'{match[0][:40]}' stands in an HTML block, where its stars are shown."
            yield "stars-in-html", words, At(section.at.file, section.at.line + number, match.start() + 1)
