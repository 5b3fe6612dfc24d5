"""What a published guide looks like by: not in `folders.py`, so that a check need not wait for what digests a tool."""

from __future__ import annotations

from pathlib import Path

from guidebuild.press.engine.digest import digest, digest_folder
from guidebuild.press.engine.toolchain import digest_toolchain
from guidebuild.press.theme.folders import find_theme


def digest_look(folder: Path) -> str:
    """Digest of everything but its content that a published guide depends on: the tool and the theme."""
    return digest(digest_toolchain(), *map(digest_folder, find_theme(folder)))
