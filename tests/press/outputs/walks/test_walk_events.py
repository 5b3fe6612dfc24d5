"""The events of walks, published again and again: what stands is kept, what changed is a correction."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from icalendar import Calendar

from guidebuild.guide.guide import Guide
from guidebuild.press.engine.progress import Silence
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from tests.fieldwork.invented import WALK, guide


def published(folder: Path, walked: Guide, today: dt.date, *outputs: str) -> dict[str, tuple[int, str]]:
    """Sequence and stamp of each file of the walk, by its output."""
    outcome = publish(folder, walked, today=today, progress=Silence(), wishes=Wishes(outputs=outputs, workers=1)).outcome
    assert outcome is not None
    found = {}
    for output, path in (("walks", "walks"), ("site", "site/walks")):
        file = folder / "published" / path / f"{WALK.id}.ics"
        if file.exists():
            (event,) = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
            found[output] = int(event["sequence"]), event["dtstamp"].dt.date().isoformat()
    return found


def test_a_walk_is_corrected_wherever_its_event_stands(tmp_path: Path) -> None:
    walked = replace(guide(), walks={WALK.id: WALK})
    assert published(tmp_path, walked, dt.date(2026, 5, 2), "walks") == {"walks": (0, "2026-05-02")}
    assert published(tmp_path, walked, dt.date(2026, 5, 9), "walks") == {"walks": (0, "2026-05-02")}
    later = replace(walked, walks={WALK.id: replace(WALK, start=dt.time(19, 0))})
    both = published(tmp_path, later, dt.date(2026, 5, 16), "site", "walks")
    assert both == {"walks": (1, "2026-05-16"), "site": (1, "2026-05-16")}
