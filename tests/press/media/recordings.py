"""Small recordings and films with remarks in every place that their containers have for them, made by libraries that are not ours."""

from __future__ import annotations

import io
import struct
import wave
from fractions import Fraction
from functools import cache

import av
import mutagen.apev2
import mutagen.flac
import mutagen.id3
import numpy as np
import soundfile
from PIL import Image

SPOT = "+51.5061-001.2012/"
PLACE = "Quagmoor Hollow"  # invented
REMARKS = {"title": PLACE, "comment": f"seen at {PLACE}", "location": SPOT, "artist": "Invented Person"}
REMARKS |= {"creation_time": "2026-05-01T10:00:00Z"}

RATE = 48_000


def tone(hertz: float = 1000.0, seconds: float = 0.6, rate: int = RATE) -> np.ndarray:
    """A pure tone."""
    return (0.4 * np.sin(2 * np.pi * hertz * np.arange(int(seconds * rate)) / rate)).astype("float32")


def telltale_picture() -> bytes:
    """A cover with a position in it."""
    exif = Image.Exif()
    exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 30.0, 22.0), 3: "W", 4: (1.0, 12.0, 4.0)})
    exif[0x010E] = PLACE
    made = io.BytesIO()
    Image.new("RGB", (16, 16), "green").save(made, "JPEG", exif=exif)
    return made.getvalue()


def sound_file(kind: str, coding: str | None = None, rate: int = RATE) -> bytes:
    """A tone as WAV, FLAC, OGG or MP3."""
    made = io.BytesIO()
    soundfile.write(made, tone(rate=rate), rate, format=kind, subtype=coding)
    return made.getvalue()


def chunk(name: bytes, held: bytes) -> bytes:
    return name + struct.pack("<I", len(held)) + held + b"\0" * (len(held) % 2)


def bext() -> bytes:
    """EBU Tech 3285 (version 1): description 256, originator 32, its reference 32, date 10, time 8, samples since midnight 8, version 2,
    UMID 64, reserved 190, history of coding."""
    fixed = (PLACE.encode(), b"Invented Person", b"REF", b"2026-05-01", b"10:00:00", 36_000 * RATE, 1, b"", b"")
    return struct.pack("<256s32s32s10s8sQH64s190s", *fixed) + b"A=PCM,F=48000\r\n" + SPOT.encode()


@cache
def telltale_wav() -> bytes:
    """A WAVE file with bext, iXML, LIST, GUANO, ID3 and bytes behind its end."""
    made = io.BytesIO()
    with wave.open(made, "wb") as written:
        written.setnchannels(1)
        written.setsampwidth(2)
        written.setframerate(RATE)
        written.writeframes((tone() * 32767).astype("<i2").tobytes())
    plain = made.getvalue()
    words = f"{PLACE} {SPOT}".encode()
    before = chunk(b"bext", bext()) + chunk(b"iXML", b"<BWFXML><NOTE>" + words + b"</NOTE></BWFXML>")
    guano = f"GUANO|Version: 1.0\nLoc Position: 51.50610 -1.20120\nNote: {PLACE}".encode()
    behind = chunk(b"LIST", b"INFO" + chunk(b"ICMT", words)) + chunk(b"guan", guano) + chunk(b"id3 ", id3_tag())
    body = plain[8:36] + before + plain[36:] + behind
    return b"RIFF" + struct.pack("<I", len(body)) + body + words


def id3_tag(version: int = 4) -> bytes:
    """An ID3v2 tag with a title, a comment and a cover."""
    tag = mutagen.id3.ID3()
    tag.add(mutagen.id3.TIT2(encoding=3, text=PLACE))
    tag.add(mutagen.id3.COMM(encoding=1, lang="eng", desc="", text=f"seen at {PLACE}, {SPOT}"))
    tag.add(mutagen.id3.APIC(encoding=3, mime="image/jpeg", type=3, desc="", data=telltale_picture()))
    held = io.BytesIO()
    tag.save(held, v2_version=version, v1=0)
    return held.getvalue()


@cache
def telltale_mp3() -> bytes:
    """An MP3 with two ID3v2 tags before it, and an APE tag and ID3v1 behind it."""
    ape = mutagen.apev2.APEv2()
    ape["Comment"] = f"{PLACE} {SPOT}"
    behind = io.BytesIO()
    ape.save(behind)
    old = b"TAG" + PLACE.encode().ljust(30, b"\0") + bytes(94) + b"\xff"
    return id3_tag(4) + id3_tag(3) + sound_file("MP3", rate=44_100) + behind.getvalue() + old


