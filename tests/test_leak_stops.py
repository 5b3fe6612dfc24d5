"""A secret that would get out stops publishing: exit 1, and what stood there before still stands, to the byte."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code

PLACES = """otter-holt:
  name: Otter Holt
  area: the lower valley
  position: "51.12345, -1.23456"
  sensitive: {category: extreme, reason: disturbance, review: 2031-01-01}
"""


def standing(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("leak", ["Meet at Otter Holt.", "51.12345, -1.23456", "51°07'24.4\"N 1°14'04.4\"W"])
def test_a_leak_stops_the_run_and_leaves_the_former_output(starter: Path, leak: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["make", str(starter), "site", "--workers", "1", "--quiet"]) == 0
    before = standing(starter / "published")
    (starter / "places.yaml").write_text(PLACES, encoding="utf-8")
    static = starter / "theme/static"
    static.mkdir(parents=True)
    (static / "notes.txt").write_text(leak, encoding="utf-8")
    capsys.readouterr()
    assert exit_code(["make", str(starter), "site", "--workers", "1", "--quiet"]) == 1
    told = capsys.readouterr().err
    assert "would give a secret away" in told
    assert "Nothing is published: what stood there before still stands." in told
    assert standing(starter / "published") == before
    (static / "notes.txt").write_text("Meet in the lower valley.", encoding="utf-8")
    assert exit_code(["make", str(starter), "site", "--workers", "1", "--quiet"]) == 0
    assert (starter / "published/site/assets/notes.txt").read_text(encoding="utf-8") == "Meet in the lower valley."
