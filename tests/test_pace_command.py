"""`guidebuild pace`: a take in, the speaker's pace out; guide.yaml changes by one line and only when asked."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
import srt
import webvtt

from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import make_published
from guidebuild.reading.whole import read_guide
from guidebuild.speech.captions import caption_script
from guidebuild.speech.timing import Pace, fill_pace
from guidebuild.views.scripts.script import ScriptView, make_script_views
from tests.conftest import SAMPLE

# Slow enough that no caption has to stay on for reading after the words were said: its cues are the times of the speech.
SPEAKER = Pace(syllables=4.0, comma=0.35, sentence=0.85, paragraph=1.5)
SCRIPT = "parent-bug-full"


@pytest.fixture(scope="module")
def words_only(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample guide without its pictures."""
    folder = tmp_path_factory.mktemp("pace") / "guide"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing", "photos"))
    return folder


@pytest.fixture
def folder(words_only: Path, tmp_path: Path) -> Path:
    """A fresh copy: `--save` writes into it."""
    return Path(shutil.copytree(words_only, tmp_path / "guide"))


def script(folder: Path) -> ScriptView:
    guide = read_guide(folder).guide
    assert guide is not None
    return next(view for view in make_script_views(make_published(guide)) if view.id == SCRIPT)


def take(folder: Path, name: str = "take.vtt") -> Path:
    """The captions of the script as that speaker says it: what a recording with perfect captions would give."""
    view = script(folder)
    spoken = caption_script(view.script, SPEAKER)
    file = folder.parent / name
    file.write_text(spoken.subrip if name.endswith(".srt") else spoken.webvtt, encoding="utf-8")
    return file


def saved(folder: Path) -> Pace:
    guide = read_guide(folder).guide
    assert guide is not None
    return fill_pace(guide.settings.pace)


