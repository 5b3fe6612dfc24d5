"""What the columns of a list of species say, by the words that people write over them (`content/species_list.yaml`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from guidebuild import shipped
from guidebuild.reading.notes import Notes
from guidebuild.reading.sighting_headings import fold_heading
from guidebuild.reading.yaml_text import read_block

NAMES = ("scientific name", "genus", "vernacular", "name")


@dataclass(frozen=True, slots=True)
class ListRow:
    """A row of a list: its number as a spreadsheet counts, what it says by column, and what stands in columns that are not known."""

    number: int
    said: Mapping[str, str]
    others: tuple[tuple[str, str], ...]


def find_meanings(header: Sequence[str]) -> tuple[str, ...]:
    """What each column means; "" where its heading is not known, or the meaning is taken already."""
    words = _known_headings()
    met: set[str] = set()
    meanings = []
    for cell in header:
        meaning = words.get(fold_heading(cell), "")
        meanings.append("" if meaning in met else meaning)
        met.add(meaning)
    return tuple(meanings)


def read_list(header: Sequence[str], rows: Iterator[list[str]], first: int) -> Iterator[ListRow]:
    """The rows of a list that say anything."""
    meanings = find_meanings(header)
    for number, row in enumerate(rows, first):
        cells = [" ".join(cell.split()) for cell in row]
        if not any(cells):
            continue
        said = {meaning: cell for meaning, cell in zip(meanings, cells, strict=False) if meaning and cell}
        others = tuple(
            (head.strip(), cell)
            for head, meaning, cell in zip(header, meanings, cells, strict=False)
            if not meaning and cell and head.strip()
        )
        yield ListRow(number, said, others)


@cache
def _known_headings() -> Mapping[str, str]:
    """Headings and their meanings; a fault in the shipped list is a fault of the tool, so it is raised."""
    notes = Notes()
    block = read_block(shipped.content().joinpath("species_list.yaml").read_text("utf-8"), "content/species_list.yaml", notes)
    if block is None or notes.findings:
        raise ValueError(f"The shipped file content/species_list.yaml is damaged: {[str(f) for f in notes.findings]}")
    return {fold_heading(str(word)): meaning for meaning, words in block.data.items() if isinstance(words, list) for word in words}
