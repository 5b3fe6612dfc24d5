"""Pages of the desk filled in, and the files of its look. All come with the tool: a guide's own theme has no say here."""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidebuild.desk.desk import Desk
from guidebuild.desk.guard import DESK
from guidebuild.desk.part import Part
from guidebuild.press.theme.sandbox import fill_template
from guidebuild.shipped import on_disk, themes

_LOOK = re.compile(r"[a-z_]+\.(?:css|js)")
TOKENS = "tokens.css"
"""The colours and typefaces of the site."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round each page: all parts, the name of the one shown or of another page, the token of its forms, the last news."""

    parts: tuple[Part, ...]
    name: str
    token: str
    number: int
    noted: int


def fill_page(desk: Desk, frame: Frame, view: object) -> str:
    """A page: of a part, or one of the desk's own (`missing`, `lines`)."""
    part = next((part for part in frame.parts if part.name == frame.name), None)
    told = {
        "here": frame.name,
        "heading": desk.say(part.title) if part else "",
        "title": desk.guide.settings.title if desk.guide else desk.folder.resolve().name,
        "script": f"{DESK}look/{frame.name}.js" if find_look(f"{frame.name}.js") is not None else "",
        "root": DESK,
        "undoable": bool(desk.writer.list_undoable()),
    }
    return fill_template((on_disk(themes()) / "plate",), f"desk/{frame.name}.html", desk.language, frame=frame, view=view, **told)


def find_look(name: str) -> bytes | None:
    """A style sheet or script of the desk; None where there is none."""
    folder = on_disk(themes()) / "plate"
    file = folder / "static" / name if name == TOKENS else folder / "desk" / name
    return file.read_bytes() if _LOOK.fullmatch(name) and file.is_file() else None
