"""The shape of a film in films.yaml."""

from __future__ import annotations

from typing import Annotated

from pydantic import PlainValidator, WithJsonSchema

from guidebuild.guide.film_fields import FILM_FIELDS, SAID_FACT_FIELDS, SAID_FIELDS
from guidebuild.guide.problem import Unreadable
from guidebuild.reading import parse_values
from guidebuild.reading import written_forms as forms
from guidebuild.reading.kinds import Address, Day, LicenceWord, Shape, Text, Words, YesNo
from guidebuild.reading.markers import ListOf, reads
from guidebuild.reading.written_forms import write_form


def parse_chapter(text: str) -> tuple[float, str] | Unreadable:
    """A chapter as descriptions of films have it: `1:12 The dark spot`; its start in seconds, and its title."""
    time, _, title = text.strip().partition(" ")
    seconds = parse_values.parse_seconds(time)
    if isinstance(seconds, Unreadable) or ":" not in time or not title.strip():
        return Unreadable(f"'{text}' is not a chapter.", 'Write when it begins and its title, such as "0:42 The dark spot".')
    return seconds, title.strip()


Seconds = Annotated[
    float,
    PlainValidator(reads(parse_values.parse_seconds)),
    WithJsonSchema(write_form("a length of time, such as 5:20 or 90 s", forms.SOME_FIGURE)),
]
Language = Annotated[
    str,
    PlainValidator(reads(parse_values.parse_language)),
    WithJsonSchema(write_form("a language code, such as en or pt-BR", forms.LANGUAGE)),
]
Chapter = Annotated[
    tuple[float, str],
    PlainValidator(reads(parse_chapter)),
    WithJsonSchema(write_form("when it begins and its title, such as 0:42 The dark spot", is_text=True)),
]


class FilmShape(Shape):
    """A film."""

    declared = FILM_FIELDS

    title: Text
    address: Address = ""
    file: Text = ""
    day: Day | None = None
    length: Seconds = 0.0
    kind: Text = ""
    language: Language = ""
    accounts: Words = ()
    script: Text = ""
    captions: Text = ""
    chapters: Annotated[tuple[Chapter, ...], ListOf()] = ()
    still: Text = ""
    credit: Text = ""
    licence: LicenceWord = ""
    note: Text = ""
    card: YesNo = False


class SaidFactShape(Shape):
    """A fact that a film says."""

    declared = SAID_FACT_FIELDS

    account: Text
    fact: Text
    words: Text
    at: Seconds


class SaidShape(Shape):
    """What a film said on its day."""

    declared = SAID_FIELDS

    noted: Day
    says: Annotated[tuple[SaidFactShape, ...], ListOf("fact")] = ()
