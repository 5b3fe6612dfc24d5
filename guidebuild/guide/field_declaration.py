"""What can be said of a field: what it is called and means, what asks for it, and where its value is shown.

A field is declared once. Its reader, its schema, drafts, checks, slots, pages and cards all ask the declaration.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

LEVELS = ("sketch", "fieldable", "publishable")
"""How far an account has come; each level asks all that the ones before it ask."""


class OutputName(StrEnum):
    """What is made of a guide, by the names that `guidebuild make` takes."""

    CARDS = "cards"
    SITE = "site"
    SCRIPTS = "scripts"
    POSTS = "posts"
    SLIDES = "slides"
    WALKS = "walks"
    DATA = "data"


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing that completeness asks of a field.

    `code` is the rule's, `words` go into “does not give …”. Without a `question` of its own it asks the field's.
    """

    code: str
    level: str
    words: str
    question: str = ""


@dataclass(frozen=True, slots=True)
class FactRow:
    """A field as a line of facts: a heading and the value in words. `label` is a word of the interface, which catalogues translate."""

    label: str
    outputs: tuple[OutputName, ...]
    may_give_way: bool = False
    """Whether a full card may leave it out; of several, the later declared goes first."""
    after_others: bool = False
    """Whether it stands below the facts of its life, as further names do."""


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a record, as declared for its readers and writers."""

    key: str
    """As authors write it."""
    meaning: str
    """What it says, in a user's words: one or two sentences."""
    example: str
    """A value as typed after the key; of several lines where it is a list of mappings."""
    stored_as: str = ""
    """The attribute of the record, where it is not the key."""
    unstored: str = ""
    """Where its value goes instead, if the record has no attribute of it."""
    question: str = ""
    """What a draft asks; without one, drafts leave the key out."""
    blank: str = ""
    """What stands after the key in a draft, where an author is to change it and not to write it anew."""
    asks: tuple[Ask, ...] = ()
    outputs: tuple[OutputName, ...] = ()
    """Where the value is shown."""
    effect: str = ""
    """What it changes, in a user's words: on pages, cards and scripts, or in what the tool works out."""
    unshown: str = ""
    """Why it is shown nowhere."""
    inline: bool = False
    """Whether it is a text in the author's words that a translation may give again."""
    slot: str = ""
    """The name of its slot in scripts and posts."""
    row: FactRow | None = None
    names: str = ""
    """The kind of record that its values name by id, such as `account`; of keys with values, the keys do."""

    @property
    def attribute(self) -> str:
        """The name of its attribute in the record."""
        return self.stored_as or self.shape_attribute

    @property
    def shape_attribute(self) -> str:
        """The name of its attribute in the shape that reads it."""
        return self.key.replace(" ", "_")
