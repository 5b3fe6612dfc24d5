"""What others' programs read of a page: canonical address, other languages, Open Graph and schema.org."""

from __future__ import annotations

import json
from collections.abc import Mapping
from html import escape
from types import MappingProxyType
from typing import Any
from urllib.parse import quote

from guidebuild.press.outputs.site.dataset import describe_dataset
from guidebuild.press.outputs.site.plate import Pictures
from guidebuild.press.outputs.site.share_size import SHARE_SIZE
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.prose import Html
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.site.data import DataPage
from guidebuild.views.site.page import PageView

NO_FILES: Mapping[str, int] = MappingProxyType({})


def make_absolute(page: PageView, path: str) -> str:
    """The address of a path of the site; relative to the page where the guide has no address yet."""
    return f"{page.site.address}/{quote(path)}" if page.site.address else page.root + quote(path)


def share_path(page: PageView) -> str:
    """Where the picture for sharing an account stands."""
    return f"share/{page.path.removesuffix('.html').replace('/', '-')}.jpg"


def sharing_html(page: PageView, pictures: Pictures, sizes: Mapping[str, int] = NO_FILES) -> Html:
    """The head's links and data for sharing. Without an address only what needs none is said."""
    lines = []
    if page.site.address and page.kind != "moved":
        lines.append(f'<link rel="canonical" href="{escape(make_absolute(page, page.path))}">')
        lines += [
            f'<link rel="alternate" hreflang="{language}" href="{escape(make_absolute(page, path))}">' for language, path in page.alternates
        ]
        lines.append(f'<link rel="alternate" type="application/atom+xml" title="{escape(page.site.title)}" href="{page.root}changes.atom">')
    lines += [f'<meta property="og:{key}" content="{escape(value)}">' for key, value in _open_graph(page) if value]
    said = _schema_org(page, pictures) if page.kind == "account" else None
    if isinstance(page.data, DataPage):
        said = describe_dataset(page, page.data, sizes, lambda path: make_absolute(page, path) if page.site.address else "")
    if said:
        # A closing tag inside the data would end the script element (HTML, 4.12.1.3).
        data = json.dumps(said, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
        lines.append(f'<script type="application/ld+json">{data}</script>')
    return Html("\n".join(lines))


def _open_graph(page: PageView) -> list[tuple[str, str]]:
    facts = [("title", page.title), ("type", "article" if page.kind == "account" else "website"), ("site_name", page.site.title)]
    facts += [("description", page.description or page.site.description), ("locale", page.language.replace("-", "_"))]
    if page.site.address:
        facts.append(("url", make_absolute(page, page.path)))
        if page.kind == "account" and page.share:
            facts += [("image", make_absolute(page, share_path(page))), ("image:alt", page.share.alt)]
            facts += [("image:width", str(SHARE_SIZE[0])), ("image:height", str(SHARE_SIZE[1]))]
    return facts


def _schema_org(page: PageView, pictures: Pictures) -> dict[str, Any]:
    name = page.name
    taxon: dict[str, Any] = {"@context": "https://schema.org", "@type": "Taxon", "name": name.plain if name else page.title}
    if name and name.vernacular:
        taxon["alternateName"] = name.vernacular
    taxon["taxonRank"] = "species"
    if page.description:
        taxon["description"] = page.description
    if page.site.address:
        taxon["url"] = make_absolute(page, page.path)
    if page.share and page.share.id in pictures:
        taxon["image"] = _image(page, page.share, pictures[page.share.id])
    return taxon


def _image(page: PageView, photo: PhotoView, copies: PictureSet) -> dict[str, Any]:
    image: dict[str, Any] = {
        "@type": "ImageObject",
        "contentUrl": make_absolute(page, copies.largest.path),
        "width": copies.width,
        "height": copies.height,
    }
    if photo.credit:
        image["creditText"] = photo.credit

    if photo.licence and photo.licence.address:
        image["license"] = photo.licence.address
    if photo.alt:
        image["caption"] = photo.alt
    return image
