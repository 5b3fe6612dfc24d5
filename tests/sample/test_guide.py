"""The sample guide is complete, consistent and silent under its own checks."""

from __future__ import annotations

import pytest

from guidebuild.checks.registry import check_guide
from guidebuild.guide.characters import CharacterKind
from guidebuild.guide.guide import Guide
from guidebuild.identify.separation import find_separations
from guidebuild.reading.whole import read_guide
from tests.sample.drawings import SAMPLE


@pytest.fixture(scope="module")
def guide() -> Guide:
    reading = read_guide(SAMPLE)
    assert [str(finding) for finding in reading.findings] == []
    assert reading.guide is not None
    return reading.guide


def test_nothing_is_found_by_the_checks(guide: Guide) -> None:
    assert [str(finding) for finding in check_guide(guide, ()).findings] == []


def test_it_shows_what_the_tool_is_for(guide: Guide) -> None:
    accounts = guide.accounts.values()
    assert len(accounts) >= 15
    assert sum(bool(account.prey) for account in accounts) >= 3
    assert any(account.recent for account in accounts)
    assert any(account.sensitivity.category for account in accounts)
    assert any(place.sensitivity.category for place in guide.places.values())
    assert sum(bool(account.translations) for account in accounts) == 2
    assert len(guide.walks) == 2
    assert guide.episodes
    assert {character.kind for character in guide.characters.values()} == set(CharacterKind)


def test_every_account_scores_every_character(guide: Guide) -> None:
    for account in guide.accounts.values():
        assert {score.character for score in account.scores} == set(guide.characters), account.id


def test_similar_species_name_each_other(guide: Guide) -> None:
    pairs = {(account.id, other.account) for account in guide.accounts.values() for other in account.similar}
    assert len(pairs) > 20
    assert {(b, a) for a, b in pairs} == pairs


def test_each_character_given_to_tell_two_apart_does_so(guide: Guide) -> None:
    for account in guide.accounts.values():
        for other in account.similar:
            found = find_separations(guide, account.id, other.account)
            told = {difference.character.id for difference in found}
            assert set(other.tell_by) <= told, (account.id, other.account, sorted(told))


def test_pictures_are_described_by_more_than_their_name(guide: Guide) -> None:
    for photo in guide.photos.values():
        assert len(photo.alt.words.split()) >= 8, photo.id
        if photo.account:
            assert guide.accounts[photo.account].vernacular.casefold() not in photo.alt.words.casefold(), photo.id
