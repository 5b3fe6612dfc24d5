"""Walks as calendar events: beside the leaders' packs, and on the site beside their pages."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator

from guidebuild.fieldwork.calendar import rewrite_calendar
from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.walks import walk_pack

Standing = Callable[[str], bytes | None]
"""The bytes that stand at a path of the published folder, new or from the last run; None where there are none."""

_FOLDERS = ("walks", "site/walks")
"""Both hold the events, and either may have been published without the other: the later writing counts."""


def walk_events(guide: Published, standing: Standing, today: dt.date) -> Iterator[tuple[str, bytes]]:
    """File name and bytes of each walk's event, which names the walk's page where the guide has an address."""
    address = guide.settings.address.rstrip("/")
    for walk in guide.walks.values():
        page = f"{address}/walks/{walk.id}.html" if address else ""
        former = [data for folder in _FOLDERS if (data := standing(f"{folder}/{walk.id}.ics"))]
        yield f"{walk.id}.ics", rewrite_calendar(guide, walk_pack(guide, walk), page, former, today)


def site_calendars(guide: Published, standing: Standing, today: dt.date) -> dict[str, bytes]:
    """The events where the site's pages of walks link to them, by path from the site's root."""
    return {f"walks/{name}": data for name, data in walk_events(guide, standing, today)}
