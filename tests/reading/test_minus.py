"""No number of a guide is below 0 but latitudes and longitudes: a minus is a finding, never overlooked."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.guide.findings import Finding
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files

# Each file up to the line in question, and the lines that may be asked of it; `~` is where a minus is put.
FILES: dict[str, tuple[str, list[str]]] = {
    "guide.yaml": (
        "title: Toads\n",
        [
            "bleed: ~3 mm",
            "bleed: ~1/8 in",
            "review after: ~36 months",
            "review after: ~3",
            "posts: [{name: short, characters: ~280}]",
            "posts: [{name: short, characters: 280, link cost: ~23}]",
            "posts: [{name: short, characters: 280, hashtags: ~3}]",
            "episodes: [{name: short, length: ~60 s}]",
            "episodes: [{name: short, length: ~60–90 s}]",
            "episodes: [{name: short, length: 60 to ~90 s}]",
            "episodes: [{name: short, length: ~4:30}]",
            "pace: {syllables: ~4.2}",
            "pace: {comma: ~0.2}",
            "pace: {sentence: ~0.5}",
            "pace: {paragraph: ~1.1}",
        ],
    ),
    "accounts/toad.md": (
        "---\nname: Bufo bufo\n",
        [
            "size: ~3 mm\n---",
            "size: ~6–9 mm\n---",
            "size: 6 to ~9 mm\n---",
            "size: body length ~3 mm\n---",
            "size: male 10–12, female ~13–18 mm\n---",
            "characters: {length: ~6 mm}\n---",
            "characters: {eggs: ~20}\n---",
        ],
    ),
    "characters.yaml": (
        "length: {label: body length, kind: range, unit: mm}\neggs: {label: eggs, kind: range}\n",
        [f"more: {{label: more, kind: range, margin: ~{margin}}}" for margin in ("0.5 mm", "2 g", "1")],
    ),
    "places.yaml": ("", [f'pond: {{name: Pond, position: "51.1, -1.3", uncertainty: ~{metres}}}' for metres in ("50 m", "50")]),
    "photos.yaml": (
        "",
        [
            "toad: {file: photos/toad.jpg, length: ~15 mm}",
            'toad: {file: photos/toad.jpg, focus: "~52, 38"}',
            'toad: {file: photos/toad.jpg, measured: "20, ~50 – 80, 50"}',
        ],
    ),
    "walks/dawn.yaml": (
        "title: Dawn\ndate: 2026-05-02\nstart: 9:30\n",
        [
            "length: ~90 min",
            "minutes: ~90",
            "minutes: ~1:30 h",
            "stops: [{place: pond, minutes: ~15}]",
            "stops: [{place: pond, metres: ~50}]",
            "stops: [{place: pond, metres: ~1.2 km}]",
        ],
    ),
    "episodes/one.md": ("---\ntitle: One\naccount: toad\n", ["length: ~60–90 s\n---\n## Start\nA toad."]),
}
ASKED = [(file, line) for file, (_, lines) in FILES.items() for line in lines]


def told(folder: Path, file: str, line: str) -> tuple[Finding, ...]:
    texts = {
        "guide.yaml": "title: Toads\n",
        "accounts/toad.md": "---\nname: Bufo bufo\n---\n",
        "characters.yaml": FILES["characters.yaml"][0],
    }
    return read_guide(write_files(folder, {**texts, file: f"{FILES[file][0]}{line}\n"})).findings


@pytest.mark.parametrize(("file", "line"), ASKED)
def test_a_minus_is_told_at_its_line(tmp_path: Path, file: str, line: str) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/toad.jpg").write_bytes(b"")
    assert told(tmp_path, file, line.replace("~", "")) == ()
    for minus in "-−":
        (finding,) = told(tmp_path, file, line.replace("~", minus))
        assert (finding.at.file, finding.at.line) == (file, FILES[file][0].count("\n") + 1)
        assert minus in finding.message
        assert finding.mend


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("-3 mm", "'-3 mm' has a minus, and nothing measures less than 0."),
        ("500 mm", "A bleed of 500 mm is too much: it is at most 10 mm."),
    ],
)
def test_a_bleed_that_no_printer_asks_for_is_told(tmp_path: Path, typed: str, words: str) -> None:
    (finding,) = told(tmp_path, "guide.yaml", f"bleed: {typed}")
    assert str(finding) == f"guide.yaml:2:8: error: {words} Write 3 mm or 1/8 in, as printers ask for, or 0 for none."
