"""Which files of films and sounds are read, by their endings, and the media type of each: what every browser of today plays."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

FILM_TYPES: Mapping[str, str] = MappingProxyType({".mp4": "video/mp4", ".webm": "video/webm"})
SOUND_TYPES: Mapping[str, str] = MappingProxyType(
    {
        ".wav": "audio/wav",
        ".flac": "audio/flac",
        ".mp3": "audio/mpeg",
        ".ogg": "audio/ogg",
        ".opus": "audio/ogg",
        ".m4a": "audio/mp4",
    }
)
