"""The pages of the site in one language."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.asking import remember
from guidebuild.guide.ids import make_id
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.facts import head_plant_list
from guidebuild.views.pieces.links import GLOSSARY, SOURCES, dekad_path, film_path
from guidebuild.views.pieces.runs import MOST_ENTRIES, MOST_LINES, WHOLE, LongList, Run
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.site.account import account_page, changed_on
from guidebuild.views.site.data import PATH as DATA
from guidebuild.views.site.data import data_page
from guidebuild.views.site.divided import PLANTS, divide_plants, list_accounts, list_all_plants, list_part, list_parts
from guidebuild.views.site.field import FIELD, UNKEPT, FieldPage
from guidebuild.views.site.films import FILMS, film_page, films_page
from guidebuild.views.site.finder import TABLE, TABLE_MARK, TAXA, FinderPage, finder_page
from guidebuild.views.site.habitats import accounts_at, count_habitats, habitat_page, habitat_path, place_page, places_page
from guidebuild.views.site.home import holds_whole_year, home_page
from guidebuild.views.site.key import COUPLETS, KEY, MOST_COUPLETS, KeyPage, count_couplets, key_page
from guidebuild.views.site.likeliest import ANYWHERE, NOW_MARK, Likeliest, anywhere_piece, place_piece, place_piece_path
from guidebuild.views.site.lists import (
    ListPage,
    dekad_page,
    family_page,
    out_in,
    plant_page,
    seasons_page,
)
from guidebuild.views.site.page import ABSENT, NO_ANSWERS, OWN, PIECE, Answers, PageToMake, PageView, PiecePages, PlainPiece
from guidebuild.views.site.page_lister import PageLister
from guidebuild.views.site.pairs import (
    PAIR_PIECES_MARK,
    PAIRS,
    PAIRS_MARK,
    has_many_pairs,
    list_alike,
    list_pair_pieces,
    pair_piece_path,
    pairs_piece,
    two_page,
)
from guidebuild.views.site.practice import PracticePage, practice_page
from guidebuild.views.site.reference import cautions_page, glossary_page, moved_page, sources_page
from guidebuild.views.site.seen import CHECKLIST, PLACES, PLACES_MARK, SEEN, ChecklistPage, checklist_page, places_piece, seen_page
from guidebuild.views.site.tally import SPECIES, SPECIES_MARK, TALLY, species_piece, tally_page
from guidebuild.views.site.tell import NAMES, count_names, find_page, tell_page
from guidebuild.views.site.walk import WalksPage, walk_link, walk_page, walk_path, walks_page
from guidebuild.views.telling.compare import TWO, Comparer, compare_path, find_compared, list_compared
from guidebuild.views.telling.key import KeyView, key_view


@dataclass(frozen=True)
class Edition(PageLister):
    """The site in one language. `today` decides only what the home page shows before the browser knows better."""

    today: dt.date
    answers: Answers = NO_ANSWERS

    def contents(self) -> Iterator[PageToMake]:
        """The pages in their order, home first; each is put together when it is asked for."""
        parts = (self._home, self._accounts, self._families, self._plants, self._places, self._seasons, self._telling, self._find_page)
        return chain.from_iterable(part() for part in (*parts, self._reference, self._walks, self._films))

    def find(self, path: str) -> PageView | None:
        """One page, by its path from the site's root, without looking at the others where that is possible."""
        quick = (self._home, self._accounts, self._families, self._plants, self._places, self._reference, self._walks, self._films)
        slow = (self._seasons, self._find_page, self._telling)
        found = (one for part in (*quick, *slow) for one in part() if one.path == path)
        page = next(found, None)
        return page.make() if page else None

    def _home(self) -> Iterator[PageToMake]:
        yield self._later("index.html", self._show_home)
        if not holds_whole_year(self.make):
            yield self._plain(ANYWHERE, NOW_MARK, self.make.words("Out now"), self._piece(anywhere_piece), kind=PIECE)
        for place in self.make.guide.places:
            yield self._plain(place_piece_path(place), NOW_MARK, self.make.words("Out now"), self._show_place_piece, place, kind=PIECE)

    def _show_place_piece(self, place: str) -> Likeliest:
        return place_piece(self.make, self.make.guide.places[place])

    def _show_home(self) -> PageView:
        home = home_page(self.make, self.today, self.site.nav + self.site.more)
        return replace(self._page("index.html", "home.html", self.site.title, home), description=self.site.description)

    def _sorted_accounts(self) -> list[PublicAccount]:
        return sorted(self.make.guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key))

    def _accounts(self) -> Iterator[PageToMake]:
        make, accounts = self.make, self._sorted_accounts()
        links = [make.map.account(a) for a in accounts]
        neighbours = zip([None, *links], accounts, [*links[1:], None], strict=False)
        for earlier, account, later in neighbours:
            yield self._later(f"accounts/{account.id}.html", self._account, account.id, earlier, later)
            for former in account.formerly:
                if former not in make.guide.accounts:
                    path = f"accounts/{former}.html"
                    yield self._plain(path, "moved.html", account.vernacular, self._moved, account.id, kind="moved")
        yield self._plain("accounts/index.html", "list.html", make.words("All species"), self._all_species)
        listed = LongList(CHECKLIST, CHECKLIST, make.words("Checklist"), len(accounts), MOST_LINES)
        yield from self._in_runs(listed, self._checklist)
        yield self._plain(SEEN, SEEN, make.words("Seen"), self._piece(seen_page), kind=OWN)
        yield self._plain(PLACES, PLACES_MARK, make.words("Seen"), self._piece(places_piece), kind=PIECE)

    def _moved(self, ident: str) -> object:
        return moved_page(self.make, self.make.guide.accounts[ident])

    def _all_species(self) -> ListPage:
        return list_accounts(self.make, self._sorted_accounts())

    def _checklist(self, run: Run) -> ChecklistPage:
        return checklist_page(self.make, self._sorted_accounts(), run)

    def _account(self, ident: str, earlier: LinkView | None, later: LinkView | None) -> PageView:
        account = self.make.guide.accounts[ident]
        view = replace(account_page(self.make, account), earlier=earlier, later=later)
        title = f"{view.name.vernacular}, {view.name.plain}" if view.name.vernacular else view.name.plain
        return replace(
            self._page(f"accounts/{account.id}.html", "account.html", title, view),
            description=" · ".join(m.said.words for m in self.make.marks_in_one(account, range(3))),
            kind="account",
            changed=changed_on(account, self.today),
            name=view.name,
            share=view.plate,
        )

    def _families(self) -> Iterator[PageToMake]:
        for family in sorted({a.family for a in self.make.guide.accounts.values() if a.family}):
            path, members = f"families/{make_id(family)}.html", len(self._members(family))
            yield from self._in_runs(LongList(path, "list.html", family, members, kind="family"), self._family, family)

    def _members(self, family: str) -> list[PublicAccount]:
        return sorted((a for a in self.make.guide.accounts.values() if a.family == family), key=lambda a: a.name.sort_key)

    def _family(self, family: str, run: Run) -> ListPage:
        return family_page(self.make, family, self._members(family), run)

    def _plants(self) -> Iterator[PageToMake]:
        make = self.make
        for plant in make.guide.plants:
            yield self._later(f"plants/{plant}.html", self._plant, plant)
        if not make.guide.plants:
            return
        title, parts = make.words(head_plant_list(make.guide)), divide_plants(make)
        for part in parts:
            yield self._plain(part.path, "list.html", part.title, self._piece(list_part), part)
        if parts:
            yield self._plain(PLANTS, "list.html", title, self._piece(list_parts), parts)
        else:
            yield self._plain(PLANTS, "list.html", title, self._piece(list_all_plants))

    def _plant(self, plant: str) -> PageView:
        view = plant_page(self.make, self.make.guide.plants[plant])
        return replace(self._page(f"plants/{plant}.html", "plant.html", view.name.short, view), name=view.name)

    def _places(self) -> Iterator[PageToMake]:
        make = self.make
        for place in make.guide.places.values():
            path, found = f"places/{place.id}.html", len(accounts_at(make, place.id))
            yield from self._in_runs(LongList(path, "place.html", place.name, found), self._place, place.id)
        habitats = count_habitats(make)
        divided = sum(habitats.values()) > MOST_ENTRIES
        if divided:
            for habitat, number in habitats.items():
                path = habitat_path(habitat)
                yield from self._in_runs(LongList(path, "list.html", habitat, number), self._piece(habitat_page), habitat)
        if make.guide.places or habitats:
            yield self._plain("places/index.html", "list.html", make.words("Places and habitats"), self._piece(places_page), divided)

    def _place(self, place: str, run: Run) -> object:
        return place_page(self.make, self.make.guide.places[place], run)

    def _seasons(self) -> Iterator[PageToMake]:
        make = self.make
        rows = sum(1 for account in make.guide.accounts.values() if account.seasons)
        year = LongList("seasons/index.html", "seasons.html", make.words("The year"), rows, MOST_LINES)
        yield from self._in_runs(year, self._piece(seasons_page))
        for dekad in range(DEKADS):
            title = make.words("Out in {when}", when=dekad_words(dekad, make.words))
            listed = LongList(dekad_path(dekad), "dekad.html", title, self._count_out(dekad))
            yield from self._in_runs(listed, self._piece(dekad_page), dekad)

    def _count_out(self, dekad: int) -> int:
        accounts = len(self.make.guide.accounts)
        if accounts <= MOST_ENTRIES:
            return accounts  # at most: it is one page anyhow
        return self.answers.recall(f"out in dekad {dekad}", lambda: len(out_in(self.make, dekad)))

    @property
    def key(self) -> KeyView | None:
        """The key, or what lacks for one; None where there is nothing to ask."""
        view = remember(self.make.kept, ("key", ""), lambda: key_view(self.make.guide, self.make.language))
        return view if view.indented or view.wanted else None

    @property
    def _finder(self) -> FinderPage | None:
        return remember(self.make.kept, ("finder", ""), lambda: finder_page(self.make))

    @property
    def _practice(self) -> PracticePage:
        return remember(self.make.kept, ("practice", ""), lambda: practice_page(self.make))

    def _show_key(self, run: Run = WHOLE) -> KeyPage | None:
        return key_page(self.make, self.key, run) if self.key else None

    def _show_finder(self) -> FinderPage | None:
        return self._finder

    def _show_finder_table(self) -> PlainPiece:
        return PlainPiece(self._finder.table if self._finder else "")

    def _show_practice(self) -> PracticePage:
        return self._practice

    def _list_groups(self) -> list[list[str]] | None:
        """The groups that the key leaves together; None where there is no key."""
        return [sorted(group.ids) for group in self.key.groups] if self.key else None

    def _compared(self) -> Iterator[tuple[str, ...]]:
        """Look-alikes that have a page side by side: those that authors name, then those that the key leaves together."""
        named = dict.fromkeys(list_compared(self.make.guide))
        yield from named
        # The key costs more than all of those: it is not asked before they have been gone through.
        for group in self.answers.recall(self._named("key groups"), self._list_groups) or ():
            ids = tuple(group)
            if ids not in named and find_compared(self.make.guide, ids) == compare_path(ids):
                named[ids] = None
                yield ids

    def _named(self, question: str) -> str:
        return f"{question}, {self.make.language}"

    def _telling(self) -> Iterator[PageToMake]:
        make, w = self.make, self.make.words
        comparer, sets = Comparer(make), []
        for ids in self._compared():
            sets.append(ids)
            yield self._plain(compare_path(ids), "compare.html", comparer.link_to(ids).text, comparer.show, ids, kind="compare")
        helps = []
        if self.answers.recall(self._named("finder"), lambda: self._finder is not None):
            yield self._plain("finder.html", "finder.html", w("Finder"), self._show_finder)
            if self.answers.recall(self._named("large finder"), lambda: bool(self._finder and self._finder.pieces)):
                yield self._plain(TABLE, TABLE_MARK, w("Finder"), self._show_finder_table, kind=PIECE)
                yield self._plain(TAXA, "finder_species.html", w("Finder"), self._show_finder, kind=PIECE)
            helps.append(LinkView(make.map.page("finder.html"), w("Finder"), note=w("tick what you see")))
        if self.answers.recall(self._named("key groups"), self._list_groups) is not None:
            couplets = self.answers.recall(self._named("couplets"), lambda: count_couplets(self.key) if self.key else 0)
            listed = LongList(KEY, "key.html", w("Key"), couplets, MOST_COUPLETS)
            yield from self._in_runs(listed, self._show_key)
            if len(listed.runs) > 1:
                yield self._plain(COUPLETS, "key_couplets.html", w("Key"), self._show_key, kind=PIECE)
            wanting = self.answers.recall(self._named("key wants scores"), lambda: bool(self.key and self.key.wanted))
            note = w("too little is scored for one") if wanting else w("one question after another")
            helps.append(LinkView(make.map.page("key.html"), w("Key"), note=note))
        if self.answers.recall(self._named("practice"), lambda: bool(self._practice.questions)):
            yield self._plain("practice.html", "practice.html", w("Practice"), self._show_practice)
            helps.append(LinkView(make.map.page("practice.html"), w("Practice"), note=w("which of these look-alikes is it?")))
        if has_many_pairs(make.guide):
            yield from self._pairs(comparer)
            helps.append(LinkView(make.map.page(TWO), w("Any two look-alikes"), note=w("choose two to see them side by side")))
        pairs = [comparer.link_to(ids) for ids in sets if len(ids) == 2]
        larger = tuple(comparer.link_to(ids) for ids in sets if len(ids) > 2)
        listed = LongList("compare/index.html", "tell.html", w("Tell apart"), len(pairs), MOST_LINES)
        yield from self._in_runs(listed, tell_page, tuple(helps), larger, tuple(pairs))

    def _pairs(self, comparer: Comparer) -> Iterator[PageToMake]:
        make, title = self.make, self.make.words("Any two look-alikes")
        yield from self._in_runs(LongList(TWO, "two.html", title, len(list_alike(make)), MOST_LINES), self._piece(two_page))
        yield self._plain(PAIRS, PAIRS_MARK, title, self._piece(pairs_piece), kind=PIECE)
        for number, pairs in list_pair_pieces(make.guide):
            show = partial(self._show_pairs, comparer)
            yield self._plain(pair_piece_path(pairs, number), PAIR_PIECES_MARK, title, show, *pairs, kind=PIECE)

    def _show_pairs(self, comparer: Comparer, *pairs: tuple[str, str]) -> PiecePages:
        pages = (self._page(compare_path(ids), "compare.html", comparer.link_to(ids).text, comparer.show(ids)) for ids in pairs)
        return PiecePages(tuple(("--".join(ids), replace(page, kind=PIECE)) for ids, page in zip(pairs, pages, strict=True)))

    def _find_page(self) -> Iterator[PageToMake]:
        title, entries, show = self.make.words("Find"), count_names(self.make), self._piece(find_page)
        listed = LongList("find.html", "find.html", title, entries, MOST_LINES)
        yield from self._in_runs(listed, show)
        if len(listed.runs) > 1:
            yield self._plain(NAMES, "find_names.html", title, show, kind=PIECE)

    def _reference(self) -> Iterator[PageToMake]:
        make, w = self.make, self.make.words
        if make.guide.terms:
            terms = LongList(GLOSSARY, "glossary.html", w("Glossary"), len(make.guide.terms), MOST_LINES)
            yield from self._in_runs(terms, self._piece(glossary_page))
        cited = len(make.guide.sources) + len(make.guide.photos) + len(make.guide.sounds)
        yield from self._in_runs(LongList(SOURCES, "sources.html", w("Sources and credits"), cited, MOST_LINES), self._piece(sources_page))
        yield self._plain(DATA, "data.html", w("Data"), self._piece(data_page), kind="data")
        yield self._plain("cautions.html", "cautions.html", w("Cautions"), self._piece(cautions_page))

    def _walks(self) -> Iterator[PageToMake]:
        make = self.make
        walks = sorted(make.guide.walks.values(), key=lambda walk: (walk.date, walk.start))
        for walk in walks:
            yield self._plain(walk_path(walk), "walk.html", walk.title, self._walk, walk.id, kind="walk")
            title = f"{make.words('Tally')}, {walk.title}"
            yield self._plain(f"tallies/{walk.id}.html", TALLY, title, self._piece(tally_page), walk.id, kind=OWN)
        if walks:
            yield self._plain(SPECIES, SPECIES_MARK, make.words("Tally"), self._piece(species_piece), kind=PIECE)
        links = tuple(walk_link(make, walk) for walk in walks)
        families = tuple(make.map.family(f) for f in sorted({a.family for a in make.guide.accounts.values() if a.family}))
        yield self._plain(FIELD, FIELD, make.words("Keep for the field"), FieldPage, families, links)
        yield self._plain(UNKEPT, UNKEPT, make.words("Not kept on this device"), FieldPage, families, links, kind="unkept")
        if self.site.main == make.language:
            yield self._plain("404.html", "absent.html", make.words("This page is not here"), tuple, kind=ABSENT)
        if walks:
            yield self._plain("walks/index.html", "walks.html", make.words("Walks"), self._all_walks)

    def _walk(self, walk: str) -> object:
        return walk_page(self.make, self.make.guide.walks[walk])

    def _all_walks(self) -> WalksPage:
        return walks_page(self.make, self.today)

    def _films(self) -> Iterator[PageToMake]:
        for film in self.make.guide.films:
            yield self._later(film_path(film), self._film, film)
        if self.make.guide.films:
            yield self._plain(FILMS, "films.html", self.make.words("Films"), self._piece(films_page))

    def _film(self, ident: str) -> PageView:
        film = self.make.guide.films[ident]
        view = film_page(self.make, film)
        page = self._page(film_path(ident), "film.html", film.title, view)
        shown_on = film.day if film.day and film.day <= self.today else None
        return replace(page, kind="film", description=film.note.words, changed=shown_on, share=view.film.still)
