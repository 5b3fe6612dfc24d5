"""Season text cut into tokens: months, parts of months, dates, weeks and the small words between them."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from difflib import get_close_matches

from guidebuild.guide.season_vocabulary import ENGLISH, TokenKind, Vocabulary

MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
_SHORT_MONTHS = {"jan": 1, "feb": 2, "febr": 2, "mar": 3, "apr": 4, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "sept": 9,
                 "oct": 10, "nov": 11, "dec": 12}  # fmt: skip
_ROMAN = {r: n for n, r in enumerate(("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"), 1)}
SEASONS = {"spring": 0, "summer": 1, "autumn": 2, "fall": 2, "winter": 3}

# First and last dekad, 0–2, of a part of a month.
PARTS = {"early": (0, 0), "mid": (1, 1), "middle": (1, 1), "late": (2, 2), "beginning": (0, 0), "start": (0, 0),
         "end": (2, 2)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Token:
    """One token; `text` is as typed."""

    kind: TokenKind
    text: str
    value: tuple[int, ...] = ()


# Longer phrases first: the first that fits is taken.
_PHRASES: tuple[tuple[TokenKind, str], ...] = (
    (TokenKind.ALL_YEAR, r"(?:all|throughout the|the whole) year(?: round)?|year[- ]round|all months|any month"),
    (TokenKind.NEVER, r"never|none|absent|not (?:found|seen|present|here)(?: here)?"),
    (
        TokenKind.PEAK,
        r"most(?:ly)? (?:often )?seen|most (?:common|numerous|active|often)|peak(?:s|ing)?|best|mainly|chiefly|especially|mostly",
    ),
    (TokenKind.SOMETIMES, r"sometimes|occasionally|rarely|exceptionally|in (?:good|mild|warm|some) (?:years?|winters?|weather)|perhaps"),
    (TokenKind.EXCEPT, r"(?:but )?not(?: in)?|except(?: for| in)?|apart from|missing in"),
    (TokenKind.ABOUT, r"c\.|ca\.?|circa|about|around|roughly|approximately|approx\.?|~|≈"),
    (TokenKind.OPEN, r"onwards?|and later|and after"),
    (TokenKind.BETWEEN, r"between"),
    (TokenKind.TO, r"[-–—−‐‑]+|to|until|till|through(?: to)?|into|/"),
    (TokenKind.AND, r"and(?: again)?|&|\+|or|as well as|then"),
    (TokenKind.COMMA, r","),
    (TokenKind.STOP, r"[;()\[\]:]|\."),
)  # fmt: skip
_NOISE_WORDS = (
    "in of the from during months month overwinters overwintering hibernates hibernating winters wintering flies flying flight "
    "on wing seen found active present adults adult also it with a few at its being is are only again some singles"
)
_NOISE = frozenset(_NOISE_WORDS.split())
_DATES = re.compile(r"(?:\d{4}-|--)(?P<month>0[1-9]|1[0-2])(?:-(?P<day>0[1-9]|[12]\d|3[01]))?(?!\d)")
_HALF = re.compile(r"(?P<which>first|second|1st|2nd|last) half(?: of)?(?!\w)")
_THIRD = re.compile(r"(?P<which>first|second|middle|last) (?:third|dekad|ten days|10 days)(?: of)?(?!\w)")
_WEEK = re.compile(r"(?:iso )?(?:weeks?|wks?|w)\.? ?(?P<week>\d{1,2})(?!\d)")
_YEAR = re.compile(r"(?:1[6-9]|20)\d\d(?!\d)")
_NUMBER = re.compile(r"(?P<number>\d{1,2})(?:st|nd|rd|th|er|º|ª|°)?(?!\w)")
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
_PHRASE = tuple((kind, re.compile(rf"(?:{text})(?!\w)" if text[-1].isalpha() or text.endswith(")?") else text)) for kind, text in _PHRASES)


def read_tokens(text: str, vocabulary: Vocabulary = ENGLISH) -> list[Token]:
    """The tokens of season text; words of the vocabulary count before English ones.

    Unknown words come out as UNKNOWN tokens; noise such as "flies in" is left out.
    """
    plain = unicodedata.normalize("NFC", text).replace("’", "'").replace("\u00a0", " ").replace("?", "")
    tokens: list[Token] = []
    week_before = False
    at = 0
    while at < len(plain):
        if plain[at].isspace():
            at += 1
            continue
        read, length = _tokens_at(plain, at, vocabulary, week_before=week_before)
        # The bare word for a week tells what the number after it is.
        tokens += (token for token in read if token.kind is not TokenKind.WEEK or token.value)
        at += length
        if not read:
            continue
        last = read[-1].kind
        week_before = last is TokenKind.WEEK or (week_before and last in (TokenKind.TO, TokenKind.AND, TokenKind.COMMA))
        if last in (TokenKind.MONTH, TokenKind.ABOUT, TokenKind.PART) and plain[at : at + 1] == ".":
            at += 1  # the dot of an abbreviation: "Apr."
        if last is TokenKind.PART and plain[at : at + 1] in tuple("-–‐‑"):
            at += 1  # the hyphen of "mid-May" and "mid- to late May"
    return tokens


def _tokens_at(text: str, at: int, vocabulary: Vocabulary, *, week_before: bool) -> tuple[tuple[Token, ...], int]:
    """The tokens at a position (none: noise) and how many characters they take."""
    if phrase := vocabulary.match_phrase(text.lower(), at):
        meaning, length = phrase
        return tuple(Token(kind, text[at : at + length], value) for kind, value in meaning), length
    token, length = _token(text, at, week_before=week_before)
    return (token,) if token else (), length


def _token(text: str, at: int, *, week_before: bool) -> tuple[Token | None, int]:
    """The token at a position (None: noise) and how many characters it takes."""
    lower = text.lower()
    numeric = _numeric(lower, at, week_before=week_before)
    if numeric is not None:
        return numeric
    if match := _YEAR.match(lower, at):
        return None, len(match[0])
    for kind, pattern in _PHRASE:
        if match := pattern.match(lower, at):
            return Token(kind, match[0]), len(match[0])
    if match := _WORD.match(text, at):
        return _word(match[0]), len(match[0])
    return Token(TokenKind.UNKNOWN, text[at]), 1


def _numeric(lower: str, at: int, *, week_before: bool) -> tuple[Token, int] | None:
    """Dates, weeks, halves and thirds of months, days."""
    if match := _DATES.match(lower, at):
        value = (int(match["month"]),) + ((int(match["day"]),) if match["day"] else ())
        return Token(TokenKind.DATE if match["day"] else TokenKind.MONTH, match[0], value), len(match[0])
    if match := _HALF.match(lower, at):
        return Token(TokenKind.PART, match[0], (0, 1) if match["which"] in ("first", "1st") else (1, 2)), len(match[0])
    if match := _THIRD.match(lower, at):
        third = {"first": 0, "last": 2}.get(match["which"], 1)
        return Token(TokenKind.PART, match[0], (third, third)), len(match[0])
    if match := _WEEK.match(lower, at):
        return Token(TokenKind.WEEK, match[0], (int(match["week"]),)), len(match[0])
    if match := _NUMBER.match(lower, at):
        kind = TokenKind.WEEK if week_before else TokenKind.NUMBER
        return Token(kind, match[0], (int(match["number"]),)), len(match[0])
    return None


def _word(word: str) -> Token | None:
    """A month, part, season or noise word; None for noise."""
    lower = word.lower()
    if word in _ROMAN:  # only in capitals: entomologists write V–VIII for May to August
        return Token(TokenKind.MONTH, word, (_ROMAN[word],))
    if lower in PARTS:
        return Token(TokenKind.PART, word, PARTS[lower])
    if lower in SEASONS:
        return Token(TokenKind.SEASON, word, (SEASONS[lower],))
    month = MONTHS.index(lower) + 1 if lower in MONTHS else _SHORT_MONTHS.get(lower, 0)
    if month:
        return Token(TokenKind.MONTH, word, (month,))
    return None if lower in _NOISE else Token(TokenKind.UNKNOWN, word)


def nearest_word(word: str, vocabulary: Vocabulary = ENGLISH) -> str:
    """The known month, season or part nearest to a mistyped word, those of the vocabulary first; "" where none is near."""
    near = get_close_matches(word.lower(), vocabulary.times, n=1, cutoff=0.7)
    if near:
        return near[0]
    near = get_close_matches(word.lower(), [*MONTHS, *SEASONS, *PARTS], n=1, cutoff=0.7)
    return near[0].capitalize() if near and near[0] in MONTHS else "".join(near)
