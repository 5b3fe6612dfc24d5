"""The tool's own words in a reader's language: catalogue look-ups, month names, dates and lists after CLDR.

Catalogues are gettext `.po` files in `content/strings/`; English is the language the tool is written in and needs none.
"""

from __future__ import annotations

import datetime as dt
import gettext
import io
import re
from functools import cache, lru_cache
from string import Formatter

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton
from babel.lists import format_list
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from babel.numbers import format_decimal

from guidebuild.guide.months import month_names
from guidebuild.shipped import content

WRITTEN_IN = "en"
_OR = {"en": r"\bor\b", "es": r"\b[ou]\b", "fr": r"\bou\b", "pt": r"\bou\b", "de": r"\boder\b", "nl": r"\bof\b"}


@lru_cache(maxsize=4096)
def _pattern(text: str) -> str:
    """The same text, if all in it that is filled in are plain `{names}`; raises `ValueError` else.

    Templates of strangers give patterns too, and `{name.__class__}` would lead from any value into Python.
    """
    for _, name, width, conversion in Formatter().parse(text):
        if name is not None and (width or conversion or not name.isidentifier()):
            raise ValueError(f"“{{{name}}}” is not a plain name: only names such as {{name}} can be filled in")
    return text


class Words:
    """Words, dates and lists in one language; a language without a catalogue is answered in English."""

    def __init__(self, language: str) -> None:
        self.language = language
        self._locale = find_locale(language)  # not for templates: it leads to more than words
        self._catalogue = _catalogue(language)

    def __call__(self, message: str, **values: object) -> str:
        """The message in this language, with `{names}` filled in."""
        text = self._catalogue.gettext(message) if message else ""
        return _pattern(text).format(**values) if values else text

    def count(self, one: str, many: str, number: int) -> str:
        """`one` or `many` as the language counts, with `{n}` filled in."""
        return _pattern(self._catalogue.ngettext(one, many, number)).format(n=number)

    def month(self, month: int, width: str = "wide") -> str:
        """Month 1–12; widths `wide`, `abbreviated`, `narrow`."""
        return month_names(self._locale, width)[month]

    def date(self, day: dt.date) -> str:
        """A date written out: `2 May 2026`."""
        return format_date(day, "long", self._locale)

    def day(self, day: dt.date) -> str:
        """A date without its year: `2 May`."""
        return format_skeleton("MMMMd", day, locale=self._locale)

    def month_of(self, day: dt.date) -> str:
        """The month of a date, with its year: `May 2026`."""
        return format_skeleton("yMMMM", day, locale=self._locale)

    def weekday(self, day: dt.date) -> str:
        """A date with its weekday: `Saturday, 6 June 2026`."""
        return format_date(day, "full", self._locale)

    def size(self, octets: int) -> str:
        """The size of a file: `61 kB`, `2.4 MB`."""
        if octets < 1_000_000:
            return f"{max(1, round(octets / 1000))}\u00a0kB"
        return f"{format_decimal(round(octets / 1_000_000, 1), locale=self._locale)}\u00a0MB"

    def number(self, value: float, places: int) -> str:
        """A number with at most so many decimal places, as the language writes it: `2.5`."""
        return format_decimal(round(value, places), locale=self._locale)

    def listed(self, items: list[str] | tuple[str, ...]) -> str:
        """`a, b and c`."""
        return format_list(list(items), locale=self._locale)

    def either(self, items: list[str] | tuple[str, ...]) -> str:
        """`a, b or c`; with semicolons where an item holds a comma, or an "or" that could be read as this one."""
        return _join_with_or(self, tuple(items))

    def join_with_or(self, items: tuple[str, ...]) -> str:
        """The same, worked out anew."""
        own = _OR.get(self._locale.language)
        doubtful = [item for item in items if "," in item or (own and re.search(own, item))]
        if len(items) < 2 or not doubtful:
            return format_list(list(items), style="or", locale=self._locale)
        return self("{first}; or {last}", first="; ".join(items[:-1]), last=items[-1])

    @property
    def translated(self) -> bool:
        """Whether the tool's words exist in this language."""
        return self.language == WRITTEN_IN or not isinstance(self._catalogue, _English)


@lru_cache(maxsize=4096)
def _join_with_or(say: Words, items: tuple[str, ...]) -> str:
    """A key asks of the same states again and again."""
    return say.join_with_or(items)


class _English(gettext.NullTranslations):
    """Answers every message with itself."""


@cache
def find_locale(language: str) -> Locale:
    """The locale of a language; British English where there is none."""
    try:
        # British English, as the sources of this trade: day before month, no serial comma.
        return Locale.parse("en_GB" if language == WRITTEN_IN else language, sep="-" if "-" in language else "_")
    except (UnknownLocaleError, ValueError):
        return Locale.parse("en_GB")


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    for name in dict.fromkeys((language, language.partition("-")[0])):
        source = content().joinpath("strings", f"{name}.po")
        if name != WRITTEN_IN and source.is_file():
            compiled = io.BytesIO()
            write_mo(compiled, read_po(io.BytesIO(source.read_bytes()), locale=name.replace("-", "_")))
            return gettext.GNUTranslations(io.BytesIO(compiled.getvalue()))
    return _English()


@cache
def words(language: str) -> Words:
    """The words of a language, read once."""
    return Words(language)
