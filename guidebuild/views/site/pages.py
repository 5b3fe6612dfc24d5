"""The whole site: a guide → its pages, in every language of the guide."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from babel import Locale, UnknownLocaleError

from guidebuild.fieldwork.published import Published
from guidebuild.views.pieces.common import LinkView, PhotoView
from guidebuild.views.pieces.facts import head_plant_list
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.site.data import PATH as DATA
from guidebuild.views.site.edition import Edition
from guidebuild.views.site.films import FILMS
from guidebuild.views.site.page import ABSENT, NO_ANSWERS, UNLISTED, Answers, PageToMake, PageView, SiteView
from guidebuild.views.site.seen import CHECKLIST, SEEN


class SitePages:
    """Every page of the site, in all languages of the guide."""

    def __init__(self, guide: Published, today: dt.date, answers: Answers = NO_ANSWERS) -> None:
        """`today` decides only what the home page shows before the browser knows better; `answers` may know some from the last run."""
        self._makers = [make_pieces(guide, language) for language in guide.settings.languages]
        self._editions = [Edition(make, site_view(make), today, answers) for make in self._makers]

    def list_all(self) -> Iterator[PageToMake]:
        """All pages, none of which is put together yet."""
        for edition in self._editions:
            for page in edition.contents():
                yield PageToMake(page.path, page.site, partial(self._show, edition, page.show), page.given)

    def _show(self, edition: Edition, show: Callable[..., PageView], *given: object) -> PageView:
        return self._with_alternates(show(*given), edition)

    def find(self, path: str) -> PageView | None:
        """The page at a path from the site's root; None where there is none."""
        # The guide's first language lies at the root, the others in folders of their own.
        for edition in sorted(self._editions, key=lambda edition: edition.site.base, reverse=True):
            if path.startswith(edition.site.base):
                page = edition.find(path)
                return self._with_alternates(page, edition) if page else None
        return None

    def _with_alternates(self, page: PageView, edition: Edition) -> PageView:
        plain = page.path.removeprefix(edition.site.base)
        several = len(self._makers) > 1 and page.kind != ABSENT
        alternates = tuple((m.language, m.map.page(plain)) for m in self._makers) if several else ()
        return replace(page, alternates=alternates, share=page.share or choose_shared(edition.make, page))


def choose_shared(make: PieceMaker, page: PageView) -> PhotoView | None:
    """The picture that stands for a page where it is shared: the first that it shows, else the first plate of the guide."""
    if page.kind in UNLISTED:
        return None
    shown = next(iter(page.all_photos()), None)
    if shown and shown.id in make.guide.photos:
        return replace(make.small_photo(make.guide.photos[shown.id]), alt=make.photo(make.guide.photos[shown.id]).alt)
    return next((plate for account in make.guide.accounts.values() if (plate := make.plate(account))), None)


def site_view(make: PieceMaker) -> SiteView:
    """What all pages of one language share."""
    settings, w, page = make.guide.settings, make.words, make.map.page
    nav = [
        LinkView(page("accounts/index.html"), w("Species")),
        LinkView(page("seasons/index.html"), w("The year")),
        LinkView(page("compare/index.html"), w("Tell apart")),
        LinkView(page("find.html"), w("Find")),
    ]
    more = [LinkView(page("plants/index.html"), w(head_plant_list(make.guide)))] if make.guide.plants else []
    more += [LinkView(page("places/index.html"), w("Places and habitats"))]
    more += [LinkView(page("walks/index.html"), w("Walks"))] if make.guide.walks else []
    more += [LinkView(page(FILMS), w("Films"))] if make.guide.films else []
    more += [LinkView(page("glossary.html"), w("Glossary"))] if make.guide.terms else []
    more += [LinkView(page("cautions.html"), w("Cautions")), LinkView(page("sources.html"), w("Sources and credits"))]
    more += [LinkView(page(CHECKLIST), w("Checklist"))]
    more += [LinkView(page(DATA), w("Data"))]
    more += [LinkView(page("field.html"), w("Keep for the field"))]
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
        mine=LinkView(page(SEEN), w("Seen")),
        country=settings.country,
        first_dekad=settings.first_dekad,
    )


def _own_name(code: str) -> str:
    try:
        return (Locale.parse(code, sep="-").get_display_name() or code).capitalize()
    except (UnknownLocaleError, ValueError):
        return code
