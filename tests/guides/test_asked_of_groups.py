"""Of a bird, a flower, a fungus and a frog is asked what one can say of them, and their accounts are complete by that."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.authoring import add_account
from guidebuild.checks.complete import PARTS, find_asked_parts, measure_completeness
from guidebuild.session import open_session
from tests.guides.whole_guides import NAMES, copy_guide

FOOD = {
    "estuary-waders": ("host plants or prey", "From which plants does it eat? Write `none` if from none."),
    "southern-frogs": ("what it eats", "What does it eat when it is grown?"),
    "wood-fungi": ("what it grows on or with", "On or with which plants does it grow? Write `none` if with none."),
    "spring-flowers": ("", ""),
}
"""What is missing where nothing is said of its food, and the question for it; a flower is not asked."""


@pytest.mark.parametrize("name", NAMES)
def test_the_accounts_of_every_guide_are_complete_by_what_their_group_asks(name: str, tmp_path: Path) -> None:
    guide = open_session(copy_guide(name, tmp_path)).guide
    for account in guide.accounts.values():
        asked = {part.code for part in find_asked_parts(guide, account, "publishable")}
        assert {part.code for part in PARTS} - asked == (set() if FOOD[name][0] else {"no-food"})
        reached = measure_completeness(guide, account)
        assert (reached.said, reached.level) == (len(asked), "publishable")


@pytest.mark.parametrize("name", NAMES)
def test_a_bare_account_has_nothing_said_for_it_but_its_name(name: str, tmp_path: Path) -> None:
    folder = copy_guide(name, tmp_path)
    add_account(folder, open_session(folder).guide, "Inventa nova", vernacular="New One")
    session = open_session(folder)
    reached = dict(session.report.completeness)["new-one"]
    missing, question = FOOD[name]
    assert reached.said == 1
    assert (missing in reached.missing) == bool(missing)
    told = [f.mend for f in session.report.findings if f.code == "no-food"]
    assert told == ([question] if question else [])
