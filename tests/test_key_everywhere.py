"""The key runs out every species alike on the site, in the terminal and on paper; two that coincide are named by `check`."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pdfplumber
import pytest
from bs4 import BeautifulSoup

from guidebuild.cli import exit_code
from guidebuild.reading.whole import read_guide
from tests.conftest import NOT_COPIED, SAMPLE

WIDE = "400"
"""Columns, so that no lead of a key is broken."""


@pytest.fixture(scope="module")
def names() -> set[str]:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    assert len(guide.accounts) >= 14
    return {account.vernacular for account in guide.accounts.values()}


def on_the_page(file: Path) -> dict[str, str]:
    """What each lead of the key's page leads to, by "3b"."""
    soup = BeautifulSoup(file.read_text(encoding="utf-8"), "html.parser")
    found = {}
    for couplet in soup.select("section.couplet"):
        for lead in couplet.select("li"):
            way = lead.select_one("a.to")
            ends = [" ".join(link.get_text().split()) for link in lead.select(".ends a")]
            found[f"{couplet['id'].removeprefix('c')}{lead.b.get_text()}"] = way.get_text() if way else ", ".join(ends)
    return found


def in_the_terminal(text: str) -> dict[str, str]:
    return dict(re.findall(r"^\s*(\d+[a-z])\b.*→ (.+?)$", text, re.MULTILINE))


def names_on_paper(file: Path) -> dict[str, str]:
    """Leads that end at a name, from the printed list of where each comes out."""
    with pdfplumber.open(file) as pdf:
        text = "\n".join(page.extract_text(x_tolerance=1.2) for page in pdf.pages)
    listed = text[text.index("Where each comes out") : text.index("Species: ")]
    told = re.findall(r"([A-Z][\w ]+?) [A-Z][a-z]+ [a-z]+ (\d+[a-z](?:, \d+[a-z])*)", listed)
    return {lead: name for name, leads in told for lead in leads.split(", ")}


@pytest.mark.slow
def test_every_species_comes_out_at_the_same_lead_everywhere(
    sample_published: Path, names: set[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", WIDE)
    assert exit_code(["key", "--in", str(SAMPLE)]) == 0
    told = in_the_terminal(capsys.readouterr().out)
    assert {goal for goal in told.values() if not goal.isdigit()} == names
    assert on_the_page(sample_published / "published/site/key.html") == told
    assert names_on_paper(sample_published / "published/cards/key.pdf") == {lead: goal for lead, goal in told.items() if goal in names}


@pytest.mark.parametrize("layout", ["indented", "bracketed"])
def test_both_layouts_run_out_every_species(
    layout: str, names: set[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", WIDE)
    assert exit_code(["key", "--layout", layout, "--in", str(SAMPLE)]) == 0
    told = in_the_terminal(capsys.readouterr().out)
    assert {goal for goal in told.values() if not goal.isdigit()} == names
    assert {int(goal) for goal in told.values() if goal.isdigit()} == set(range(2, len(told) // 2 + 1))


def test_one_state_swapped_makes_check_name_the_pair(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy = tmp_path / "guide"
    shutil.copytree(SAMPLE, copy, ignore=NOT_COPIED)
    account = copy / "accounts/juniper-shieldbug.md"
    text = account.read_text(encoding="utf-8")
    assert "wing pattern: pink-curves" in text
    account.write_text(text.replace("wing pattern: pink-curves", "wing pattern: red-bars"), encoding="utf-8")
    assert exit_code(["check", str(copy)]) == 1
    told = capsys.readouterr().out
    assert "Nothing under `characters:` tells Birch Shieldbug from Juniper Shieldbug." in told
    assert "[nothing-separates]" in told
