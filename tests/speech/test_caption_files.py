import datetime as dt
import html

import pytest
import srt
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.guide.findings import Level
from guidebuild.speech.caption_files import read_captions, write_subrip, write_time, write_webvtt
from guidebuild.speech.cues import Cue
from guidebuild.speech.script import Spoken, merge_words
from tests.speech.pieces_of_speech import cue_of

MILLISECOND = dt.timedelta(milliseconds=1)


def only_cue(text):
    (cue,) = read_captions(text).cues
    return cue


# Case A26: every shape of time code that is met with.
@pytest.mark.parametrize(
    ("times", "start", "end"),
    [
        ("00:00:01,000 --> 00:00:03,000", 1, 3),
        ("00:21.000 --> 00:24.000", 21, 24),
        ("5.000 --> 7.5", 5, 7.5),
        ("1:02:03.450 --> 1:02:04.450", 3723.45, 3724.45),
        ("00:00:01,00 --> 00:00:02,5", 1, 2.5),
        ("00:00:01.000-->00:00:03.000", 1, 3),
        ("00:00:01.000 --> 00:00:03.000 line:80% align:start", 1, 3),
        ("100:00:00.000 --> 100:00:01.000", 360000, 360001),
    ],
)
@pytest.mark.parametrize("head", ["WEBVTT\n\n", "1\n", "\ufeffWEBVTT - take 3\n\n", ""])
def test_times_are_read_in_any_shape(times, start, end, head):
    cue = only_cue(f"{head}{times}\nA bug.\n")
    assert (cue.start, cue.end, cue.text) == (pytest.approx(start), pytest.approx(end), "A bug.")


def test_a_time_code_out_of_standard_is_a_note_with_its_line():
    (finding,) = read_captions("WEBVTT\n\n00:00:01,000 --> 00:00:03,000\nA bug.\n", file="take.vtt").findings
    assert (finding.code, str(finding)) == (
        "timecode-mended",
        "take.vtt:3: note: Time lines not as WebVTT has them: 1. They were read all the same. Players want 00:00:01.000.",
    )


def test_a_standard_file_is_read_in_silence():
    assert read_captions("WEBVTT\n\n00:01.000 --> 00:03.000\nA bug.\n").findings == ()
    assert read_captions("1\n00:00:01,000 --> 00:00:03,000\nA bug.\n").findings == ()


def test_times_without_one_readable_cue_are_an_error():
    found = read_captions("WEBVTT\n\none --> two\nA bug.\n", file="take.vtt").findings
    assert [(f.code, f.level, f.at.line) for f in found] == [
        ("timecode-unreadable", Level.WARNING, 3), ("captions-none-read", Level.ERROR, 0),
    ]  # fmt: skip
    assert [f.level for f in read_captions("").findings] == [Level.ERROR]


def test_a_cue_that_ends_before_it_starts_is_left_out_and_told():
    captions = read_captions("WEBVTT\n\n00:03.000 --> 00:01.000\nA.\n\n00:04.000 --> 00:05.000\nB.\n")
    assert [cue.text for cue in captions.cues] == ["B."]
    assert [f.code for f in captions.findings] == ["caption-backwards"]


def test_notes_styles_tags_and_references_are_not_text():
    head = "WEBVTT\n\nSTYLE\n::cue { color: red }\n\nNOTE a --> b\n\n"
    text = head + "1\n00:01.000 --> 00:03.000\n<v Ann><c.x>A &lt;bug&gt;</c> &amp; <i>Aus bus</i>\n"
    assert only_cue(text).rows == ((Spoken("A <bug> & "), Spoken("Aus bus", is_name=True)),)


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_any_line_ending_and_missing_blank_lines_are_read(ending):
    text = ending.join(["1", "00:00:01,000 --> 00:00:02,000", "A.", "00:00:03,000 --> 00:00:04,000", "B."])
    assert [cue.text for cue in read_captions(text).cues] == ["A.", "B."]


def test_a_file_in_another_encoding_is_read_and_told():
    captions = read_captions("WEBVTT\n\n00:01.000 --> 00:03.000\nCafé – näher\n".encode("cp1252"))
    assert captions.cues[0].text == "Café – näher"
    assert [f.code for f in captions.findings] == ["captions-not-utf8"]
    assert read_captions("WEBVTT\n\n00:01.000 --> 00:03.000\nCafé\n".encode("utf-16")).cues[0].text == "Café"


def test_a_file_in_another_encoding_is_told_at_the_line_where_it_shows():
    (finding,) = read_captions("WEBVTT\n\n00:01.000 --> 00:03.000\nBug.\nCafé\n".encode("cp1252"), file="take.vtt").findings
    assert (finding.at.file, finding.at.line) == ("take.vtt", 5)


