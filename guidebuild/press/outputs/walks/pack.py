"""A leader's pack on paper, and the walk as a calendar event."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.pdf import PdfSettings, html_to_pdf
from guidebuild.press.theme.prose import write_words
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.views.outdoors.walk import WalkPackView

_FOLDER = "walks"
_LEAST_TYPE = 8.5
"""Points that a pack's type may shrink to, so that no last page is left nearly empty."""


@dataclass(frozen=True, slots=True)
class PackWork:
    """What printing a pack needs; `paper` in millimetres."""

    pack: WalkPackView
    paper: tuple[float, float]
    theme_folders: tuple[Path, ...]


def pack_html(work: PackWork) -> str:
    """The pack as one HTML document."""
    return fill_template(work.theme_folders, f"{_FOLDER}/pack.html", work.pack.language, d=work.pack, said=write_words)


def render_pack(work: PackWork) -> Made:
    """The pack as a tagged PDF."""
    css = theme_file(work.theme_folders, f"{_FOLDER}/pack.css")
    fetcher = GuideFetcher(files={"pack.css": css})
    width, height = work.paper
    settings = PdfSettings(variant="pdf/ua-1", stylesheets=(f"@page{{size:{width}mm {height}mm}}",), least_type=_LEAST_TYPE)
    pdf = html_to_pdf(pack_html(work), fetcher=fetcher, where=f"walk {work.pack.id}", settings=settings)
    return Made((pdf.data,), pdf.problems)