@pytest.mark.parametrize("name", ["take.vtt", "take.srt"])
def test_a_speaker_is_fitted_and_nothing_is_written(folder: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = (folder / "guide.yaml").read_bytes()
    assert exit_code(["pace", str(take(folder, name)), "--script", SCRIPT, "--in", str(folder)]) == 0
    told = capsys.readouterr().out
    found = re.search(r"syllables (\d\.\d+)", told)
    assert found
    assert float(found[1]) == pytest.approx(SPEAKER.syllables, rel=0.05)
    assert re.search(r"error on held-out parts\s+\d+\.\d%", told)
    assert (folder / "guide.yaml").read_bytes() == before


def test_save_adds_one_line_and_leaves_all_else_to_the_byte(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder / "guide.yaml"
    typed = file.read_bytes().replace(b"\n", b"\r\n").replace(b"card: a6", b"card: a6   # fits a pocket")
    file.write_bytes(typed)
    arguments = ["pace", str(take(folder)), "--script", SCRIPT, "--save", "--in", str(folder)]
    assert exit_code(arguments) == 0
    now = file.read_bytes()
    assert now.startswith(typed)
    (line,) = now[len(typed) :].split(b"\r\n")[:-1]
    assert re.fullmatch(rb"pace: \{syllables: [\d.]+, comma: [\d.]+, sentence: [\d.]+, paragraph: [\d.]+\}", line)
    assert saved(folder).syllables == pytest.approx(SPEAKER.syllables, rel=0.05)
    assert exit_code(arguments) == 0  # the line that is there is put right, not added again
    assert file.read_bytes().count(b"pace:") == 1
    capsys.readouterr()


def test_a_pace_that_is_no_better_is_not_saved_and_both_errors_are_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder / "guide.yaml"
    arguments = ["pace", str(take(folder)), "--script", SCRIPT, "--save", "--in", str(folder)]
    assert exit_code(arguments) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert re.search(r"Saved in .*guide.yaml: on parts held out the new pace is off by \d\.\d%, the one before by \d+\.\d%", told)
    typed = re.sub(
        rb"pace: .*", f"pace: {{syllables: {SPEAKER.syllables}, comma: 0.35, sentence: 0.85, paragraph: 1.5}}".encode(), file.read_bytes()
    )
    file.write_bytes(typed)  # the speaker's own: nothing can be better
    assert exit_code(arguments) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert re.search(r"Not saved: on parts held out the new pace is off by \d\.\d%, the one that stands by \d\.\d%", told)
    assert file.read_bytes() == typed


def short_take(folder: Path, *, script: str) -> Path:
    """Eight captions over 46 seconds: too few to learn a pace from."""
    guide = read_guide(folder).guide
    assert guide is not None
    view = next(view for view in make_script_views(make_published(guide)) if view.id == script)
    cues = caption_script(view.script, SPEAKER).cues
    whole = [
        (cues[n].start, " ".join(cue.text.replace("\n", " ") for cue in cues[n : n + len(cues) // 8 + 1]))
        for n in range(0, len(cues), len(cues) // 8 + 1)
    ]
    ends = [start for start, _ in whole[1:]] + [cues[-1].end]
    share = 46 / cues[-1].end
    lines = [f"00:{start * share:06.3f} --> 00:{end * share:06.3f}\n{text}\n" for (start, text), end in zip(whole, ends, strict=True)]
    file = folder.parent / "short.vtt"
    file.write_text("WEBVTT\n\n" + "\n".join(lines), encoding="utf-8")
    return file


def test_captions_of_a_short_film_are_timed_anew_though_no_pace_is_learnt(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoken, out = short_take(folder, script="parent-bug-short"), folder.parent / "captions.vtt"
    assert len(webvtt.read(str(spoken))) <= 8
    arguments = ["pace", str(spoken), "--script", "parent-bug-short", "--in", str(folder)]
    assert exit_code([*arguments, "--retime", str(out)]) == 0
    assert [cue.end_in_seconds for cue in webvtt.read(str(out))][-1] == pytest.approx(46, abs=2)
    assert "a pace needs 8" in capsys.readouterr().out
    assert exit_code([*arguments, "--retime", str(out), "--save"]) == 1  # asked for a pace, and there is none
    assert exit_code(arguments) == 1
    capsys.readouterr()


def test_captions_are_not_timed_from_a_take_of_something_else(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoken, out = short_take(folder, script="parent-bug-short"), folder.parent / "captions.vtt"
    spoken.write_text(
        re.sub(r"[A-Za-z]{3,}", "lorem", spoken.read_text(encoding="utf-8").removeprefix("WEBVTT")).join(["WEBVTT", ""]), encoding="utf-8"
    )
    assert exit_code(["pace", str(spoken), "--script", "parent-bug-short", "--retime", str(out), "--in", str(folder)]) == 1
    assert "The take's words are not those of the script" in " ".join(capsys.readouterr().out.split())
    assert not out.exists()


def test_save_replaces_the_pace_where_it_stands(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder / "guide.yaml"
    parts = file.read_bytes().partition(b"card: a6\n")
    file.write_bytes(parts[0] + b"pace: {syllables: 3.00}\n" + parts[1] + parts[2])
    assert exit_code(["pace", str(take(folder)), "--script", SCRIPT, "--save", "--in", str(folder)]) == 0
    now = file.read_bytes()
    assert now.startswith(parts[0] + b"pace: {syllables: ")
    assert now.endswith(b"}\n" + parts[1] + parts[2])
    assert saved(folder).syllables == pytest.approx(SPEAKER.syllables, rel=0.05)
    capsys.readouterr()


def test_a_pace_of_several_lines_is_left_alone_and_the_line_to_write_is_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder / "guide.yaml"
    typed = file.read_bytes() + b"pace:\n  syllables: 4\n"
    file.write_bytes(typed)
    assert exit_code(["pace", str(take(folder)), "--script", SCRIPT, "--save", "--in", str(folder)]) == 2
    assert file.read_bytes() == typed
    assert "spans several lines. Replace them by: pace: {syllables: " in capsys.readouterr().err


@pytest.mark.parametrize("name", ["captions.vtt", "captions.srt"])
def test_captions_are_timed_anew_from_the_take(folder: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    out = folder.parent / name
    assert exit_code(["pace", str(take(folder)), "--script", SCRIPT, "--retime", str(out), "--in", str(folder)]) == 0
    heard = webvtt.read(str(folder.parent / "take.vtt"))
    if name.endswith(".vtt"):
        ends = [cue.end_in_seconds for cue in webvtt.read(str(out))]
    else:
        ends = [cue.end.total_seconds() for cue in srt.parse(out.read_text(encoding="utf-8"))]
    estimated = script(folder).seconds
    length = heard[-1].end_in_seconds
    assert abs(length - estimated) > 15  # this speaker is not the default one
    assert ends[-1] == pytest.approx(length, abs=2.0)
    capsys.readouterr()


def test_captions_timed_anew_keep_the_limits_of_their_slot(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, spoken = folder.parent / "captions.vtt", take(folder)
    settings = folder / "guide.yaml"
    said = settings.read_text(encoding="utf-8")
    assert "{name: full, length: 2:30–5:30}" in said
    settings.write_text(said.replace("length: 2:30–5:30}", "length: 2:30–5:30, captions: vertical}"), encoding="utf-8")
    assert exit_code(["pace", str(spoken), "--script", SCRIPT, "--retime", str(out), "--in", str(folder)]) == 0
    lines = [re.sub("</?i>", "", line) for cue in webvtt.read(str(out)) for line in cue.text.split("\n")]
    # BBC Subtitle Guidelines 3.1: about 25 characters on a 9:16 picture. A name is never cut, and no other line is longer.
    assert {line.rstrip(".,") for line in lines if len(line) > 25} <= {"Acanthosoma haemorrhoidale", "Elasmostethus interstinctus"}
    assert max(len(cue.text.split("\n")) for cue in webvtt.read(str(out))) == 3
    capsys.readouterr()


def test_without_its_script_a_take_is_fitted_too(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["pace", str(take(folder)), "--in", str(folder)]) == 0
    assert "held-out" in capsys.readouterr().out


def test_a_script_that_is_not_there_is_said_with_some_that_are(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["pace", str(take(folder)), "--script", "parent-bug-fall", "--in", str(folder)]) == 2
    told = capsys.readouterr().err
    assert "parent-bug-fall" in told
    assert "birch-shieldbug-short" in told


def test_a_take_too_short_saves_nothing(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder.parent / "short.vtt"
    file.write_text("WEBVTT\n\n00:01.000 --> 00:03.000\nHello there, all of you.\n", encoding="utf-8")
    before = (folder / "guide.yaml").read_bytes()
    assert exit_code(["pace", str(file), "--save", "--in", str(folder)]) == 1
    assert "a pace needs" in capsys.readouterr().out
    assert (folder / "guide.yaml").read_bytes() == before