def test_a_file_of_which_nothing_can_be_read_says_how_many_times_it_has():
    backwards = "00:03.000 --> 00:01.000\nA.\n\n00:02.000 --> 00:02.000\nB.\n\nnoon --> one\nC.\n"
    found = read_captions(f"WEBVTT\n\n{backwards}").findings
    assert [f.code for f in found] == ["caption-backwards", "caption-backwards", "timecode-unreadable", "captions-none-read"]
    assert found[-1].message == "The file has 3 lines with times, and not one cue could be read."
    assert found[1].message == "The cue ends at 2 s, not after its start at 2 s; it is left out."
    assert read_captions("WEBVTT\n").findings[0].message == "The file has no cues."


def test_a_note_between_cues_is_no_text_and_empty_rows_are_none():
    text = "WEBVTT\n\n00:01.000 --> 00:03.000\n<b></b>\nA.\n\nNOTE of ours\nmore\n\n00:04.000 --> 00:05.000\nB.\n"
    assert [(cue.text, cue.number, cue.line) for cue in read_captions(text).cues] == [("A.", 1, 3), ("B.", 2, 10)]


@pytest.mark.parametrize("gap", ["", "\n", "   \n"])
def test_a_number_above_the_times_is_no_text_wherever_it_stands(gap):
    text = f"1\n00:00:01,000 --> 00:00:02,000\nA.\n{gap}2\n00:00:03,000 --> 00:00:04,000\nB.\n"
    assert [cue.text for cue in read_captions(text).cues] == ["A.", "B."]
    if gap:
        assert [cue.text for cue in read_captions(text.replace("2\n00:00:03", "2\n\n00:00:03")).cues] == ["A.", "B."]


def test_a_year_alone_in_a_cue_is_text():
    text = "00:00:01,000 --> 00:00:02,000\n1959\n\n00:00:03,000 --> 00:00:04,000\n1960\n"
    assert [cue.text for cue in read_captions(text).cues] == ["1959", "1960"]


def test_a_subrip_cue_goes_on_after_a_blank_line_unless_it_was_left_out():
    text = "1\n00:00:01,000 --> 00:00:02,000\nA.\n\nMore.\n\n2\nat noon --> later\nB.\n\nMore of B.\n\n3\n00:00:03,000 --> 00:00:04,000\nC."
    captions = read_captions(text)
    assert [(cue.text, cue.line) for cue in captions.cues] == [("A.\nMore.", 2), ("C.", 14)]
    assert [(found.code, found.at.line) for found in captions.findings] == [("timecode-unreadable", 8)]


@pytest.mark.parametrize("note", ["NOTE from a -> b", "NOTE\nfrom a -> b", "STYLE\n::cue(a -> b) {}", "NOTE one\ntwo\nfrom a -> b"])
def test_an_arrow_in_a_note_is_no_time(note):
    captions = read_captions(f"WEBVTT\n\n{note}\n\n00:01.000 --> 00:02.000\nA bug.\n")
    assert ([cue.text for cue in captions.cues], captions.findings) == (["A bug."], ())
    assert read_captions("WEBVTT\n\nfrom a -> b\n\n00:01.000 --> 00:02.000\nA bug.\n").findings != ()


def test_an_arrow_without_times_opens_no_cue():
    text = "WEBVTT a --> b\n\nNOTE\n00:01.000 --> 00:02.000x\n\n00:01.000 --> 00:03.000\n00:01.000 --> 00:02.000x and a --> b\n"
    assert [cue.text for cue in read_captions(text).cues] == ["00:01.000 --> 00:02.000x and a --> b"]


def test_webvtt_is_written_by_the_book():
    text = write_webvtt(
        [cue_of(3723.4504, 3725, "*Elasmucha grisea* & <co>\n\n--> here"), cue_of(0, 1.0006, "First.")], note="a\n\nb --> c"
    )
    assert text == (
        "WEBVTT\n\nNOTE\na\nb → c\n\n1\n00:00:00.000 --> 00:00:01.001\nFirst.\n\n"
        "2\n01:02:03.450 --> 01:02:05.000\n<i>Elasmucha grisea</i> &amp; &lt;co&gt;\n--&gt; here\n"
    )


def test_subrip_is_written_with_numbers_and_commas():
    assert write_subrip([cue_of(0, 1, "One."), cue_of(2, 3.5, "*Two*\nthree")]) == (
        "1\n00:00:00,000 --> 00:00:01,000\nOne.\n\n2\n00:00:02,000 --> 00:00:03,500\n<i>Two</i>\nthree\n"
    )


def test_a_time_code_counts_milliseconds_seconds_and_minutes():
    assert [write_time(s) for s in (0.9, 58.999, 61.5, 3661.042)] == ["00:00:00.900", "00:00:58.999", "00:01:01.500", "01:01:01.042"]


@pytest.mark.parametrize(("end", "written"), [(5.0, "05.001"), (5.0004, "05.001"), (4.0, "05.001"), (5.002, "05.002")])
def test_a_written_cue_lasts_a_millisecond_at_least(end, written):
    assert f"00:00:05.000 --> 00:00:{written}\n" in write_webvtt([cue_of(5.0, end, "Now.")])


