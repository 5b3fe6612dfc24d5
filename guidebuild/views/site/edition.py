"""The pages of the site in one language."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import chain

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.ids import make_id
from guidebuild.guide.records import Plant
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.facts import head_plant_list, name_habitats
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.site.account import account_page, changed_on
from guidebuild.views.site.data import PATH as DATA
from guidebuild.views.site.data import data_page
from guidebuild.views.site.field import FieldPage
from guidebuild.views.site.lists import (
    HeadedList,
    ListPage,
    by_family,
    dekad_page,
    dekad_path,
    family_list,
    habitat_groups,
    home_page,
    make_entry,
    place_page,
    plant_page,
    seasons_page,
)
from guidebuild.views.site.page import PageToMake, PageView, SiteView
from guidebuild.views.site.practice import practice_page
from guidebuild.views.site.reference import cautions_page, glossary_page, moved_page, sources_page
from guidebuild.views.site.tell import TellPage, find_page, finder_page
from guidebuild.views.site.walk import walk_link, walk_page, walk_path
from guidebuild.views.telling.compare import Comparer, compare_path, list_compared
from guidebuild.views.telling.key import KeyView, key_view


@dataclass(frozen=True)
class Edition:
    """The site in one language. `today` decides only what the home page shows before the browser knows better."""

    make: PieceMaker
    site: SiteView
    today: dt.date

    def contents(self) -> Iterator[PageToMake]:
        """The pages in their order, home first; each is put together when it is asked for."""
        parts = (self._home, self._accounts, self._families, self._plants, self._places, self._seasons, self._telling, self._find_page)
        return chain.from_iterable(part() for part in (*parts, self._reference, self._walks))

    def find(self, path: str) -> PageView | None:
        """One page, by its path from the site's root, without looking at the others where that is possible."""
        quick = (self._home, self._accounts, self._families, self._plants, self._places, self._seasons, self._reference, self._walks)
        slow = (self._find_page, self._telling)
        found = (one for part in (*quick, *slow) for one in part() if one.path == path)
        page = next(found, None)
        return page.make() if page else None

    def _page(self, path: str, template: str, title: str, data: object) -> PageView:
        return PageView(self.make.map.page(path), template, self.make.language, title, self.site, data)

    def _later(self, path: str, make: Callable[[], PageView]) -> PageToMake:
        return PageToMake(self.make.map.page(path), make)

    def _plain(self, path: str, template: str, title: str, data: Callable[[], object], kind: str = "page") -> PageToMake:
        """A page of which nothing is special but what it shows."""
        return self._later(path, lambda: replace(self._page(path, template, title, data()), kind=kind))

    def _home(self) -> Iterator[PageToMake]:
        def show() -> PageView:
            home = home_page(self.make, self.today, self.site.nav + self.site.more)
            return replace(self._page("index.html", "home.html", self.site.title, home), description=self.site.description)

        yield self._later("index.html", show)

    def _accounts(self) -> Iterator[PageToMake]:
        make = self.make
        accounts = sorted(make.guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key))
        links = [make.map.account(a) for a in accounts]
        neighbours = zip([None, *links], accounts, [*links[1:], None], strict=False)
        for earlier, account, later in neighbours:
            yield self._later(f"accounts/{account.id}.html", partial(self._account, account, earlier, later))
            for former in account.formerly:
                if former not in make.guide.accounts:
                    path = f"accounts/{former}.html"
                    yield self._plain(path, "moved.html", account.vernacular, partial(moved_page, make, account), "moved")
        yield self._plain("accounts/index.html", "list.html", make.words("All species"), lambda: ListPage(by_family(make, accounts)))

    def _account(self, account: PublicAccount, earlier: LinkView | None, later: LinkView | None) -> PageView:
        view = replace(account_page(self.make, account), earlier=earlier, later=later)
        title = f"{view.name.vernacular}, {view.name.plain}" if view.name.vernacular else view.name.plain
        return replace(
            self._page(f"accounts/{account.id}.html", "account.html", title, view),
            description=" · ".join(m.said.words for m in self.make.marks_in_one(account, range(3))),
            kind="account",
            changed=changed_on(account),
            name=view.name,
            share=view.plate,
        )

    def _families(self) -> Iterator[PageToMake]:
        for family in sorted({a.family for a in self.make.guide.accounts.values() if a.family}):
            yield self._plain(f"families/{make_id(family)}.html", "list.html", family, partial(self._family, family), "family")

    def _family(self, family: str) -> ListPage:
        members = sorted((a for a in self.make.guide.accounts.values() if a.family == family), key=lambda a: a.name.sort_key)
        return ListPage((replace(family_list(self.make, family, members), heading="", link=None),))

    def _plants(self) -> Iterator[PageToMake]:
        make = self.make
        for plant in make.guide.plants.values():
            yield self._later(f"plants/{plant.id}.html", partial(self._plant, plant))
        if make.guide.plants:
            title = make.words(head_plant_list(make.guide))
            yield self._plain("plants/index.html", "list.html", title, self._all_plants)

    def _plant(self, plant: Plant) -> PageView:
        view = plant_page(self.make, plant)
        return replace(self._page(f"plants/{plant.id}.html", "plant.html", view.name.short, view), name=view.name)

    def _all_plants(self) -> ListPage:
        make = self.make
        links = {i: make.map.plant(i) for i in make.guide.plants}
        groups = [HeadedList(link.text, tuple(make_entry(make, a) for a in make.guide.host_of(i)), link) for i, link in links.items()]
        return ListPage(tuple(sorted(groups, key=lambda g: g.heading.casefold())))

    def _places(self) -> Iterator[PageToMake]:
        make = self.make
        for place in make.guide.places.values():
            yield self._plain(f"places/{place.id}.html", "place.html", place.name, partial(place_page, make, place))
        if make.guide.places or any(name_habitats(make.guide, account) for account in make.guide.accounts.values()):
            title = make.words("Places and habitats")
            links = tuple(map(make.map.place, make.guide.places))
            yield self._plain("places/index.html", "list.html", title, lambda: ListPage(habitat_groups(make), links))

    def _seasons(self) -> Iterator[PageToMake]:
        make = self.make
        yield self._plain("seasons/index.html", "seasons.html", make.words("The year"), partial(seasons_page, make))
        for dekad in range(DEKADS):
            title = make.words("Out in {when}", when=dekad_words(dekad, make.words))
            yield self._plain(dekad_path(dekad), "dekad.html", title, partial(dekad_page, make, dekad))

    @cached_property
    def key(self) -> KeyView | None:
        """The key, or what lacks for one; None where there is nothing to ask."""
        view = key_view(self.make.guide, self.make.language)
        return view if view.indented or view.wanted else None

    def _compared(self) -> Iterator[tuple[str, ...]]:
        """Look-alikes that have a page side by side: those that authors name, then those that the key leaves together."""
        named = dict.fromkeys(list_compared(self.make.guide))
        yield from named
        # The key costs more than all of those: it is not asked before they have been gone through.
        for group in self.key.groups if self.key else ():
            ids = tuple(sorted(group.ids))
            if ids not in named:
                named[ids] = None
                yield ids

    def _telling(self) -> Iterator[PageToMake]:
        make, w = self.make, self.make.words
        comparer, sets = Comparer(make), []
        for ids in self._compared():
            sets.append(ids)
            yield self._plain(compare_path(ids), "compare.html", comparer.link_to(ids).text, partial(comparer.show, ids), "compare")
        helps = []
        finder = finder_page(make)
        if finder:
            yield self._plain("finder.html", "finder.html", w("Finder"), lambda: finder)
            helps.append(LinkView(make.map.page("finder.html"), w("Finder"), note=w("tick what you see")))
        if self.key:
            yield self._plain("key.html", "key.html", w("Key"), lambda: self.key)
            note = w("too little is scored for one") if self.key.wanted else w("one question after another")
            helps.append(LinkView(make.map.page("key.html"), w("Key"), note=note))
        practice = practice_page(make)
        if practice.questions:
            yield self._plain("practice.html", "practice.html", w("Practice"), lambda: practice)
            helps.append(LinkView(make.map.page("practice.html"), w("Practice"), note=w("which of these look-alikes is it?")))
        pairs = tuple(comparer.link_to(ids) for ids in sets if len(ids) == 2)
        larger = tuple(comparer.link_to(ids) for ids in sets if len(ids) > 2)
        yield self._plain("compare/index.html", "tell.html", w("Tell apart"), lambda: TellPage(tuple(helps), larger, pairs))

    def _find_page(self) -> Iterator[PageToMake]:
        yield self._plain("find.html", "find.html", self.make.words("Find"), partial(find_page, self.make))

    def _reference(self) -> Iterator[PageToMake]:
        make, w = self.make, self.make.words
        if make.guide.terms:
            yield self._plain("glossary.html", "glossary.html", w("Glossary"), partial(glossary_page, make))
        yield self._plain("sources.html", "sources.html", w("Sources and credits"), partial(sources_page, make))
        yield self._plain(DATA, "data.html", w("Data"), partial(data_page, make), "data")
        yield self._plain("cautions.html", "cautions.html", w("Cautions"), partial(cautions_page, make))

    def _walks(self) -> Iterator[PageToMake]:
        make = self.make
        walks = sorted(make.guide.walks.values(), key=lambda walk: (walk.date, walk.start))
        for walk in walks:
            yield self._plain(walk_path(walk), "walk.html", walk.title, partial(walk_page, make, walk), "walk")
        links = tuple(walk_link(make, walk) for walk in walks)
        families = tuple(make.map.family(f) for f in sorted({a.family for a in make.guide.accounts.values() if a.family}))
        yield self._plain("field.html", "field.html", make.words("Keep for the field"), lambda: FieldPage(families, links))
        if walks:
            yield self._plain("walks/index.html", "list.html", make.words("Walks"), lambda: ListPage(links=links))
