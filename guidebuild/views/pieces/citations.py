"""How a source is cited: author (year). Title. Publisher, the order of ISO 690 with name and date first.

A data set goes after the DataCite metadata schema 4, "Citing data": Creator (Year). Title. Version. Publisher. Dataset. Identifier;
the day of access follows, as for all that can change.
"""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.guide.records import Source
from guidebuild.words import Words


@dataclass(frozen=True, slots=True)
class Citation:
    """A citation in two parts, so that a page can make a link of the address; `after` says when it was read."""

    words: str
    address: str = ""
    after: str = ""

    @property
    def line(self) -> str:
        """All of it in one line."""
        return " ".join(filter(None, (self.words, self.address))) + (f", {self.after}" if self.after else "")


def cite_source(source: Source, w: Words) -> str:
    """What rows come from, in one line: a data set, whether its author calls it one or not."""
    return _cite(source, w, is_data=True).line


def make_citation(source: Source, w: Words) -> Citation:
    """A source as it is cited: a text, or a data set, which says that it is one."""
    return _cite(source, w, is_data=bool(source.kind))


def _cite(source: Source, w: Words, *, is_data: bool) -> Citation:
    accessed = w("read on {date}", date=w.date(source.accessed)) if source.accessed else ""
    title = source.title or (source.cite if is_data else "")
    author = source.author or source.publisher or title
    version = w("Version {number}", number=source.version) if source.version else ""
    rest = (part for part in (title, version, source.publisher, w("Data set") if is_data else "") if part != author)
    return Citation(cite_parts(author, source.year, tuple(rest)), source.link, accessed)


def cite_parts(author: str, year: str, rest: tuple[str, ...]) -> str:
    """`Author (year). Title. Version. Publisher. Data set.`, each part with one stop at its end."""
    named = f"{author} ({year})" if year else author
    return " ".join(f"{part.strip().rstrip('.')}." for part in (named, *rest) if part.strip())
