"""WebVTT and SubRip: read with patience, written by the book.

Files in the wild have commas for points, one-digit hours, no hours, short fractions, marks of byte order: all are read. Written
files follow the standard (W3C WebVTT: no byte order mark, `WEBVTT` first, points and three decimals) and, for SubRip, which has
none, common practice. Scientific names in *stars* are written in italics.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.guide.findings import At, Finding, Level
from guidebuild.speech.cues import Cue

_TIME = r"(?:(?:(\d+):)?(\d{1,3}):)?(\d{1,2})(?:[.,](\d{1,9}))?"
_ARROW = re.compile(rf"^\s*{_TIME}\s*-{{1,2}}>\s*{_TIME}(?=\s|$)")
_STRICT = re.compile(r"^(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}[ \t]+-->[ \t]+(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}(?:[ \t]|$)")
_STRICT_SUBRIP = re.compile(r"^\d\d:[0-5]\d:[0-5]\d,\d{3} --> \d\d:[0-5]\d:[0-5]\d,\d{3}")
_ITALIC = re.compile(r"</?i(?:\.[^>]*)?>", re.IGNORECASE)
_TAG = re.compile(r"</?[a-zA-Z0-9][^<>]*>|\{\\[^}]*\}")
_NAME = re.compile(r"\*([^*\n]+)\*")
_SKIPPED = re.compile(r"^(?:NOTE|STYLE|REGION)(?:\s|$)")


@dataclass(frozen=True, slots=True)
class Captions:
    """The cues of a file in their order, and what was wrong with it."""

    cues: tuple[Cue, ...]
    findings: tuple[Finding, ...] = ()


def read_captions(source: str | bytes, *, file: str = "captions") -> Captions:
    """Reads WebVTT or SubRip, whichever it is. Nothing is raised: what cannot be read is a finding."""
    findings: list[Finding] = []
    text = source if isinstance(source, str) else _decoded(source, file, findings)
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    is_webvtt = bool(lines) and lines[0].startswith("WEBVTT")
    cues: list[Cue] = []
    mended: list[int] = []
    arrows = 0
    for number, block in _blocks(lines):
        at = next((i for i, line in enumerate(block) if "->" in line), None)
        if at is None or _SKIPPED.match(block[0]):
            continue
        arrows += 1
        cue = _read_cue(block[at], block[at + 1 :], number + at, file, findings)
        if cue is None:
            continue
        if not (_STRICT if is_webvtt else _STRICT_SUBRIP).match(block[at].strip()):
            mended.append(number + at)
        cues.append(replace(cue, number=len(cues) + 1))
    findings += _file_findings(file, cues, mended, arrows=arrows, is_webvtt=is_webvtt)
    return Captions(tuple(cues), tuple(findings))


def _decoded(data: bytes, file: str, findings: list[Finding]) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        message = "The file is not UTF-8; it was read as Windows-1252."
        findings.append(Finding("not-utf8", Level.WARNING, message, At(file, line), "Save it as UTF-8."))
        return data.decode("cp1252", "replace")


def _blocks(lines: Sequence[str]) -> Iterator[tuple[int, list[str]]]:
    """Runs of lines between blank ones, with the number of their first line. A time line opens a new one even without a blank."""
    block: list[str] = []
    start = 1
    for number, line in enumerate(lines, 1):
        opens = "->" in line and _ARROW.match(line) and any("->" in earlier for earlier in block)
        if (not line.strip() or opens) and block:
            yield start, block
            block = []
        if line.strip():
            if not block:
                start = number
            block.append(line)
    if block:
        yield start, block


def _read_cue(timing: str, payload: Sequence[str], line: int, file: str, findings: list[Finding]) -> Cue | None:
    match = _ARROW.match(timing)
    if match is None:
        message = f"The times “{timing.strip()}” cannot be read; the cue is left out."
        findings.append(Finding("timecode-unreadable", Level.WARNING, message, At(file, line), "Write 00:00:01.000 --> 00:00:03.000."))
        return None
    start, end = _seconds(match.groups()[:4]), _seconds(match.groups()[4:])
    if end <= start:
        message = f"The cue ends at {end:g} s, not after its start at {start:g} s; it is left out."
        findings.append(Finding("caption-backwards", Level.WARNING, message, At(file, line), "Put the later time second."))
        return None
    return Cue(start, end, "\n".join(shown for row in payload if (shown := _plain(row))), line=line)


def _seconds(groups: Sequence[str | None]) -> float:
    hours, minutes, seconds, fraction = groups
    return int(hours or 0) * 3600 + int(minutes or 0) * 60 + int(seconds or 0) + float(f"0.{fraction or 0}")


def _plain(row: str) -> str:
    starred = _ITALIC.sub("*", row)
    return html.unescape(_TAG.sub("", starred)).strip()


def _file_findings(file: str, cues: Sequence[Cue], mended: Sequence[int], *, arrows: int, is_webvtt: bool) -> Iterator[Finding]:
    if arrows and not cues:
        message = f"The file has {arrows} lines with times, and not one cue could be read."
        yield Finding("captions-none-read", Level.ERROR, message, At(file), "Write times as 00:00:01.000 --> 00:00:03.000.")
    elif not arrows:
        message = "The file has no cues."
        yield Finding("captions-none-read", Level.ERROR, message, At(file), "Write times as 00:00:01.000 --> 00:00:03.000.")
    if mended and cues:
        kind, form = ("WebVTT", "00:00:01.000") if is_webvtt else ("SubRip", "00:00:01,000")
        message = f"Time lines not as {kind} has them: {len(mended)}. They were read all the same."
        yield Finding("timecode-mended", Level.NOTE, message, At(file, mended[0]), f"Players want {form}.")


def unrolled(cues: Iterable[Cue]) -> list[Cue]:
    """Cues of rolling captions (each repeats the line before) with every line said once; others stay as they are."""
    kept: list[Cue] = []
    shown: tuple[str, ...] = ()
    for cue in cues:
        rows = cue.text.split("\n")
        fresh = rows[1:] if shown and rows[0] == shown[-1] and (len(rows) > 1 or cue.start <= kept[-1].end + 0.05) else rows
        shown = tuple(rows)
        if any(row.strip() for row in fresh):
            kept.append(replace(cue, text="\n".join(fresh), number=len(kept) + 1))
    return kept


def time_code(seconds: float, *, point: str = ".") -> str:
    """`00:05:42.300`, or with a comma for SubRip; rounded to the millisecond."""
    thousandths = max(0, round(seconds * 1000))
    minutes, rest = divmod(thousandths, 60_000)
    return f"{minutes // 60:02}:{minutes % 60:02}:{rest // 1000:02}{point}{rest % 1000:03}"


def _rows(cue: Cue) -> list[str]:
    # A blank line would end the cue.
    return [row.strip() for row in cue.text.split("\n") if row.strip()]


def _ordered(cues: Iterable[Cue]) -> list[Cue]:
    # A cue has to end after it starts, by at least the millisecond that is written.
    lasting = [cue if cue.end - cue.start >= 0.001 else replace(cue, end=cue.start + 0.001) for cue in cues if _rows(cue)]
    return sorted(lasting, key=lambda cue: cue.start)


def webvtt(cues: Iterable[Cue], *, note: str = "") -> str:
    """A WebVTT file: cues in order of their start, numbered, names in italics. `note` becomes a comment at the top."""
    blocks = ["WEBVTT"]
    if note:
        blocks.append("NOTE\n" + re.sub(r"\n\s*\n", "\n", note.replace("-->", "→")).strip())
    for number, cue in enumerate(_ordered(cues), 1):
        # `>` is written out too, so that no text can hold an arrow.
        shown = "\n".join(_NAME.sub(r"<i>\1</i>", html.escape(row, quote=False)) for row in _rows(cue))
        blocks.append(f"{number}\n{time_code(cue.start)} --> {time_code(cue.end)}\n{shown}")
    return "\n\n".join(blocks) + "\n"


def subrip(cues: Iterable[Cue]) -> str:
    """A SubRip file: numbered from 1, commas in the times, names in italics."""
    blocks = []
    for number, cue in enumerate(_ordered(cues), 1):
        shown = "\n".join(_NAME.sub(r"<i>\1</i>", row.replace("-->", "→")) for row in _rows(cue))
        blocks.append(f"{number}\n{time_code(cue.start, point=',')} --> {time_code(cue.end, point=',')}\n{shown}\n")
    return "\n".join(blocks)
