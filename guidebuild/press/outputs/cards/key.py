"""The identification key on paper, as a tagged PDF of the guide's own paper size."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.theme.prose import write_words
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.views.telling.key_sheet import KeySheet

_FOLDER = "cards"


@dataclass(frozen=True, slots=True)
class KeyWork:
    """What printing a key needs."""

    sheet: KeySheet
    paper: Area
    theme_folders: tuple[Path, ...]


def key_html(work: KeyWork) -> str:
    """The key as one HTML document."""
    return fill_template(work.theme_folders, f"{_FOLDER}/key.html", work.sheet.language, d=work.sheet, said=write_words)


def render_key(work: KeyWork) -> Made:
    """The key as a tagged PDF."""
    css = theme_file(work.theme_folders, f"{_FOLDER}/key.css").decode()
    page = f"@page{{size:{work.paper.width}mm {work.paper.height}mm}}"
    data, problems = write_pdf(lay_out(key_html(work), page + css, GuideFetcher()), "key")
    return Made((data,), problems)
