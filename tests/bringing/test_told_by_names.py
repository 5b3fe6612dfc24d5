"""What names of files and folders say of a picture, and what they must not be taken to say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.bringing.told_by_names import NameReader
from guidebuild.guide.guide import Guide
from guidebuild.session import read_for_draft

_ACCOUNTS = {
    "ringed-plover": ("Charadrius hiaticula", "Ringed Plover"),
    "redshank": ("Tringa totanus", "Redshank"),
    "spotted-redshank": ("Tringa erythropus", "Spotted Redshank"),
    "wheatear": ("Oenanthe oenanthe", "Wheatear"),
    "old-wives-tern": ("Sterna hirundo", "Old Wife's Tern"),
    "storch": ("Ciconia ciconia", "Weißstorch"),
}


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Guide:
    folder = tmp_path_factory.mktemp("names")
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: Shore\nlanguages: [en]\ngroup: bird\n", encoding="utf-8")
    (folder / "places.yaml").write_text("sea-wall:\n  name: Sea wall\n", encoding="utf-8")
    for account, (name, vernacular) in _ACCOUNTS.items():
        (folder / f"accounts/{account}.md").write_text(f"---\nname: {name}\nvernacular: {vernacular}\n---\n", encoding="utf-8")
    return read_for_draft(folder)


@pytest.mark.parametrize(
    ("names", "account", "stage", "sex"),
    [
        (("IMG_0012", "redshank"), "redshank", "", ""),
        (("Tringa totanus 2",), "redshank", "", ""),
        (("tringa_totanus-3_adult",), "redshank", "adult", ""),
        (("RedshankJuvenile2026",), "redshank", "juvenile", ""),
        (("Spotted Redshank", "redshank"), "spotted-redshank", "", ""),
        (("DSCF1234", "male", "Wheatear"), "wheatear", "", "male"),
        (("wheatear ♀ adult",), "wheatear", "adult", "female"),
        (("juvenile 4", "Ringed Plovers"), "ringed-plover", "juvenile", ""),
        (("2026-05-03 sea wall redshank feeding",), "redshank", "", ""),
        (("Old Wife’s Tern",), "old-wives-tern", "", ""),
        (("old wifes tern",), "old-wives-tern", "", ""),
        (("Weissstorch 3",), "storch", "", ""),
        (("adult, juvenile redshank",), "redshank", "", ""),
        (("PXL_20260503_101500",), "", "", ""),
        (("Redshankling",), "", "", ""),
        (("adult",), "", "", ""),
    ],
)
def test_what_names_say(guide: Guide, names: tuple[str, ...], account: str, stage: str, sex: str) -> None:
    said = NameReader(guide).read(names)
    assert (said.account, said.stage, said.sex) == (account, stage, sex)
    assert said.likely == ""


@pytest.mark.parametrize(
    "name", ["Little Ringed Plover 1", "pied wheatear", "not a redshank", "Dusky Redshank juvenile", "Common redshank?"]
)
def test_a_word_before_a_name_may_make_it_another_species(guide: Guide, name: str) -> None:
    said = NameReader(guide).read((name,))
    assert said.account == ""
    assert said.likely in {"ringed-plover", "wheatear", "redshank"}


def test_where_such_words_follow_the_name_they_count_too(guide: Guide) -> None:
    """In Spanish, French and Latin what makes another species of a name stands behind it."""
    spanish = replace(guide, settings=replace(guide.settings, languages=("es",)))
    assert NameReader(guide).read(("redshank feeding",)).account == "redshank"
    assert NameReader(spanish).read(("redshank oscuro",)).account == ""
    assert NameReader(spanish).read(("redshank 3",)).account == "redshank"


def test_two_species_of_one_name_are_only_perhaps_meant(guide: Guide, tmp_path: Path) -> None:
    other = replace(guide.accounts["redshank"], id="other", vernacular="Redshank")
    said = NameReader(replace(guide, accounts={**guide.accounts, "other": other})).read(("redshank",))
    # The account whose id it is, among those that are called so.
    assert said.account == ""
    assert said.likely in {"redshank", "other"}
