"""An entry of a list, or a key with its value, moved among its neighbours with its lines as they are typed."""

from __future__ import annotations

from guidebuild.desk.editing.entries import Places, entries_of, find_entry, is_flow
from guidebuild.desk.editing.wanted import MoveItem
from guidebuild.reading.typed_file import Edit, TypedFile


def move_lines(typed: TypedFile, change: MoveItem) -> list[Edit] | None:
    """The edits; None where the entries do not stand on lines of their own, so that they must be written anew."""
    entry = find_entry(typed, change.path)
    if entry is None or is_flow(entry.owner):
        return None
    places = Places(typed)
    entries = entries_of(entry.owner)
    rest = [other for other in entries if other.index != entry.index]
    if not rest or not all(places.leads_line(other) for other in entries):
        return None
    start, below = places.line_start(places.lead(entry)), places.below(entry)
    before = rest[change.to] if change.to < len(rest) else None
    target = places.line_start(places.lead(before)) if before else places.below(rest[-1])
    if start <= target <= below:
        return []
    lines = typed.text[start:below]
    ended = lines.endswith(("\n", "\r"))
    if not ended or (target == len(typed.text) and not typed.text.endswith(("\n", "\r"))):
        return None
    return [Edit(start, below, ""), Edit(target, target, lines)]
