"""The pages of the site in one language."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.ids import make_id
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.facts import head_plants
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.site.account import account_page, changed_on
from guidebuild.views.site.field import FieldPage
from guidebuild.views.site.lists import (
    HeadedList,
    ListPage,
    by_family,
    dekad_page,
    dekad_path,
    habitat_groups,
    home_page,
    make_entry,
    place_page,
    plant_page,
    seasons_page,
)
from guidebuild.views.site.page import PageView, SiteView
from guidebuild.views.site.practice import practice_page
from guidebuild.views.site.reference import cautions_page, glossary_page, moved_page, sources_page
from guidebuild.views.site.tell import TellPage, find_page, finder_page
from guidebuild.views.site.walk import walk_link, walk_page, walk_path
from guidebuild.views.telling.compare import CompareView, compare_views
from guidebuild.views.telling.key import KeyView, key_view


@dataclass(frozen=True)
class Edition:
    """The site in one language. `today` decides only what the home page shows before the browser knows better."""

    make: PieceMaker
    site: SiteView
    today: dt.date

    def pages(self) -> Iterator[PageView]:
        """The pages, home first."""
        home = home_page(self.make, self.today, self.site.nav + self.site.more)
        yield replace(self._page("index.html", "home.html", self.site.title, home), description=self.site.description)
        yield from self._accounts()
        yield from self._families()
        yield from self._plants()
        yield from self._places()
        yield from self._seasons()
        yield from self._telling()
        yield from self._reference()
        yield from self._walks()

    def _page(self, path: str, template: str, title: str, data: object) -> PageView:
        return PageView(self.make.map.page(path), template, self.make.language, title, self.site, data)

    def _accounts(self) -> Iterator[PageView]:
        make = self.make
        accounts = sorted(make.guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key))
        links = [make.map.account(a) for a in accounts]
        neighbours = zip([None, *links], accounts, [*links[1:], None], strict=False)
        for earlier, account, later in neighbours:
            yield self._account(account, earlier, later)
            for former in account.formerly:
                if former not in make.guide.accounts:
                    moved = self._page(f"accounts/{former}.html", "moved.html", account.vernacular, moved_page(make, account))
                    yield replace(moved, kind="moved")
        yield self._page("accounts/index.html", "list.html", make.words("All species"), ListPage(by_family(make, accounts)))

    def _account(self, account: PublicAccount, earlier: LinkView | None, later: LinkView | None) -> PageView:
        view = replace(account_page(self.make, account), earlier=earlier, later=later)
        title = f"{view.name.vernacular}, {view.name.plain}" if view.name.vernacular else view.name.plain
        return replace(
            self._page(f"accounts/{account.id}.html", "account.html", title, view),
            description=" · ".join(m.said for m in self.make.marks(account, chosen=range(3))),
            kind="account",
            changed=changed_on(account),
            name=view.name,
            share=view.plate,
        )

    def _families(self) -> Iterator[PageView]:
        for group in by_family(self.make, list(self.make.guide.accounts.values())):
            if group.link:
                data = ListPage((replace(group, heading="", link=None),))
                yield replace(self._page(f"families/{make_id(group.heading)}.html", "list.html", group.heading, data), kind="family")

    def _plants(self) -> Iterator[PageView]:
        make = self.make
        for plant in make.guide.plants.values():
            view = plant_page(make, plant)
            yield replace(self._page(f"plants/{plant.id}.html", "plant.html", view.name.short, view), name=view.name)
        if make.guide.plants:
            links = {i: make.map.plant(i) for i in make.guide.plants}
            groups = [HeadedList(link.text, tuple(make_entry(make, a) for a in make.guide.host_of(i)), link) for i, link in links.items()]
            groups.sort(key=lambda g: g.heading.casefold())
            yield self._page(
                "plants/index.html", "list.html", make.words(head_plants(make.guide, make.guide.accounts.values())), ListPage(tuple(groups))
            )

    def _places(self) -> Iterator[PageView]:
        make = self.make
        for place in make.guide.places.values():
            yield self._page(f"places/{place.id}.html", "place.html", place.name, place_page(make, place))
        data = ListPage(habitat_groups(make), tuple(map(make.map.place, make.guide.places)))
        if data.links or data.groups:
            yield self._page("places/index.html", "list.html", make.words("Places and habitats"), data)

    def _seasons(self) -> Iterator[PageView]:
        make = self.make
        yield self._page("seasons/index.html", "seasons.html", make.words("The year"), seasons_page(make))
        for dekad in range(DEKADS):
            title = make.words("Out in {when}", when=dekad_words(dekad, make.words))
            yield self._page(dekad_path(dekad), "dekad.html", title, dekad_page(make, dekad))

    @cached_property
    def key(self) -> KeyView | None:
        """The key; None where there is nothing to ask."""
        view = key_view(self.make.guide, self.make.language)
        return view if view.indented else None

    def comparisons(self) -> Iterator[CompareView]:
        """Every page of look-alikes side by side, with those that the key leaves together."""
        language = self.make.language
        in_key = tuple(group.ids for group in self.key.groups) if self.key else ()
        return compare_views(self.make.guide, language, in_key)

    def _telling(self) -> Iterator[PageView]:
        make, w, plain = self.make, self.make.words, self.make.map.base
        links = []
        for view in self.comparisons():
            links.append((len(view.taxa), LinkView(view.path, view.title)))
            yield replace(self._page(view.path.removeprefix(plain), "compare.html", view.title, view), kind="compare")
        helps = []
        finder = finder_page(make)
        if finder:
            yield self._page("finder.html", "finder.html", w("Finder"), finder)
            helps.append(LinkView(make.map.page("finder.html"), w("Finder"), note=w("tick what you see")))
        if self.key:
            yield self._page("key.html", "key.html", w("Key"), self.key)
            helps.append(LinkView(make.map.page("key.html"), w("Key"), note=w("one question after another")))
        practice = practice_page(make)
        if practice.questions:
            yield self._page("practice.html", "practice.html", w("Practice"), practice)
            helps.append(LinkView(make.map.page("practice.html"), w("Practice"), note=w("which of these look-alikes is it?")))
        pairs = tuple(link for size, link in links if size == 2)
        sets = tuple(link for size, link in links if size > 2)
        data = TellPage(tuple(helps), sets, pairs)
        yield self._page("compare/index.html", "tell.html", w("Tell apart"), data)
        yield self._page("find.html", "find.html", w("Find"), find_page(make))

    def _reference(self) -> Iterator[PageView]:
        make, w = self.make, self.make.words
        if make.guide.terms:
            yield self._page("glossary.html", "glossary.html", w("Glossary"), glossary_page(make))
        yield self._page("sources.html", "sources.html", w("Sources and credits"), sources_page(make))
        yield self._page("cautions.html", "cautions.html", w("Cautions"), cautions_page(make))

    def _walks(self) -> Iterator[PageView]:
        make = self.make
        walks = sorted(make.guide.walks.values(), key=lambda walk: (walk.date, walk.start))
        for walk in walks:
            yield replace(self._page(walk_path(walk), "walk.html", walk.title, walk_page(make, walk)), kind="walk")
        links = tuple(walk_link(make, walk) for walk in walks)
        families = tuple(make.map.family(f) for f in sorted({a.family for a in make.guide.accounts.values() if a.family}))
        yield self._page("field.html", "field.html", make.words("Keep for the field"), FieldPage(families, links))
        if walks:
            yield self._page("walks/index.html", "list.html", make.words("Walks"), ListPage(links=links))
