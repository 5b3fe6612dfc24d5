"""What is published is compared with the list of what was published; nothing is changed by that."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from guidebuild.press.engine import verify
from guidebuild.press.engine.digest import digest_bytes, digest_file
from guidebuild.press.engine.trees import MANIFEST, files_below
from guidebuild.press.engine.verify import verify_published
from tests.press.engine.staged import publish


def told(place: Path) -> tuple[int, list[str]]:
    found = verify_published(place)
    return found.files, [str(problem).replace(f"{place}{os.sep}", "") for problem in found.differing]


def test_what_stands_as_it_was_published_has_nothing_to_tell(place: Path) -> None:
    publish(place, {"a.html": "a", "cards/b.pdf": "b"})
    (place / "CNAME").write_text("the author's own")
    before = sorted(files_below(place))
    assert told(place) == (2, [])
    assert sorted(files_below(place)) == before


def test_each_file_that_differs_is_named_with_what_is_the_matter(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(place, {name: name for name in ("changed", "gone", "out", "unread", "whole")})
    (place / "changed").write_text("changed since")
    (place / "gone").unlink()
    (place / "out").unlink()
    (place / "out").symlink_to(place.parent / "elsewhere")
    (place.parent / "elsewhere").write_text("out")

    def read(path: Path) -> str:
        if path.name == "unread":
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return digest_file(path)

    monkeypatch.setattr(verify, "digest_file", read)
    count, lines = told(place)
    assert count == 5
    mend = verify._MEND
    assert [line.partition(": ")[::2] for line in lines] == [
        ("changed", f"has not the bytes that were published; {mend}"),
        ("gone", f"is missing; {mend}"),
        ("out", "is not below the published folder, so it is none of ours"),
        ("unread", f"cannot be read (Input/output error); {mend}"),
    ]


def test_where_nothing_can_be_compared_that_is_told(place: Path) -> None:
    assert told(place) == (0, [f"{place}: nothing is published there; `guidebuild make` publishes the guide"])
    publish(place, {"a.html": "a"})
    (place / MANIFEST).write_text("{")
    count, lines = told(place)
    assert (count, len(lines)) == (0, 1)
    assert lines[0].startswith(f"{MANIFEST}: the list of what was published is missing or damaged")
    assert digest_bytes(b"a") == digest_file(place / "a.html")
