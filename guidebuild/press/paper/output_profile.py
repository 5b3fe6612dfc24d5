"""The condition that a print-shop file is meant for: a profile of the shop's own, or sRGB written as an output profile.

PDF/X-4 wants the profile of an output device (ICC class `prtr`).  No free press profile comes from the registries, so a
guide without one of its print shop's is described as sRGB: a LUT profile computed here from LittleCMS's own sRGB.
"""

from __future__ import annotations

import io
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import product
from pathlib import Path

from PIL import Image, ImageCms

from guidebuild.press.engine.trees import find_inside

_GRID = 17
_CHANNELS = {"CMYK": 4, "RGB ": 3, "GRAY": 1}
_MODES = {4: "CMYK", 3: "RGB", 1: "L"}
_DATE = struct.pack(">6H", 2026, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class OutputProfile:
    """An output profile's bytes, its name, and how many colorants it has."""

    data: bytes
    name: str
    colorants: int

    @property
    def cmyk(self) -> bool:
        """Whether black can be printed with black ink alone."""
        return self.colorants == _CHANNELS["CMYK"]


def read_profile(data: bytes, where: str) -> OutputProfile:
    """A print shop's profile; raises `ValueError` that says why it is none."""
    try:
        opened = ImageCms.ImageCmsProfile(io.BytesIO(data))
        profile = opened.profile
    except (OSError, ImageCms.PyCMSError) as error:
        raise ValueError(f"{where} is not an ICC profile; ask the print shop for the .icc file of its press") from error
    if profile.device_class.strip() != "prtr":
        raise ValueError(f"{where} describes a {profile.device_class.strip()} device, not a printer; ask the print shop for its .icc file")
    colorants = _CHANNELS.get(profile.xcolor_space)
    if colorants is None:
        raise ValueError(f"{where} is for inks of {profile.xcolor_space.strip()}; ask the print shop for the .icc file of its press")
    try:
        ImageCms.buildTransform(ImageCms.createProfile("sRGB"), opened, "RGB", _MODES[colorants])
    except ImageCms.PyCMSError as error:
        raise ValueError(f"{where} does not say how colours become inks; ask the print shop for the .icc file of its press") from error
    return OutputProfile(data, (profile.profile_description or where).strip(), colorants)


def read_profile_of(folder: Path, name: str) -> OutputProfile:
    """The profile in a file of the guide; raises `ValueError` that says why there is none, or `OSError`."""
    path = find_inside(folder, name)
    if path is None or not path.is_file():
        raise ValueError(f"print profile “{name}” is not a file of the guide; put the print shop's .icc file into the guide's folder")
    return read_profile(path.read_bytes(), name)


@cache
def srgb_output() -> OutputProfile:
    """The sRGB colour space as an output profile (ICC.1:2001-04, sections 6.3.4.2 and 6.5.7: sixteen-bit tables, three intents)."""
    to_lab, to_rgb = _device_to_lab(), _lab_to_device()
    tags = {
        b"desc": _description("sRGB IEC61966-2.1 (output)"),
        b"cprt": b"text\0\0\0\0No copyright, use freely\0",
        b"wtpt": b"XYZ \0\0\0\0" + _fixed(0.9642, 1.0, 0.8249),
        b"A2B0": to_lab,
        b"B2A0": to_rgb,
        b"gamt": _gamut(),
    }
    shared = {b"A2B1": b"A2B0", b"A2B2": b"A2B0", b"B2A1": b"B2A0", b"B2A2": b"B2A0"}
    return OutputProfile(_assembled(tags, shared), "sRGB IEC61966-2.1 (output)", 3)


def _assembled(tags: Mapping[bytes, bytes], shared: Mapping[bytes, bytes]) -> bytes:
    start = 128 + 4 + 12 * (len(tags) + len(shared))
    places: dict[bytes, tuple[int, int]] = {}
    body = b""
    for name, value in tags.items():
        places[name] = (start + len(body), len(value))
        body += value + b"\0" * (-len(value) % 4)
    places |= {name: places[original] for name, original in shared.items()}
    table = struct.pack(">I", len(places)) + b"".join(struct.pack(">4sII", name, *place) for name, place in places.items())
    header = struct.pack(">I4sI4s4s4s", start + len(body), b"\0\0\0\0", 0x02400000, b"prtr", b"RGB ", b"Lab ")
    header += _DATE + b"acsp" + b"\0" * 24 + struct.pack(">I", 1) + _fixed(0.9642, 1.0, 0.8249) + b"\0" * 48
    return header + table + body


def _device_to_lab() -> bytes:
    steps = [round(n * 255 / (_GRID - 1)) for n in range(_GRID)]
    image = Image.new("RGB", (_GRID**3, 1))
    image.putdata(list(product(steps, repeat=3)))
    lab = _transform(image, ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB", 5000), "LAB")
    raw = lab.tobytes()
    words = [word for n in range(0, len(raw), 3) for word in _lab_words(*raw[n : n + 3])]
    return _lut(words)


def _lab_to_device() -> bytes:
    steps = [n / (_GRID - 1) for n in range(_GRID)]
    # Legacy sixteen-bit Lab: 100 is FF00h and a, b run from -128 to 127 + 255/256 (ICC.1:2001-04, section 6.5.7).
    triples = product(steps, repeat=3)
    pixels = bytes(
        value
        for light, a, b in triples
        for value in (min(255, round(light * 255)), (round(a * 255) - 128) & 0xFF, (round(b * 255) - 128) & 0xFF)
    )
    image = Image.frombytes("LAB", (_GRID**3, 1), pixels)
    rgb = _transform(image, ImageCms.createProfile("LAB", 5000), ImageCms.createProfile("sRGB"), "RGB").tobytes()
    return _lut([value * 257 for value in rgb])


def _transform(image: Image.Image, source: object, target: object, mode: str) -> Image.Image:
    made = ImageCms.buildTransform(source, target, image.mode, mode, ImageCms.Intent.RELATIVE_COLORIMETRIC)  # type: ignore[arg-type]
    done = ImageCms.applyTransform(image, made)
    if done is None:
        raise ValueError("the colour table could not be computed")
    return done


def _lab_words(light: int, a: int, b: int) -> tuple[int, int, int]:
    # Pillow keeps a and b as signed bytes; the table wants them offset by 128 and stretched to FF00h.
    return light * 256, ((a + 128) & 0xFF) * 256, ((b + 128) & 0xFF) * 256


def _lut(words: list[int], outputs: int = 3, grid: int = _GRID) -> bytes:
    identity = (0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x10000)
    head = b"mft2\0\0\0\0" + struct.pack(">BBBx9i", 3, outputs, grid, *identity) + struct.pack(">HH", 2, 2)
    line = struct.pack(">HH", 0, 0xFFFF)
    return head + line * 3 + struct.pack(f">{len(words)}H", *words) + line * outputs


def _gamut() -> bytes:
    return _lut([0] * 8, outputs=1, grid=2)


def _description(words: str) -> bytes:
    text = words.encode("ascii") + b"\0"
    return b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + b"\0" * (4 + 4 + 2 + 1 + 67)


def _fixed(*numbers: float) -> bytes:
    return b"".join(struct.pack(">i", round(number * 65536)) for number in numbers)
