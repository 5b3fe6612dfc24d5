"""What is written of secrecy and cannot be read surely: left blank, misspelt, at the wrong indent, twice, or run into another text.

A slip must not open what its author meant to close. So every such line is an error, and what it stands in counts as secret.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import is_id
from guidebuild.guide.record_fields import PLACE_FIELDS
from guidebuild.guide.records import UNREADABLE, Place, Position
from guidebuild.reading.block import Block
from guidebuild.reading.notes import Notes
from guidebuild.reading.parse_values import parse_position

KEY = "sensitive"
PLACES = "places.yaml"
_WORDS = (KEY, "sensitivity", "sensible", "secret", "secrecy", "hidden", "private", "confidential")
_FIELDS = frozenset(field.key for field in PLACE_FIELDS)
_other_keys: set[str] = set()
"""Keys that were found to be of other things: the accounts of a guide have the same ones, but for the words of their translations."""
_ALIKE, _MUCH_ALIKE = 0.75, 0.85
_ANSWER = r"no|yes|true|low|medium|high|extreme"
# Both are looked for in a text with a line feed before it: a pattern that begins with a plain sign is found many times faster.
# A line that begins with such a word and a colon, an equals sign, or one of the answers; in prose, where words are many, both.
_LINE = re.compile(rf"\n[ \t\-?{{\"'>*]*+(?P<word>[^\W\d_]{{5,14}}+)[\"'*]*+(?:[ \t]*+[:=]|[ \t]++(?i:{_ANSWER})[ \t]*$)", re.MULTILINE)
_LINE_OF_PROSE = re.compile(
    rf"\n[ \t\-*]*+(?P<word>[^\W\d_]{{5,14}}+)[\"'*]*+[ \t]*+[:=][ \t]*(?:[\"']?(?i:{_ANSWER})\b[\"']?[ \t]*|\{{.*)?$", re.MULTILINE
)
_ID = re.compile(r"^[\"']?([^\s:#\"'][^:#\n]*?)[\"']?\s*:", re.MULTILINE)
_NAME, _AREA = (re.compile(rf"(?:^|[\s{{,]){key}\s*:\s*[\"']?([^\"'\n,}}#]+)") for key in ("name", "area"))
_POSITION = re.compile(r"position\s*:\s*[\"']?([^\"'\n}#]+)")


@dataclass(frozen=True, slots=True)
class Doubt:
    """A line about secrecy that cannot be read surely, and why."""

    at: At
    why: str


def find_doubts(text: str, block: Block | None, file: str) -> tuple[Doubt, ...]:
    """All doubts about the secrecy of a file: `text` is all of it, `block` its facts."""
    if block is not None and file != PLACES and _is_plainly_said(text, block):
        return ()
    root, first_line = (block.root, block.first_line) if block is not None else (None, 1)
    records = [value for _, value in root.value] if file == PLACES and isinstance(root, MappingNode) else [root]
    doubts: list[Doubt] = []
    surely: set[int] = set()
    for record in records:
        keys: list[tuple[ScalarNode, Node, int]] = []
        _gather_keys(record, 0, keys)
        for key, value, depth in keys:
            line = key.start_mark.line + first_line
            surely.add(line)
            # Each of hundreds of keys is looked at: nearly all are of something else.
            if _is_like(key.value, _ALIKE) and (why := _why_unsure(key.value, value, depth, [] if record is None else record.value)):
                doubts.append(Doubt(At(file, line, key.start_mark.column + 1), why))
    if file == PLACES and isinstance(root, MappingNode):
        for key, _ in root.value:
            line = key.start_mark.line + first_line
            if isinstance(key, ScalarNode) and _is_like(key.value, _MUCH_ALIKE) and line not in surely:
                surely.add(line)
                doubts.append(Doubt(At(file, line, key.start_mark.column + 1), f"“{key.value}” stands where an id of a place should be"))
    doubts += _lost_lines(text, file, surely)
    return tuple(doubts)


def _is_plainly_said(text: str, block: Block) -> bool:
    """Whether a look at the names of all keys tells already that none is of secrecy but one at the top, which says something.

    So it is in nearly every account: the way through all its keys is for the others.
    """
    said = block.children.get(id(block.root), {}).get(KEY)
    is_once = sum(KEY in keys for keys in block.children.values()) == (said is not None)
    if not block.has_all_keys or not is_once or (said is not None and _is_blank(said[1])):
        return False
    names = set().union(*block.children.values()) - _other_keys
    if any(_is_like(name, _ALIKE) for name in names if name != KEY):
        return False
    _other_keys.update(names - {KEY})
    lines = [said[0].start_mark.line + block.first_line] if said is not None else []
    return next(_lost_lines(text, block.file, lines), None) is None


def _gather_keys(node: Node | None, depth: int, keys: list[tuple[ScalarNode, Node, int]]) -> None:
    """Put every key below a node into a list, each with its value and how deep it stands."""
    if isinstance(node, MappingNode):
        for key, value in node.value:
            if isinstance(key, ScalarNode):
                keys.append((key, value, depth))
            if not isinstance(value, ScalarNode):
                _gather_keys(value, depth + 1, keys)
    elif isinstance(node, SequenceNode):
        for item in node.value:
            if not isinstance(item, ScalarNode):
                _gather_keys(item, depth + 1, keys)


def _why_unsure(word: str, value: Node, depth: int, pairs: Iterable[tuple[Node, Node]]) -> str:
    """Why the secrecy that a key tells of is not sure; nothing where it is, or where the key is of something else."""
    if word == KEY and depth == 0:
        if sum(isinstance(key, ScalarNode) and key.value == KEY for key, _ in pairs) > 1:
            return f"“{KEY}” stands twice"
        return f"“{KEY}” is left blank" if _is_blank(value) else ""
    if word == KEY:
        return f"“{KEY}” stands under another key"
    if _is_like(word, _ALIKE if depth == 0 else _MUCH_ALIKE):
        return f"there is no key “{word}”: secrecy is told by “{KEY}”"
    return ""


def _is_blank(value: Node) -> bool:
    if isinstance(value, ScalarNode):
        return not value.value.strip() or value.value.strip() == "~"
    if isinstance(value, SequenceNode):
        return True  # a list says nothing of how secret something is
    return not any(isinstance(key, ScalarNode) and key.value == "category" and not _is_blank(held) for key, held in value.value)


def is_of_secrecy(word: str) -> bool:
    """Whether a key is, or may be meant to be, one that keeps something secret."""
    return _is_like(word, _ALIKE)


@lru_cache(maxsize=4096)
def _is_like(word: str, alike: float) -> bool:
    plain = word.strip().casefold().replace("_", " ").replace("-", " ")
    return bool(difflib.get_close_matches(plain, _WORDS, n=1, cutoff=alike))


def _lost_lines(text: str, file: str, surely: Iterable[int]) -> Iterator[Doubt]:
    """Lines about secrecy that are no key: run into the text before them, in the prose, or without a colon."""
    keys, counted, last = set(surely), 0, 0
    text = f"\n{text}"
    for found in (_LINE if file == PLACES else _LINE_OF_PROSE).finditer(text):
        if _is_like(found["word"], _MUCH_ALIKE):
            counted, last = counted + text.count("\n", last, found.start("word")), found.start("word")
            if counted not in keys:
                yield Doubt(At(file, counted), f"the line “{found[0].strip()}…” is no key of its own")


def note_doubts(doubts: Iterable[Doubt], notes: Notes, *, account: str = "") -> None:
    """Each doubt as a finding."""
    for doubt in doubts:
        message = f"Whether this is secret cannot be told: {doubt.why}. Until it can, it is kept back as if it were."
        notes.add("secrecy-unclear", message, doubt.at, account=account)


def close_places(guide: Guide, text: str, findings: Iterable[Finding]) -> Mapping[str, Place]:
    """The places of which anything cannot be read, kept secret; those that were lost altogether too, as far as they can be told.

    `text` is places.yaml as it stands, `findings` are all that reading gave.
    """
    places = guide.places
    faulty = sorted({f.at.line for f in findings if f.at.file == PLACES and f.level is Level.ERROR})
    if not faulty:
        return places
    starts = _find_starts(text, places)
    hit = {_owner(line, starts) for line in faulty}
    everything = "" in hit
    closed = {key: replace(place, sensitivity=UNREADABLE) if everything or key in hit else place for key, place in places.items()}
    stubs = [_stub(key, _lines_of(text, starts, n)) for n, (_, key) in enumerate(starts)]
    if everything:
        stubs += [_stub(key, "") for key in _named_places(guide)]
    return {stub.id: stub for stub in reversed(stubs)} | closed


def _named_places(guide: Guide) -> Iterator[str]:
    """The ids of places that other files of the guide name."""
    for account in guide.accounts.values():
        yield from (*account.places, *account.absent_from, *(season.place for season in account.seasons if season.place))
    yield from (stop.place for walk in guide.walks.values() for stop in walk.stops)
    yield from (photo.place for photo in guide.photos.values() if photo.place)


def _find_starts(text: str, known: Collection[str]) -> list[tuple[int, str]]:
    """Line and id of each record, by the least indent alone; a key of a place that stands there belongs to the record above it."""
    indents = [len(line) - len(line.lstrip()) for line in text.splitlines() if ":" in line and not line.lstrip().startswith("#")]
    edge = min(indents, default=0)
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        begins = _ID.match(line.strip()) if len(line) - len(line.lstrip()) <= edge else None
        if begins and (is_id(begins[1]) or begins[1] in known) and begins[1] not in _FIELDS and not _is_like(begins[1], _MUCH_ALIKE):
            found.append((number, begins[1]))
    return found


def _owner(line: int, starts: list[tuple[int, str]]) -> str:
    """The record that a line belongs to; none, which is any, for a line before the first."""
    return next((key for start, key in reversed(starts) if start <= line), "")


def _lines_of(text: str, starts: list[tuple[int, str]], number: int) -> str:
    first, after = starts[number][0], starts[number + 1][0] if number + 1 < len(starts) else None
    return "\n".join(text.splitlines()[first - 1 : after - 1 if after else None])


def _stub(key: str, lines: str) -> Place:
    """A secret place with what can be made out of its lines."""
    name, area = _NAME.search(lines), _AREA.search(lines)
    typed = _POSITION.search(lines)
    position = parse_position(typed[1].strip()) if typed else None
    known = position if isinstance(position, Position) else None
    called, wider = name[1].strip() if name else key.replace("-", " "), area[1].strip() if area else ""
    return Place(key, called, wider, position=known, sensitivity=UNREADABLE)
