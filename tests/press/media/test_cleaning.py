"""What recordings and films carry unseen is taken off, sound and picture stay as they are to the byte. Judges: FFmpeg and mutagen."""

from __future__ import annotations

import io
import random
import struct

import mutagen
import numpy as np
import pytest
import soundfile

from guidebuild.press.engine.problems import Problem
from guidebuild.press.media.cleaning import clean_media, read_remarks
from guidebuild.press.media.positions import find_position
from tests.press.media.recordings import (
    FILES,
    PLACE,
    SPOT,
    chunk,
    packets,
    read_tags,
    sound_file,
    telltale_mp3,
    telltale_picture,
    telltale_wav,
)

TELLS = (PLACE.encode(), PLACE.encode("utf-16-le"), SPOT.encode(), b"Invented Person", b"51.5061", b"2026-05-01", telltale_picture()[:400])


def cleaned(content: bytes, name: str) -> bytes:
    made = clean_media(content, name)
    assert isinstance(made, bytes), made
    return made


@pytest.mark.parametrize("name", FILES)
def test_nothing_that_tells_is_left_and_the_streams_are_the_same(name: str) -> None:
    content = FILES[name]()
    assert any(sign in content for sign in TELLS[:2])
    made = cleaned(content, name)
    assert [sign for sign in TELLS if sign in made] == []
    assert packets(made) == packets(content)
    assert len(packets(content)) > 3
    told = read_tags(made)
    assert PLACE not in told
    assert "51.5" not in told
    assert "Quag" in read_tags(content)


@pytest.mark.parametrize("name", FILES)
def test_what_is_clean_stays_as_it_is(name: str) -> None:
    made = cleaned(FILES[name](), name)
    assert cleaned(made, name) == made
    assert read_remarks(made, name) == ()


@pytest.mark.parametrize("name", FILES)
def test_an_author_is_told_what_says_where_it_was_made(name: str) -> None:
    remarks = read_remarks(FILES[name](), name)
    assert isinstance(remarks, tuple)
    told = find_position(remarks)
    assert told is not None
    assert "51.50" in told[1] or told[1] == "a place with its position (3GPP)"


def test_sound_decodes_to_the_same_samples() -> None:
    for name in ("a.wav", "a.flac", "a.ogg", "a.opus", "a.mp3"):
        content = FILES[name]()
        before, rate = soundfile.read(io.BytesIO(content))
        after, rate_after = soundfile.read(io.BytesIO(cleaned(content, name)))
        assert rate == rate_after
        assert np.array_equal(before, after), name


def test_a_cover_with_a_position_is_told() -> None:
    made = io.BytesIO(sound_file("MP3", rate=44_100))
    opened = mutagen.File(made)
    opened.add_tags()
    opened.tags.add(mutagen.id3.APIC(encoding=3, mime="image/jpeg", type=3, desc="", data=telltale_picture()))
    made.seek(0)
    opened.save(made)
    remarks = read_remarks(made.getvalue(), "a.mp3")
    assert isinstance(remarks, tuple)
    assert find_position(remarks) == ("ID3 tag", "a picture with its position (EXIF GPS)")


def test_only_format_and_samples_of_a_wave_file_stay() -> None:
    made = cleaned(telltale_wav(), "a.wav")
    names, place = [], 12
    while place < len(made):
        names.append(made[place : place + 4])
        place += 8 + int.from_bytes(made[place + 4 : place + 8], "little")
    assert names == [b"fmt ", b"data"]
    assert int.from_bytes(made[4:8], "little") == len(made) - 8


