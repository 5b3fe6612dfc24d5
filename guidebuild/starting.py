"""New guides: a small one of the asked kind, or a copy of the sample to play with."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import yaml

from guidebuild.authoring import CannotWriteError, Written
from guidebuild.guide.problem import Unreadable
from guidebuild.reading.parse_values import parse_language
from guidebuild.shipped import content, on_disk, sample
from guidebuild.words import WRITTEN_IN

_NOT_COPIED = frozenset(("published", ".guidebuild", "__pycache__", "drawing"))
WORKFLOW = ".github/workflows/site.yaml"


@cache
def list_kinds() -> Mapping[str, Mapping[str, str]]:
    """The kinds of guide that one can begin with, the usual one first, and the lines of guide.yaml that are theirs."""
    kinds: dict[str, dict[str, str]] = yaml.safe_load(_starter("kinds.yaml").read_text("utf-8"))
    return kinds


def start_guide(folder: Path, kind: str = "", language: str = WRITTEN_IN, *, with_workflow: bool = False) -> Written:
    """Write a small guide of a kind into an empty or new folder; raises CannotWriteError where that cannot be.

    In another language than English there is no account yet: `guidebuild account` drafts one. `with_workflow` adds the file by which
    a git host makes the site.
    """
    kind = kind or next(iter(list_kinds()))
    read = parse_language(language)
    if isinstance(read, Unreadable):
        raise CannotWriteError(f"{read.message} {read.mend}".strip())
    files = {"README.md": _read("README.md"), "guide.yaml": _settings(kind, language)}
    if language.partition("-")[0] == WRITTEN_IN:
        files |= {f"accounts/{path.name}": path.read_bytes() for path in sorted(_starter(kind).glob("*.md"))}
    if with_workflow:
        files[WORKFLOW] = _read("site-workflow.yaml")
    return _write_all(folder, files)


def copy_sample(folder: Path) -> Written:
    """Write the sample guide into an empty or new folder, pictures and all; raises CannotWriteError where that cannot be."""
    source = on_disk(sample())
    paths = (path for path in sorted(source.rglob("*")) if path.is_file() and not _NOT_COPIED & set(path.relative_to(source).parts))
    return _write_all(folder, {path.relative_to(source).as_posix(): path.read_bytes() for path in paths})


def _starter(name: str) -> Path:
    return on_disk(content().joinpath("starter")) / name


def _read(name: str) -> bytes:
    return _starter(name).read_bytes()


def _settings(kind: str, language: str) -> bytes:
    """The common guide.yaml with the kind's own lines."""
    text = _read("guide.yaml").decode()
    lines = {**list_kinds()[kind], "languages": f"[{language}]"}
    for key, value in lines.items():
        text = re.sub(rf"^{key}:.*$", f"{key}: {value}", text, count=1, flags=re.MULTILINE)
    return text.encode()


def _write_all(folder: Path, files: Mapping[str, bytes]) -> Written:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise CannotWriteError(f"{folder} is not empty. Give a new folder, or an empty one.")
    try:
        for file, data in files.items():
            (folder / file).parent.mkdir(parents=True, exist_ok=True)
            (folder / file).write_bytes(data)
    except OSError as error:
        raise CannotWriteError(f"{folder} cannot be written: {error.strerror}. Choose another folder.") from error
    return Written(folder, tuple(files))
