"""Invented photos with the troubles that photographers really meet, and their published copies."""

import io

from PIL import Image, ImageFile

from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.copies import Copies, Copy, Recipe, prepare_copies

EVERY = ("webp", "jpeg", "print", "png")
CORNER = (200, 30, 30)


def saved(picture: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    written = io.BytesIO()
    picture.save(written, kind, **options)
    return written.getvalue()


def flat(size: tuple[int, int], colour: tuple[int, ...] = (230, 230, 230), mode: str = "RGB") -> Image.Image:
    return Image.new(mode, size, colour)


def copies(photo: bytes, recipe: Recipe, where: str = "toad.jpg") -> Copies:
    made = prepare_copies(photo, recipe, where)
    assert isinstance(made, Copies), made
    return made


def problem(photo: bytes, where: str = "toad.jpg", width: int = 100) -> Problem:
    made = prepare_copies(photo, Recipe((width,)), where)
    assert isinstance(made, Problem)
    return made


def opened(copy: Copy) -> ImageFile.ImageFile:
    picture = Image.open(io.BytesIO(copy.data))
    picture.load()
    return picture


def near(seen: object, wanted: tuple[int, ...], by: int) -> bool:
    assert isinstance(seen, tuple)
    return all(abs(one - other) <= by for one, other in zip(seen, wanted, strict=True))


def noise(size: tuple[int, int] = (400, 300)) -> Image.Image:
    return Image.effect_noise(size, 80).convert("RGB")


SECRETS = ("nest by the weir", "weir pool", "Larkfold Weir", "Weirside")


def telltale_photo(kind: str = "JPEG") -> bytes:
    exif = Image.Exif()
    exif[0x010E] = SECRETS[0]
    exif[0x8825] = {1: "N", 2: (51.0, 12.0, 34.5), 3: "W", 4: (0.0, 12.0, 34.5), 0x1C: b"ASCII\0\0\0" + SECRETS[2].encode()}
    exif[0x8769] = {0x927C: b"MAKER " + SECRETS[3].encode(), 0x9003: "2026:05:02 10:11:12", 0x9011: "+01:00"}
    xmp = f'<x:xmpmeta xmlns:x="adobe:ns:meta/" photoshop:City="{SECRETS[2]}" exif:GPSLatitude="51,12.5N"/>'.encode()
    picture = flat((200, 150), (90, 140, 60))
    if kind != "JPEG":
        return saved(picture, kind, exif=exif.tobytes(), xmp=xmp)
    iptc = b"".join(bytes((0x1C, 2, tag, 0, len(text))) + text.encode() for tag, text in ((90, SECRETS[3]), (92, SECRETS[2])))
    app13 = b"Photoshop 3.0\0" + b"8BIM\x04\x04\0\0" + len(iptc).to_bytes(4, "big") + iptc + bytes(len(iptc) % 2)
    plain = saved(picture, exif=exif, xmp=xmp, comment=SECRETS[1].encode())
    preview = saved(flat((32, 24), (1, 2, 3)))
    extra = b"\xff\xed" + (len(app13) + 2).to_bytes(2, "big") + app13
    return plain[:2] + extra + plain[2:] + preview