def test_a_wave_file_with_long_sizes_keeps_them() -> None:
    """EBU Tech 3306: RF64, whose sizes stand in its first chunk."""
    plain = cleaned(telltale_wav(), "a.wav")
    sound = plain[44:]
    sizes = chunk(b"ds64", struct.pack("<QQQI", len(plain) + 28, len(sound), len(sound) // 2, 0))
    content = b"RF64\xff\xff\xff\xffWAVE" + sizes + plain[12:36] + b"data\xff\xff\xff\xff" + sound + chunk(b"LIST", PLACE.encode())
    made = cleaned(content, "a.wav")
    assert PLACE.encode() not in made
    assert soundfile.read(io.BytesIO(made))[0].shape == (len(sound) // 2,)


def test_what_stands_between_the_frames_of_an_mp3_goes() -> None:
    plain = cleaned(telltale_mp3(), "a.mp3")
    middle = plain.find(b"\xff\xfb", len(plain) // 2)
    content = plain[:middle] + f"  {PLACE}  ".encode() + plain[middle:]
    assert cleaned(content, "a.mp3") == plain


FORMAT = chunk(b"fmt ", struct.pack("<HHIIHH", 1, 1, 8000, 16_000, 2, 16))
DATA = chunk(b"data", bytes(100))


def wave_of(*chunks: bytes) -> bytes:
    return b"RIFF" + struct.pack("<I", 4 + sum(len(one) for one in chunks)) + b"WAVE" + b"".join(chunks)


REFUSED = {
    "unheard.wav": (wave_of(FORMAT, chunk(b"fact", bytes(4))), "media-refused", "the file has no sound in it; export it again"),
    "unformed.wav": (wave_of(DATA), "media-refused", "the file has no sound in it; export it again"),
    "empty.wav": (b"", "media-refused", "the file is none that is read (WAV, FLAC, MP3, Ogg, M4A, MP4, WebM); export it as one of these"),
    "text.mp3": (b"no sound at all", "media-refused", "the file is none that is read"),
    "cut.wav": (telltale_wav()[:2000], "media-damaged", "the file is cut short: its sound ends before its length says; copy it again"),
    "cut.flac": (FILES["a.flac"]()[:300], "media-damaged", "the file is cut short: it ends before its sound; copy it again"),
    "cut.mp4": (FILES["a.mp4"]()[:3000], "media-damaged", "the file is cut short"),
    "cut.webm": (FILES["a.webm"]()[:1500], "media-damaged", "the file is cut short"),
    "cut.ogg": (FILES["a.ogg"]()[:60_000], "media-damaged", "the file is cut short: its comments do not end; copy it again"),
    "wrong.wav": (telltale_mp3(), "media-refused", "the file is MP3 inside, though its name ends in .wav; give it the ending .mp3"),
    "phone.mov": (FILES["a.mp4"](), "media-refused", "the file is QuickTime (.mov), which many browsers do not play; export it as MP4"),
    "tag.mp3": (telltale_mp3()[:500], "media-refused", "the file has no sound in it that is MP3 (layer III); export it again as MP3"),
    "adpcm.wav": (
        telltale_wav()[:20] + b"\x11\x00" + telltale_wav()[22:],
        "media-refused",
        "the file is coded in a way that browsers do not play (format 0x0011); save it as WAV (PCM), FLAC or MP3",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_cleaned_is_refused_in_one_line(name: str) -> None:
    content, kind, words = REFUSED[name]
    for told in (clean_media(content, name), read_remarks(content, name)):
        assert isinstance(told, Problem)
        assert (told.what, told.where) == (kind, name)
        assert told.message.startswith(words)
        assert "\n" not in told.message


def test_a_file_that_is_not_there_is_told(tmp_path) -> None:
    told = clean_media(tmp_path / "none.mp3", "sounds/none.mp3")
    assert str(told) == "sounds/none.mp3: there is no such file; check the name, capitals included"


@pytest.mark.parametrize("name", FILES)
def test_a_damaged_file_is_cleaned_or_refused_and_never_more(name: str) -> None:
    content, chance = bytearray(FILES[name]()[:20_000]), random.Random(name)
    for _ in range(60):
        broken = bytearray(content)
        for _ in range(chance.choice((1, 3, 20))):
            broken[chance.randrange(min(len(broken), chance.choice((60, 2000, 20_000))))] = chance.randrange(256)
        made = clean_media(bytes(broken[: chance.randrange(1, len(broken) + 1)]), name)
        assert isinstance(made, bytes | Problem)


def box(name: bytes, *held: bytes) -> bytes:
    body = b"".join(held)
    return struct.pack(">I", 8 + len(body)) + name + body


def track(kind: bytes, size: int, samples: int, *chunks: int) -> bytes:
    """A track of samples of one size, so many in each of its chunks (ISO/IEC 14496-12, 8.7)."""
    count = struct.pack(">II", 0, len(chunks))
    sizes = box(b"stsz", struct.pack(">III", 0, size, samples * len(chunks)))
    table = box(
        b"stbl",
        sizes,
        box(b"stsc", struct.pack(">IIIII", 0, 1, 1, samples, 1)),
        box(b"stco", count, struct.pack(f">{len(chunks)}I", *chunks)),
    )
    return box(b"trak", box(b"mdia", box(b"hdlr", bytes(8), kind, bytes(12)), box(b"minf", table)))


@pytest.mark.parametrize("order", [(b"soun", b"meta"), (b"meta", b"soun")])
def test_a_remark_between_two_chunks_of_plain_sound_is_written_over(order: tuple[bytes, bytes]) -> None:
    sound, remark = bytes(range(1, 201)), f"{PLACE} {SPOT}".encode()

    def head(start: int) -> bytes:
        middle = start + len(sound)
        made = {b"soun": track(b"soun", 2, 100, start, middle + len(remark)), b"meta": track(b"meta", len(remark), 1, middle)}
        return box(b"ftyp", b"M4A ", bytes(4)) + box(b"moov", *(made[kind] for kind in order))

    content = head(len(head(0)) + 8) + box(b"mdat", sound, remark, sound)
    made = cleaned(content, "a.m4a")
    assert not [sign for sign in TELLS if sign in made]
    assert made.endswith(box(b"mdat", sound, bytes(len(remark)), sound))
