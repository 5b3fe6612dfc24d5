"""Seasons as people write them: "mid May – early July", "all year, most seen in May", "Nov–Feb", "weeks 20–26"."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field

from guidebuild.guide.problem import Unreadable
from guidebuild.guide.season_tokens import Token, nearest_word, read_tokens
from guidebuild.guide.season_vocabulary import ENGLISH, TokenKind, Vocabulary
from guidebuild.guide.seasons import DEKADS, Season, dekad_of

_EXAMPLE = "Write months in words, such as “mid May – early July” or “all year; most seen in May”."
_FIRST_SPRING_MONTH = {"north": 3, "south": 9}  # meteorological seasons: whole months
_LONGEST_MONTHS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)

_NOT_HERE = re.compile(r"(?:none|not here)\s*:.*", re.IGNORECASE | re.DOTALL)


LONGEST = 1000
"""Signs of a season; the time that reading one takes grows faster than its length."""


def parse_season(text: str, hemisphere: str = "", vocabulary: Vocabulary = ENGLISH) -> Season | Unreadable:
    """Read a season.

    Months are never shifted for the hemisphere; the words spring, summer, autumn and winter need it ("north" or
    "south"). Ranges go forwards round the year, so "Nov–Feb" is four months. `vocabulary` adds the words of other
    languages; what cannot be read with them is read as English. "none" and "never" give a season without dekads: the stage is denied.
    So does "not here: reason", of a stage that occurs elsewhere.
    """
    if _NOT_HERE.fullmatch(text.strip()):
        return Season(text, frozenset())
    if len(text) > LONGEST:
        why = f"The season “{text[:40]}…” cannot be read: it has {len(text):,} signs, and {LONGEST:,} is the most."
        return Unreadable(why, _EXAMPLE, "unreadable-season")
    season = _read_season(text, hemisphere, vocabulary)
    if isinstance(season, Unreadable) and vocabulary is not ENGLISH:
        in_english = _read_season(text, hemisphere, ENGLISH)
        return season if isinstance(in_english, Unreadable) else in_english
    return season


def _read_season(text: str, hemisphere: str, vocabulary: Vocabulary) -> Season | Unreadable:
    try:
        return _Reader(read_tokens(text, vocabulary), hemisphere.strip().lower(), vocabulary).season(text)
    except _UnreadError as problem:
        return Unreadable(f"The season “{text.strip()}” cannot be read: {problem.why}.", problem.mend, problem.code)


class _UnreadError(Exception):
    """Stops the reading of one text; never leaves this module."""

    def __init__(self, why: str, mend: str = _EXAMPLE, code: str = "unreadable-season") -> None:
        super().__init__(why)
        self.why, self.mend, self.code = why, mend, code


@dataclass(frozen=True, slots=True)
class _Point:
    """A stretch named by one word or date: first and last dekad, and the month where a month was named."""

    first: int
    last: int
    about: bool = False


@dataclass(slots=True)
class _Sets:
    """Dekads gathered for each mode of the text."""

    main: set[int] = field(default_factory=set)
    peak: set[int] = field(default_factory=set)
    uncertain: set[int] = field(default_factory=set)
    without: set[int] = field(default_factory=set)


_MODES = (TokenKind.PEAK, TokenKind.SOMETIMES, TokenKind.EXCEPT)


class _Reader:
    """A descent through the tokens, left to right."""

    def __init__(self, tokens: list[Token], hemisphere: str, vocabulary: Vocabulary) -> None:
        self.tokens = tokens
        self.vocabulary = vocabulary
        self.hemisphere = hemisphere
        self.at = 0
        self.mode: TokenKind | None = None
        self.sets = _Sets()
        self.last_end: int | None = None  # the end of the last certain stretch: "sometimes to October" starts there
        self.denied = False

    def season(self, typed: str) -> Season:
        """Read everything."""
        self._refuse_unknown()
        while self.at < len(self.tokens):
            self._step()
        sets = self.sets
        dekads = (sets.main or sets.peak) | sets.uncertain
        if sets.without and not dekads:
            raise _UnreadError("it says only when not", "Say first when the stage is found: “all year except January”.")
        dekads -= sets.without
        if not dekads and not self.denied:
            raise _UnreadError("it names no month")
        if sets.peak - dekads:
            raise _UnreadError("the time it is most seen lies outside the months given",
                          "Widen the season, or mend the months after “most seen”.")  # fmt: skip
        certain_peak = frozenset(sets.peak) if sets.main else frozenset()
        return Season(typed, frozenset(dekads), certain_peak, frozenset(sets.uncertain - sets.without))

    def _refuse_unknown(self) -> None:
        for token in self.tokens:
            if token.kind is TokenKind.UNKNOWN:
                near = nearest_word(token.text, self.vocabulary)
                mend = f"Did you mean “{near}”?" if near else _EXAMPLE
                raise _UnreadError(f"“{token.text}” is not a word for a time of year", mend)
            if token.kind is TokenKind.OPEN:
                raise _UnreadError("one end is open", "Say both ends: “May – October” instead of “May onwards”.")

    def _peek(self, ahead: int = 0) -> TokenKind | None:
        place = self.at + ahead
        return self.tokens[place].kind if place < len(self.tokens) else None

    def _take(self) -> Token:
        self.at += 1
        return self.tokens[self.at - 1]

    def _step(self) -> None:
        """One separator, mode word or stretch."""
        kind = self._peek()
        if kind is TokenKind.STOP:
            self.mode = None
            self.at += 1
        elif kind in (TokenKind.AND, TokenKind.COMMA):
            self.at += 1
        elif kind in _MODES:
            self.mode = kind
            self.at += 1
        elif kind is TokenKind.NEVER:
            self.denied = True
            self.at += 1
        elif kind is TokenKind.ALL_YEAR:
            self.at += 1
            self._add(_Point(0, DEKADS - 1), _Point(0, DEKADS - 1))
        elif kind is TokenKind.TO:
            self._stretch_to()
        else:
            self._stretch()

    def _stretch_to(self) -> None:
        """From the end of the last stretch: "sometimes to October"."""
        self.at += 1
        if self.mode is not TokenKind.SOMETIMES or self.last_end is None:
            raise _UnreadError("a range has no start", "Say both ends: “May – October” instead of “until October”.")
        end = self._point()
        start = (self.last_end + 1) % DEKADS
        self._add(_Point(start, start), end)

    def _stretch(self) -> None:
        """A point, or a range of points."""
        between = self._peek() is TokenKind.BETWEEN
        self.at += between
        start = end = self._point()
        while self._peek() is TokenKind.TO or (between and self._peek() is TokenKind.AND):
            self.at += 1
            if self._peek() is None:
                raise _UnreadError("a range has no end", "Say both ends: “May – October”.")
            end = self._point()
            between = False
        self._add(start, end)

    def _add(self, start: _Point, end: _Point) -> None:
        """Put a range into the set of the present mode."""
        if start.first // 3 == end.last // 3 and end.last < start.first:
            raise _UnreadError("the range ends before it starts", "Put the earlier date first.")
        length = (end.last - start.first) % DEKADS + 1
        stretch = {(start.first + step) % DEKADS for step in range(length)}
        {None: self.sets.main, TokenKind.PEAK: self.sets.peak, TokenKind.SOMETIMES: self.sets.uncertain,
         TokenKind.EXCEPT: self.sets.without}[self.mode].update(stretch)  # fmt: skip
        if self.mode is TokenKind.SOMETIMES:
            self.sets.without -= stretch  # "all year except December–February; sometimes February"
        if self.mode is None:
            self.last_end = end.last
            self.sets.uncertain |= {start.first} if start.about else set()
            self.sets.uncertain |= {end.last} if end.about else set()

    def _point(self) -> _Point:
        """One end of a range: a month, part of a month, date, week or season word."""
        about = self._peek() is TokenKind.ABOUT
        self.at += about
        kind = self._peek()
        if kind is TokenKind.PART:
            first, last = self._part()
        elif kind is TokenKind.MONTH:
            first, last = self._month()
        elif kind is TokenKind.NUMBER:
            first = last = self._day_first()
        elif kind is TokenKind.DATE:
            month, day = self._take().value
            first = last = self._dekad(month, day)
        elif kind is TokenKind.WEEK:
            first, last = self._week()
        elif kind is TokenKind.SEASON:
            first, last = self._season_word()
        else:
            self._refuse_here()
        return _Point(first, last, about)

    def _refuse_here(self) -> None:
        if self.at < len(self.tokens):
            raise _UnreadError(f"“{self.tokens[self.at].text}” stands where a month is expected")
        raise _UnreadError("a month is missing at its end")

    def _part(self) -> tuple[int, int]:
        """Such as "mid May", "early to mid May", "early spring", "early May to mid"."""
        part = self._take().value
        self.at += self._peek() is TokenKind.TO and self._peek(1) is TokenKind.PART
        if self._peek() is TokenKind.PART:  # "early to mid May", "early–mid May"
            part = (part[0], self._take().value[1])
        if self._peek() is TokenKind.SEASON:
            first, _ = self._season_word()
            return (first + 3 * part[0]) % DEKADS, (first + 3 * part[1] + 2) % DEKADS
        if self._peek() is TokenKind.MONTH:
            month = self._take().value[0]
        elif (before := self._month_before()) is not None:
            month = before
        else:
            raise _UnreadError(f"“{self.tokens[self.at - 1].text}” has no month after it")
        return (month - 1) * 3 + part[0], (month - 1) * 3 + part[1]

    def _month(self) -> tuple[int, int]:
        """Such as "May", "May 5", "May 5–20"."""
        month = self._take().value[0]
        if self._peek() is TokenKind.NUMBER and self._peek(1) is not TokenKind.MONTH:
            dekad = self._dekad(month, self._take().value[0])
            return dekad, dekad
        return (month - 1) * 3, (month - 1) * 3 + 2

    def _day_first(self) -> int:
        """Such as "5 May", the first 5 of "5–20 May", the 20 of "May 5–20"."""
        day = self._take().value[0]
        if self._peek() is TokenKind.STOP and self.tokens[self.at].text == "." and self._peek(1) is TokenKind.MONTH:
            self.at += 1  # "10.V."
        if self._peek() is TokenKind.MONTH:
            return self._dekad(self._take().value[0], day)
        if self._peek() is TokenKind.TO and self._peek(1) is TokenKind.NUMBER and self._peek(2) is TokenKind.MONTH:
            return self._dekad(self.tokens[self.at + 2].value[0], day)
        month = self._month_before()
        if month is None:
            raise _UnreadError(f"the number {day} has no month beside it")
        return self._dekad(month, day)

    def _month_before(self) -> int | None:
        """The month named just before a range sign: the May of "May 5–20" and of "early May to mid"."""
        for token in reversed(self.tokens[: self.at - 1]):
            if token.kind is TokenKind.MONTH:
                return token.value[0]
            if token.kind not in (TokenKind.TO, TokenKind.NUMBER, TokenKind.PART):
                return None
        return None

    def _dekad(self, month: int, day: int) -> int:
        if not 1 <= day <= _LONGEST_MONTHS[month - 1]:
            raise _UnreadError(f"there is no day {day} in that month")
        return (month - 1) * 3 + min((day - 1) // 10, 2)

    def _week(self) -> tuple[int, int]:
        """An ISO week's dekads. Its days move by up to three from year to year; those of 2018, which began on a Monday."""
        week = self._take().value[0]
        if not 1 <= week <= 53:
            raise _UnreadError(f"there is no week {week}", "Weeks run from 1 to 53.")
        first = dt.date(2018, 1, 1) + dt.timedelta(weeks=min(week, 52) - 1)
        return dekad_of(first), dekad_of(first + dt.timedelta(days=6))

    def _season_word(self) -> tuple[int, int]:
        token = self._take()
        spring = _FIRST_SPRING_MONTH.get(self.hemisphere)
        if spring is None:
            raise _UnreadError(f"“{token.text}” means other months north and south of the equator",
                          "Write the months, or give “hemisphere: north” or “hemisphere: south” in guide.yaml.",
                          "season-needs-hemisphere")  # fmt: skip
        first = ((spring - 1 + 3 * token.value[0]) % 12) * 3
        return first, (first + 8) % DEKADS
