"""Mistakes in single lines of YAML, told in plain words and mended in memory so that reading can go on."""

from __future__ import annotations

import re
from dataclasses import replace

import yaml

from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.findings import At
from guidebuild.reading.notes import Notes
from guidebuild.reading.text_file import position

_ODD_SPACES = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"
_ANY_ODD = re.compile(rf"[\t{_ODD_SPACES}]")
_INDENT = re.compile(rf"^[ \t{_ODD_SPACES}]*[\t{_ODD_SPACES}][ \t{_ODD_SPACES}]*", re.MULTILINE)
# A no-break space after a key's colon or a list's hyphen joins them to the value.
_AFTER_SIGN = re.compile(rf"^( *(?:- )*[^\s:#'\"][^:#'\"\n]*?:|[ ]*-)([{_ODD_SPACES}]+)", re.MULTILINE)
_HASH = re.compile(r"^(?!\s*#)[^'\"\n]*?\s(#[^\s#][^\n]*)", re.MULTILINE)
_KEY_AND_TEXT = re.compile(r"^(?P<lead>\s*(?:- +)*[^\s:#'\"\[\]{}-][^:#'\"]*:[ \t]+|\s*(?:- +)+)(?P<text>\S.*?)\s*$")
# Signs that start something else in YAML, unless the text is in quotation marks or is a list.
_NEEDS_QUOTES = re.compile(r"^[^\"'\[{].*:(?:\s|$)|^[@`%*&!>|,?](?!-?$)")
_HASH_IN_LIST = re.compile(r"^(?P<lead>[^#'\"\n\[]*:[ \t]*\[)(?P<items>(?:[^'\"\n\]]*[\s,])?#\w[^'\"\n\]]*)\][ \t]*$", re.MULTILINE)
_ANSWERS = "[?–—-]|n/?a|none known|(?:not |un)known|tb[cd]"
_SHORT_ANSWER = re.compile(rf"^(?P<lead>[ ]*[^\s:#'\"\[\]{{}}-][^:#'\"\n]*:[ ]+)(?P<said>{_ANSWERS})[ ]*$", re.IGNORECASE | re.MULTILINE)
_MAY_HOLD_ANSWER = re.compile(rf": +(?:{_ANSWERS}) *$", re.IGNORECASE | re.MULTILINE)  # begins with a plain sign: found much faster
_KEY = re.compile(r"^([^\s:#-][^:\n]*):", re.MULTILINE)
_MEANT = {"n/a": "not applicable", "na": "not applicable", "none known": "none"}
_TAKES_NONE = frozenset(field.key for field in ACCOUNT_FIELDS if field.blank == "none" or field.inline)
"""Keys under which one may say that there is nothing; elsewhere it would be printed as a name or a word."""
_NOT_APPLICABLE = re.compile(r"not (?:applicable|here) *: .*")


def mend_spaces(text: str, file: str, first_line: int, notes: Notes) -> str:
    """Ordinary spaces for tabs and no-break spaces that indent."""
    if not _ANY_ODD.search(text):
        return text

    def spaces(found: re.Match[str]) -> str:
        for sign, code in (("\t", "tab-in-facts"), (rf"[{_ODD_SPACES}]", "no-break-space")):
            _note_spaces(found, sign, code)
        return re.sub(rf"[{_ODD_SPACES}]", " ", found[0]).replace("\t", "  ")

    def _note_spaces(found: re.Match[str], sign: str, code: str) -> None:
        met = [m.start() for m in re.finditer(sign, found[0])]
        if met:
            at = position(text, found.start() + met[0], file, first_line=first_line)
            words = f"columns {at.column}–{at.column + len(met) - 1}" if len(met) > 1 else f"column {at.column}"
            kind = "tab" if code == "tab-in-facts" else "no-break space"
            notes.add(code, f"There is a {kind} at line {at.line}, {words}.", at)

    def after_sign(found: re.Match[str]) -> str:
        at = position(text, found.start(2), file, first_line=first_line)
        notes.add("no-break-space", f"There is a no-break space at line {at.line}, column {at.column}.", at)
        return found[1] + " " * len(found[2])

    text = _INDENT.sub(spaces, text)
    return _AFTER_SIGN.sub(after_sign, text)


def mend_hashtags(text: str, file: str, first_line: int, notes: Notes) -> str:
    """Quotation marks round the items of a list that start with a `#`, which would hide the rest of the line."""
    if "#" not in text:
        return text

    def quoted(found: re.Match[str]) -> str:
        items = [item.strip() for item in found["items"].split(",")]
        mended = found["lead"] + ", ".join(f'"{item}"' if "#" in item else item for item in items) + "]"
        first = found.start("items") + found["items"].index("#")
        at = position(text, first, file, first_line=first_line)
        sign = next(item for item in items if "#" in item)
        mend = f"Put quotes round it: {mended.strip()}"
        notes.add("hash-in-facts", f"'{sign}' starts with a #, which begins a remark in YAML.", at, mend=mend)
        return mended

    return _HASH_IN_LIST.sub(quoted, text)


