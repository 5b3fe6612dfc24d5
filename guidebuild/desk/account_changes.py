"""What an author does with a whole account on the desk: begin one, rename one, and change a value as it is typed in the file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guidebuild.authoring import add_account
from guidebuild.changes import make_changes, undo_broken_change
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.asked import answer_edit
from guidebuild.desk.editing.wanted import RefusedError
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import Guide
from guidebuild.reading.block import Plain
from guidebuild.reading.notes import Notes
from guidebuild.reading.yaml_text import read_block
from guidebuild.rename_wish import read_wish
from guidebuild.renaming import plan_renaming

_SHOWN = 40


def add_draft(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A draft account of a scientific name: `{name, vernacular}` → `{account}`."""
    written = add_account(desk.folder, _guide_of(desk), _text_of(asked, "name"), vernacular=_text_of(asked, "vernacular"))
    return {"account": written.files[0].removeprefix("accounts/").removesuffix(".md")}


def rename_account(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Another id, scientific name or both: `{account, id, name}` → what would change; with `sure`, it is done.

    `places` are the lines that change, `said` those that say the old name in words and stay, `advice` what is left to do.
    """
    old = _text_of(asked, "account")
    wanted = [word for word in (_text_of(asked, "id"), _text_of(asked, "name")) if word]
    if not wanted:
        raise RefusedError("Give another file name, another scientific name, or both.")
    undo_broken_change(desk.folder)
    guide = _guide_of(desk)
    wish = read_wish(guide, f"account:{old}", wanted)
    plan = plan_renaming(desk.folder, guide, wish)
    if asked.get("sure") is True:
        make_changes(desk.folder, plan.changes)
    told = {
        "places": [str(at) for at in plan.places[:_SHOWN]],
        "moves": [f"{before} → {after}" for before, after in plan.changes.moves],
        "said": [f"{at}: {line}" for at, line in plan.still_said[:_SHOWN]],
        "advice": list(plan.advice),
    }
    return {**told, "account": wish.new or wish.old, "done": asked.get("sure") is True}


def set_typed(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A value as it is typed in the file, in `text`, else as `/-desk/edit` takes it."""
    return answer_edit(desk.writer, desk.guide, {**asked, "value": read_typed(_text_of(asked, "text"))})


def read_typed(text: str) -> Plain:
    """What a text says as a value; raises RefusedError where it cannot be read."""
    notes = Notes()
    lines = "".join(f"  {line}\n" for line in text.split("\n"))
    block = read_block(f"value:\n{lines}", "", notes)
    error = next((finding for finding in notes.findings if finding.level is Level.ERROR), None)
    if block is None or error is not None:
        raise RefusedError(f"{error.message} {error.mend}".strip() if error else "This cannot be read.")
    return block.data.get("value")


def _text_of(asked: Mapping[str, Any], key: str) -> str:
    text = asked.get(key, "")
    if not isinstance(text, str):
        raise RefusedError("The page sent something that is no text. Load the page anew.")
    return text.strip() if key != "text" else text


def _guide_of(desk: Desk) -> Guide:
    if desk.guide is None:
        raise RefusedError("guide.yaml cannot be read. Mend it first.")
    return desk.guide
