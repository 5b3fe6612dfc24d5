"""Sightings on the desk: what became of every row, and words that the guide does not know, each explained by one choice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from guidebuild.desk.choices import call_place
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import AddItem, Change, RefusedError, SetValue
from guidebuild.desk.part import Part
from guidebuild.desk.parts.plate import FileSeen, see_files
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName, Standing
from guidebuild.guide.resolve import find_account, fold_name, names_of
from guidebuild.guide.sightings import FileCount, RowGroup, UnknownWord
from guidebuild.reading.block import Plain
from guidebuild.reading.nearest_name import find_nearest_name, find_nearest_words
from guidebuild.reading.sighting_headings import fold_heading
from guidebuild.reading.sighting_totals import LEFT_OUT, REMARKS
from guidebuild.reading.sighting_words import FILE, shipped_words
from guidebuild.words import Words

_SHOWN = 40
"""Words of one kind on the page: those with a likely meaning first, then those of most rows."""
_SHORT = 5
NAME_KEYS = ("synonyms", "also called")
_LATIN = re.compile(r"(?:us|a|um|is|ae|ii|ns|oides)$")
_TOLD_HERE = ("sighting-name-unknown", "sighting-place", "sighting-stage", "sightings-column-unclear", "sightings-column-unknown")
"""Findings that the page shows as words to be explained."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Rows of a file that share a fate, and the first of them."""

    words: str
    rows: int
    first: int
    example: str


@dataclass(frozen=True, slots=True)
class FileTotals:
    """One file of sightings: its rows, those that count, why others do not, and what else was found in it."""

    file: str
    anchor: str
    rows: int
    counted: int
    left_out: tuple[Reason, ...]
    remarks: tuple[Reason, ...]
    findings: tuple[str, ...]

    @property
    def share(self) -> float:
        """Of a hundred rows, those that count."""
        return round(100 * self.counted / self.rows, 1) if self.rows else 0


@dataclass(frozen=True, slots=True)
class WordToExplain:
    """A word that the guide does not know, with the nearest of those it knows ("": none is near)."""

    kind: str
    word: str
    rows: int
    where: str
    nearest: str
    key: str = ""
    """Where a name is likely to belong in its account: `synonyms`, or `also called`."""


@dataclass(frozen=True, slots=True)
class KindOfWords:
    """Words of one kind to explain, what they may mean, and how many more there are."""

    kind: str
    words: tuple[WordToExplain, ...]
    meanings: tuple[tuple[str, str], ...]
    left: int


@dataclass(frozen=True, slots=True)
class SightingsView:
    """All that the page shows."""

    rows: int
    counted: int
    totals: tuple[FileTotals, ...]
    kinds: tuple[KindOfWords, ...]
    files: tuple[FileSeen, ...]


def show_sightings(desk: Desk, rest: str, _: Mapping[str, str]) -> SightingsView | None:
    """The page."""
    guide = desk.guide
    if rest or guide is None:
        return None if rest else SightingsView(0, 0, (), (), ())
    counts, findings, say = guide.sighting_counts, desk.findings, desk.say
    return SightingsView(
        rows=sum(count.rows for count in counts),
        counted=sum(count.counted for count in counts),
        totals=tuple(_show_totals(count, findings, say) for count in counts),
        kinds=tuple(_list_kinds(guide, say)),
        files=tuple(see_files(desk, [FILE])),
    )


def _show_totals(count: FileCount, findings: Iterable[Finding], say: Words) -> FileTotals:
    told = (f"{f.message} {f.mend}".strip() for f in findings if f.at.file == count.file and f.code not in _TOLD_HERE)
    return FileTotals(
        count.file,
        _anchor_of(count.file),
        count.rows,
        count.counted,
        tuple(_show_reason(group, LEFT_OUT, say) for group in count.left_out),
        tuple(_show_reason(group, REMARKS, say) for group in count.remarks),
        tuple(told),
    )


def _anchor_of(file: str) -> str:
    return f"file-{make_id(file, 'file')}"


def _show_reason(group: RowGroup, known: Mapping[str, str], say: Words) -> Reason:
    reason = known[group.code]
    return Reason(f"{say(reason)}{group.words.removeprefix(reason)}", group.rows, group.first, group.example)


def _list_kinds(guide: Guide, say: Words) -> Iterator[KindOfWords]:
    known_by_kind = {
        "column": _known_columns(guide),
        "place": _known_places(guide),
        "stage": _known_stages(guide, say),
        "name": _known_names(guide),
    }
    for kind, known in known_by_kind.items():
        met: dict[str, list[tuple[str, UnknownWord]]] = {}
        for count in guide.sighting_counts:
            for one in count.unknown:
                if one.kind == kind:
                    met.setdefault(one.word, []).append((count.file, one))
        genera = _genera(guide)
        words = sorted((_show_word(word, rows, known, genera) for word, rows in met.items()), key=lambda one: (not one.nearest, -one.rows))
        if words:
            meanings = _list_columns(say) if kind == "column" else _list_meanings(guide, kind, say)
            yield KindOfWords(kind, tuple(words[:_SHOWN]), meanings, len(words[_SHOWN:]))


def _show_word(word: str, met: list[tuple[str, UnknownWord]], known: Mapping[str, str], genera: frozenset[str]) -> WordToExplain:
    file, first = met[0]
    find = find_nearest_name if first.kind in ("name", "column") else find_nearest_words
    folded = fold_heading(word) if first.kind == "column" else fold_name(word)
    # A short heading is like too many others: “page” is not “age”.
    is_short = first.kind == "column" and len(folded) < _SHORT
    near = folded if folded in known else "" if is_short else find(folded, list(known))
    key = _guess_key(word, genera) if first.kind == "name" else ""
    return WordToExplain(first.kind, word, sum(one.rows for _, one in met), f"{file}:{first.first}", known.get(near, ""), key)


