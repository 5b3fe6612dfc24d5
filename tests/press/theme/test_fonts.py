"""The packaged typefaces and their subsets."""

import io

import pytest
from fontTools.ttLib import TTFont

from guidebuild.press.theme import fonts


def test_every_packaged_face_exists_and_draws_latin() -> None:
    for face in fonts.list_faces():
        assert face.path.is_file()
        assert fonts.find_missing(face, "Ægopodium, Čejka – 6–9 mm × “ñ”") == ""


def test_sex_signs_are_known_to_be_missing() -> None:
    assert fonts.find_missing(fonts.find_face(fonts.SERIF), "a ♂\n♀ b") == "♀♂"


def test_unknown_face_names_what_was_asked_for() -> None:
    with pytest.raises(KeyError, match="Guide Serif 950"):
        fonts.find_face(fonts.SERIF, weight=950)


def test_subset_has_only_the_signs_asked_for_and_repeats_its_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    face = fonts.find_face(fonts.SERIF, italic=True)
    first = fonts.subset_font(face, "Pentatoma")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
    assert fonts.subset_font(face, "amotatneP") == first
    with TTFont(io.BytesIO(first)) as small:
        assert {chr(code) for code in small.getBestCmap()} == set("Pentatoma")
        names = {record.nameID: str(record) for record in small["name"].names}
        assert names[1] == "Guide Serif"
        assert "SIL Open Font License" in names[13]
        assert not any("Source Serif" in text for text in names.values())
    assert len(first) < 8_000
