"""Sounds in finished files: the player, the drawn sound with its axes, what other programs read, what is kept without a network."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import replace
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.sounds import Sound
from guidebuild.guide.text.inline import Inline
from guidebuild.press.media.drawn_sound import DrawnSound
from guidebuild.press.outputs.site import sound_files
from guidebuild.press.outputs.site.offline import list_offline, paths_of_parts
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.outputs.site.sounds_on_page import describe_sound
from guidebuild.views.site.page import PageView, note_page
from guidebuild.views.site.sounds import SoundView
from guidebuild.words import words
from tests.press.media.recordings import PLACE, telltale_wav
from tests.press.outputs.site.test_site import THEME, picture_sets
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

SONG = Sound(
    "parent-song",
    "Song of a <male>",
    file="sounds/Song 1.FLAC",
    kind="song",
    accounts=("parent-bug",),
    stage="adult",
    sex="male",
    recordist="Ada Example",
    licence="CC-BY-4.0",
    day=dt.date(2026, 5, 14),
    note=Inline("Listen for *pulses*."),
)
FAR = Sound("far", "Elsewhere", address="https://sounds.example/far?a=1&b=2", accounts=("parent-bug", "birch-bug"))
DRAWN = DrawnSound("sonogram", 3.96, 4.0, 8.0, 2149.0, 3912.0)


@pytest.fixture(scope="module")
def guide() -> Published:
    return make_published(replace(GUIDE, sounds={sound.id: sound for sound in (SONG, FAR)}, sound_files=frozenset({SONG.file})))


@pytest.fixture(scope="module")
def pages(guide: Published) -> dict[str, PageView]:
    return {page.path: page for page in site_pages(guide, TODAY)}


def draw(page: PageView, drawn: DrawnSound | None = DRAWN) -> BeautifulSoup:
    return BeautifulSoup(render_page(page, picture_sets(), THEME, sounds={SONG.id: drawn} if drawn else {}), "html.parser")


def test_a_sound_plays_on_the_pages_of_its_species(pages: dict[str, PageView]) -> None:
    for path, root, about, alt in (
        ("accounts/parent-bug.html", "../", "song, male, adult", "Sonogram, 4 s. Most of the sound lies between 2.1 kHz and 3.9 kHz."),
        ("es/accounts/parent-bug.html", "../../", "canto", "Sonograma, 4 s. La mayor parte del sonido está entre 2,1 kHz y 3,9 kHz."),
    ):
        soup = draw(pages[path])
        shown = soup.find(id="sound-parent-song")
        assert shown.audio.source["src"] == f"{root}sounds/parent-song.flac"
        assert (shown.audio.source["type"], shown.audio["preload"]) == ("audio/flac", "none")
        assert shown.h3.get_text() == "Song of a <male>"
        assert shown.img["src"] == f"{root}sounds/parent-song.webp"
        assert shown.img["alt"].replace("\xa0", " ") == alt
        assert about in shown.select_one(".quiet").get_text()
        assert [li.get_text() for li in shown.select(".pitches li")] == ["8", "6", "4", "2", "0"]
        assert [li.get_text().replace("\xa0", " ") for li in shown.select(".seconds li")] == ["0", "1", "2", "3", "4 s"]
        assert "Ada Example" in shown.select_one(".credit").get_text()
        assert shown.select_one(".credit a[rel=license]")["href"] == "https://creativecommons.org/licenses/by/4.0/"
        assert soup.find("script", src=f"{root}assets/sound.js")
        assert shown.select_one(".speeds").has_attr("hidden")  # the script shows what needs it
    assert not draw(pages["accounts/birch-bug.html"]).find("audio")


def test_a_sound_elsewhere_is_a_link_and_nothing_of_its_host_is_loaded(pages: dict[str, PageView]) -> None:
    soup = draw(pages["accounts/birch-bug.html"])
    link = soup.find(id="sound-far").find("a", rel="external")
    assert (link["href"], link.get_text()) == (FAR.address, "Hear it at sounds.example")
    loaded = [tag[key] for tag in soup.find_all(True) for key in ("src", "srcset", "data") if tag.has_attr(key)]
    assert not [address for address in loaded if "sounds.example" in address]


def test_a_sound_whose_file_could_not_be_published_has_no_player(pages: dict[str, PageView]) -> None:
    soup = draw(pages["accounts/parent-bug.html"], None)
    assert not soup.find("audio")
    assert not [tag for tag in soup.find_all(href=True) if ".flac" in tag["href"]]
    assert "Song of a <male>" in soup.get_text()


def test_a_sound_that_was_not_drawn_plays_all_the_same(pages: dict[str, PageView]) -> None:
    shown = draw(pages["accounts/parent-bug.html"], DrawnSound()).find(id="sound-parent-song")
    assert shown.audio and not shown.find("img")


VIEW = SoundView("a", "A", file="sounds/a.wav")


def test_what_no_one_hears_is_told_to_be_so_and_a_hum_may_be_quickened() -> None:
    """HTMLMediaElement.playbackRate (developer.mozilla.org): Gecko mutes the sound outside the range 0.25 to 4."""
    say = words("en")
    bat = describe_sound(VIEW, {"a": DrawnSound("sonogram", 1, 1, 96, 21_000, 60_000)}, say)
    assert bat is not None
    assert (bat.too_high, [rate for rate, _ in bat.rates], bat.unit) == (True, [1.0], "kHz")
    hum = describe_sound(VIEW, {"a": DrawnSound("sonogram", 1, 1, 0.5, 80, 250)}, say)
    assert hum is not None
    assert (hum.too_high, hum.slower, hum.rates[-1][0], hum.unit, hum.pitches[0]) == (False, False, 4.0, "Hz", "500")
    bird = describe_sound(VIEW, {"a": DRAWN}, say)
    assert bird is not None
    assert (bird.too_high, bird.slower, bird.rates[-1][0]) == (False, True, 0.5)
    assert min(rate for drawn in (bat, hum, bird) for rate, _ in drawn.rates) > 0.25


def test_a_sound_above_hearing_says_so_and_has_no_speeds(pages: dict[str, PageView]) -> None:
    bat = DrawnSound("sonogram", 1, 1, 96, 21_000, 60_000)
    for path, told in (
        ("accounts/parent-bug.html", "Too high for people to hear: the picture shows it."),
        ("es/accounts/parent-bug.html", "Demasiado agudo para el oído humano: la imagen lo muestra."),
    ):
        shown = draw(pages[path], bat).find(id="sound-parent-song")
        assert shown.select_one(".notice").get_text() == told
        assert shown.audio and not shown.select_one(".speeds")
        assert not draw(pages[path]).select_one("#sound-parent-song .notice")


def test_a_pure_tone_lies_near_one_pitch() -> None:
    for low, high, told in (
        (44_990.0, 45_020.0, "near 45 kHz"),
        (440.0, 440.0, "near 440 Hz"),
        (438.0, 455.0, "between 440 Hz and 460 Hz"),
    ):
        drawn = describe_sound(VIEW, {"a": DrawnSound("sonogram", 1, 1, 96, low, high)}, words("en"))
        assert drawn is not None
        assert drawn.alt.replace("\xa0", " ") == f"Sonogram, 1 s. Most of the sound lies {told}."


def test_a_waveform_claims_no_pitch() -> None:
    drawn = describe_sound(VIEW, {"a": DrawnSound("waveform", 2.0, 2.0)}, words("en"))
    assert drawn is not None
    assert (drawn.alt, drawn.pitches, drawn.too_high) == ("Waveform, 2 s.", (), False)


def test_recordists_stand_among_the_credits(pages: dict[str, PageView]) -> None:
    listed = draw(pages["sources.html"]).select("#sound-parent-song")
    assert len(listed) == 1
    assert "Ada Example" in listed[0].get_text()
    assert "Parent Bug" in listed[0].get_text()


# schema.org/AudioObject, with what it has from MediaObject, CreativeWork and Thing; schema.org/subjectOf (a property of Thing).
AUDIO_TERMS = {"name", "description", "contentUrl", "encodingFormat", "sameAs", "dateCreated", "creditText", "license"}


def test_a_sound_is_told_in_the_words_of_schema_org(pages: dict[str, PageView]) -> None:
    told = json.loads(draw(pages["accounts/parent-bug.html"]).find("script", type="application/ld+json").string)
    first, second = told["subjectOf"]
    assert first.pop("@type") == second.pop("@type") == "AudioObject"
    assert set(first) | set(second) <= AUDIO_TERMS
    assert first["contentUrl"] == "https://bugs.example/guide/sounds/parent-song.flac"
    assert (first["dateCreated"], first["encodingFormat"]) == ("2026-05-14", "audio/flac")
    assert second == {"name": "Elsewhere", "sameAs": FAR.address}


def test_other_programs_are_led_to_no_sound_that_is_not_there(pages: dict[str, PageView]) -> None:
    told = json.loads(draw(pages["accounts/parent-bug.html"], None).find("script", type="application/ld+json").string)
    assert not {"contentUrl", "encodingFormat"} & set(told["subjectOf"][0])
    assert told["subjectOf"][0]["name"] == SONG.title


def test_small_sounds_are_kept_with_their_species(pages: dict[str, PageView]) -> None:
    notes = [note_page(page) for page in pages.values()]
    for size, is_kept in ((900_000, True), (3_000_000, False)):
        files = dict.fromkeys(pages, (10, "0" * 40))
        files |= {"sounds/parent-song.flac": (size, "1" * 40), "sounds/parent-song.webp": (9, "2" * 40)}
        lists = list_offline(files, paths_of_parts(notes, {}), notes)
        (family,) = (json.loads(data) for path, data in lists.items() if path.startswith("offline/parts/families/"))
        kept = {path for path, *_ in family}
        assert "sounds/parent-song.webp" in kept
        assert ("sounds/parent-song.flac" in kept) is is_kept


SOUNDS = """a-song:
  title: A song
  file: a.wav
  accounts: [{account}]
  recordist: Ada Example
  licence: CC-BY-4.0
