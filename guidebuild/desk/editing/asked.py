"""What a page asks for, as it sends it, and what it is answered."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guidebuild.desk.editing.wanted import RefusedError, read_change
from guidebuild.desk.editing.writer import ConflictError, Writer, Written
from guidebuild.guide.guide import Guide


def answer_edit(writer: Writer, guide: Guide | None, asked: Mapping[str, Any]) -> dict[str, Any]:
    """Make what is asked: `{file, digest, path, value}`, or `{file, digest, changes: [{path, value}, …]}`, as `read_change` reads each.

    Answers `{file, digest}`. Raises RefusedError (422), ConflictError (409, with `tell_conflict`) and CannotKeepError (507).
    """
    file, digest = asked.get("file"), asked.get("digest")
    if not isinstance(file, str) or not isinstance(digest, str):
        raise RefusedError("The page did not say which file it means. Load the page anew.")
    changes = asked.get("changes", [asked])
    if not isinstance(changes, list) or not changes or not all(isinstance(change, dict) for change in changes):
        raise RefusedError("The page did not say what is to be changed. Load the page anew.")
    return _tell_written(writer.change(file, digest, [read_change(change) for change in changes], guide))


def answer_undo(writer: Writer) -> dict[str, Any]:
    """Take back the last change: `{file, digest, files, left}`, no file where there is none to take back. Raises as `answer_edit` does."""
    written = writer.undo() or Written("", "", 0)
    return {**_tell_written(written), "files": written.files, "left": len(writer.list_undoable())}


def _tell_written(written: Written) -> dict[str, Any]:
    return {"file": written.file, "digest": written.digest}


def tell_conflict(error: ConflictError) -> dict[str, Any]:
    """A conflict as a page is told it: what stands there now, what was wanted, and the digest by which it may be written after all."""
    return {"message": str(error), "file": error.file, "digest": error.digest, "theirs": error.theirs, "yours": error.yours}