@cache
def telltale_flac() -> bytes:
    """A FLAC file with comments, a cover and an application block."""
    made = io.BytesIO(sound_file("FLAC"))
    opened = mutagen.flac.FLAC(made)
    opened["comment"] = [f"{PLACE} {SPOT}"]
    cover = mutagen.flac.Picture()
    cover.mime, cover.data = "image/jpeg", telltale_picture()
    opened.add_picture(cover)
    made.seek(0)
    opened.save(made)
    return made.getvalue()


@cache
def telltale_ogg(coding: str) -> bytes:
    """An Ogg file with long comments, over several pages: VORBIS or OPUS."""
    made = io.BytesIO(sound_file("OGG", coding))
    opened = mutagen.File(made)
    opened["comment"] = [f"{PLACE} {SPOT} " + "x" * 150_000]
    made.seek(0)
    opened.save(made)
    return made.getvalue()


@cache
def telltale_film(kind: str, sound: str, picture: str = "", **options: str) -> bytes:
    """A film or recording of half a second with tags, names of its tracks, a chapter, and subtitles where the container has them."""
    made = io.BytesIO()
    with av.open(made, "w", format=kind, options=options) as film:
        film.metadata.update(REMARKS)
        heard = film.add_stream(sound, rate=RATE, layout="mono")
        heard.metadata.update({"title": PLACE, "handler_name": PLACE})
        if kind != "ipod" and not options:
            film.set_chapters([{"id": 1, "start": 0, "end": 500, "time_base": Fraction(1, 1000), "metadata": {"title": PLACE}}])
        if picture:
            seen = film.add_stream(picture, rate=25)
            seen.width, seen.height, seen.pix_fmt = 64, 48, "yuv420p"
            for number in range(12):
                film.mux(seen.encode(av.VideoFrame.from_ndarray(np.full((48, 64, 3), number * 20, "uint8"), "rgb24")))
            film.mux(seen.encode())
        _mux_tone(film, heard)
    return made.getvalue()


def _mux_tone(film: av.container.OutputContainer, stream: av.audio.AudioStream) -> None:
    size = stream.codec_context.frame_size or 1024
    samples = (tone() * 32767).astype("int16")[None]
    turn = av.AudioResampler(format=stream.codec_context.format.name, layout="mono", rate=RATE)
    for start in range(0, samples.shape[1] - size + 1, size):
        frame = av.AudioFrame.from_ndarray(samples[:, start : start + size], "s16", "mono")
        frame.rate, frame.pts = RATE, start
        for turned in turn.resample(frame):
            film.mux(stream.encode(turned))
    film.mux(stream.encode())


def packets(content: bytes) -> list[tuple[object, ...]]:
    """Every packet of picture and sound as FFmpeg reads it, with its times; a cover has none."""
    with av.open(io.BytesIO(content)) as film:
        held = [packet for packet in film.demux() if packet.size and packet.pts is not None and packet.stream.type in ("audio", "video")]
        return [(packet.stream.type, packet.pts, packet.dts, packet.duration, bytes(packet)) for packet in held]


def read_tags(content: bytes) -> str:
    """All that FFmpeg and mutagen find beside picture and sound."""
    with av.open(io.BytesIO(content)) as film:
        data = [stream.type for stream in film.streams if stream.type not in ("audio", "video")]
        told = [film.metadata, [stream.metadata for stream in film.streams], film.chapters(), data]
    opened = mutagen.File(io.BytesIO(content))
    return f"{told} {opened.tags if opened is not None else None} {getattr(opened, 'pictures', None)}"


FILES = {
    "a.wav": telltale_wav,
    "a.mp3": telltale_mp3,
    "a.flac": telltale_flac,
    "a.ogg": lambda: telltale_ogg("VORBIS"),
    "a.opus": lambda: telltale_ogg("OPUS"),
    "a.m4a": lambda: telltale_film("ipod", "aac"),
    "a.mp4": lambda: telltale_film("mp4", "aac", "libx264"),
    "in-fragments.mp4": lambda: telltale_film("mp4", "aac", "libx264", movflags="frag_keyframe+empty_moov"),
    "a.webm": lambda: telltale_film("webm", "libopus", "libvpx"),
}