COLUMNS: Mapping[str, str] = MappingProxyType(
    {
        "eventDate": "Date", "eventTime": "Time", "scientificName": "Species, by its scientific name",
        "vernacularName": "Species, as people call it", "locality": "Place, by its name", "locationID": "Place, by its id in places.yaml",
        "decimalLatitude": "Latitude", "decimalLongitude": "Longitude", "verbatimCoordinates": "Grid reference",
        "individualCount": "Count", "organismQuantity": "Abundance", "lifeStage": "Life stage", "sex": "Sex", "recordedBy": "Observer",
        "identifiedBy": "Who named it", "occurrenceStatus": "Found or not found",
        "identificationVerificationStatus": "Whether it was verified", "identificationQualifier": "Doubt about the species",
        "occurrenceRemarks": "Notes", "catalogNumber": "Number of the record", "none": "Not to be read",
    }
)  # fmt: skip
"""What a column may be, in plain words, by its Darwin Core term."""


def _list_columns(say: Words) -> tuple[tuple[str, str], ...]:
    return tuple((term, say(words)) for term, words in COLUMNS.items())


def _known_columns(guide: Guide) -> dict[str, str]:
    """Headings that mean one thing. Nothing is proposed for one that may mean several."""
    said = (guide.sighting_words or shipped_words()).columns
    terms = {term.lower(): term for term in COLUMNS}
    sure = {heading: terms[meant[0].lower()] for heading, meant in said.items() if len(meant) == 1 and meant[0].lower() in terms}
    return {**sure, **{heading: "" for heading, meant in said.items() if len(meant) > 1}}


def _known_places(guide: Guide) -> dict[str, str]:
    """Words in the form in which they are compared, with what they mean."""
    own = (guide.sighting_words or shipped_words()).places
    named = {fold_name(text): place.id for place in guide.places.values() for text in (place.name, place.id) if text}
    return {word: place for word, place in {**own, **named}.items() if place in guide.places}


def _known_stages(guide: Guide, say: Words) -> dict[str, str]:
    stages = dict(_list_meanings(guide, "stage", say))
    own = (guide.sighting_words or shipped_words()).stages
    return {word: stage for word, stage in own.items() if stage in stages} | {fold_name(said): stage for stage, said in stages.items()}


def _known_names(guide: Guide) -> dict[str, str]:
    return {fold_name(name): account.id for account in guide.accounts.values() for name in names_of(account)}


def _list_meanings(guide: Guide, kind: str, say: Words) -> tuple[tuple[str, str], ...]:
    """What words of a kind may mean: ids, and how they are called."""
    if kind == "place":
        found = [(place.id, call_place(place, say)) for place in guide.places.values()]
    elif kind == "name":
        found = [(account.id, account.vernacular or account.name.plain) for account in guide.accounts.values()]
    else:
        sets = (guide.stage_set(account) for account in guide.accounts.values())
        return tuple({stage: (stage, said) for group in sets for stage, said in group.stages}.values())
    return tuple(sorted(found, key=lambda pair: pair[1].casefold()))


def explain_name(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A name of sightings as one that an account answers to: `{word, meaning, key}`. Answers `{file, digest}` of the account."""
    guide, word, key = desk.guide, str(asked.get("word", "")).strip(), str(asked.get("key", ""))
    account = guide.accounts.get(str(asked.get("meaning", ""))) if guide else None
    if guide is None or account is None or not word:
        raise RefusedError("Choose the account that this name belongs to.")
    known = find_account(guide, word)
    if known is not None:
        raise RefusedError(f"“{word}” is a name of {known.vernacular or known.name.plain} already.")
    if key not in NAME_KEYS:
        raise RefusedError("Say whether it is a scientific name, or what people call it.")
    if not _says_a_species(guide, word, key):
        raise RefusedError(f"“{word}” is not the name of one species for certain, so that no account can answer to it.")
    standing = desk.writer.read(account.at.file)
    written = desk.writer.change(account.at.file, standing.digest, [_add_name(key, word, standing.values.get(key))], guide)
    return {"file": written.file, "digest": written.digest}


def _says_a_species(guide: Guide, word: str, key: str) -> bool:
    parsed = parse_name(word)
    if not isinstance(parsed, ScientificName):
        return key == "also called"
    if not parsed.epithet:
        return key == "also called" and parsed.genus not in _genera(guide)
    return parsed.standing is Standing.CERTAIN


def _guess_key(word: str, genera: frozenset[str]) -> str:
    """Whether a name looks scientific; its author sees the guess and may say otherwise."""
    first, _, rest = word.partition(" ")
    return "synonyms" if first in genera or (rest.islower() and _LATIN.search(rest)) else "also called"


def _genera(guide: Guide) -> frozenset[str]:
    return frozenset(account.name.genus for account in guide.accounts.values())


def _add_name(key: str, word: str, there: Plain) -> Change:
    return AddItem((key,), word) if isinstance(there, list) and there else SetValue((key,), [*([there] if there else []), word])


def locate_sightings(desk: Desk, at: At) -> str | None:
    """A row of a file of sightings, by its file."""
    guide = desk.guide
    return f"#{_anchor_of(at.file)}" if guide and any(count.file == at.file for count in guide.sighting_counts) else None


PART = Part("sightings", "Sightings", show_sightings, {"name": explain_name}, locate_sightings)
