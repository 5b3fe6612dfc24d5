"""A guide read and checked leaves the process as it was, for those that read one again and again (the preview)."""

from __future__ import annotations

import gc
import weakref
from pathlib import Path

import pytest

from guidebuild.session import CannotReadError, open_session


class _Ring:
    """A value that only a look for cycles can take away."""

    def __init__(self) -> None:
        self.itself = self


def _small(folder: Path) -> Path:
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: Invented\n", "utf-8")
    (folder / "accounts" / "a-bug.md").write_text("---\nname: Inventus primus\n---\n", "utf-8")
    return folder


@pytest.mark.parametrize("readable", [True, False])
def test_cycles_are_looked_for_again_once_a_guide_is_read(tmp_path: Path, readable: bool) -> None:
    folder, before = _small(tmp_path), gc.get_freeze_count()
    if not readable:
        (folder / "guide.yaml").write_text("- a list\n", "utf-8")
    ring = weakref.ref(_Ring())
    try:
        open_session(folder)
    except CannotReadError:
        assert not readable
    assert gc.isenabled()
    assert gc.get_freeze_count() == before
    gc.collect()
    assert ring() is None
