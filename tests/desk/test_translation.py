"""Translations on the desk: each word beside its original, written where readers look for it."""

from __future__ import annotations

import json
from pathlib import Path

from guidebuild.desk.editing.wanted import SetValue
from guidebuild.desk.parts.translation import TranslationView, locate_translation, show_translation
from guidebuild.guide.findings import At
from guidebuild.session import open_session
from tests.desk.test_plate import desk_on, hedge

__all__ = ["hedge"]


def _view(folder: Path, rest: str) -> TranslationView:
    with desk_on(folder) as desk:
        view = show_translation(desk, rest, {})
    assert view is not None
    return view


def _fill(folder: Path, rest: str, path: str, value: str) -> None:
    with desk_on(folder) as desk:
        standing = desk.writer.read(_view(folder, rest).file)
        desk.writer.change(standing.file, standing.digest, [SetValue(tuple(json.loads(path)), value)], desk.guide)


def test_each_text_stands_beside_its_own(hedge: Path) -> None:
    view = _view(hedge, "parent-bug/es")
    facts = {pair.label: (pair.original, pair.value) for pair in view.facts}
    assert facts["Name"] == ("Parent Bug", "Chinche madre")
    assert facts["Mark 1"] == ("dark spot on the scutellum", "mancha oscura en el escutelo")
    assert facts["nymph"][1].startswith("Cinco estadios.")
    assert facts["Beside Hairy Shieldbug"][1].startswith("La chinche peluda es mayor")
    assert facts["status"] == ("common", "")
    assert [(pair.label, pair.value.split()[0], pair.waits) for pair in view.sections][:2] == [
        ("In brief", "Una", False), ("How to know it", "Una", False),
    ]  # fmt: skip
    assert view.called == "Español"


def test_a_translation_is_begun_and_filled_and_the_guide_says_it(hedge: Path) -> None:
    rest, file = "gorse-shieldbug/es", hedge / "accounts/gorse-shieldbug.es.md"
    view = _view(hedge, rest)
    assert (view.digest, file.exists()) == ("", False)
    assert [pair.waits for pair in view.sections] == [False, True, True, True, True]
    for pair in view.facts:
        _fill(hedge, rest, pair.path, f"ES {pair.original}")
    for number in range(len(view.sections)):
        now = _view(hedge, rest).sections[number]
        assert not now.waits
        _fill(hedge, rest, now.path, f"ES section {number}")
    session = open_session(hedge)
    assert [str(finding) for finding in session.report.findings if finding.at.file == "accounts/gorse-shieldbug.es.md"] == []
    account = session.guide.accounts["gorse-shieldbug"]
    (translation,) = (one for one in account.translations if one.language == "es")
    assert translation.vernacular == "ES Gorse Shieldbug"
    assert [mark.text for mark in translation.marks] == [f"ES {mark.mark.text}" for mark in account.diagnostics]
    assert [section.text for section in translation.sections] == [f"ES section {number}" for number in range(5)]
    assert [section.heading for section in translation.sections][:2] == ["En breve", "Cómo reconocerla"]
    assert all(pair.value for pair in (*_view(hedge, rest).facts, *_view(hedge, rest).sections))


def test_a_section_that_is_emptied_keeps_those_behind_it_where_they_are(hedge: Path) -> None:
    before = [pair.value for pair in _view(hedge, "parent-bug/es").sections]
    _fill(hedge, "parent-bug/es", _view(hedge, "parent-bug/es").sections[0].path, "")
    after = [pair.value for pair in _view(hedge, "parent-bug/es").sections]
    assert after == ["", *before[1:]]


def test_all_accounts_say_how_much_they_say_in_each_language(hedge: Path) -> None:
    rows = {row.id: row.said for row in _view(hedge, "").accounts}
    ((language, called, said, whole),) = rows["parent-bug"]
    assert (language, called) == ("es", "Español")
    assert 0 < said < whole
    assert [one[2] for one in rows["dock-bug"]] == [0]


def test_pages_that_are_none(hedge: Path) -> None:
    with desk_on(hedge) as desk:
        for rest in ("nobody/es", "parent-bug", "parent-bug/en", "parent-bug/fr", "parent-bug/../es", "../guide/es"):
            assert show_translation(desk, rest, {}) is None, rest
        assert locate_translation(desk, At("accounts/parent-bug.es.md", 3)) == "parent-bug/es"
        assert locate_translation(desk, At("accounts/parent-bug.md", 3)) is None
        assert locate_translation(desk, At("accounts/parent-bug.fr.md", 3)) is None
    (hedge / "guide.yaml").write_text((hedge / "guide.yaml").read_text("utf-8").replace("languages: [en, es]", "languages: [en]"), "utf-8")
    assert all(row.said == () for row in _view(hedge, "").accounts)
