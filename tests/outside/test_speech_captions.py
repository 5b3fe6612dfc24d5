"""Caption files read back by libraries that are not ours."""

import datetime
import html

import pytest

from guidebuild.speech.caption_files import read_captions
from guidebuild.speech.captions import caption_script
from guidebuild.speech.script import join_text
from tests.speech.pieces_of_speech import TEXT, script_of

webvtt = pytest.importorskip("webvtt")
srt = pytest.importorskip("srt")


@pytest.fixture(scope="module")
def made():
    return caption_script(script_of(TEXT + "\n\nAnts & aphids <all> in a row; *Lasius niger* --> here."))


def plain(cue):
    return cue.text


def thousandths(seconds):
    return round(seconds * 1000)


def test_webvtt_is_read_back_by_webvtt_py(made):
    read = list(webvtt.from_string(made.webvtt))
    assert len(read) == len(made.cues)
    # webvtt-py 0.6.0 leaves character references as they are (seen when it was run).
    assert [html.unescape(caption.text) for caption in read] == [plain(cue) for cue in made.cues]
    starts = [round(caption.start_in_seconds * 1000) + int(caption.start[-3:]) % 1000 for caption in read]
    assert all(abs(mine - theirs) < 1001 for mine, theirs in zip((thousandths(c.start) for c in made.cues), starts, strict=True))
    assert [caption.start for caption in read] == [line.split(" --> ")[0] for line in made.webvtt.splitlines() if " --> " in line]


def test_chapters_are_read_back_by_webvtt_py(made):
    read = list(webvtt.from_string(made.chapters))
    assert [caption.text for caption in read] == [join_text(mark.title) for mark in made.marks]


def test_subrip_is_read_back_by_srt(made):
    read = list(srt.parse(made.subrip))
    assert [subtitle.index for subtitle in read] == list(range(1, len(made.cues) + 1))
    tagged = [subtitle.content.replace("<i>", "").replace("</i>", "") for subtitle in read]
    assert tagged == [plain(cue).replace("-->", "→") for cue in made.cues]
    for subtitle, cue in zip(read, made.cues, strict=True):
        assert subtitle.start == datetime.timedelta(milliseconds=thousandths(cue.start))
        assert subtitle.end == datetime.timedelta(milliseconds=thousandths(cue.end))


def test_srt_s_own_files_are_read_by_us():
    made_by_srt = [
        srt.Subtitle(i, datetime.timedelta(seconds=3 * i), datetime.timedelta(seconds=3 * i + 2, milliseconds=125), f"Line {i}\nmore")
        for i in range(1, 5)
    ]
    captions = read_captions(srt.compose(made_by_srt))
    assert captions.findings == ()
    assert [(cue.start, cue.end, cue.text) for cue in captions.cues] == [(3 * i, 3 * i + 2.125, f"Line {i}\nmore") for i in range(1, 5)]


def test_w3c_s_rules_of_a_webvtt_file_hold(made):
    # W3C WebVTT, "WebVTT file structure": the word WEBVTT first, a blank line, two-digit hours or more, a point and three
    # decimals, spaces round the arrow, starts in order, no arrow inside a cue's text, identifiers unique.
    lines = made.webvtt.split("\n")
    assert lines[:2] == ["WEBVTT", ""]
    arrows = [line for line in lines if "-->" in line]
    assert len(arrows) == len(made.cues)
    assert all(len(line) == len("00:00:00.000 --> 00:00:00.000") for line in arrows)
    assert [line.split()[0] for line in arrows] == sorted(line.split()[0] for line in arrows)
    identifiers = [lines[i - 1] for i, line in enumerate(lines) if "-->" in line]
    assert len(set(identifiers)) == len(identifiers)
