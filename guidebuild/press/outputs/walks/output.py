"""The output `walks`: for each guided walk the leader's pack to print, and the event for calendars."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.press.calendars import walk_events
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.outputs.walks.pack import PackWork, render_pack
from guidebuild.press.paper.formats import UnknownFormatError, paper_named
from guidebuild.press.paper.typesetter import HAS_TYPESETTER, tell_missing
from guidebuild.views.outdoors.walk import WalkPackView, walk_pack_views

PACK = Craft("pack", "packs", cost=300.0)


def publish_walks(  # noqa: PLR0913 - what it depends on, each by its name
    guide: Published, files: Files, maker: Maker, problems: Problems, *, theme: tuple[Path, ...], today: dt.date
) -> None:
    """Everything under walks/."""
    try:
        paper = paper_named(guide.settings.paper)
    except UnknownFormatError as error:
        problems.tell(Problem("unknown-format", "guide.yaml", str(error)))
        return
    size = (paper.size.width, paper.size.height)

    def piece(pack: WalkPackView) -> Piece:
        return Piece(maker.job(PACK, render_pack, PackWork(pack, size, theme), where=f"walk {pack.id}"), (f"{pack.id}.pdf",))

    problems.tell(*tell_missing())
    if HAS_TYPESETTER:
        maker.make(map(piece, walk_pack_views(guide)))
    for path, data in walk_events(guide, files.read_standing, today):
        files.add(path, data)
