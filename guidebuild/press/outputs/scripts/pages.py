"""One script's files: the filming page, the prompter, the PDF, the Markdown and the captions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from guidebuild.guide.findings import Finding
from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.made import Made
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.pdf import Pdf, PdfSettings, html_to_pdf
from guidebuild.press.photos.published_set import Variant
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.speech.timing import write_clock
from guidebuild.views.scripts.script import ScriptView, caption_view
from guidebuild.words import words


@dataclass(frozen=True, slots=True)
class ScriptWork:
    """What rendering a script needs. `thumbs` are pictures by photo id, `files` where they stand, by their path on its pages."""

    script: ScriptView
    thumbs: tuple[tuple[str, Variant], ...]
    files: tuple[tuple[str, KnownFile], ...]
    theme_folders: tuple[Path, ...]
    on_paper: bool = True
    """Whether a PDF is made; where not, its part is empty."""


@dataclass(frozen=True, slots=True)
class IndexRow:
    """One line of the list of scripts."""

    id: str
    title: str
    seconds: float
    slot: tuple[float, float] | None
    words: int
    to_film: int
    drafted: bool


@dataclass(frozen=True, slots=True)
class IndexWork:
    """What the list of scripts needs."""

    rows: tuple[IndexRow, ...]
    guide: str
    language: str
    theme_folders: tuple[Path, ...]


_LEAST_TYPE = 10.0
"""Points that a script's type may shrink to, so that no last page is left nearly empty: it is read at arm's length."""

ENDINGS = (".html", ".prompter.html", ".pdf", ".md", ".vtt", ".srt", ".chapters.vtt", ".chapters.txt")
"""What `render_script` makes, in this order, behind the script's id."""


def render_script(work: ScriptWork) -> Made:
    """All files of one script, as `ENDINGS` lists them."""
    script = work.script
    captions = caption_view(script)
    page = _render("page.html", work, captions.findings)
    prompter = _render("prompter.html", work)
    pdf = _print_page(page, work) if work.on_paper else None
    credits = _list_credits(script)
    # A comment is not spoken; two hyphens would end it.
    text = f"{script.markdown}\n<!--\n{credits.replace('--', '–')}-->\n" if credits else script.markdown
    below = f"{captions.chapter_lines}\n{credits}" if credits else captions.chapter_lines
    texts = (page, prompter, text, captions.webvtt, captions.subrip, captions.chapters, below)
    first, second, *others = (text.encode() for text in texts)
    return Made((first, second, pdf.data if pdf else b"", *others), pdf.problems if pdf else ())


def _print_page(page: str, work: ScriptWork) -> Pdf:
    css = theme_file(work.theme_folders, "scripts/script.css")
    fetcher = GuideFetcher(files={"script.css": css, **{path: file.path for path, file in work.files}})
    return html_to_pdf(page, fetcher=fetcher, where=f"script {work.script.id}", settings=PdfSettings(least_type=_LEAST_TYPE))


def _list_credits(script: ScriptView) -> str:
    """The end credits, a picture a line under their heading; nothing where no picture is shown."""
    return "\n".join((words(script.language)("Pictures"), *script.credits, "")) if script.credits else ""


def render_index(work: IndexWork) -> Made:
    """The list of all scripts with their lengths."""
    values = {"scripts": work.rows, "guide": work.guide, "clock": write_clock}
    return Made((fill_template(work.theme_folders, "scripts/index.html", work.language, **values).encode(),))


def index_row(script: ScriptView) -> IndexRow:
    """A script's line in the list."""
    to_film = sum(shot.photo is None for shot in script.shots)
    return IndexRow(script.id, script.title, script.seconds, script.slot, script.words, to_film, script.drafted)


class _Thumbs(dict[str, Variant]):
    """Pictures by photo id; one that could not be made is shown by its words alone."""

    def __missing__(self, key: str) -> None:
        return None


def _render(template: str, work: ScriptWork, of_captions: Sequence[Finding] = ()) -> str:
    thumbs: Mapping[str, Variant] = _Thumbs(work.thumbs)
    values = {"script": work.script, "thumbs": thumbs, "clock": write_clock, "of_captions": of_captions, "on_paper": work.on_paper}
    return fill_template(work.theme_folders, f"scripts/{template}", work.script.language, **values)
