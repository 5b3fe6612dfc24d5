"""WebVTT and SubRip, read with patience and written by the book.

Files in the wild have commas for points, one-digit hours, no hours, short fractions, no blank lines, marks of byte order: their
times are put right here, line by line, and `webvtt-py` reads what then follows the standard (W3C WebVTT). It writes WebVTT too, and
`srt` writes SubRip, which has no standard but common practice. Scientific names are written in italics, and known by them.
"""

from __future__ import annotations

import datetime as dt
import html
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

import srt
import webvtt

from guidebuild.guide.findings import At, Code, Finding
from guidebuild.speech.codes import CAPTION_BACKWARDS, CAPTIONS_NONE_READ, CAPTIONS_NOT_UTF8, TIMECODE_MENDED, TIMECODE_UNREADABLE
from guidebuild.speech.cues import Cue
from guidebuild.speech.script import Spoken, trim_words

_TIME = r"(?:(?:(\d+):)?(\d{1,3}):)?(\d{1,2})(?:[.,](\d{1,9}))?"
_ARROW = re.compile(rf"^\s*{_TIME}\s*-{{1,2}}>\s*{_TIME}(?=\s|$)")
_STRICT = re.compile(r"^(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}[ \t]+-->[ \t]+(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}(?:[ \t]|$)")
_STRICT_SUBRIP = re.compile(r"^\d\d:[0-5]\d:[0-5]\d,\d{3} --> \d\d:[0-5]\d:[0-5]\d,\d{3}")
_ITALIC = re.compile(r"<(/?)i(?:\.[^>]*)?>", re.IGNORECASE)
_TAG = re.compile(r"</?[a-zA-Z0-9][^<>]*>|\{\\[^}]*\}")
_BREAK = re.compile(r"[\r\n]+")
_NO_CUE = re.compile(r"^(?:NOTE|STYLE|REGION)(?:\s|$)")
_HELD_BACK = "--&gt;"  # an arrow that has no times beside it, which would open a cue


@dataclass(frozen=True, slots=True)
class Captions:
    """The cues of a file in their order, and what was wrong with it."""

    cues: tuple[Cue, ...]
    findings: tuple[Finding, ...] = ()


def read_captions(source: str | bytes, *, file: str = "captions") -> Captions:
    """Reads WebVTT or SubRip, whichever it is. Nothing is raised: what cannot be read is a finding."""
    findings: list[Finding] = []
    text = source if isinstance(source, str) else _decode(source, file, findings)
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    is_webvtt = lines[0].startswith("WEBVTT")
    mended = _Mended(file, is_webvtt=is_webvtt)
    for number, line in enumerate(lines, 1):
        mended.add_line(number, line)
    cues = tuple(
        Cue(*mended.times[line], tuple(_read_rows(words)), number, line) for number, (line, words) in enumerate(mended.read_blocks(), 1)
    )
    return Captions(cues, (*findings, *mended.findings, *_judge_file(mended, cues)))


def _decode(data: bytes, file: str, findings: list[Finding]) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        message = "The file is not UTF-8; it was read as Windows-1252."
        findings.append(CAPTIONS_NOT_UTF8.finding(message, At(file, line)))
        return data.decode("cp1252", "replace")


@dataclass(slots=True)
class _Mended:
    """A file's lines put right one after the other: every cue in the standard's form, under the number of its line of times."""

    file: str
    is_webvtt: bool
    lines: list[str] = field(default_factory=list)
    times: dict[int, tuple[float, float]] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    unusual: list[int] = field(default_factory=list)  # lines whose times are not as the standard has them
    arrows: int = 0
    in_cue: bool = False
    left_out: bool = False  # the rest of this block belongs to a cue that cannot be read
    block: str = ""  # the first line of the block that is open

    def add_line(self, number: int, line: str) -> None:
        """Takes the next line of the file."""
        bare = line.strip()
        match = _ARROW.match(line) if "->" in line else None
        if number == 1 and self.is_webvtt:
            self.lines.append("WEBVTT")
        elif not bare:
            self.in_cue = False
            self.left_out = self.left_out and not self.is_webvtt
            self.block = ""
            self.lines.append("")
        elif match:
            self._add_times(number, bare, match)
        elif "->" in line and not (self.in_cue or self.left_out or _NO_CUE.match(self.block or line)):
            self.arrows += 1
            self._drop_identifier()
            message = f"The times “{bare}” cannot be read; the cue is left out."
            self._leave_out(TIMECODE_UNREADABLE, message, number)
        elif not self.left_out:
            self.lines.append(line.replace("-->", _HELD_BACK))
        if bare:
            self.block = self.block or line

    def _add_times(self, number: int, typed: str, match: re.Match[str]) -> None:
        self.arrows += 1
        start, end = _read_time(match.groups()[:4]), _read_time(match.groups()[4:])
        self._drop_identifier()
        if end <= start:
            message = f"The cue ends at {end:g} s, not after its start at {start:g} s; it is left out."
            self._leave_out(CAPTION_BACKWARDS, message, number)
            return
        if not (_STRICT if self.is_webvtt else _STRICT_SUBRIP).match(typed):
            self.unusual.append(number)
        # Rounded for the library, which may then see one time twice; the true ones are kept in `times`.
        self.lines.append(f"\n{number}\n{write_time(start)} --> {write_time(end)}")
        self.times[number] = start, end
        self.in_cue, self.left_out = True, False

    def _drop_identifier(self) -> None:
        """Takes back the number that stood above the times, with or without blank lines round it, but never a cue's words."""
        above = len(self.lines)
        while above and not self.lines[above - 1]:
            above -= 1
        before = self.lines[above - 2] if above > 1 else ""
        is_alone = not before if above < len(self.lines) else "-->" not in before
        if above and self.lines[above - 1].strip().isdigit() and is_alone:
            del self.lines[above - 1 :]

    def _leave_out(self, code: Code, message: str, number: int) -> None:
        self.findings.append(code.finding(message, At(self.file, number)))
        self.in_cue, self.left_out = False, True

    def read_blocks(self) -> Iterator[tuple[int, str]]:
        """Each cue's line of times and its words as written, as the library for the format reads them."""
        # In SubRip a cue goes on after a blank line, until the next line of times; nothing else stands in such a file.
        lines = self.lines if self.is_webvtt else ["WEBVTT", *filter(None, self.lines)]
        for cue in webvtt.from_string("\n".join(lines)).captions:
            yield int(cue.identifier or 0), cue.raw_text


