"""The printed key and the comparison sheets: what stands on paper, in which order, and that it passes as PDF/UA."""

from __future__ import annotations

from pathlib import Path

from guidebuild.press.formats import paper_named
from guidebuild.shipped import on_disk, themes

THEME = (on_disk(themes().joinpath("plate")),)
A4, LETTER = paper_named("a4").size, paper_named("letter").size
SAMPLE = Path(__file__).parents[2] / "sample_guide"
RUNNING_FOOT = "PAG-001"
"""The title at the foot of each page."""
