"""The output `walks`: for each guided walk the leader's pack to print, and the event for calendars."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from guidebuild.press.calendars import walk_events
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.walks.pack import PackJob
from guidebuild.press.paper.formats import UnknownFormatError, paper_named
from guidebuild.press.run import Run, Work
from guidebuild.views.outdoors.walk import walk_pack_views

FOLDER = "walks"


def publish_walks(run: Run) -> None:
    """Everything under walks/."""
    guide = run.guide
    try:
        paper = paper_named(guide.settings.paper)
    except UnknownFormatError as error:
        run.problems.append(Problem("unknown-format", "guide.yaml", str(error)))
        return
    size = (paper.size.width, paper.size.height)

    def work() -> Iterator[Work]:
        for pack in walk_pack_views(guide):
            payload = PackJob(pack, size, run.theme_folders)
            job = run.job("pack", "guidebuild.press.outputs.walks.pack:render_pack", payload, seen=(pack, size), where=f"walk {pack.id}")
            yield Work(job, (f"{FOLDER}/{pack.id}.pdf",))

    deque(run.make(work()), maxlen=0)
    for path, data in walk_events(guide):
        run.add(f"{FOLDER}/{path}", data)
