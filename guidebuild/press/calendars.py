"""Walks as calendar events: beside the leaders' packs, and on the site beside their pages."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.fieldwork.calendar import walk_calendar
from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.walks import walk_pack


def walk_events(guide: Published) -> Iterator[tuple[str, bytes]]:
    """File name and bytes of each walk's event, which names the walk's page where the guide has an address."""
    address = guide.settings.address.rstrip("/")
    for walk in guide.walks.values():
        page = f"{address}/walks/{walk.id}.html" if address else ""
        yield f"{walk.id}.ics", walk_calendar(guide, walk_pack(guide, walk), page)


def site_calendars(guide: Published) -> dict[str, bytes]:
    """The events where the site's pages of walks link to them, by path from the site's root."""
    return {f"walks/{name}": data for name, data in walk_events(guide)}
