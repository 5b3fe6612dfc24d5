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
    """What stands round each page: all parts, the one shown (None: there is no such page), the token of its forms, the last news."""

    parts: tuple[Part, ...]
    part: Part | None
    token: str
    number: int
    noted: int


def fill_page(desk: Desk, frame: Frame, view: object) -> str:
    """A page of a part; without a part, that there is none."""
    name = frame.part.name if frame.part else "missing"
    told = {
        "here": name,
        "heading": desk.say(frame.part.title if frame.part else "There is no such page"),
        "title": desk.guide.settings.title if desk.guide else desk.folder.resolve().name,
        "script": f"{DESK}look/{name}.js" if find_look(f"{name}.js") is not None else "",
        "root": DESK,
    }
    return fill_template((on_disk(themes()) / "plate",), f"desk/{name}.html", desk.language, frame=frame, view=view, **told)


def find_look(name: str) -> bytes | None:
    """A style sheet or script of the desk; None where there is none."""
    folder = on_disk(themes()) / "plate"
    file = folder / "static" / name if name == TOKENS else folder / "desk" / name
    return file.read_bytes() if _LOOK.fullmatch(name) and file.is_file() else None
