"""Words for views and parts against the lists that the tool ships, so that a slip is told with the word meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.reading import shipped_lists
from guidebuild.reading.notes import Notes
from guidebuild.reading.shaping import nearest

_ALIKE = 0.8  # a part may be any word; only a near miss is taken for a slip


def check_words(guide: Guide, notes: Notes) -> None:
    """Note views that are not in the list, and parts that are nearly in it."""
    views, parts = shipped_lists.words("views"), shipped_lists.words("parts")
    for view, at, account in _views(guide):
        if view and view not in views:
            near = nearest(view, views)
            mend = f"Did you mean '{near}'?" if near else f"Views are {', '.join(views)}."
            notes.add("unknown-view", f"There is no view '{view}'.", at, mend=mend, account=account)
    for part, at in _parts(guide):
        near_parts = difflib.get_close_matches(part.casefold(), parts, n=1, cutoff=_ALIKE)
        if near_parts and near_parts[0] not in {part.casefold(), part.casefold().removesuffix("s")}:
            notes.add("misspelt-part", f"The part '{part}' is no word of the list.", at, mend=f"Did you mean '{near_parts[0]}'?")


def _views(guide: Guide) -> Iterator[tuple[str, At, str]]:
    for account in guide.accounts.values():
        yield from ((mark.view, mark.at, account.id) for mark in account.diagnostics)
    yield from ((photo.view, photo.at, "") for photo in guide.photos.values())
    yield from ((character.view, character.at, "") for character in guide.characters.values())


def _parts(guide: Guide) -> Iterator[tuple[str, At]]:
    yield from ((photo.part, photo.at) for photo in guide.photos.values() if photo.part)
    yield from ((character.part, character.at) for character in guide.characters.values() if character.part)