def test_a_note_is_optional_and_quotation_marks_stay():
    assert write_webvtt([cue_of(0, 1, 'The "toad" sits.')]) == 'WEBVTT\n\n1\n00:00:00.000 --> 00:00:01.000\nThe "toad" sits.\n'


def test_times_without_fractions_and_less_than_a_millisecond_apart_are_read():
    cue = only_cue("00:00:05 --> 00:00:07\nA bug.\n")
    assert (cue.start, cue.end) == (5, 7)
    brief = only_cue("WEBVTT\n\n00:01.0001 --> 00:01.0004\nA bug.\n")
    assert (brief.start, brief.end, brief.text) == (1.0001, 1.0004, "A bug.")


def test_the_very_first_time_that_cannot_be_read_is_told():
    read = read_captions("from a -> b\nnothing\n\n2\n00:00:01,000 --> 00:00:02,000\nA bug.\n")
    assert [cue.text for cue in read.cues] == ["A bug."]
    assert [finding.at.line for finding in read.findings if "cannot be read" in finding.message] == [1]


def test_no_time_is_before_the_film():
    assert write_time(-0.5) == write_time(-0.0004) == "00:00:00.000"


@pytest.mark.parametrize("write", [write_webvtt, write_subrip])
def test_a_cue_without_words_is_not_written(write):
    assert write([cue_of(0, 1, " "), cue_of(1, 2, "Now."), cue_of(2, 3, "")]) == write([cue_of(1, 2, "Now.")])


def test_a_time_code_carries_over():
    assert write_time(59.9996) == "00:01:00.000"
    assert write_time(3599.9999, point=",") == "01:00:00,000"


# Any sign but those that break lines; signs that mean something in a caption file as often as others.
signs = st.one_of(st.characters(codec="utf-8", exclude_categories=("C", "Z")), st.sampled_from("<>&;-*_[{ /i"))
texts = st.text(signs, min_size=1, max_size=30).map(lambda text: " ".join(text.split())).filter(bool)
runs = st.builds(Spoken, texts, st.booleans())
rows = (
    st.lists(runs, min_size=1, max_size=3).map(lambda made: tuple(one for run in made for one in (run, Spoken(" ")))[:-1]).map(merge_words)
)
cue_lists = st.lists(
    st.tuples(st.integers(0, 300_000_000), st.integers(1, 9000), st.lists(rows, min_size=1, max_size=3)), min_size=1, max_size=8
).map(lambda made: [Cue(start / 1000, (start + length) / 1000, tuple(shown)) for start, length, shown in sorted(made, key=lambda m: m[0])])


def times_of(cues):
    return [(round(cue.start * 1000), round(cue.end * 1000)) for cue in cues]


@settings(deadline=None)
@given(cue_lists)
def test_what_is_written_as_webvtt_is_read_back_the_same(cues):
    back = read_captions(write_webvtt(cues))
    assert back.findings == ()
    assert times_of(back.cues) == times_of(cues)
    assert [cue.rows for cue in back.cues] == [cue.rows for cue in cues]


@settings(deadline=None)
@given(cue_lists)
def test_webvtt_py_reads_the_same_cues_from_a_written_file(cues):
    # W3C WebVTT, "WebVTT file structure", as read by webvtt-py in its strict mode. It leaves character references as they are.
    read = webvtt.from_string(write_webvtt(cues), strict=True).captions
    assert [html.unescape(caption.text) for caption in read] == [cue.text for cue in cues]
    assert [f"{caption.start} {caption.end}" for caption in read] == [f"{write_time(cue.start)} {write_time(cue.end)}" for cue in cues]
    assert [caption.identifier for caption in read] == [str(number) for number in range(1, len(cues) + 1)]


@settings(deadline=None)
@given(cue_lists)
def test_srt_reads_the_same_cues_from_a_written_file(cues):
    read = list(srt.parse(write_subrip(cues)))
    assert [(one.index, round(one.start / MILLISECOND), round(one.end / MILLISECOND)) for one in read] == [
        (number, start, end) for number, (start, end) in enumerate(times_of(cues), 1)
    ]
    marked = ["\n".join("".join(f"<i>{w.text}</i>" if w.is_name else w.text for w in row) for row in cue.rows) for cue in cues]
    assert [one.content for one in read] == [text.replace("-->", "→") for text in marked]


@settings(deadline=None)
@given(cue_lists)
def test_what_is_written_as_subrip_is_read_back_with_its_times_and_words(cues):
    back = read_captions(write_subrip(cues))
    assert back.findings == ()
    assert times_of(back.cues) == times_of(cues)
    # SubRip has no way to write a sign that would be a tag: only texts without one come back whole.
    for mine, theirs in zip(back.cues, cues, strict=True):
        if not set(theirs.text) & set("<>&{"):
            assert mine.rows == theirs.rows


@settings(deadline=None)
@given(st.text(max_size=200))
def test_no_file_whatever_raises(text):
    read_captions(text)
    read_captions(f"WEBVTT\n\n00:01.000 --> {text}")


@settings(deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_whatever_raise(data):
    read_captions(data)
