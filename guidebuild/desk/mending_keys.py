"""Keys of an older guide given their names of today at the desk: which findings that mends, what would change, and the change."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import RefusedError
from guidebuild.former_texts import digest_of
from guidebuild.guide.findings import At, Finding
from guidebuild.mending import Mending, differ, plan_mending
from guidebuild.press.engine.trees import find_inside
from guidebuild.reading.one_file import find_old_keys_in

_RULE = "unknown-key"


def find_mendable(desk: Desk, findings: Iterable[Finding]) -> frozenset[At]:
    """Where keys stand that mending would write as they are called today. Only files with such a finding are looked into."""
    files = {finding.at.file for finding in findings if finding.code == _RULE}
    return frozenset(at for file in files for at in _find_old_keys(desk, file))


def _find_old_keys(desk: Desk, file: str) -> Iterator[At]:
    path = find_inside(desk.folder, file)
    if path is None:
        return
    try:
        raw = path.read_bytes()
    except OSError:
        return  # it was there when the guide was read
    yield from (at for at, _ in find_old_keys_in(file, raw))


def show_mending(desk: Desk, _: Mapping[str, Any]) -> Mapping[str, Any]:
    """All that mending would change, as lines before and after; nothing is written. `seen` says which plan the page has shown."""
    planned, say = plan_mending(desk.folder), desk.say
    return {
        "seen": _tell_apart(planned),
        "title": say.count("{n} key gets its name of today", "{n} keys get their names of today", sum(one.keys for one in planned.files)),
        "files": [{"file": one.file, "lines": list(differ(one))} for one in planned.files],
        "refused": list(planned.refused),
    }


def mend_keys(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Write what was shown: `{seen}`. It is taken back as one change."""
    planned = plan_mending(desk.folder)
    if not planned.files or asked.get("seen") != _tell_apart(planned):
        raise RefusedError("The files have changed since this was shown, and nothing is written. Look again at what would change.")
    desk.writer.put_texts([(one.file, one.before, one.after) for one in planned.files])
    return {"files": len(planned.files)}


def _tell_apart(planned: Mending) -> str:
    """A digest of all that would be written."""
    return digest_of("\n".join(f"{one.file} {digest_of(one.before)} {digest_of(one.after)}" for one in planned.files).encode())
