"""How the site is kept for the field: lists of files, one for each part, so that after an edit only what changed is fetched.

`offline/list.json` is fetched by each page that is read with a network. It names the other lists under their digests, says of
each part how large it is and which lists it is made of, and which page says that something is not kept.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath

from guidebuild.press.engine.digest import digest, digest_bytes
from guidebuild.press.outputs.site.assets import OFFLINE
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.views.site.field import FIELD, UNKEPT, field_parts
from guidebuild.views.site.page import PageNote
from guidebuild.views.site.seen import PLACES_MARK, SEEN

FOLDER = "offline"
EVERYTHING = "*"
"""What the whole guide is called among the parts."""
MOST_IN_LIST = 300
"""Files of the whole guide that stand on one list; more are divided by their digests, so that an edit changes few lists."""
MARK = 12
"""Signs of a digest that tell one file, or one list, from what it was before."""
_ALWAYS = "always"
_TOOLS = "tools"
_FILMS = (".mp4", ".webm")
MOST_OF_FILM = 1_000_000
"""Bytes of the largest film that is kept with its page; pages say how large each is."""
_SOUNDS = (".wav", ".flac", ".mp3", ".ogg", ".opus", ".m4a")
MOST_OF_SOUND = 2_000_000
"""Bytes of the largest sound that is kept."""
_BESIDE_FILM = (*_FILMS, ".vtt", ".chapters.vtt")
"""What stands beside the page of a film."""
_NOT_KEPT = ("changes.atom", "sitemap.xml", OFFLINE)
_NOT_KEPT_BELOW = ("share/", "data/", "cards/", f"{FOLDER}/")
_FIRST = (
    "assets/first.css",
    "assets/guide.css",
    "assets/asking.css",
    "assets/look.js",
    "assets/guide.js",
    "assets/field.js",
    "assets/closer.js",
    "assets/closer.css",
    "assets/seen.js",
    "assets/seen.css",
    "assets/mine.js",
    "assets/giving.js",
)
_PICTURES = {".avif", ".webp", ".jpg"}

Files = Mapping[str, tuple[int, str]]
"""Size and digest of every file, by its path from the site's root."""


@dataclass(frozen=True, slots=True)
class PartPaths:
    """The files of one part: those that all parts of its language (whose folder is `base`) share, and its own."""

    base: str
    tools: tuple[str, ...]
    own: tuple[str, ...]


def paths_of_parts(notes: Sequence[PageNote], copies: Mapping[str, PictureSet]) -> dict[str, PartPaths]:
    """Pages and pictures of each part that can be kept for the field."""
    tools: dict[str, tuple[str, ...]] = {}
    parts = {}
    for name, part in field_parts(notes).items():
        base = part.own[0].page.site.base
        if base not in tools:
            tools[base] = tuple(_list_paths(part.tools, copies))
        parts[name] = PartPaths(base, tools[base], tuple(_list_paths(part.own, copies)))
    return parts


def _list_paths(notes: Iterable[PageNote], copies: Mapping[str, PictureSet]) -> Iterator[str]:
    for note in notes:
        yield note.page.path
        yield from (copies[photo].variants[0].path for photo in note.photos if photo in copies)
        yield from (f"sounds/{sound}{ending}" for sound in note.sounds for ending in (".webp", *_SOUNDS))


def list_offline(files: Files, parts: Mapping[str, PartPaths], notes: Iterable[PageNote]) -> dict[str, bytes]:
    """Every list by its path. One copy of each picture is kept (the WebP nearest to a phone's width), since the others show the same."""
    stands_for = _choose_copies(files)
    kept = {path: told for path, told in sorted(files.items()) if _is_kept(path, told[0], stands_for)}
    lists = {_ALWAYS: {path for path in kept if path.startswith("assets/") or path == "guide.webmanifest"}}
    made_of: dict[str, tuple[str, ...]] = {}
    for name, part in parts.items():
        tools = f"{part.base}{_TOOLS}"
        if tools not in lists:
            lists[tools] = _find_kept(part.tools, kept, stands_for) - lists[_ALWAYS]
        own = f"parts/{name.removesuffix('.html')}"
        lists[own] = _find_kept(part.own, kept, stands_for) - lists[tools] - lists[_ALWAYS]
        made_of[name] = (_ALWAYS, tools, own)
    shares = _divide(kept)
    lists |= shares
    written = {name: _write([[path, kept[path][0], kept[path][1][:MARK]] for path in sorted(paths)]) for name, paths in lists.items()}
    marks = {name: digest_bytes(data)[:MARK] for name, data in written.items()}
    told = {
        "version": digest(sorted(marks.items()))[:MARK],
        "first": [path for path in (*_FIRST, *_own_pages(notes)) if path in files],
        "unkept": {note.page.site.base: note.page.path for note in notes if note.page.template == UNKEPT},
        "lists": marks,
        "parts": {
            name: [sum(kept[path][0] for one in own for path in lists[one]), own]
            for name, own in ({EVERYTHING: tuple(shares)} | made_of).items()
        },
    }
    return {f"{FOLDER}/list.json": _write(told)} | {f"{FOLDER}/{name}.json": data for name, data in written.items()}


def _own_pages(notes: Iterable[PageNote]) -> Iterator[str]:
    """Pages that are there from the first visit on: without them nothing could be said of what is not kept."""
    yield "index.html"
    yield from (note.page.path for note in notes if note.page.template in (FIELD, UNKEPT, SEEN, PLACES_MARK))


def _find_kept(paths: Iterable[str], kept: Files, stands_for: Mapping[str, str]) -> set[str]:
    found = {one for path in paths if (one := stands_for.get(path, path)) in kept}
    films = [path.removesuffix(".html").rpartition("films/")[2] for path in found if f"/{path}".count("/films/")]
    return found | {one for film in films for ending in _BESIDE_FILM if (one := f"films/{film}{ending}") in kept}


def _divide(kept: Files) -> dict[str, set[str]]:
    """The whole guide in shares of which each holds the same files as long as the guide is about as large."""
    signs = 0 if len(kept) <= MOST_IN_LIST else 1 if len(kept) <= 16 * MOST_IN_LIST else 2
    shares: dict[str, set[str]] = {}
    for path in kept:
        shares.setdefault("all/" + (hashlib.sha256(path.encode()).hexdigest()[:signs] or "0"), set()).add(path)
    return dict(sorted(shares.items()))


def _write(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def _is_picture(path: str) -> bool:
    return PurePosixPath(path).suffix in _PICTURES and not path.startswith(("share/", "sounds/"))


def _is_kept(path: str, size: int, stands_for: Mapping[str, str]) -> bool:
    is_too_large = (path.endswith(_FILMS) and size > MOST_OF_FILM) or (path.endswith(_SOUNDS) and size > MOST_OF_SOUND)
    is_left_out = path in _NOT_KEPT or path.startswith(_NOT_KEPT_BELOW) or is_too_large
    return not is_left_out and stands_for.get(path, path) == path


def _choose_copies(files: Iterable[str]) -> dict[str, str]:
    """Every copy of a picture, with the one that stands for it offline: of about phone width where there is one."""
    copies: dict[str, list[tuple[int, str]]] = {}
    pictures = sorted(path for path in files if _is_picture(path))
    for path in pictures:
        stem, _, end = path.rpartition("-")
        width, _, kind = end.partition(".")
        if kind == "webp" and width.isdigit():
            copies.setdefault(stem, []).append((abs(int(width) - 720), path))
    return {path: min(copies.get(path.rpartition("-")[0], [(0, path)]))[1] for path in pictures}
