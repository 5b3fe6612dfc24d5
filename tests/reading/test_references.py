"""Old names still lead to the account (invented guides; the pairs of names are those of case A10)."""

from __future__ import annotations

from pathlib import Path

from guidebuild.guide.guide import Guide
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files


def guide(folder: Path) -> Guide:
    files = {
        "guide.yaml": "title: Toads\n",
        "accounts/natterjack.md": "---\nname: Epidalea calamita\nsynonyms: [Bufo calamita]\nformerly: [running-toad]\n---\n",
        "accounts/stonechat.md": "---\nname: Saxicola torquatus\nsynonyms: Saxicola torquata\nvernacular: Stonechat\n---\n",
        "accounts/toad.md": "---\nname: Bufo bufo\nsimilar:\n  - account: Bufo calamita\n  - running-toad\n  - Saxicola torquata\n"
        "  - Bufo nusquam\n---\n",
        "accounts/toad.en.md": "---\nsimilar: {Bufo calamita: smaller}\n---\n",
        "photos.yaml": "a: {account: stonechat}\nb: {account: Saxicola  torquata}\nc: {}\n",
        "episodes/first.md": "---\ntitle: First\naccount: Stonechat\n---\n## Opening\nHello.\n",
    }
    read = read_guide(write_files(folder, files)).guide
    assert read is not None
    return read


def test_old_names_lead_to_the_account(tmp_path: Path) -> None:
    read = guide(tmp_path)
    assert [s.account for s in read.accounts["toad"].similar] == ["natterjack", "natterjack", "stonechat", "Bufo nusquam"]
    assert read.accounts["toad"].translations[0].similar_notes == (("natterjack", Inline("smaller")),)
    assert [photo.account for photo in read.photos.values()] == ["stonechat", "stonechat", ""]
    assert read.episodes["first"].account == "stonechat"


def test_places_in_the_file_are_kept(tmp_path: Path) -> None:
    similar = guide(tmp_path).accounts["toad"].similar
    assert [s.at.line for s in similar] == [4, 5, 6, 7]
    assert similar.said


def test_a_place_named_as_a_habitat_is_a_place_and_a_kind_written_like_an_id_gets_its_words(tmp_path: Path) -> None:
    files = {
        "guide.yaml": "title: Toads\n",
        "places.yaml": "mill-pond: {name: Mill Pond, habitat: [wet wood]}\nlane: {name: The Lane}\n",
        "accounts/toad.md": "---\nname: Bufo bufo\nhabitat: [mill-pond, wet-wood, garden]\nplaces: [lane]\n---\n",
    }
    read = read_guide(write_files(tmp_path, files)).guide
    assert read is not None
    assert tuple(h.words for h in read.accounts["toad"].habitat) == ("mill-pond", "wet wood", "garden")
    assert read.accounts["toad"].places == ("lane", "mill-pond")