def mend_short_answers(text: str, file: str, first_line: int, notes: Notes) -> str:
    """What people write for want of a fact, read as it is meant: `?` and `unknown` as not given, `n/a` too where nothing can be denied."""
    if not _MAY_HOLD_ANSWER.search(text):
        return text

    def meant(found: re.Match[str]) -> str:
        known, inside = _MEANT.get(found["said"].lower()), ""
        if found[0].startswith(" "):
            inside = next(reversed(_KEY.findall(text, 0, found.start())), "")
            known = "none" if known and inside in ("seasons", "life stages") else ""  # such a stage does not occur
        elif found["lead"].strip().rstrip(":") not in _TAKES_NONE:
            known = ""
        if inside == "characters":
            return found[0]  # their scores have words of their own for it
        if known:
            return found["lead"] + known
        words = f"'{found[0].strip()}' is read as not known: nothing is shown."
        notes.add("not-known", words, position(text, found.start("said"), file, first_line=first_line))
        return ""

    return _SHORT_ANSWER.sub(meant, text)


def note_lost_text(text: str, data: object, file: str, first_line: int, notes: Notes) -> None:
    """Note text behind a `#` that no value holds: YAML took it for a remark."""
    if "#" not in text:
        return
    kept = str(data)
    for match in _HASH.finditer(text):
        if match[1].split()[0] not in kept:
            at = position(text, match.start(1), file, first_line=first_line)
            notes.add("hash-in-facts", f"Everything from '{match[1][:40]}' on is read as a remark and never shown.", at)


def mend_line(text: str, trouble: Exception, file: str, first_line: int, notes: Notes) -> str | None:
    """The text with the broken line put in quotation marks, and a finding; None where that cannot help."""
    lines = text.split("\n")
    if _note_unclosed(trouble, lines, file, first_line, notes):
        return None
    number, column = _place(getattr(trouble, "problem_mark", None), len(lines))
    for candidate in (number, number - 1):
        mended = _quoted(lines[candidate]) if 0 <= candidate < len(lines) else None
        if mended:
            _note_line(lines[candidate], mended, At(file, candidate + first_line), notes)
            return "\n".join([*lines[:candidate], mended, *lines[candidate + 1 :]])
    at = At(file, number + first_line, column)
    notes.add("facts-syntax", f"The facts cannot be read here: '{lines[number].strip()[:80]}'.", at)
    return None


def _place(mark: yaml.Mark | None, count: int) -> tuple[int, int]:
    """Line from 0 (never past the end) and column from 1."""
    return (min(mark.line, count - 1), mark.column + 1) if mark is not None else (0, 0)


def _note_unclosed(trouble: Exception, lines: list[str], file: str, first_line: int, notes: Notes) -> bool:
    """Whether a quotation mark or bracket was never closed: the fault is where it opened, not where the text ends."""
    context = str(getattr(trouble, "context", "") or "")
    sign = {"while scanning a quoted scalar": "quotation mark"}.get(context, "bracket" if "flow" in context else "")
    if not sign:
        return False
    number, column = _place(getattr(trouble, "context_mark", None), len(lines))
    shown = lines[number].strip()[:80]
    notes.add("facts-syntax", f"The {sign} opened in '{shown}' is not closed.", At(file, number + first_line, column))
    return True


def _quoted(line: str) -> str | None:
    """`key: text` with the text in quotation marks, where the text has a sign in it that YAML takes for its own."""
    match = _KEY_AND_TEXT.match(line)
    if not match or not _NEEDS_QUOTES.search(match["text"]):
        return None
    text = match["text"].replace("\\", "\\\\").replace('"', '\\"')
    return f'{match["lead"]}"{text}"'


def _note_line(line: str, mended: str, at: At, notes: Notes) -> None:
    match = _KEY_AND_TEXT.match(line)
    # "host plants: not applicable: reason" is how one says it (and "egg: not here: reason"), so it needs no quotation marks.
    if match is None or _NOT_APPLICABLE.fullmatch(match["text"]):
        return
    at = replace(at, column=match.start("text") + 1)
    if re.search(r":(\s|$)", match["text"]):
        notes.add("colon-in-text", f"There is a colon inside the text: '{line.strip()}'.", at, mend=f"Write {mended.strip()}")
        return
    words = f"'{match['text'][0]}' at the start of a text is a sign of YAML: '{line.strip()}'."
    notes.add("facts-syntax", words, at, mend=f"Write {mended.strip()}")
