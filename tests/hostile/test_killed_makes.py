"""A make that is killed, workers and all, leaves the former output or the new one, and stops no other make.

`GUIDEBUILD_KILLS=200` kills as many; without it a few.
"""

from __future__ import annotations

import os
import random
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.hostile.real_make import LONGEST, fingerprint, holder, running, session, until
from tests.hostile.small_guide import change, write_small

KILLS = int(os.environ.get("GUIDEBUILD_KILLS", "16"))
TITLES = ("Beetles of a back yard", "Beetles of the other yard")
MANIFEST = ".guidebuild-manifest.json"

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills need processes that fork")


@dataclass(frozen=True)
class Kitchen:
    """A guide of two versions, all that each publishes, and a process that starts makes quickly."""

    guide: Path
    known: tuple[dict[str, str], ...]
    starter: subprocess.Popen[bytes]

    def start(self) -> int:
        """Begin a make; the number of its process and session."""
        assert self.starter.stdin is not None
        self.starter.stdin.write(f"make {self.guide} site data --quiet --workers 2\n".encode())
        return self._answer(LONGEST) or 0

    def answers(self, seconds: float = 0) -> bool:
        """Whether the starter has another line to read, or has within this time."""
        return bool(select.select([self.starter.stdout], [], [], seconds)[0])

    def _answer(self, seconds: float) -> int | None:
        """The next line of the starter, or nothing where it does not come in time."""
        assert self.starter.stdout is not None
        return int(self.starter.stdout.readline()) if self.answers(seconds) else None

    def finish(self) -> int:
        """How the make ended."""
        code = self._answer(LONGEST)
        assert code is not None, "it never ended"
        return code

    def killed_within(self, process: int, seconds: float) -> bool:
        """Kill a make and its workers if it has not ended by itself in this time; false where it had."""
        code = self._answer(seconds)
        if code is None:
            os.killpg(process, signal.SIGKILL)
            code = self.finish()
        assert code in (0, -signal.SIGKILL), (self.guide.parent / "told").read_text()
        return code != 0

    def turn(self, version: int) -> None:
        """Make the guide that of a version."""
        change(self.guide, "guide.yaml", TITLES[1 - version], TITLES[version])


@pytest.fixture(scope="module")
def kitchen(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Kitchen]:
    folder = tmp_path_factory.mktemp("killed")
    guide = write_small(folder / "guide")
    arguments = [sys.executable, "-m", "tests.hostile.warm_make"]
    with (
        (folder / "told").open("wb") as told,
        running(arguments, stdin=subprocess.PIPE, stderr=told, text=False, bufsize=0) as starter,
    ):
        kitchen = Kitchen(guide, ({}, {}), starter)
        kitchen.start()
        assert kitchen.finish() == 0
        (guide / "published/CNAME").write_text("the author's own")
        kitchen.known[0].update(fingerprint(guide / "published"))
        kitchen.turn(1)
        kitchen.start()
        assert kitchen.finish() == 0
        kitchen.known[1].update(fingerprint(guide / "published"))
        yield kitchen


def begun(kitchen: Kitchen, process: int, how: int) -> None:
    """Wait for the moment from which on a make is to be killed: it has the lock, or has written something, or all but the last step."""
    coming = kitchen.guide / ".guidebuild/published.coming"
    moments = (lambda: True, coming.exists, (coming / MANIFEST).exists)
    until(lambda: (holder(kitchen.guide) == process and moments[how]()) or kitchen.answers(), kitchen.starter)


def test_a_kill_at_any_moment_leaves_one_whole_version_and_the_next_make_succeeds(kitchen: Kitchen) -> None:
    draw = random.Random()
    guide, now, killed, longest = kitchen.guide, 1, 0, 1.0
    for number in range(KILLS):
        now = 1 - now
        kitchen.turn(now)
        if number % 8 == 7:  # nothing is there from before, so that workers are started
            shutil.rmtree(guide / ".guidebuild/store")
        process = kitchen.start()
        since = time.monotonic()
        begun(kitchen, process, number % 3)
        killed += kitchen.killed_within(process, 0 if number % 3 else draw.uniform(0, longest))
        longest = max(longest, time.monotonic() - since)
        stands = fingerprint(guide / "published")
        assert stands in kitchen.known, sorted(stands.items() ^ kitchen.known[now].items())
        assert session(process) == []
        if number % 4 == 2 or number == KILLS - 1:
            kitchen.start()
            assert kitchen.finish() == 0
            assert fingerprint(guide / "published") == kitchen.known[now]
    assert killed > KILLS // 4
    left = {path.name for path in (guide / ".guidebuild").iterdir()}
    assert not {name for name in left if name.endswith((".coming", ".former"))}, left
