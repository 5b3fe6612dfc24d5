"""The whole site: a guide → its pages, in every language of the guide."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from babel import Locale, UnknownLocaleError

from guidebuild.fieldwork.published import Published
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.facts import head_plants
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.site.edition import Edition
from guidebuild.views.site.page import PageView, SiteView


def site_pages(guide: Published, today: dt.date) -> Iterator[PageView]:
    """Every page of the site. `today` decides only what the home page shows before the browser knows better."""
    makers = [make_pieces(guide, language) for language in guide.settings.languages]
    for make in makers:
        for page in Edition(make, site_view(make), today).pages():
            plain = page.path.removeprefix(make.map.base)
            alternates = tuple((m.language, m.map.page(plain)) for m in makers) if len(makers) > 1 else ()
            yield replace(page, alternates=alternates)


def site_view(make: PieceMaker) -> SiteView:
    """What all pages of one language share."""
    settings, w, page = make.guide.settings, make.words, make.map.page
    nav = [
        LinkView(page("accounts/index.html"), w("Species")),
        LinkView(page("seasons/index.html"), w("The year")),
        LinkView(page("compare/index.html"), w("Tell apart")),
        LinkView(page("find.html"), w("Find")),
    ]
    more = [LinkView(page("plants/index.html"), w(head_plants(make.guide, make.guide.accounts.values())))] if make.guide.plants else []
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


def _own_name(code: str) -> str:
    try:
        return (Locale.parse(code, sep="-").get_display_name() or code).capitalize()
    except (UnknownLocaleError, ValueError):
        return code
