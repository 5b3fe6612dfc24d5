"""The finished files of a sensitive species tell no exact position, not even of a place that is open for others. All is invented."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.press.leak_check import hold_apart
from guidebuild.press.leak_scan import file_leaks
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide

OWN = [
    "site/accounts/rare-bug.html",
    "site/es/accounts/rare-bug.html",
    "cards/rare-bug.pdf",
    "scripts/rare-bug-short.md",
    "posts/rare-bug/long.txt",
]
OTHERS = ["site/accounts/parent-bug.html", "site/index.html", "site/places/north-hedge.html", "scripts/rare-bug-of-the-vale-short.md"]
# North Hedge is open: 51.1034, −1.3121. The Rare Bug is kept to 0.1°.
EXACT = b"Seen at 51.1034, -1.3121 and at SU 4821 3403."


def held(*others: str):
    more = [replace(BIRCH, id=ident) for ident in others]
    return guide(PARENT, BIRCH, RARE, *more)


def leaks_of(path: str, content: bytes) -> list[str]:
    made = held("rare-bug-of-the-vale")
    return [problem.message for secrets in hold_apart(made, path) for problem in file_leaks(path, content, secrets)]


@pytest.mark.parametrize("path", OWN)
def test_an_exact_position_of_an_open_place_stops_a_file_of_a_sensitive_species(path: str) -> None:
    assert list(file_leaks(path, b"Seen at 51.1034, -1.3121.", secrets_of(held()))) == []
    assert leaks_of(path, EXACT)[0].startswith(
        "The position “51.1034, -1.3121” gives away the secret place “North Hedge with the Rare Bug”."
    )
    assert len(leaks_of(path, EXACT)) >= 2
    assert leaks_of(path, b"Seen at 51.1, -1.3, near the North Hedge.") == []


@pytest.mark.parametrize("path", OTHERS)
def test_files_of_other_species_may_tell_it(path: str) -> None:
    assert leaks_of(path, EXACT) == []


def test_where_nothing_is_secret_no_file_is_looked_through_twice() -> None:
    assert list(hold_apart(guide(PARENT, BIRCH, places={}), "site/accounts/parent-bug.html")) == []
