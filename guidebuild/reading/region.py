"""What `map:` of guide.yaml says → the region as maps draw it; and the tracks of walks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path, PurePosixPath

from guidebuild.guide.findings import At
from guidebuild.guide.guide import Settings
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Walk
from guidebuild.guide.region import Line, Region
from guidebuild.reading.block import Block
from guidebuild.reading.map_files import MapFileError, list_rings, read_map_file
from guidebuild.reading.map_squares import choose_grid
from guidebuild.reading.map_values import MapFile
from guidebuild.reading.notes import Notes
from guidebuild.reading.outlines import make_outline, simplify_line, unwrap_line
from guidebuild.reading.settings_shape import SettingsShape

_TRACK_FINEST = 0.00002
"""Degrees, some two metres: a receiver is off by more."""
ReadFile = Callable[[str], MapFile | Unreadable]


def read_region(said: SettingsShape, settings: Settings, block: Block, read: ReadFile, notes: Notes) -> Region | None:
    """The region of a guide; None where it draws none, or its outline cannot be drawn."""
    if said.map is None:
        return None
    at = block.at("map", "outline") if isinstance(block.data.get("map"), dict) else block.at("map")
    drawn = _read_or_note(said.map.outline, read, at, notes)
    if drawn is None:
        return None
    outline = make_outline(list_rings(drawn), said.map.outline)
    for trouble in outline.troubles:
        notes.add(trouble.code, trouble.words, at)
    if not outline.areas:
        return None
    grid = choose_grid(outline.areas, settings.country, said.map.squares)
    lines = [
        line for file in said.map.lines if (found := _read_or_note(file, read, block.at("map", "lines"), notes)) for line in _lines(found)
    ]
    return Region(
        outline=outline.areas,
        lines=tuple(lines),
        grid=grid,
        recent=max(1, round(said.map.recent / 12)),
        on_cards=said.map.on_cards,
        file=said.map.outline,
        at=at,
    )


def _lines(drawn: MapFile) -> list[Line]:
    """The lines of a file, and the borders of its areas."""
    return [unwrap_line(line) for line in (*drawn.lines, *(ring for area in drawn.areas for ring in area)) if len(line) > 1]


def add_track(walk: Walk, read: ReadFile, notes: Notes) -> Walk:
    """The walk with its way, which has no more corners than a receiver can tell apart."""
    drawn = _read_or_note(walk.track_file, read, walk.positions.get("track", walk.at), notes)
    return replace(walk, track=tuple(simplify_line(line, _TRACK_FINEST) for line in _lines(drawn))) if drawn else walk


def _read_or_note(file: str, read: ReadFile, at: At, notes: Notes) -> MapFile | None:
    path = PurePosixPath(file.replace("\\", "/"))
    if path.is_absolute() or ".." in path.parts or ":" in file:
        notes.add("outside-guide", f"The file '{file}' is not in the guide's folder.", at)
        return None
    found = read(file)
    if isinstance(found, Unreadable):
        notes.add("map-not-readable", found.message, at, mend=found.mend)
        return None
    return found


def try_to_read(root: Path, file: str) -> MapFile | Unreadable:
    """A file of positions, or why it cannot be read."""
    try:
        return read_map_file(root / file, file)
    except MapFileError as trouble:
        return Unreadable(trouble.message, trouble.mend, "map-not-readable")