def _read_time(groups: Sequence[str | None]) -> float:
    hours, minutes, seconds, fraction = groups
    return int(hours or 0) * 3600 + int(minutes or 0) * 60 + int(seconds or 0) + float(f"0.{fraction or 0}")


def _read_rows(written: str) -> Iterator[tuple[Spoken, ...]]:
    """The rows of a cue; what is in italics is a name, also where it goes on in the next row."""
    is_name = False
    for row in written.split("\n"):
        words: list[Spoken] = []
        for number, piece in enumerate(_ITALIC.split(row)):
            # Every other piece is what the expression caught: a slash where the italics end.
            if number % 2:
                is_name = not piece
            else:
                words.append(Spoken(_BREAK.sub(" ", html.unescape(_TAG.sub("", piece))), is_name))
        if read := trim_words(words):
            yield read


def _judge_file(mended: _Mended, cues: Sequence[Cue]) -> Iterator[Finding]:
    """What is wrong with the file as a whole. A library may read nothing and say nothing: that is an error here."""
    if not cues:
        message = (
            f"The file has {mended.arrows} lines with times, and not one cue could be read." if mended.arrows else "The file has no cues."
        )
        yield CAPTIONS_NONE_READ.finding(message, At(mended.file))
    elif mended.unusual:
        kind, form = ("WebVTT", "00:00:01.000") if mended.is_webvtt else ("SubRip", "00:00:01,000")
        message = f"Time lines not as {kind} has them: {len(mended.unusual)}. They were read all the same."
        yield TIMECODE_MENDED.finding(message, At(mended.file, mended.unusual[0]), mend=f"Players want {form}.")


def write_time(seconds: float, *, point: str = ".") -> str:
    """`00:05:42.300`, or with a comma for SubRip; rounded to the millisecond."""
    thousandths = _thousandths(seconds)
    minutes, rest = divmod(thousandths, 60_000)
    return f"{minutes // 60:02}:{minutes % 60:02}:{rest // 1000:02}{point}{rest % 1000:03}"


def _thousandths(seconds: float) -> int:
    return max(0, round(seconds * 1000))


def _write_rows(cue: Cue, escape: Callable[[str], str]) -> list[str]:
    """The rows of a cue with names in italics, what must not stand in a file escaped. A blank row would end the cue."""
    rows = (
        "".join(f"<i>{text}</i>" if one.is_name else text for one in trim_words(row) for text in (escape(_BREAK.sub(" ", one.text)),))
        for row in cue.rows
    )
    return [row for row in rows if row]


def _without_arrow(text: str) -> str:
    return text.replace("-->", "→")


def _ordered(cues: Iterable[Cue]) -> list[Cue]:
    # A cue has to end after it starts, by at least the millisecond that is written.
    lasting = [cue if cue.end - cue.start >= 0.001 else replace(cue, end=cue.start + 0.001) for cue in cues if cue.text.strip()]
    return sorted(lasting, key=lambda cue: cue.start)


def write_webvtt(cues: Iterable[Cue], *, note: str = "") -> str:
    """A WebVTT file: cues in order of their start, numbered, names in italics. `note` becomes a comment at the top."""
    captions = [
        # `>` is written out too, so that no text can hold an arrow.
        webvtt.Caption(
            write_time(cue.start),
            write_time(cue.end),
            _write_rows(cue, partial(html.escape, quote=False)),
            str(number),
        )
        for number, cue in enumerate(_ordered(cues), 1)
    ]
    comment = re.sub(r"\n\s*\n", "\n", note.replace("-->", "→")).strip()
    return webvtt.WebVTT(captions=captions, header_comments=[comment] if comment else []).content


def write_subrip(cues: Iterable[Cue]) -> str:
    """A SubRip file: numbered from 1, commas in the times, names in italics."""
    subtitles = [
        srt.Subtitle(
            number,
            dt.timedelta(milliseconds=_thousandths(cue.start)),
            dt.timedelta(milliseconds=_thousandths(cue.end)),
            "\n".join(_write_rows(cue, _without_arrow)),
        )
        for number, cue in enumerate(_ordered(cues), 1)
    ]
    return str(srt.compose(subtitles, reindex=False)).removesuffix("\n")
