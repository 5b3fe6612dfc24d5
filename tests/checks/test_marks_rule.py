"""Texts full of marks past all sense: told with their line, in a moment."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.checks import marks
from guidebuild.guide.findings import At
from guidebuild.guide.records import Section
from tests.fieldwork.invented import PARENT, guide


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("A bug.\n\n" + "*a* " * 6_000, 22, "This paragraph holds more than 5,000 marks."),
        ("1. " * 3_000, 20, "Lists or blocks stand more than 100 levels deep in this text."),
        ("> " * 150 + "a", 20, "Lists or blocks stand more than 100 levels deep in this text."),
    ],
)
def test_a_text_whose_marks_are_not_read_is_told(text: str, line: int, message: str) -> None:
    section = Section("In brief", text, At("accounts/parent-bug.md", 20))
    found = list(marks.MARKS_NOT_READ.run(guide(replace(PARENT, sections=(section,)))))
    assert [(str(f.at), f.message, f.account) for f in found] == [(f"accounts/parent-bug.md:{line}", message, "parent-bug")]


@pytest.mark.parametrize("text", ["| *a* | **b** |\n" * 3_000, "- *a* and *b*\n" * 3_000, "*Aus bus* was seen.\n\n" * 3_000, "a " * 9_000])
def test_tables_lists_and_long_texts_are_read(text: str) -> None:
    section = Section("In brief", text, At("accounts/parent-bug.md", 20))
    assert list(marks.MARKS_NOT_READ.run(guide(replace(PARENT, sections=(section,))))) == []
