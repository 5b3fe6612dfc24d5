"""The page of the data: what the tables hold, under which licence, how to cite and where to download them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.published import Published
from guidebuild.views.data import dwc_terms as dwc
from guidebuild.views.data.eml import find_newest_fact
from guidebuild.views.data.occurrences import cover_rows, list_cited, sightings_archive
from guidebuild.views.pieces.citations import Citation, cite_parts, make_citation
from guidebuild.views.pieces.credits import LicenceView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.site.column_words import MEANINGS
from guidebuild.words import Words

PATH = "data.html"
FOLDER = "data"
"""Where the files stand, from the site's root."""
_YEAR = 4


@dataclass(frozen=True, slots=True)
class Download:
    """A file to download: its path from the site's root, what it is, and its type (IANA media types)."""

    path: str
    words: str
    format: str

    @property
    def name(self) -> str:
        """What the file is called."""
        return self.path.rpartition("/")[2]


@dataclass(frozen=True, slots=True)
class ColumnView:
    """A column of the table of sightings: its term, where that is defined, and what it means."""

    term: str
    address: str
    meaning: str


@dataclass(frozen=True, slots=True)
class DataFacts:
    """What programs read of the data set: its name, what it is, days (ISO 8601), and the box round the region or its positions."""

    name: str
    description: str
    days: tuple[str, ...] = ()
    region: str = ""
    box: tuple[float, float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class DataPage:
    """The page of the data. `held` says what they hold; `others` are licences of single rows with how many rows have each."""

    held: tuple[str, ...]
    licence: LicenceView | None
    others: tuple[tuple[LicenceView, str], ...]
    cited: tuple[Citation, ...]
    citation: Citation
    downloads: tuple[Download, ...]
    columns: tuple[ColumnView, ...]
    facts: DataFacts


def data_page(make: PieceMaker) -> DataPage:
    """The page of the data in one language."""
    guide, w = make.guide, make.words
    core = sightings_archive(guide).core
    covered = cover_rows(guide, core)
    settings, has_rows = guide.settings, bool(core.rows)
    newest = find_newest_fact(guide, covered.days)
    name = w("{title}: sightings", title=settings.title) if has_rows else settings.title
    address = f"{settings.address.rstrip('/')}/{PATH}" if settings.address else ""
    return DataPage(
        held=tuple(_tell_held(guide, w, covered.days)),
        licence=make.licence(settings.licence),
        others=tuple(_other_licences(make)),
        cited=tuple(make_citation(source, w) for source in list_cited(guide)),
        citation=Citation(cite_parts(settings.publisher or settings.title, newest[:_YEAR], (name, w("Data set"))), address),
        downloads=tuple(_downloads(w, has_rows=has_rows)),
        columns=tuple(ColumnView(term, dwc.term(term), w(MEANINGS[term])) for term in core.columns) if has_rows else (),
        facts=DataFacts(name, " ".join(filter(None, (settings.description, *_tell_held(guide, w, covered.days)))),
                        (min(covered.days), max(covered.days)) if covered.days else (), settings.region,
                        settings.region_box or covered.box),
    )  # fmt: skip


def _tell_held(guide: Published, w: Words, days: tuple[str, ...]) -> Iterator[str]:
    """What the data hold, in sentences."""
    rows = len(guide.rows)
    if rows:
        seen = len({row.account for row in guide.rows})
        told = {
            "rows": w.count("{n} row of sightings", "{n} rows of sightings", rows),
            "species": w.count("{n} species", "{n} species", seen),
        }
        if days:
            first, last = min(days)[:_YEAR], max(days)[:_YEAR]
            yield w("{rows} of {species}, {first} to {last}.", **told, first=first, last=last)
        else:
            yield w("{rows} of {species}.", **told)
    absent = sum(1 for row in guide.rows if row.record and row.record.absent)
    if absent:
        yield w.count("{n} row says that it was looked for and not found.", "{n} rows say that it was looked for and not found.", absent)
    pictures = len({photo.id for account in guide.accounts.values() for photo in guide.photos_of(account)})
    species = w.count("{n} species", "{n} species", len(guide.accounts))
    yield w(
        "{species} with names, texts and seasons, and {pictures}.",
        species=species,
        pictures=w.count("{n} picture", "{n} pictures", pictures),
    )


def _other_licences(make: PieceMaker) -> Iterator[tuple[LicenceView, str]]:
    """Licences that rows have of their own, the most frequent first."""
    addresses = {known.address or known.title: known for known in make.guide.licences.values()}
    counted = Counter(row.licence for row in make.guide.rows if row.licence)
    for told, rows in counted.most_common():
        known = addresses.get(told)
        view = LicenceView(known.id, make.words(known.title), known.address) if known else LicenceView(told, told)
        yield view, make.words.count("{n} row", "{n} rows", rows)


def _downloads(w: Words, *, has_rows: bool) -> Iterator[Download]:
    if has_rows:
        yield Download(f"{FOLDER}/sightings.zip", w("Sightings, row by row, as a Darwin Core archive"), "application/zip")
    yield Download(
        f"{FOLDER}/taxa.zip", w("Species with their names, texts, seasons and pictures, as a Darwin Core archive"), "application/zip"
    )
    yield Download(f"{FOLDER}/checklist.csv", w("Species, one a row, for a spreadsheet"), "text/csv")
    if has_rows:
        yield Download(f"{FOLDER}/seen-dates.csv", w("When each stage was seen, for a spreadsheet"), "text/csv")
        yield Download(
            f"{FOLDER}/seen-by-place.csv", w("How often each stage was seen, by place and thirds of months: a summary"), "text/csv"
        )
