"""The whole site: a guide → its pages, in every language of the guide."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import replace

from babel import Locale, UnknownLocaleError

from guidebuild.guide.guide import Guide
from guidebuild.views.common import LinkView, PhotoView
from guidebuild.views.parts import Maker, maker
from guidebuild.views.site_edition import Edition
from guidebuild.views.site_page import PageView, SiteView


def site_pages(guide: Guide, today: dt.date) -> Iterator[PageView]:
    """Every page of the site. `today` decides only what the home page shows before the browser knows better."""
    makers = [maker(guide, language) for language in guide.settings.languages]
    editions = [list(Edition(make, site_view(make), today).pages()) for make in makers]
    if len(makers) == 1:
        yield from editions[0]
        return
    for make, pages in zip(makers, editions, strict=True):
        for page in pages:
            plain = page.path.removeprefix(make.map.base)
            yield replace(page, alternates=tuple((m.language, m.map.page(plain)) for m in makers))


def site_view(make: Maker) -> SiteView:
    """What all pages of one language share."""
    settings, w, page = make.guide.settings, make.words, make.map.page
    nav = [
        LinkView(page("accounts/index.html"), w("Species")),
        LinkView(page("seasons/index.html"), w("The year")),
        LinkView(page("compare/index.html"), w("Tell apart")),
        LinkView(page("find.html"), w("Find")),
    ]
    more = [LinkView(page("plants/index.html"), w("Host plants"))] if make.guide.plants else []
    more += [LinkView(page("places/index.html"), w("Places and habitats"))]
    more += [LinkView(page("walks/index.html"), w("Walks"))] if make.guide.walks else []
    more += [LinkView(page("glossary.html"), w("Glossary"))] if make.guide.terms else []
    more += [LinkView(page("cautions.html"), w("Cautions")), LinkView(page("sources.html"), w("Sources and credits"))]
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
    )


def photos_needed(pages: Iterable[PageView]) -> tuple[PhotoView, ...]:
    """Every picture that any of the pages shows, each once."""
    from_pages = {photo.id: photo for page in pages for photo in page.all_photos()}
    return tuple(from_pages.values())


def _own_name(code: str) -> str:
    try:
        return (Locale.parse(code, sep="-").get_display_name() or code).capitalize()
    except (UnknownLocaleError, ValueError):
        return code
