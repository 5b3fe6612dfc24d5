"""Guides of birds, flowers, fungi and frogs are read and checked, and give the findings written down for them and no others."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.session import open_session
from tests.guides.whole_guides import HERE, NAMES, copy_guide

STAGES = {
    "estuary-waders": ("juvenile", "winter", "breeding"),
    "southern-frogs": ("egg", "larva", "juvenile", "adult"),
    "spring-flowers": ("seedling", "leaf", "bud", "flower", "fruit", "seed"),
    "wood-fungi": ("button", "fresh", "old"),
}
SPECIES = {"estuary-waders": 6, "southern-frogs": 5, "spring-flowers": 6, "wood-fungi": 6}
ON_A_DAY = "1795824000"  # 2026-11-28: a review does not grow old while nobody looks


def findings_of(folder: Path, capsys: pytest.CaptureFixture[str]) -> list[str]:
    exit_code(["check", str(folder), "--format", "json"])
    told = json.loads(capsys.readouterr().out)["findings"]
    return [f"{f['file']}:{f['line']}: {f['level']}: {f['message']} [{f['code']}]" for f in told]


def written_down(name: str) -> list[str]:
    lines = (HERE / "findings" / f"{name}.txt").read_text("utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


@pytest.mark.parametrize("name", NAMES)
def test_a_check_gives_the_findings_written_down(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", ON_A_DAY)
    assert findings_of(copy_guide(name, tmp_path), capsys) == written_down(name)


def test_a_fault_in_a_guide_is_a_finding_more(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = copy_guide("wood-fungi", tmp_path)
    account = folder / "accounts" / "deathcap.md"
    account.write_text(account.read_text("utf-8").replace("family: Amanitaceae\n", ""), "utf-8")
    assert [line for line in findings_of(folder, capsys) if "does not give family" in line]


@pytest.mark.parametrize("name", NAMES)
def test_a_guide_is_read_whole(name: str, tmp_path: Path) -> None:
    guide = open_session(copy_guide(name, tmp_path)).guide
    assert len(guide.accounts) == SPECIES[name]
    assert {guide.stage_set(account).ids for account in guide.accounts.values()} == {STAGES[name]}
    assert 30 <= sum(len(tally.days) for tally in guide.sightings) <= 60
    assert len(guide.walks) == 1
    assert all(account.scores and account.photos and account.sections for account in guide.accounts.values())


@pytest.mark.parametrize("name", NAMES)
def test_every_picture_is_drawn_small_and_entered(name: str, tmp_path: Path) -> None:
    folder = copy_guide(name, tmp_path)
    drawn = {path.stem: path.stat().st_size for path in (folder / "photos").iterdir()}
    assert set(drawn) == set(open_session(folder).guide.photos)
    assert max(drawn.values()) < 20_000


def test_every_guide_of_this_folder_is_tested() -> None:
    assert sorted(path.parent.name for path in HERE.glob("*/guide.yaml")) == sorted(NAMES)
