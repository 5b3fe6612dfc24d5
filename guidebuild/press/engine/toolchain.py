"""What everything published depends on beside the guide and its theme: the tool itself, the libraries, the day that is set."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

import guidebuild
from guidebuild.press.engine.digest import digest, digest_file
from guidebuild.shipped import content, on_disk

_OF_PACKAGES = (".dist-info", ".egg-info")
_DRAWING = {
    "pango_version": ("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll"),
    "FcGetVersion": ("libfontconfig.so.1", "libfontconfig.1.dylib", "libfontconfig-1.dll"),
}
"""Libraries of the machine that set type in PDFs: the function that tells each one's version, and its names."""


def digest_toolchain() -> str:
    """Digest of all that may change a file though guide and theme stay as they are.

    Every installed package counts, since a list of those that draw would be forgotten when one is added.
    """
    return digest(_installed(), os.environ.get("SOURCE_DATE_EPOCH", ""))


@cache
def _installed() -> str:
    home = Path(guidebuild.__file__).parent
    return digest(sys.version, _packages(), [_version(*library) for library in _DRAWING.items()], _files(home), _files(on_disk(content())))


def _files(folder: Path) -> list[tuple[str, str]]:
    """Names and contents of the tool's own files, so that someone who changes them never sees what it made before."""
    return [(os.path.relpath(path, folder), digest_file(Path(path))) for path in sorted(_paths(str(folder)))]


def _paths(folder: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    yield from _paths(entry.path)
            else:
                yield entry.path


def _packages() -> list[str]:
    """Names and versions of all installed packages, as the folders of their descriptions tell them."""
    names: set[str] = set()
    for folder in sys.path:
        with suppress(OSError), os.scandir(folder or ".") as entries:
            names.update(entry.name for entry in entries if entry.name.endswith(_OF_PACKAGES))
    return sorted(names)


def _version(function: str, names: tuple[str, ...]) -> int | None:
    """What a library says of its version; nothing where it is not found, as then it is not used either."""
    for name in names:
        with suppress(OSError, AttributeError):
            found: int = getattr(ctypes.CDLL(name), function)()
            return found
    return None
