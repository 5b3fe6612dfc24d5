"""What the author's working pages (scripts, slides, posts) have beside them: the theme's style sheets and scripts, and the typefaces."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.theme.font_cutting import make_font
from guidebuild.press.theme.sandbox import theme_file
from guidebuild.press.theme.sign_font import sign_font
from guidebuild.press.theme.trust import script_folders
from guidebuild.press.theme.typefaces import FONT, font_css, font_work, signs_of


def publish_beside(guide: Published, files: Files, maker: Maker, *, theme: tuple[Path, ...], names: Iterable[str]) -> None:
    """Put the theme's files of these names (such as `scripts/script.css`) and the typefaces into an output's folder."""
    maker.make(font_pieces(guide, maker, ""))
    # These pages are read from disk, where a face is late on the first page: here it may come in when it is there.
    files.add("fonts.css", font_css("swap").encode())
    files.add("signs.woff2", sign_font())
    for name in names:
        files.add(name.rpartition("/")[2], theme_file(script_folders(theme) if name.endswith(".js") else theme, name))


def font_pieces(guide: Published, maker: Maker, folder: str) -> tuple[Piece, ...]:
    """The typefaces as pieces to be put into a folder of an output; each face is made once for all outputs."""
    return tuple(
        Piece(maker.job(FONT, make_font, font, where=f"font {font.name}"), (f"{folder}{font.name}.woff2",))
        for font in font_work(signs_of(guide))
    )
