"""Who is named beside a picture, and how: every output asks here.

Title, author, source, licence and what was changed, each with its address: the Creative Commons wiki's recommended practices for
attribution. Where there is little room, what the licence asks for stays.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.guide.guide import Licence
from guidebuild.guide.licence_text import version_of
from guidebuild.words import Words

ADDRESS = re.compile(r"https?://\S*[^\s.,;:!?)\]}'\"”’»]")
"""A web address in a text: a stop or bracket at its end belongs to the sentence."""
_TITLE_FREE = "4.0"
"""From this version on a title need not be given (CC BY 4.0, section 3(a)(1), beside CC BY 3.0, section 4(b)(ii))."""


@dataclass(frozen=True, slots=True)
class LicenceView:
    """A licence as shown beside a picture or a text; without `derivatives` no changed copy may be handed on."""

    id: str
    title: str
    address: str = ""
    derivatives: bool = True

    @property
    def asks_for_title(self) -> bool:
        """Whether the title must be given even where there is little room."""
        return self.id.startswith("CC-BY") and version_of(self.id) < _TITLE_FREE


@dataclass(frozen=True, slots=True)
class CreditPart:
    """One part of a credit, linked where it has an address."""

    words: str
    address: str = ""
    is_licence: bool = False
    is_title: bool = False


@dataclass(frozen=True, slots=True)
class Attribution:
    """What is known of a picture's maker, source and licence, and what was changed of it."""

    maker: str
    title: str = ""
    source: str = ""
    licence: LicenceView | None = None
    changes: str = ""

    @property
    def parts(self) -> tuple[CreditPart, ...]:
        """All that is known, in the order in which it is read, for a page that can hold links."""
        return tuple(part for part in self._parts() if part.words)

    def _parts(self) -> Iterator[CreditPart]:
        found = ADDRESS.search(self.source)
        yield CreditPart(f"“{self.title}”" if self.title else "", is_title=True)
        yield CreditPart(self.maker)
        yield CreditPart(self.source, found.group() if found else "")
        if self.licence:
            yield CreditPart(self.licence.title, self.licence.address, is_licence=True)
        yield CreditPart(self.changes)

    @property
    def brief(self) -> str:
        """What the licence asks for, where there is little room: `Who · licence · what was changed`."""
        title = f"“{self.title}”" if self.title and self.licence and self.licence.asks_for_title else ""
        return " · ".join(filter(None, (title, self.maker, self.licence.title if self.licence else "", self.changes)))

    @property
    def line(self) -> str:
        """All of it in one line without links, with the licence's address: for the end of a film and what is written below it."""
        return " · ".join(f"{p.words} ({p.address})" if p.is_licence and p.address else p.words for p in self.parts)

    def sentence(self, say: Words, made: str = "") -> str:
        """All of it as a sentence in a language; `made` is what was changed for this use alone, such as `cut to size`."""
        by = say("“{title}” by {maker}", title=self.title, maker=self.maker) if self.title else say("Photo by {maker}", maker=self.maker)
        named = ""
        if self.licence:
            named = f"{self.licence.title} ({self.licence.address})" if self.licence.address else self.licence.title
        told = ", ".join(filter(None, (by, self.source, named)))
        return "; ".join(filter(None, (told, self.changes, made))) + "."

    def short_sentence(self, say: Words, made: str = "") -> str:
        """The same where there is little room: what the licence asks for, without addresses."""
        asks = self.title and self.licence and self.licence.asks_for_title
        by = say("“{title}” by {maker}", title=self.title, maker=self.maker) if asks else self.maker
        told = ", ".join(filter(None, (by, self.licence.title if self.licence else "")))
        return "; ".join(filter(None, (say("Photo: {credit}", credit=told), self.changes, made)))


def say_change(licence: Licence | None, say: Words) -> str:
    """CC BY 4.0, section 3(a)(1)(B): say that the material was changed."""
    return say("cut to size") if licence and licence.derivatives and licence.attribution else ""
