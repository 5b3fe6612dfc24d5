"""The whole site: a guide → its pages, in every language of the guide."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from babel import Locale

from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.common import LinkView, PhotoView
from guidebuild.views.links import slug
from guidebuild.views.parts import Maker, maker
from guidebuild.views.season_words import dekad_words
from guidebuild.views.site_account import account_page, changed_on
from guidebuild.views.site_lists import (
    Group,
    ListPage,
    by_family,
    dekad_page,
    dekad_path,
    entry,
    habitat_groups,
    home_page,
    place_page,
    plant_page,
    seasons_page,
)
from guidebuild.views.site_page import PageView, SiteView
from guidebuild.views.site_reference import cautions_page, glossary_page, moved_page, sources_page, walk_link, walk_page


def site_pages(guide: Guide, today: dt.date) -> Iterator[PageView]:
    """Every page of the site. `today` decides only what the home page shows before the browser knows better."""
    editions = [_Edition(maker(guide, language), today) for language in guide.settings.languages]
    by_edition = [(edition, list(edition.pages())) for edition in editions]
    for edition, pages in by_edition:
        for page in pages:
            plain = page.path.removeprefix(edition.make.map.base)
            elsewhere = tuple((e.make.language, e.make.map.page(plain)) for e in editions)
            yield replace(page, alternates=elsewhere if len(editions) > 1 else ())


@dataclass(frozen=True, slots=True)
class _Edition:
    """The site in one language."""

    make: Maker
    today: dt.date

    def pages(self) -> Iterator[PageView]:
        """The pages, home first."""
        site = site_view(self.make)
        for page in self._all(site):
            yield page

    def _all(self, site: SiteView) -> Iterator[PageView]:
        yield self._page(site, "index.html", "home.html", site.title, home_page(self.make, self.today, site.nav + site.more), site.description)
        yield from self._accounts(site)
        yield from self._gathered(site)
        yield from self._seasons(site)
        yield from self._reference(site)

    def _page(self, site: SiteView, path: str, template: str, title: str, data: object, description: str = "") -> PageView:
        return PageView(self.make.map.page(path), template, self.make.language, title, site, data, description)

    def _accounts(self, site: SiteView) -> Iterator[PageView]:
        make, w = self.make, self.make.words
        accounts = sorted(make.guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key))
        links = [make.map.account(a) for a in accounts]
        for number, account in enumerate(accounts):
            view = account_page(make, account)
            view = replace(
                view,
                earlier=links[number - 1] if number else None,
                later=links[number + 1] if number + 1 < len(links) else None,
            )
            name = links[number].name
            title = name.vernacular and f"{name.vernacular}, {name.plain}" if name else ""
            yield replace(
                self._page(site, f"accounts/{account.id}.html", "account.html", title or links[number].text, view),
                description=" · ".join(m.words for m in view.marks[:3]),
                kind="account",
                changed=changed_on(account),
                name=name,
                share=view.plate,
            )
            for former in account.formerly:
                if former not in make.guide.accounts:
                    yield self._page(site, f"accounts/{former}.html", "moved.html", links[number].text, moved_page(make, account))
        groups = by_family(make, accounts)
        yield self._page(site, "accounts/index.html", "list.html", w("All species"), ListPage(groups))

    def _gathered(self, site: SiteView) -> Iterator[PageView]:
        make, w, guide = self.make, self.make.words, self.make.guide
        for group in by_family(make, list(guide.accounts.values())):
            if group.link:
                yield self._page(site, f"families/{slug(group.heading)}.html", "list.html", group.heading, ListPage((Group("", group.entries),)))
        users = {p.id: [entry(make, a) for a in guide.host_of(p.id)] for p in guide.plants.values()}
        for plant in guide.plants.values():
            view = plant_page(make, plant)
            yield replace(self._page(site, f"plants/{plant.id}.html", "plant.html", view.name.short, view), name=view.name)
        if guide.plants:
            by_plant = tuple(Group(make.map.plant(i).text, tuple(found), make.map.plant(i)) for i, found in users.items())
            yield self._page(site, "plants/index.html", "list.html", w("Host plants"), ListPage(tuple(sorted(by_plant, key=lambda g: g.heading))))
        open_places = [p for p in guide.places.values() if not p.sensitivity]
        for place in open_places:
            yield self._page(site, f"places/{place.id}.html", "place.html", place.name, place_page(make, place))
        if open_places or any(a.habitat for a in guide.accounts.values()):
            links = tuple(make.map.place(p.id) for p in open_places)
            yield self._page(site, "places/index.html", "list.html", w("Places and habitats"), ListPage(habitat_groups(make), links))

    def _seasons(self, site: SiteView) -> Iterator[PageView]:
        make = self.make
        yield self._page(site, "seasons/index.html", "seasons.html", make.words("The year"), seasons_page(make))
        for dekad in range(DEKADS):
            title = make.words("Out in {when}", when=dekad_words(dekad, make.words))
            yield self._page(site, dekad_path(dekad), "dekad.html", title, dekad_page(make, dekad))

    def _reference(self, site: SiteView) -> Iterator[PageView]:
        make, w = self.make, self.make.words
        if make.guide.terms:
            yield self._page(site, "glossary.html", "glossary.html", w("Glossary"), glossary_page(make))
        yield self._page(site, "sources.html", "sources.html", w("Sources and credits"), sources_page(make))
        yield self._page(site, "cautions.html", "cautions.html", w("Cautions"), cautions_page(make))
        walks = sorted(make.guide.walks.values(), key=lambda walk: (walk.date, walk.start))
        for walk in walks:
            yield self._page(site, f"walks/{walk.id}.html", "walk.html", walk.title, walk_page(make, walk))
        if walks:
            yield self._page(site, "walks/index.html", "list.html", w("Walks"), ListPage(links=tuple(walk_link(make, x) for x in walks)))


def site_view(make: Maker) -> SiteView:
    """What all pages of one language share."""
    settings, w, page = make.guide.settings, make.words, make.map.page
    nav = [
        LinkView(page("accounts/index.html"), w("Species")),
        LinkView(page("seasons/index.html"), w("The year")),
        LinkView(page("find.html"), w("Find")),
    ]
    more = [LinkView(page("plants/index.html"), w("Host plants"))] if make.guide.plants else []
    more += [LinkView(page("places/index.html"), w("Places and habitats"))]
    more += [LinkView(page("walks/index.html"), w("Walks"))] if make.guide.walks else []
    more += [LinkView(page("glossary.html"), w("Glossary"))] if make.guide.terms else []
    more += [LinkView(page("cautions.html"), w("Cautions")), LinkView(page("sources.html"), w("Sources and credits"))]
    return SiteView(
        title=settings.title,
        language=make.language,
        region=settings.region,
        description=settings.description,
        publisher=settings.publisher,
        contact=settings.contact,
        address=settings.address.rstrip("/"),
        licence=make.licence(settings.licence),
        nav=tuple(nav),
        more=tuple(more),
        home=page("index.html"),
        find=page("find.html"),
        languages=tuple((code, _own_name(code)) for code in settings.languages),
        main=make.main,
        base=make.map.base,
    )


def photos_needed(pages: Iterable[PageView]) -> tuple[PhotoView, ...]:
    """Every picture that any of the pages shows, each once."""
    from_pages = {photo.id: photo for page in pages for photo in page.all_photos()}
    return tuple(from_pages.values())


def _own_name(code: str) -> str:
    return (Locale.parse(code, sep="-").get_display_name(code) or code).capitalize()
