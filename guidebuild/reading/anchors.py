"""Anchors and aliases in YAML: refused, but for keys merged with `<<` from a small plain mapping.

Nested aliases can make a few lines stand for millions of values, and authors do not need them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml
from yaml import events
from yaml.cyaml import CSafeLoader

from guidebuild.guide.findings import At
from guidebuild.reading.notes import Notes

_LARGEST_MERGE = 40  # keys of a mapping that may be merged
# Cheap: an anchor or alias starts a value, so most texts need no second look.
_MAYBE = re.compile(r"(?:^|[\s,\[{(:-])[&*][^\s*&]", re.MULTILINE)


def refuse_anchors(text: str, file: str, first_line: int, notes: Notes) -> bool:
    """Whether the text may be composed; notes every anchor and alias that is not for a merge."""
    if not ("&" in text or "*" in text) or not _MAYBE.search(text):
        return True
    try:
        stream = list(yaml.parse(text, Loader=CSafeLoader))
    except (yaml.YAMLError, RecursionError):
        # Broken syntax is reported by the composer, which meets the same fault.
        return True
    refused = list(_refused(stream))
    for event in refused:
        mark = event.start_mark
        at = At(file, mark.line + first_line, mark.column + 1) if mark else At(file)
        sign = "*" if isinstance(event, events.AliasEvent) else "&"
        notes.add("yaml-anchor", f"'{sign}{event.anchor}' is read as a YAML cross-reference.", at)
    return not refused


def _refused(stream: list[events.Event]) -> Iterator[events.NodeEvent]:
    allowed = _merge_aliases(stream)
    merged = {event.anchor for place in allowed if isinstance(event := stream[place], events.NodeEvent)}
    for place, event in enumerate(stream):
        if not isinstance(event, events.NodeEvent) or event.anchor is None:
            continue
        is_alias = isinstance(event, events.AliasEvent)
        if place not in allowed if is_alias else event.anchor not in merged or not _small_mapping(stream, place):
            yield event


def _merge_aliases(stream: list[events.Event]) -> frozenset[int]:
    """Places of aliases that follow the key <<, alone or in a list."""
    places: set[int] = set()
    for place, event in enumerate(stream):
        if isinstance(event, events.ScalarEvent) and event.value == "<<" and event.implicit[0]:
            after = place + 1
            if isinstance(stream[after], events.SequenceStartEvent):
                after += 1
            while isinstance(stream[after], events.AliasEvent):
                places.add(after)
                after += 1
    return frozenset(places)


def _small_mapping(stream: list[events.Event], place: int) -> bool:
    """Whether a mapping of few keys with plain texts starts here."""
    if not isinstance(stream[place], events.MappingStartEvent):
        return False
    for event in stream[place + 1 : place + 2 + 2 * _LARGEST_MERGE]:
        if isinstance(event, events.MappingEndEvent):
            return True
        if not isinstance(event, events.ScalarEvent):
            return False
    return False
