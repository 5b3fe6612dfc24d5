"""What a page on its way to PDF may load: prepared pictures, theme files and packaged fonts, and nothing else.

Addresses on such a page are relative to `BASE`, a host that cannot exist (RFC 2606, section 2), so that the PDF's bytes
do not depend on the folder it was made in and no other file of the machine, or address on the network, can be named.
"""

from __future__ import annotations

import mimetypes
from collections.abc import Callable, Iterable, Iterator, Mapping
from copy import copy
from pathlib import Path, PurePosixPath
from urllib.parse import unquote, urlsplit

from guidebuild.press.engine.trees import find_inside
from guidebuild.press.paper.typesetter import URLFetcher, URLFetcherResponse
from guidebuild.press.photos.print_copy import Picture, read_picture

BASE = "https://guide.invalid/"
_HOST = urlsplit(BASE).netloc
# Python 3.11's own table lacks these.
_TYPES = {".woff2": "font/woff2", ".woff": "font/woff", ".ttf": "font/ttf", ".otf": "font/otf"}


class RefusedError(ValueError):
    """An address that a page may not load, with a sentence that says so."""


class GuideFetcher(URLFetcher):  # type: ignore[misc]  # WeasyPrint carries no types
    """Serves only what it was given; every other address is refused, and WeasyPrint's log line becomes a problem."""

    def __init__(
        self,
        *,
        files: Mapping[str, bytes | Path] | None = None,
        folders: Mapping[str, Path] | None = None,
        pictures: Iterable[Picture] = (),
    ) -> None:
        """`files` by their path under `BASE`; `folders` by the path they stand under; `pictures` by their own addresses."""
        super().__init__(allowed_protocols={"data"}, allow_redirects=False)
        self._files = dict(files or {})
        self._pictures = {picture.path.name: picture for picture in pictures}
        self._folders = {prefix.strip("/"): folder.resolve() for prefix, folder in (folders or {}).items()}

    def texts(self) -> Iterator[str]:
        """Its stylesheets, of those files that it was given one by one."""
        held = (data for path, data in self._files.items() if path.endswith(".css"))
        yield from (data.decode(errors="replace") for data in held if isinstance(data, bytes))

    def with_styles(self, changed: Callable[[str], str]) -> GuideFetcher:
        """The same with its stylesheets, of those files that it was given one by one, changed."""
        other = copy(self)
        other._files = {path: _changed(path, data, changed) for path, data in self._files.items()}
        return other

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
        """The bytes at an address; raises `RefusedError`, which WeasyPrint logs and survives."""
        parts = urlsplit(url)
        if parts.scheme == "data":
            return super().fetch(url, headers)
        if (parts.scheme, parts.netloc) != ("https", _HOST):
            raise RefusedError(f"“{url}” lies outside the guide; pages may load only the guide's own pictures and theme files")
        path = unquote(parts.path).lstrip("/")
        source = self._find(path)
        if source is None:
            raise RefusedError(f"“{path}” is not among the guide's prepared pictures or theme files")
        body = source if isinstance(source, bytes) else source.read_bytes()
        return URLFetcherResponse(url, body, {"Content-Type": _media_type(path)})

    def _find(self, path: str) -> bytes | Path | None:
        if path in self._files:
            return self._files[path]
        for prefix, folder in self._folders.items():
            if prefix and not path.startswith(prefix + "/"):
                continue
            found = find_inside(folder, path[len(prefix) + 1 :] if prefix else path)
            if found is not None and found.is_file():
                return found
        return read_picture(path, self._pictures)


def _changed(path: str, data: bytes | Path, changed: Callable[[str], str]) -> bytes | Path:
    return changed(data.decode(errors="replace")).encode() if path.endswith(".css") and isinstance(data, bytes) else data


def _media_type(path: str) -> str:
    suffix = PurePosixPath(path).suffix.lower()
    return _TYPES.get(suffix) or mimetypes.guess_type(path)[0] or "application/octet-stream"
