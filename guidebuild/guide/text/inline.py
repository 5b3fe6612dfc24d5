"""A piece of Markdown that stands in the facts: a field mark, a note, a caution, a caption.

It is typed once and told in many ways. As typed (`text`) it goes to what makes HTML of it; `words` is what one reads where no
italics and no links can stand; `starred` keeps the stars of scientific names, by which speech tells them from English.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from guidebuild.guide.findings import NOWHERE, At
from guidebuild.guide.text.everyday import has_signs
from guidebuild.guide.text.plain_text import escape_signs, write_plain
from guidebuild.guide.text.sentences import split_sentences
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader


@dataclass(frozen=True, slots=True)
class Inline:
    """Markdown as typed and where it starts. Two are the same where their text is, wherever they stand.

    With a column in `at` only the start is sure: YAML may fold the lines that follow. Without one, lines run on as in the file.
    """

    text: str = ""
    at: At = field(default=NOWHERE, compare=False)

    def __reduce__(self) -> tuple[type[Inline], tuple[str, At]]:
        """As of `At`."""
        return Inline, (self.text, self.at)

    def __bool__(self) -> bool:
        """Whether anything is said."""
        return bool(self.text)

    def __str__(self) -> str:
        """The plain words, so that no star ever slips into a sentence unseen."""
        return write_plain(self.text)

    @property
    def words(self) -> str:
        """The words without any marks: what a link is called, no pictures, no notes."""
        return write_plain(self.text)

    @property
    def has_marks(self) -> bool:
        """Whether it is one paragraph in which something is more than plain words: italics, a link."""
        if not has_signs(self.text):
            return False
        (first, *others) = [*reader.read_tree(self.text).root, None]
        return first is not None and others == [None] and first.tag == "p" and len(first) > 0

    @property
    def sentences(self) -> tuple[Inline, ...]:
        """Its sentences with their italics and links; as plain words where a mark reaches over the end of one."""
        words = split_sentences(self.words)
        pieces = tuple(Inline(piece, self.at) for piece in split_sentences(self.text)) if has_signs(self.text) else ()
        return pieces if tuple(piece.words for piece in pieces) == words else tuple(Inline(escape_signs(one), self.at) for one in words)

    @property
    def starred(self) -> str:
        """The words, with stars round what is emphasised."""
        return write_plain(self.text, keep_stars=True)


NO_TEXT = Inline()
"""Nothing said."""


@dataclass(frozen=True, slots=True)
class PieceKind:
    """What the text in a field is, for those who go through all texts of a guide."""

    name: str


MARKDOWN, UNSHOWN = PieceKind("markdown"), PieceKind("unshown")
Markdown = Annotated[str, MARKDOWN]
"""Text in Markdown that may hold paragraphs and lists."""
Unshown = Annotated[str, UNSHOWN]
"""Text that readers never see as typed: it points at another record, chooses one of the tool's words, or is a note to the checks."""
