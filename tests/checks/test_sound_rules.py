"""Sounds as people enter them, with all that goes wrong: each slip is one clear line (invented sounds)."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.checks import life, photos, references, sounds
from guidebuild.checks.registry import check_guide
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files

ENTRY = {
    "title": "Song of a male",
    "file": "sounds/toad.wav",
    "kind": "song",
    "accounts": "[toad]",
    "sex": "male",
    "recordist": "A. Listener",
    "licence": "CC-BY-4.0",
    "day": "2026-04-12",
    "place": "lane",
    "note": "A long *trill*.",
}
FILES = {
    "guide.yaml": "title: Toads\ngroup: amphibian\n",
    "accounts/toad.md": "---\nname: Bufo bufo\nvernacular: Toad\n---\n## In brief\nA toad.\n",
    "places.yaml": "weir: {name: Otter Weir, position: '51.1034, -1.3121', sensitive: high}\n"
    "lane: {name: Coldharbour Lane, position: '51.2034, -1.4121', sensitive: no}\n",
    "sounds/toad.wav": "",
}
HIDDEN = FILES["accounts/toad.md"].replace("vernacular: Toad\n", "vernacular: Toad\nsensitive: {category: high, reason: taken}\n")


def entry(**changes: str) -> str:
    said = {key: value for key, value in (ENTRY | changes).items() if value}
    return "toad-song:\n" + "".join(f"  {key}: {value}\n" for key, value in said.items())


def read(folder: Path, files: dict[str, str], **changes: str) -> tuple[Guide, list[Finding]]:
    reading = read_guide(write_files(folder, FILES | {"sounds.yaml": entry(**changes)} | files), as_of=dt.date(2026, 11, 28))
    assert reading.guide is not None
    kept = [finding for finding in reading.findings if finding.at.file.startswith("sounds")]
    rules = (*sounds.RULES, *references.RULES, *photos.RULES, *life.RULES)
    found = check_guide(reading.guide, kept, rules).findings
    return reading.guide, [finding for finding in found if finding.at.file.startswith("sounds")]


def test_a_sound_is_read_whole_and_in_silence(tmp_path: Path) -> None:
    guide, found = read(tmp_path, {})
    assert found == []
    sound = make_published(guide).sounds["toad-song"]
    assert (sound.file, sound.kind, sound.accounts, sound.sex) == ("sounds/toad.wav", "song", ("toad",), "male")
    assert (sound.place, sound.day) == ("lane", dt.date(2026, 4, 12))


def test_a_file_is_found_by_its_name_alone_and_whatever_its_capitals(tmp_path: Path) -> None:
    guide, found = read(tmp_path, {}, file="Toad.WAV")
    assert (guide.sounds["toad-song"].file, found) == ("sounds/toad.wav", [])


BAD = {
    "no title": ("missing-key", {"title": ""}, {}, "title"),
    "a kind that there is not": ("unreadable-value", {"kind": "sing"}, {}, "'sing'"),
    "an address that is none": ("unreadable-value", {"address": "sounds/toad"}, {}, "'sounds/toad' is not a web address."),
    "a file that is not there": (
        "sound-file-missing",
        {"file": "toat.wav"},
        {},
        "The file of the sound “toad-song”, sounds/toat.wav, is not there. Did you mean sounds/toad.wav?",
    ),
    "a file of another kind": ("sound-file-kind", {"file": "toad.aiff"}, {}, "'toad.aiff' cannot be the file of the sound “toad-song”."),
    "a file out of the guide": ("outside-guide", {"file": "../toad.wav"}, {}, "The file '../toad.wav' is not in the guide's folder."),
    "neither file nor address": ("sound-nowhere", {"file": ""}, {}, "The sound “toad-song” has neither a file nor an address."),
    "nothing behind its file": ("sound-nowhere", {"file": "''"}, {}, "The sound “toad-song” has neither a file nor an address."),
    "no species": ("sound-of-nobody", {"accounts": ""}, {}, "The sound “toad-song” names no species."),
    "a species that there is not": ("unknown-account", {"accounts": "[toat]"}, {}, "There is no account “toat”."),
    "a place that there is not": ("unknown-place", {"place": "lain"}, {}, "There is no place “lain” in places.yaml."),
    "a stage that there is not": ("unknown-stage", {"stage": "nymph"}, {}, "“nymph” is not a life stage of this group."),
    "no recordist": ("sound-not-credited", {"recordist": ""}, {}, "The sound “toad-song” has no recordist, so its file is not published."),
    "no licence": ("sound-not-credited", {"licence": ""}, {}, "The sound “toad-song” has no licence, so its file is not published."),
    "a licence that there is not": ("unknown-licence", {"licence": "CC-0.5"}, {}, "“CC-0.5” is not a licence this tool knows."),
    "a day to come": ("sound-to-come", {"day": "2027-01-01"}, {}, "The sound “toad-song” was recorded on 2027-01-01, a day to come."),
    "a file that is not entered": ("sound-not-entered", {}, {"sounds/newt.mp3": ""}, "sounds/newt.mp3 stands in the folder but not in so"),
    "an unknown key": ("unknown-key", {"recorded by": "x"}, {}, "recorded by"),
    "a secret place in its title": (
        "sound-tells-secret",
        {"title": "Song at Otter Weir"},
        {},
        "The sound “toad-song” tells of “Otter Weir”, so it is not published.",
    ),
}


@pytest.mark.parametrize("case", BAD)
def test_each_slip_is_one_clear_line(tmp_path: Path, case: str) -> None:
    code, changes, files, words = BAD[case]
    _, found = read(tmp_path, files, **changes)
    lines = [f"{finding.at}: {finding.message} {finding.mend}" for finding in found]
    told = [(finding.code, words in line) for finding, line in zip(found, lines, strict=True)]
    assert (code, True) in told, lines
    assert {found_code for found_code, _ in told} <= {code, "sound-not-entered"}, lines


@pytest.mark.parametrize("what", ["title", "recordist", "address"])
def test_a_sound_that_tells_a_secret_place_by_what_it_is_called_is_not_published(tmp_path: Path, what: str) -> None:
    said = "https://sounds.example/otter-weir" if what == "address" else "Friends of Otter Weir"
    guide, found = read(tmp_path, {}, **{what: said})
    assert "sound-tells-secret" in {finding.code for finding in found}
    assert make_published(guide).sounds == {}


def test_where_and_when_are_held_back_with_a_secret_place_or_species(tmp_path: Path) -> None:
    secret_place, _ = read(tmp_path / "place", {}, place="weir", note="Heard at Otter Weir.")
    sound = make_published(secret_place).sounds["toad-song"]
    assert (sound.place, sound.day, sound.note.text) == ("", None, "")
    secret_species, _ = read(tmp_path / "species", {"accounts/toad.md": HIDDEN})
    sound = make_published(secret_species).sounds["toad-song"]
    assert (sound.place, sound.day) == ("", None)
    left_out = replace(secret_species, accounts={}, unpublished=tuple(secret_species.accounts.values()))
    sound = make_published(left_out).sounds["toad-song"]
    assert (sound.place, sound.day) == ("", None)
    unnamed, _ = read(tmp_path / "unnamed", {"accounts/toad.md": HIDDEN}, place="")
    assert make_published(unnamed).sounds["toad-song"].day is None


def test_a_sensitive_species_that_is_left_out_for_an_error_keeps_the_places_of_its_sound(tmp_path: Path) -> None:
    hidden = HIDDEN.replace("---\n##", "places: [lane]\n---\n##")
    guide, _ = read(tmp_path, {"accounts/toad.md": hidden}, title="Song by Coldharbour Lane")
    for one in (guide, replace(guide, accounts={}, unpublished=tuple(guide.accounts.values()))):
        assert make_published(one).sounds == {}


def test_where_and_when_are_held_back_of_a_species_that_cannot_be_read(tmp_path: Path) -> None:
    guide, _ = read(tmp_path, {"accounts/toad.md": "---\nname: [Bufo\n---\n"})
    assert guide.unread == {"toad"}
    sound = make_published(guide).sounds["toad-song"]
    assert (sound.place, sound.day) == ("", None)
    known, _ = read(tmp_path / "known", {})
    left_out = replace(known, accounts={}, unread=frozenset({"toad"}), unpublished=tuple(known.accounts.values()))
    assert make_published(left_out).sounds["toad-song"].place == "lane"


@pytest.mark.parametrize("told", [{"title": "Toad and newt"}, {"note": "Behind it calls a Newt."}, {"recordist": "The Newt Group"}])
def test_a_sensitive_species_that_is_named_beside_a_place_keeps_the_place(tmp_path: Path, told: dict[str, str]) -> None:
    newt = HIDDEN.replace("Bufo bufo", "Triturus cristatus").replace("Toad", "Newt")
    guide, _ = read(tmp_path, {"accounts/newt.md": newt}, **told)
    sound = make_published(guide).sounds["toad-song"]
    assert (sound.place, sound.day) == ("", None)
    silent, _ = read(tmp_path / "silent", {"accounts/newt.md": newt})
    assert make_published(silent).sounds["toad-song"].place == "lane"


def test_a_file_without_licence_stays_here_and_its_address_is_told(tmp_path: Path) -> None:
    guide, _ = read(tmp_path, {}, licence="", address="https://sounds.example/toad")
    sound = make_published(guide).sounds["toad-song"]
    assert (sound.file, sound.address) == ("", "https://sounds.example/toad")
    alone, _ = read(tmp_path / "alone", {}, licence="")
    assert make_published(alone).sounds == {}
