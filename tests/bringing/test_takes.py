"""Captions of takes: filed under the script that was spoken, by its id or by the names of its species and kind."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.bringing.doing import do_bringing
from guidebuild.bringing.planning import plan_bringing
from guidebuild.session import read_for_draft

TAKE = "WEBVTT\n\n00:00.000 --> 00:02.000\nHere she stands.\n"


@pytest.fixture
def shore(tmp_path: Path) -> Path:
    folder = tmp_path / "shore"
    (folder / "accounts").mkdir(parents=True)
    kinds = "episodes: [{name: short, length: 60–90 s}, {name: full, length: 3:00–5:00}]"
    (folder / "guide.yaml").write_text(f"title: Shore\nlanguages: [en]\ngroup: bird\n{kinds}\n", encoding="utf-8")
    (folder / "accounts/redshank.md").write_text("---\nname: Tringa totanus\nvernacular: Redshank\n---\n", encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("redshank-full.vtt", "takes/redshank-full.vtt"),
        ("redshank-full-take 12.vtt", "takes/redshank-full.vtt"),
        ("Redshank full.srt", "takes/redshank-full.srt"),
        ("Tringa totanus.vtt", "takes/redshank-short.vtt"),
        ("redshank/take 3.vtt", "takes/redshank-short.vtt"),
    ],
)
def test_a_take_is_filed_under_its_script(shore: Path, tmp_path: Path, name: str, file: str) -> None:
    take = tmp_path / "film" / name
    take.parent.mkdir(parents=True)
    take.write_text(TAKE if name.endswith("vtt") else "1\n00:00:00,000 --> 00:00:02,000\nHere she stands.\n", encoding="utf-8")
    planned = plan_bringing(shore, read_for_draft(shore), [tmp_path / "film"])
    assert [coming.file for coming in planned.plan.files] == [file]
    do_bringing(shore, planned.plan)
    assert (shore / file).read_bytes() == take.read_bytes()


def test_a_second_take_stands_beside_the_first(shore: Path, tmp_path: Path) -> None:
    for name in ("redshank-full.vtt", "redshank-full 2.vtt"):
        (tmp_path / name).write_text(TAKE, encoding="utf-8")
        do_bringing(shore, plan_bringing(shore, read_for_draft(shore), [tmp_path / name]).plan)
    assert sorted(path.name for path in (shore / "takes").iterdir()) == ["redshank-full-2.vtt", "redshank-full.vtt"]


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("knot-full.vtt", TAKE, "no script is known by its name; call it as its script, such as redshank-short"),
        ("redshank-full.vtt", "no captions at all", "holds no captions that can be read"),
        ("redshank-full.srt", "", "holds no captions that can be read"),
    ],
)
def test_what_is_no_take_of_this_guide_is_told(shore: Path, tmp_path: Path, name: str, text: str, told: str) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")
    plan = plan_bringing(shore, read_for_draft(shore), [tmp_path / name]).plan
    assert plan.files == ()
    assert told in plan.unused[0].why
