"""The drawn female and male signs."""

import io

from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFont

from guidebuild.press.theme.sign_font import SIGNS, sign_font


def test_both_signs_are_drawn_and_differ() -> None:
    with TTFont(io.BytesIO(sign_font())) as font:
        assert {chr(code) for code in font.getBestCmap()} == set(SIGNS) == {"♀", "♂"}
        font.flavor = None
        plain = io.BytesIO()
        font.save(plain)
    drawn = []
    for sign in "♀♂":
        sheet = Image.new("L", (120, 120), 255)
        plain.seek(0)
        ImageDraw.Draw(sheet).text((10, 100), sign, font=ImageFont.truetype(plain, 100), fill=0, anchor="ls")
        ink = sum(1 for pixel in sheet.tobytes() if pixel < 128)
        assert 500 < ink < 4000
        drawn.append(sheet.tobytes())
    assert drawn[0] != drawn[1]


def test_signs_are_light_and_the_same_every_time() -> None:
    assert sign_font() == sign_font()
    assert len(sign_font()) < 1500
