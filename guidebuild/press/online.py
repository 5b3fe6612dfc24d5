"""What stands on the web, or in a folder, compared with the site as it was published here. Nothing is changed there."""

from __future__ import annotations

import http.client
import socket
import ssl
import urllib.error
import urllib.request
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path, PurePosixPath
from urllib.parse import quote, urlsplit

from guidebuild.press.engine.digest import digest_bytes, digest_file
from guidebuild.press.engine.file_types import TYPES
from guidebuild.press.engine.problems import PressError, Problem
from guidebuild.press.engine.trees import MANIFEST, files_below, find_inside
from guidebuild.press.host_files import make_host_files

_AT_ONCE = 6
"""Requests under way at a time: as many as a browser sends one host."""
_PATIENCE = 20  # seconds
_MOST_BYTES = 200_000_000
_NOT_THERE = "a-page-that-is-not-there.html"
_SAME_TYPES = (
    {"text/javascript", "application/javascript"},
    {"application/xml", "text/xml"},
    {"audio/wav", "audio/wave", "audio/x-wav", "audio/vnd.wave"},
    {"audio/flac", "audio/x-flac"},
    {"audio/mpeg", "audio/mp3"},
    {"audio/ogg", "application/ogg", "audio/opus"},
    {"audio/mp4", "audio/m4a", "audio/x-m4a"},
)
"""Types that browsers take for one and the same."""
_FIRST_FEW = 3


@dataclass(frozen=True, slots=True)
class Compared:
    """How many files were looked at, and what is other than here."""

    files: int
    differing: tuple[Problem, ...]


def compare_folder(site: Mapping[str, str], folder: Path) -> Compared:
    """Compare a folder with the published files, by their digests; raises `PressError` where there is no folder."""
    if not folder.is_dir():
        raise PressError(f"{folder} is no folder; give the folder that is put on the web, or its address")
    found = [problem for path, digest in site.items() if (problem := _compare_file(folder, path, digest))]
    ours = {*site, *make_host_files("/"), MANIFEST}
    strangers = sorted(path for path in files_below(folder) if path not in ours)
    if strangers:
        some = ", ".join(strangers[:_FIRST_FEW]) + (" …" if len(strangers) > _FIRST_FEW else "")
        found.append(Problem("online-more", str(folder), f"also holds {len(strangers)} that the guide does not make: {some}"))
    return Compared(len(site), tuple(found))


def _compare_file(folder: Path, path: str, digest: str) -> Problem | None:
    file = find_inside(folder, path)
    try:
        if file is not None and digest_file(file) == digest:
            return None
        return Problem("online-other", path, "is not as it was made here; copy it again")
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError):
        return Problem("online-missing", path, "is not there; copy it")
    except OSError as error:
        return Problem("online-other", path, f"cannot be read: {error.strerror}")


def compare_address(site: Mapping[str, str], address: str) -> Compared:
    """Ask an address for every published file, and for one that is not there; raises `PressError` where it cannot be asked at all."""
    home = f"{address.rstrip('/')}/"
    if urlsplit(home).scheme not in ("http", "https") or not urlsplit(home).netloc:
        raise PressError(f"“{address}” is no web address; write one such as https://example.org/guide")
    first = _ask(home)
    if isinstance(first, str):
        raise PressError(f"{home} cannot be reached: {first}")
    with ThreadPoolExecutor(_AT_ONCE) as pool:
        found = [problem for told in pool.map(partial(_compare_answer, home), site.items()) for problem in told]
    return Compared(len(site), (*_compare_home(home, first, site), *found, *_ask_for_absent(home)))


@dataclass(frozen=True, slots=True)
class _Answer:
    status: int
    type: str
    data: bytes
    address: str


def _ask(address: str) -> _Answer | str:
    """What an address answers, or why it does not."""
    request = urllib.request.Request(address, headers={"User-Agent": "guidebuild", "Accept-Encoding": "identity"})  # noqa: S310 (http only)
    try:
        with urllib.request.urlopen(request, timeout=_PATIENCE) as answer:  # noqa: S310 (http only)
            return _Answer(answer.status, answer.headers.get_content_type(), answer.read(_MOST_BYTES), answer.url)
    except urllib.error.HTTPError as error:
        with error:
            return _Answer(error.code, error.headers.get_content_type(), b"", address)
    except urllib.error.URLError as error:
        return _explain(error.reason)
    except (OSError, http.client.HTTPException, ValueError) as error:
        return _explain(error)


def _explain(error: object) -> str:
    if isinstance(error, ssl.SSLError):
        return "its certificate is not accepted"
    if isinstance(error, socket.gaierror):
        return "there is no such host, or no network here"
    if isinstance(error, TimeoutError):
        return f"no answer within {_PATIENCE} seconds"
    return str(getattr(error, "strerror", "") or error)


def _compare_answer(home: str, item: tuple[str, str]) -> list[Problem]:
    path, digest = item
    answer = _ask(home + quote(path))
    if isinstance(answer, str):
        return [Problem("online-missing", path, f"cannot be fetched: {answer}")]
    if answer.status != http.client.OK:
        return [Problem("online-missing", path, f"is answered with {answer.status}; put it there again")]
    found = []
    if digest_bytes(answer.data) != digest:
        found.append(Problem("online-other", path, "is not as it was made here; put it there again, or the host keeps an old copy"))
    wanted = TYPES.get(PurePosixPath(path).suffix)
    if wanted and answer.type != wanted and not any({wanted, answer.type} <= same for same in _SAME_TYPES):
        found.append(Problem("online-type", path, f"is sent as {answer.type}, not as {wanted}; tell the host its type"))
    return found


def _compare_home(home: str, answer: _Answer, site: Mapping[str, str]) -> Iterator[Problem]:
    if urlsplit(answer.address).netloc != urlsplit(home).netloc:
        yield Problem("online-moved", home, f"leads to {answer.address}; write that as `address:` if it is where the site stands")
    elif answer.status != http.client.OK or digest_bytes(answer.data) != site.get("index.html"):
        yield Problem("online-other", home, "does not show the guide's first page; let the host show index.html for a folder")


def _ask_for_absent(home: str) -> Iterator[Problem]:
    answer = _ask(home + _NOT_THERE)
    if isinstance(answer, _Answer) and answer.status != http.client.NOT_FOUND:
        said = f"is answered with {answer.status}, though it is not there; let the host answer 404 with 404.html"
        yield Problem("online-absent", _NOT_THERE, said)