broken:
  title: A broken one
  file: broken.wav
  accounts: [{account}]
  recordist: Ada Example
  licence: CC-BY-4.0
"""
PLACES = (
    f'hollow: {{name: {PLACE}, area: the lower valley, position: "51.5061, -1.2012", sensitive: {{category: extreme, reason: eggs}}}}\n'
)


def test_nothing_that_a_recording_tells_is_published(
    starter: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A recorder's file with the name of a secret place and where it lies, in six kinds of chunks; and a file that is cut short.

    The library for sonograms is taken for one that is not there: the picture is a waveform, and one line says so.
    """
    account = next((starter / "accounts").glob("*.md")).stem
    (starter / "sounds").mkdir()
    (starter / "sounds/a.wav").write_bytes(telltale_wav())
    (starter / "sounds/broken.wav").write_bytes(telltale_wav()[:5000])
    (starter / "sounds.yaml").write_text(SOUNDS.replace("{account}", account), encoding="utf-8")
    (starter / "places.yaml").write_text(PLACES, encoding="utf-8")
    monkeypatch.setattr(sound_files, "has_library", lambda: False)
    exit_code(["make", str(starter), "site", "--workers", "1"])
    said = capsys.readouterr()
    lines = (said.out + said.err).splitlines()
    assert len([line for line in lines if "no sonograms are drawn" in line]) == 1
    told = [line for line in lines if "broken.wav" in line]
    assert len(told) == 1
    assert "is cut short: its sound ends before its length says" in told[0]
    published = {path.relative_to(starter / "published/site").as_posix(): path for path in (starter / "published/site").rglob("*.*")}
    assert "sounds/a-song.wav" in published
    assert "sounds/broken.wav" not in published
    for name, path in published.items():
        content = path.read_bytes()
        assert not [sign for sign in (PLACE.encode(), b"51.506", b"Quagmoor") if sign in content], name
    page = BeautifulSoup(published[f"accounts/{account}.html"].read_bytes(), "html.parser")
    assert page.find(id="sound-a-song").audio
    assert page.find(id="sound-a-song").img["alt"].startswith("Waveform")
    assert not page.find(id="sound-broken").audio
