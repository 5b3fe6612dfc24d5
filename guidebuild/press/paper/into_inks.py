"""Colours of red, green and blue turned into the inks of a press by its own profile, as a print shop would have to do.

By relative colorimetric intent with the black point fitted (common practice for pictures; ISO 32000-1, 8.6.5.8, takes the same intent
where none is named).  What has no colour (black, grey) in type, lines and fills is printed with black ink alone: it stays sharp where inks
do not meet exactly, and neutral whatever the press does.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import cache
from typing import Any

import pikepdf
from pikepdf import Array, ContentStreamInstruction, Name, Operator, Pdf
from PIL import Image, ImageCms

from guidebuild.press.paper.output_profile import OutputProfile

_INKED = {"rg": "k", "RG": "K", "g": "k", "G": "K"}
_GREYS = ("g", "G")
_QUALITY = 95
"""Of JPEG; what is written a second time should lose nothing more that can be seen."""
_TURNED_ROUND = Array([1, 0] * 4)
"""A JPEG of four inks is written the other way round (Adobe Technical Note 5116, section 18), which its reader has to be told."""


class InksOf:
    """What becomes of a colour on a press of four inks."""

    def __init__(self, press: OutputProfile) -> None:
        """`press` has the inks cyan, magenta, yellow and black."""
        self._turn = ImageCms.buildTransform(
            ImageCms.createProfile("sRGB"),
            ImageCms.ImageCmsProfile(io.BytesIO(press.data)),
            "RGB",
            "CMYK",
            ImageCms.Intent.RELATIVE_COLORIMETRIC,
            ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
        self.of_colour = cache(self._of_colour)

    def of_picture(self, picture: Image.Image) -> Image.Image:
        """A picture in inks; raises `ValueError` where the profile cannot say them."""
        turned = ImageCms.applyTransform(picture.convert("RGB"), self._turn)
        if turned is None:
            raise ValueError("the picture could not be turned into inks")
        return turned

    def _of_colour(self, red: float, green: float, blue: float) -> tuple[float, ...]:
        """Shares of the four inks, 0 to 1, for shares of red, green and blue."""
        if red == green == blue:
            return 0.0, 0.0, 0.0, round(1 - red, 4)
        spot = self.of_picture(Image.new("RGB", (1, 1), tuple(round(255 * share) for share in (red, green, blue))))
        return tuple(round(ink / 255, 4) for ink in spot.tobytes())


def turn_into_inks(pdf: Pdf, press: OutputProfile) -> None:
    """Everything in a file that stands in red, green and blue, or in grey, in the inks of this press; pictures in grey stay so."""
    inks = InksOf(press)
    for page in pdf.pages:
        page.obj.Contents = pdf.make_stream(_in_inks(page.obj, inks))
        _name_group(page.obj)
    for stream in [one for one in pdf.objects if isinstance(one, pikepdf.Stream)]:
        if stream.get("/Subtype") == Name.Image:
            _turn_picture(stream, inks)
        elif stream.get("/Subtype") == Name.Form or "/PatternType" in stream:
            stream.write(_in_inks(stream, inks))
            _name_group(stream)


def _name_group(holder: Any) -> None:
    """What is see-through is mixed in the inks too."""
    if "/Group" in holder and holder.Group.get("/CS") == Name.DeviceRGB:
        holder.Group["/CS"] = Name.DeviceCMYK


def _in_inks(holder: Any, inks: InksOf) -> bytes:
    return pikepdf.unparse_content_stream(list(_turned_steps(holder, inks)))


def _turned_steps(holder: Any, inks: InksOf) -> Iterator[Any]:
    for step in pikepdf.parse_content_stream(holder):
        name = str(step.operator)
        if name in _INKED:
            shares = [float(share) for share in step.operands]
            colour = shares * 3 if name in _GREYS else shares
            yield ContentStreamInstruction(list(inks.of_colour(*colour)), Operator(_INKED[name]))
        else:
            yield step


def _turn_picture(stream: Any, inks: InksOf) -> None:
    if stream.get("/ImageMask") or stream.get("/ColorSpace") in (None, Name.DeviceGray, Name.DeviceCMYK):
        return
    photo = stream.get("/Filter") == Name.DCTDecode
    turned = inks.of_picture(pikepdf.PdfImage(stream).as_pil_image())
    for key in ("/Decode", "/DecodeParms"):
        if key in stream:
            del stream[key]
    if photo:
        written = io.BytesIO()
        turned.save(written, "JPEG", quality=_QUALITY, subsampling="4:4:4", optimize=True)
        stream.write(written.getvalue(), filter=Name.DCTDecode)
        stream["/Decode"] = _TURNED_ROUND
    else:
        stream.write(turned.tobytes())
    stream["/ColorSpace"], stream["/BitsPerComponent"] = Name.DeviceCMYK, 8
