"""The identification key on paper, as a tagged PDF of the guide's own paper size."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.paper.closer import set_closer
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.layout import Laid, document_of, lay_out, write_pdf
from guidebuild.press.paper.spill import is_short, pull_back, tell_short
from guidebuild.press.theme.prose import write_words
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.views.telling.key_sheet import KeySheet

_FOLDER = "cards"
_LEAST_TYPE = 9.0
_TREE_FOLLOWS = ".tree{break-before:auto;margin-top:6mm}"
"""Where the tree alone would leave a page nearly empty, it follows the couplets."""


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
    laid = _laid(work, css, 1.0)
    if is_short(laid.document):
        followed = pull_back(partial(_laid, work, css + _TREE_FOLLOWS), document_of)
        # Where it leaves such a page all the same, it stands there whole.
        laid = laid if is_short(followed.document) else followed
    data, problems = write_pdf(laid, "key")
    return Made((data,), (*problems, *tell_short(laid.document, "key")))


def _laid(work: KeyWork, css: str, scale: float) -> Laid:
    page = f"@page{{size:{work.paper.width}mm {work.paper.height}mm}}"
    return lay_out(key_html(work), page + set_closer(css, scale, _LEAST_TYPE), GuideFetcher())
