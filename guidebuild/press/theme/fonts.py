"""The typefaces that travel with the tool: where they are, what they can draw, and small copies for the web.

The faces come from the packages `font-source-serif-pro` and `font-source-sans-pro` (SIL Open Font License 1.1), never
from the network or from the machine's own fonts, so every machine prints the same bytes.  Themes name them
`Guide Serif` and `Guide Sans`: the licence reserves the font's own name for unmodified copies, and a subset is a
modified copy.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path

from fontTools import subset as fonttools_subset
from fontTools.ttLib import TTFont

SERIF = "Guide Serif"
SANS = "Guide Sans"

ORIGINAL_FAMILIES = {SERIF: "Source Serif Pro", SANS: "Source Sans Pro"}
"""The names in the unmodified files, by the names that themes use."""

_PACKAGES = ((SERIF, "font_source_serif_pro", "SourceSerifPro"), (SANS, "font_source_sans_pro", "SourceSansPro"))
# CSS Fonts Level 4, section 2.2, names these weights.  Black and the two light cuts are left out: no theme sets them.
_CUTS = (
    ("Regular", 400, False),
    ("It", 400, True),
    ("Semibold", 600, False),
    ("SemiboldIt", 600, True),
    ("Bold", 700, False),
    ("BoldIt", 700, True),
)

# Name table records kept in a subset: copyright and licence must travel with the letters, the names are replaced.
_KEPT_NAMES = (0, 13, 14)
_FAMILY_NAMES = (1, 4, 16)
_POSTSCRIPT_NAME = 6
WEB_FEATURES = ("kern", "liga", "locl", "ccmp", "mark", "mkmk", "lnum", "tnum", "case")
"""OpenType features kept in a subset: what body text and tables need; small capitals would add a third."""


@dataclass(frozen=True, slots=True)
class FontFace:
    """One cut of one family."""

    family: str
    """The family as themes name it."""
    weight: int
    """CSS weight, 100 to 900."""
    italic: bool
    path: Path
    """The unmodified TrueType file in its package."""

    @property
    def css_style(self) -> str:
        """The value of `font-style`."""
        return "italic" if self.italic else "normal"


@cache
def list_faces() -> tuple[FontFace, ...]:
    """All packaged faces, serif first, each family from regular to bold italic."""
    return tuple(
        FontFace(family, weight, italic, Path(str(files(package))) / "files" / f"{stem}-{cut}.ttf")
        for family, package, stem in _PACKAGES
        for cut, weight, italic in _CUTS
    )


def find_face(family: str, *, weight: int = 400, italic: bool = False) -> FontFace:
    """The packaged face with exactly these properties; `KeyError` names what was asked for when there is none."""
    for one in list_faces():
        if (one.family, one.weight, one.italic) == (family, weight, italic):
            return one
    raise KeyError(f"no packaged face {family} {weight}{' italic' if italic else ''}")


@cache
def list_characters(one: FontFace) -> frozenset[int]:
    """The code points that a face can draw."""
    with TTFont(one.path, lazy=True) as font:
        return frozenset(font.getBestCmap())


def find_missing(one: FontFace, text: str) -> str:
    """The signs of a text that the face cannot draw, each once, in code point order; white space is never missing."""
    drawn = list_characters(one)
    return "".join(sorted(sign for sign in set(text) if ord(sign) not in drawn and not sign.isspace()))


def subset_font(one: FontFace, text: str, features: Iterable[str] = WEB_FEATURES) -> bytes:
    """A WOFF2 copy of a face with no more than the signs of `text`, the same bytes on every machine and day."""
    options = fonttools_subset.Options(
        flavor="woff2",
        hinting=False,
        layout_features=list(features),
        notdef_outline=True,
        recalc_timestamp=False,
        ignore_missing_unicodes=True,
    )
    with TTFont(one.path, recalcTimestamp=False, lazy=True) as font:
        # Kept apart meanwhile: to find which names features mention, the tool would walk through every table once more.
        names = font["name"]
        del font["name"]
        tool = fonttools_subset.Subsetter(options)
        tool.populate(unicodes=[ord(sign) for sign in set(text)])
        tool.subset(font)
        names.names = [record for record in names.names if record.nameID in _KEPT_NAMES]
        font["name"] = names
        _rename(font, one)
        font.flavor = "woff2"
        written = io.BytesIO()
        font.save(written)
    return written.getvalue()


def _rename(font: TTFont, one: FontFace) -> None:
    names = font["name"]
    for name_id in _FAMILY_NAMES:
        names.setName(one.family, name_id, 3, 1, 0x409)
    names.setName(f"{one.family.replace(' ', '')}-{one.weight}{one.css_style}", _POSTSCRIPT_NAME, 3, 1, 0x409)
