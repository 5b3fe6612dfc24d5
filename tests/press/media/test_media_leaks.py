"""The last look finds in a recording what no one took off: a name in a tag, a chapter or a cover; a position in any guide."""

from __future__ import annotations

import io

import mutagen
import pytest

from guidebuild.fieldwork.leaks import Secrets, secrets_of
from guidebuild.press.leak_scan import file_leaks
from guidebuild.press.media.cleaning import clean_media
from tests.fieldwork.invented import guide
from tests.press.media import recordings
from tests.press.media.recordings import FILES, sound_file

NAME = "Weir Pool"  # a secret place of the invented guide


@pytest.mark.parametrize("name", FILES)
def test_a_position_in_a_recording_is_a_leak_in_any_guide(name: str) -> None:
    content = FILES[name]()
    told = [str(problem) for problem in file_leaks(name, content, Secrets((), ()))]
    assert any("The recording carries a position (" in line for line in told), told
    made = clean_media(content, name)
    assert isinstance(made, bytes)
    assert list(file_leaks(name, made, Secrets((), ()))) == []


def test_a_name_in_a_comment_or_beside_a_cover_is_found_and_gone_once_it_is_cleaned() -> None:
    made = io.BytesIO(sound_file("MP3", rate=44_100))
    opened = mutagen.File(made)
    opened.add_tags()
    opened.tags.add(mutagen.id3.COMM(encoding=1, lang="eng", desc="", text=f"by the {NAME}"))
    made.seek(0)
    opened.save(made)
    told = [str(problem) for problem in file_leaks("a.mp3", made.getvalue(), secrets_of(guide()))]
    assert [line.partition(":")[0] for line in told] == ["a.mp3, inside the recording"]
    assert NAME in told[0]
    cleaned = clean_media(made.getvalue(), "a.mp3")
    assert isinstance(cleaned, bytes)
    assert list(file_leaks("a.mp3", cleaned, secrets_of(guide()))) == []


@pytest.mark.parametrize("kind", ["mp4", "webm"])
def test_a_name_in_a_chapter_of_a_film_is_found_and_gone_once_it_is_cleaned(kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(recordings, "PLACE", NAME)
    content = recordings.telltale_film.__wrapped__(kind, *(("aac", "libx264") if kind == "mp4" else ("libopus", "libvpx")))
    assert any(NAME in str(problem) for problem in file_leaks(f"a.{kind}", content, secrets_of(guide())))
    cleaned = clean_media(content, f"a.{kind}")
    assert isinstance(cleaned, bytes)
    assert list(file_leaks(f"a.{kind}", cleaned, secrets_of(guide()))) == []
