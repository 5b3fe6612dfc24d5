"""A guide that stays read: its checks stop where an edit waits, and what they find afterwards is what fresh checks find."""

from __future__ import annotations

import datetime as dt
import os
import random
from pathlib import Path

import pytest

from guidebuild.checks.registry import RULES
from guidebuild.press.preview.board import OvertakenError
from guidebuild.reading.whole import read_guide
from guidebuild.resident import Resident
from guidebuild.session import check_reading
from tests.guides.whole_guides import NAMES
from tests.reading.test_memory import copy_texts, edit

TODAY = dt.date(2026, 6, 1)
SEQUENCES = max(int(os.environ.get("GUIDEBUILD_EDITS", "8")) // 4, 2)
EDITS = 4


@pytest.mark.parametrize("seed", range(SEQUENCES))
def test_checks_that_gave_way_are_forgotten(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    monkeypatch.setattr("guidebuild.resident.find_today", lambda: TODAY)
    chance = random.Random(seed)
    folder = copy_texts(NAMES[seed % len(NAMES)], tmp_path)
    with Resident(folder) as resident:
        resident.follow(frozenset())
        for _ in range(EDITS):
            left, before = [chance.randrange(len(RULES))], resident.findings
            done = [edit(folder, chance) for _ in range(chance.randint(1, 3))]
            resident.follow(frozenset())

            def is_overtaken(left: list[int] = left) -> bool:
                left[0] -= 1
                return left[0] < 0

            if resident.guide is None:
                continue
            with pytest.raises(OvertakenError):
                resident.find_notes(is_overtaken)
            assert resident.findings == before
            if chance.random() < 0.5:
                done.append(edit(folder, chance))
                resident.follow(frozenset())
            resident.find_notes()
            fresh = read_guide(folder, as_of=TODAY)
            assert resident.findings == (check_reading(folder, fresh).report.findings if fresh.guide else fresh.findings), done
