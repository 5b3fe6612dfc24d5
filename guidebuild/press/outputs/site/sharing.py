"""What others' programs read of a page: canonical address, other languages, Open Graph and schema.org."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from html import escape
from types import MappingProxyType
from urllib.parse import quote

from babel.core import Locale, UnknownLocaleError, get_global
from babel.languages import get_official_languages

from guidebuild.press.outputs.site.dataset import describe_dataset
from guidebuild.press.outputs.site.plate import Pictures
from guidebuild.press.outputs.site.schema_org import describe_page
from guidebuild.press.outputs.site.share_size import SHARE_SIZE
from guidebuild.press.theme.prose import Html
from guidebuild.views.site.data import DataPage
from guidebuild.views.site.page import ABSENT, PageView

NO_FILES: Mapping[str, int] = MappingProxyType({})


def make_absolute(page: PageView, path: str) -> str:
    """The address of a path of the site; relative to the page where the guide has no address yet."""
    return f"{page.site.address}/{quote(path)}" if page.site.address else page.root + quote(path)


def share_path(page: PageView) -> str:
    """Where the picture for sharing a page stands: an account has its own, all others share one of each photo."""
    if page.kind != "account" and page.share:
        return f"share/of-{page.share.id}.jpg"
    return f"share/{page.path.removesuffix('.html').replace('/', '-')}.jpg"


def sharing_html(page: PageView, pictures: Pictures, sizes: Mapping[str, int] = NO_FILES, sounds: Collection[str] = ()) -> Html:
    """The head's links and data for sharing. Without an address only what needs none is said. `sounds` are the ids of those that play."""
    lines = []
    if page.site.address and page.kind not in ("moved", ABSENT):
        lines.append(f'<link rel="canonical" href="{escape(make_absolute(page, page.path))}">')
        lines += [
            f'<link rel="alternate" hreflang="{language}" href="{escape(make_absolute(page, path))}">' for language, path in page.alternates
        ]
        lines.append(f'<link rel="alternate" type="application/atom+xml" title="{escape(page.site.title)}" href="{page.root}changes.atom">')
    lines += [f'<meta property="og:{key}" content="{escape(value)}">' for key, value in _open_graph(page) if value]
    said = describe_page(page, pictures, lambda path: make_absolute(page, path), plays={*sizes, *sounds})
    if isinstance(page.data, DataPage):
        said = describe_dataset(page, page.data, sizes, lambda path: make_absolute(page, path) if page.site.address else "")
    if said:
        # A closing tag inside the data would end the script element (HTML, 4.12.1.3).
        data = json.dumps(said, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
        lines.append(f'<script type="application/ld+json">{data}</script>')
    return Html("\n".join(lines))


def add_territory(language: str, country: str) -> str:
    """A language as Open Graph wants it, with its territory: the guide's country where that language is its own, else the likeliest."""
    try:
        parsed = Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return language.replace("-", "_")
    if parsed.territory:
        return f"{parsed.language}_{parsed.territory}"
    if parsed.language in get_official_languages(country, de_facto=True):
        return f"{parsed.language}_{country}"
    likely = get_global("likely_subtags").get(parsed.language, "")
    return f"{parsed.language}_{likely.rpartition('_')[2]}" if "_" in likely else parsed.language


def _open_graph(page: PageView) -> list[tuple[str, str]]:
    facts = [("title", page.title), ("type", "article" if page.kind == "account" else "website"), ("site_name", page.site.title)]
    facts += [("description", page.description or page.site.description), ("locale", add_territory(page.language, page.site.country))]
    facts += [("locale:alternate", add_territory(code, page.site.country)) for code, _ in page.alternates if code != page.language]
    if page.site.address:
        facts.append(("url", make_absolute(page, page.path)))
        if page.share:
            facts += [("image", make_absolute(page, share_path(page))), ("image:alt", page.share.alt)]
            facts += [("image:width", str(SHARE_SIZE[0])), ("image:height", str(SHARE_SIZE[1]))]
    return facts
