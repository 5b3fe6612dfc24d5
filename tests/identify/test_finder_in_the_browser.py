"""The page's own script ranks exactly as the reference in Python does, on many invented tables."""

from __future__ import annotations

import json
import random
import shutil
import subprocess
from pathlib import Path

import pytest

from guidebuild.guide.characters import Ease
from guidebuild.identify.finder import finder_table, rank_taxa
from tests.identify.invented import account, guide, shows, states

SCRIPT = Path(__file__).parents[2] / "themes" / "plate" / "static" / "finder.js"
PROGRAM = """
require(process.argv[1]);
const cases = JSON.parse(require("fs").readFileSync(0, "utf8"));
console.log(JSON.stringify(cases.map(([table, ticks, far]) => globalThis.guideFinder.rank(table, ticks, far))));
"""


def invented_case(draw: random.Random):
    letters = "abcdef"
    made = [
        states(f"c{n}", ease=draw.choice(list(Ease)), **{s: s for s in letters[: draw.randint(2, 6)]}) for n in range(draw.randint(2, 7))
    ]

    def value(character) -> str:
        ids = [s.id for s in character.states]
        one, other = draw.choice(ids), draw.choice(ids)
        return draw.choice([one, one, one, f"{one} {other}", f"{one} ({other})", "?", "-"])

    taxa = [account(f"T{n}", *(shows(c, value(c)) for c in made)) for n in range(draw.randint(2, 15))]
    table = finder_table(guide(tuple(made), *taxa))
    ticks = {c: draw.randint(1, 2 ** len(character.states) - 1) for c, character in enumerate(table.characters) if draw.random() < 0.4}
    return table, ticks, [draw.randint(0, 3) for _ in table.taxa] if draw.random() < 0.7 else []


@pytest.mark.skipif(shutil.which("node") is None, reason="needs node, which comes with the browser tests")
def test_the_script_and_the_reference_agree() -> None:
    draw = random.Random(11)
    cases = [invented_case(draw) for _ in range(400)]
    sent = json.dumps([[table.plain(), ticks, far] for table, ticks, far in cases])
    done = subprocess.run(["node", "-e", PROGRAM, str(SCRIPT)], input=sent, capture_output=True, text=True, check=True)
    for (table, ticks, far), got in zip(cases, json.loads(done.stdout), strict=True):
        wanted = rank_taxa(table, ticks, far)
        assert [(table.taxa[f["taxon"]], tuple(f["against"]), f["fits"]) for f in got["left"]] == [
            (f.taxon, f.against, f.fits) for f in wanted.left
        ]
        assert tuple(got["next"]) == wanted.next
    assert sum(bool(ticks) for _, ticks, _ in cases) > 300
