"""The printed key and the comparison sheets: what stands on paper, in which order, and that it passes as PDF/UA."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import outloud
import pdfplumber
import pytest

from guidebuild.guide.guide import Guide
from guidebuild.press.compare_print import CompareWork, render_sheet, sheet_area
from guidebuild.press.formats import paper_named
from guidebuild.press.key_print import KeyWork, render_key
from guidebuild.reading import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.compare_sheet import compare_sheets
from guidebuild.views.key_sheet import key_sheet
from tests.identify.invented import account, character
from tests.identify.invented import guide as invented_guide

THEME = (on_disk(themes().joinpath("plate")),)
A4, LETTER = paper_named("a4").size, paper_named("letter").size
SAMPLE = Path(__file__).parents[2] / "sample_guide"
RUNNING_FOOT = "PAG-001"
"""The title at the foot of each page."""
