"""What hosts are told of the site's files: their types, how long they may be kept, and what pages may load.

Two forms that hosts of plain files read: `_headers` (a path, below it its headers) and `.htaccess` of the Apache web server. A host
that reads neither serves the same pages; each also says its policy by itself.
"""

from __future__ import annotations

from collections.abc import Mapping

from guidebuild.guide.media_types import FILM_TYPES, SOUND_TYPES
from guidebuild.press.engine.file_types import TYPES
from guidebuild.press.theme.trust import POLICY

_FREQUENT = "no-cache"  # asked for again each time, and sent only where it has changed: corrections show at once
_EVERYWHERE = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "strict-origin-when-cross-origin",
    "Permissions-Policy": "geolocation=(self), camera=(), microphone=()",
    "Content-Security-Policy": f"{POLICY}; frame-ancestors 'self'",
    "Cache-Control": _FREQUENT,
}
_KEPT = {"Cache-Control": "public, max-age=604800"}
_KEPT_ENDINGS = (".woff2",)
_UNUSUAL = (".webmanifest", ".woff2", ".vtt", ".ics", ".webp", ".atom", ".js", *FILM_TYPES, *SOUND_TYPES)
"""Endings that hosts often have no type for, or another."""


def make_host_files(base: str) -> Mapping[str, bytes]:
    """Both files, by name. `base` is the path below which the site stands, such as `/guide/`."""
    return {"_headers": _write_headers(base).encode(), ".htaccess": _write_htaccess(base).encode()}


def _write_headers(base: str) -> str:
    rules = [(f"{base}*", _EVERYWHERE), *((f"{base}*{ending}", {"Content-Type": TYPES[ending]}) for ending in _UNUSUAL)]
    rules += [(f"{base}*{ending}", _KEPT) for ending in _KEPT_ENDINGS]
    return "".join(f"{path}\n" + "".join(f"  {name}: {value}\n" for name, value in told.items()) for path, told in rules)


def _write_htaccess(base: str) -> str:
    types = "".join(f"AddType {TYPES[ending]} {ending}\n" for ending in _UNUSUAL)
    headers = "".join(f'Header always set {name} "{value}"\n' for name, value in _EVERYWHERE.items())
    endings = "|".join(ending.lstrip(".") for ending in _KEPT_ENDINGS)
    kept = f'<FilesMatch "\\.({endings})$">\nHeader always set Cache-Control "{_KEPT["Cache-Control"]}"\n</FilesMatch>\n'
    return f"ErrorDocument 404 {base}404.html\nAddDefaultCharset utf-8\n{types}<IfModule mod_headers.c>\n{headers}{kept}</IfModule>\n"
