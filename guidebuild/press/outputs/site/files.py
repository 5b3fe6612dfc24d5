"""Files for programs that read the site: feed of new and changed accounts, list of pages, manifest."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Sequence
from html import escape

from guidebuild.press.outputs.site.sharing import make_absolute
from guidebuild.views.site.page import UNLISTED, PageView

SHORT, LITTLE = 24, 3
"""Letters of a short name, and of the words that it may not end in (of, the, de, von)."""
FEED_LENGTH = 30
"""Accounts and films in the feed, the latest changes first."""
_TOLD = ("account", "film")


def write_feed(pages: Sequence[PageView], today: dt.date) -> bytes:
    """An Atom feed (RFC 4287) of one language's accounts that say when they were posted or reviewed, and of its films."""
    home = pages[0]
    changed = [p for p in pages if p.kind in _TOLD and p.changed and p.changed <= today and p.language == home.language]
    changed.sort(key=lambda p: (p.changed or today, p.path), reverse=True)
    site = home.site
    latest = changed[0].changed if changed and changed[0].changed else today
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        f'<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="{home.language}">',
        f"<title>{escape(site.title)}</title>",
        f"<id>{escape(site.address)}/</id>",
        f'<link href="{escape(site.address)}/"/>',
        f'<link rel="self" href="{escape(make_absolute(home, "changes.atom"))}"/>',
        f"<updated>{_moment(latest)}</updated>",
        f"<author><name>{escape(site.publisher or site.title)}</name></author>",
        *(_feed_entry(page, page.changed) for page in changed[:FEED_LENGTH] if page.changed),
        "</feed>",
    ]
    return "\n".join(lines).encode()


def _feed_entry(page: PageView, changed: dt.date) -> str:
    address = escape(make_absolute(page, page.path))
    return (
        f'<entry><title>{escape(page.title)}</title><id>{address}</id><link href="{address}"/>'
        f"<updated>{_moment(changed)}</updated><summary>{escape(page.description)}</summary></entry>"
    )


def _moment(day: dt.date) -> str:
    return f"{day.isoformat()}T00:00:00Z"


def site_list(pages: Sequence[PageView]) -> bytes:
    """The sitemap (sitemaps.org protocol 0.9); former addresses, and what is shown without a network, are left out."""
    entries = []
    for page in pages:
        if page.kind in UNLISTED:
            continue
        changed = f"<lastmod>{page.changed.isoformat()}</lastmod>" if page.changed else ""
        entries.append(f"<url><loc>{escape(make_absolute(page, page.path))}</loc>{changed}</url>")
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n'
    return (head + "\n".join(entries) + "\n</urlset>\n").encode()


def shorten_title(title: str) -> str:
    """As many whole words of a title as stand under a sign on a phone; none of the little words at the end, which lead on to the next."""
    if len(title) <= SHORT:
        return title
    words = title.split()
    while len(words) > 1 and (len(" ".join(words)) > SHORT or len(words[-1].strip(",;:–—-")) <= LITTLE):
        words.pop()
    return " ".join(words).rstrip(",;:–— ")


def write_manifest(home: PageView) -> bytes:
    """The web app manifest (W3C Web Application Manifest): the guide as something that can be put on a phone's first screen."""
    site = home.site
    manifest = {
        "name": site.title,
        "short_name": shorten_title(site.title),
        "description": site.description,
        "lang": home.language,
        "start_url": "index.html",
        "scope": "./",
        "display": "minimal-ui",
        "background_color": "#ffffff",
        "theme_color": "#ffffff",
        "icons": [
            {"src": "assets/sign.svg", "sizes": "any", "type": "image/svg+xml"},
            {"src": "assets/icon-512.png", "sizes": "512x512", "type": "image/png"},
        ],
    }
    return json.dumps(manifest, ensure_ascii=False, indent=1).encode()
