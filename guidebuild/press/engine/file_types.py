"""The media type of each file that is published or shown under preview, by its ending."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from guidebuild.guide.media_types import FILM_TYPES, SOUND_TYPES

TYPES: Mapping[str, str] = MappingProxyType(
    {
        ".html": "text/html",
        ".css": "text/css",
        ".js": "text/javascript",
        ".json": "application/json",
        ".webmanifest": "application/manifest+json",
        ".svg": "image/svg+xml",
        ".webp": "image/webp",
        ".avif": "image/avif",
        ".jpg": "image/jpeg",
        ".png": "image/png",
        ".woff2": "font/woff2",
        ".vtt": "text/vtt",
        ".srt": "application/x-subrip",
        ".ics": "text/calendar",
        ".atom": "application/atom+xml",
        ".xml": "application/xml",
        ".pdf": "application/pdf",
        ".zip": "application/zip",
        ".csv": "text/csv",
        ".md": "text/markdown",
        **FILM_TYPES,
        **SOUND_TYPES,
    }
)
"""As registered with IANA, but for two that are not registered and that everyone uses: audio/wav and application/x-subrip."""
