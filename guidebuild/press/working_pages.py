"""What the author's working pages (scripts, posts) have beside them: the theme's style sheets and scripts, and the typefaces."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator

from guidebuild.press.run import Run, Work
from guidebuild.press.theme.sandbox import theme_file
from guidebuild.press.theme.sign_font import sign_font
from guidebuild.press.theme.typefaces import font_css, font_work, signs_of


def publish_beside(run: Run, folder: str, files: Iterable[str]) -> None:
    """Put the theme's `files` (such as `scripts/script.css`) and the typefaces into an output's folder."""
    deque(run.make(_fonts(run, folder)), maxlen=0)
    # These pages are read from disk, where a face is late on the first page: here it may come in when it is there.
    run.add(f"{folder}/fonts.css", font_css("swap").encode())
    run.add(f"{folder}/signs.woff2", sign_font())
    for name in files:
        run.add(f"{folder}/{name.rpartition('/')[2]}", theme_file(run.theme_folders, name))


def _fonts(run: Run, folder: str) -> Iterator[Work]:
    for font in font_work(signs_of(run.guide)):
        # The very job of the site, so that each face is made once.
        job = run.job("font", "guidebuild.press.theme.typefaces:make_font", font, seen=font, where=f"font {font.name}")
        yield Work(job, (f"{folder}/{font.name}.woff2",))
