"""What a text may not tell: names, map codes and positions of places that are kept secret. Sentences that do are left out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from guidebuild.fieldwork.leaks import Secrets, leaks_in
from guidebuild.guide.accounts import FieldMark, HostUse, SimilarSpecies, StageText
from guidebuild.guide.findings import At
from guidebuild.guide.records import LawNote
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.guide.text.sentences import sentence_spans

T = TypeVar("T")

_PARAGRAPHS = re.compile(r"(\n[ \t]*\n)")
# Items of a list, rows of a table, headings, quotations and notes: each line stands for itself.
_LINES = re.compile(r"^\s*(?:[-*+>|#]|\d{1,3}[.)]\s|\[\^[^\]]+\]:)", re.MULTILINE)
_POSITIONS = "positions"
"""The field of records that says where their keys stand in the author's files."""
_MAIN = {FieldMark: "mark", StageText: "text", HostUse: "plant", SimilarSpecies: "account", LawNote: "text"}
"""Records that say nothing once this field of theirs is empty."""


@dataclass(frozen=True, slots=True)
class Unsaid:
    """What may not be told in some texts."""

    secrets: Secrets

    def tells(self, text: str) -> bool:
        """Whether a text gives one of the places away."""
        return bool(text) and any(leaks_in(text, self.secrets))

    def places_in(self, text: str) -> tuple[str, ...]:
        """Names of the places that a text gives away, each once."""
        return tuple(dict.fromkeys(leak.place for leak in leaks_in(text, self.secrets) if leak.place))

    def places_in_any(self, texts: Iterable[str]) -> tuple[str, ...]:
        """Names of the places that any of some texts gives away, each once."""
        return tuple(dict.fromkeys(place for text in texts for place in self.places_in(text)))

    def without(self, text: str) -> str:
        """The text without the sentences that tell; what follows one in its paragraph goes with it, for it may lean on it."""
        if not self.tells(text):
            return text
        parts = _PARAGRAPHS.split(text)
        kept = [self._paragraph(part) for part in parts[::2]]
        gaps = [*parts[1::2], ""]
        left = "".join(paragraph + gap for paragraph, gap in zip(kept, gaps, strict=True) if paragraph).rstrip()
        # Two paragraphs may tell together what neither tells alone.
        return "" if self.tells(left) else left

    def _paragraph(self, paragraph: str) -> str:
        if not self.tells(paragraph):
            return paragraph
        if _LINES.search(paragraph):
            left = "\n".join(line for line in paragraph.split("\n") if not self.tells(line))
        else:
            left = "".join(self._up_to_secret(paragraph)).rstrip()
        return "" if self.tells(left) else left

    def _up_to_secret(self, paragraph: str) -> Iterator[str]:
        for start, end in sentence_spans(paragraph):
            if self.tells(paragraph[start:end]):
                return
            yield paragraph[start:end]

    def cleaned(self, value: T) -> T:
        """A value with every text in it cleaned, however deep; in a list, what is left without words is left out."""
        found: Any = self._cleaned(value)
        return found  # type: ignore[no-any-return]

    def _cleaned(self, value: Any) -> Any:
        if isinstance(value, str):
            return self.without(value)
        if isinstance(value, tuple):
            new = self._each(value)
            return new if new is value else tuple(b for a, b in zip(value, new, strict=True) if a is b or not _is_silent(b))
        kind: Any = type(value)
        return self.cleaned_fields(value, _fields_of(kind))

    def cleaned_fields(self, value: Any, names: Iterable[str]) -> Any:
        """A record with every text cleaned that stands in these fields."""
        changed = {name: new for name in names if (new := self._cleaned(old := getattr(value, name))) is not old}
        return replace(value, **changed) if changed else value

    def _each(self, values: tuple[Any, ...]) -> tuple[Any, ...]:
        """Each value cleaned. A list inside a list is a pair: it stays one, though its text is gone."""
        new = tuple(self._each(value) if isinstance(value, tuple) else self._cleaned(value) for value in values)
        return values if all(a is b for a, b in zip(values, new, strict=True)) else new


NOTHING = Unsaid(Secrets((), ()))
"""Where nothing is secret."""


def _is_silent(value: object) -> bool:
    return value in ("", NO_TEXT) or (type(value) in _MAIN and not getattr(value, _MAIN[type(value)]))


@cache
def _fields_of(kind: Any) -> tuple[str, ...]:
    """The fields of a record that may hold texts, by their types; of what is no record, none."""
    if not is_dataclass(kind) or kind is At:
        return ()
    hints = get_type_hints(kind)
    return tuple(field.name for field in fields(kind) if field.name != _POSITIONS and _may_hold_text(hints[field.name]))


def _may_hold_text(hint: Any, within: frozenset[Any] = frozenset()) -> bool:
    """Whether values of a type hold texts; sets hold ids alone, and an `At` says only where something stands in the author's files."""
    origin = get_origin(hint)
    if origin in (Union, UnionType, tuple):
        return any(_may_hold_text(part, within) for part in get_args(hint))
    kind = origin or hint
    if isinstance(kind, TypeVar) or kind is str:
        return True
    if not is_dataclass(kind) or kind is At or kind in within:
        return False
    deeper = within | {kind}
    return any(_may_hold_text(held, deeper) for name, held in get_type_hints(kind).items() if name != _POSITIONS)
