"""Where everything stands on the site, and what a cross-reference points at."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from guidebuild.fieldwork.public_records import Locality, PublicAccount, PublicStop
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import remember
from guidebuild.guide.ids import make_id
from guidebuild.guide.records import Source, Term
from guidebuild.guide.resolve import find_account
from guidebuild.views.pieces.common import LinkView, NameView
from guidebuild.views.pieces.runs import MOST_LINES, name_run

GLOSSARY = "glossary.html"
SOURCES = "sources.html"


def dekad_path(dekad: int) -> str:
    """The page of a third of a month: `seasons/06-2.html` is mid June."""
    return f"seasons/{dekad // 3 + 1:02d}-{dekad % 3 + 1}.html"


def film_path(film: str) -> str:
    """The page of a film, by its id."""
    return f"films/{film}.html"


class Named(Protocol):
    """A record with an id."""

    @property
    def id(self) -> str:
        """The id."""


def list_terms(guide: Published) -> tuple[Term, ...]:
    """The words of the glossary in alphabetical order."""
    return tuple(sorted(guide.terms.values(), key=lambda term: term.word.casefold()))


def list_sources(guide: Published) -> tuple[Source, ...]:
    """The sources in alphabetical order."""
    return tuple(sorted(guide.sources.values(), key=lambda source: source.cite.casefold()))


@dataclass(frozen=True, slots=True)
class SiteMap:
    """Paths from the site's root in one language, and the answers to cross-references.

    The guide's first language stands at the root, each other one in a folder of its own.
    """

    guide: Published
    language: str
    kept: dict[str, object] = field(default_factory=dict, repr=False, compare=False)  # of accounts: most pages link to some

    @property
    def base(self) -> str:
        """Folder of this language: empty for the first."""
        return "" if self.language == self.guide.settings.language else f"{self.language}/"

    def page(self, path: str) -> str:
        """A page's path in this language."""
        return self.base + path

    def account(self, account: PublicAccount) -> LinkView:
        """The link to an account's page."""
        return remember(self.kept, account.id, lambda: self._link(account))

    def _link(self, account: PublicAccount) -> LinkView:
        name = name_view(account, self.language, self.guide.settings.language)
        return LinkView(self.page(f"accounts/{account.id}.html"), name.short, name)

    def family(self, family: str) -> LinkView:
        """The link to a family's page."""
        return LinkView(self.page(f"families/{make_id(family)}.html"), family)

    def plant(self, plant_id: str) -> LinkView:
        """The link to a plant's page; an unknown plant is named without a link."""
        plant = self.guide.plants.get(plant_id)
        if plant is None:
            return LinkView("", plant_id)
        name = NameView(plant.vernacular, plant.name.pieces(authority=False) if plant.name else ())
        return LinkView(self.page(f"plants/{plant.id}.html"), name.short, name)

    def place(self, place_id: str) -> LinkView:
        """The link to a place's page; an unknown place is named without a link."""
        place = self.guide.places.get(place_id)
        if place is None:
            return LinkView("", place_id)
        return LinkView(self.page(f"places/{place.id}.html"), place.name)

    def locality(self, locality: Locality) -> LinkView:
        """Where something is found: the link to the place's page where it may be named, else the wider area without one."""
        return self.place(locality.place) if locality.place else LinkView("", locality.name)

    def stop(self, stop: PublicStop) -> LinkView:
        """Where a walk stops, likewise."""
        return self.place(stop.place) if stop.place else LinkView("", stop.name)

    def term(self, term: Term) -> LinkView:
        """A word's place in the glossary."""
        place = self._find_run(GLOSSARY, list_terms, self.guide.terms, term.id)
        return LinkView(self.page(f"{place}#{term.id}"), term.word)

    def source(self, source: Source) -> LinkView:
        """A source's place among the sources."""
        place = self._find_run(SOURCES, list_sources, self.guide.sources, source.id)
        return LinkView(self.page(f"{place}#{source.id}"), source.cite)

    def _find_run(self, path: str, list_all: Callable[[Published], tuple[Named, ...]], all_: Mapping[str, object], ident: str) -> str:
        """The page of a divided list on which a record stands."""
        if len(all_) <= MOST_LINES:
            return path
        places = remember(self.kept, f"{path}, places", lambda: {one.id: place for place, one in enumerate(list_all(self.guide))})
        return name_run(path, places[ident] // MOST_LINES)

    def account_called(self, text: str) -> PublicAccount | None:
        """The account of an id, a former id, a name or a synonym."""
        return find_account(self.guide, text)

    def target(self, kind: str, wanted: str) -> LinkView | None:
        """What `kind:wanted` points at, or None where there is no such thing or it is not for publication."""
        found: LinkView | None = None
        if kind == "account" and (account := self.account_called(wanted)):
            found = self.account(account)
        elif kind == "plant" and wanted in self.guide.plants:
            found = self.plant(wanted)
        elif kind == "place" and wanted in self.guide.places:
            found = self.place(wanted)
        elif kind == "term" and (term := self.guide.terms.get(wanted)):
            found = self.term(term)
        elif kind == "source" and (source := self.guide.sources.get(wanted)):
            found = self.source(source)
        elif kind == "caution" and (caution := self.guide.cautions.get(wanted)):
            found = LinkView(self.page(f"cautions.html#{caution.id}"), caution.title)
        elif kind == "walk" and (walk := self.guide.walks.get(wanted)):
            found = LinkView(self.page(f"walks/{walk.id}.html"), walk.title)
        return found if found and found.path else None


def site_map(guide: Published, language: str) -> SiteMap:
    """The map of a guide in one language."""
    return SiteMap(guide, language)


def name_view(account: AccountFacts, language: str, main: str) -> NameView:
    """An account's names; the vernacular in the reader's language where the account has one, else in the guide's own."""
    translated = next((t.vernacular for t in account.translations if t.language == language and t.vernacular), "")
    return NameView(
        vernacular=translated or account.vernacular,
        runs=account.name.pieces(authority=False),
        authority=account.name.authority,
        language=language if translated else main,
    )
