"""The output `scripts`: for each episode the filming page, prompter, PDF, Markdown and captions, and a list of them all."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from guidebuild.counting import count_of
from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import Level
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.outputs.scripts.pages import ENDINGS, IndexWork, ScriptWork, index_row, render_index, render_script
from guidebuild.press.paper.typesetter import HAS_TYPESETTER, tell_missing
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.press.working_pages import publish_beside
from guidebuild.views.scripts.script import ScriptView, make_script_views

SCRIPT = Craft("script", "scripts", cost=400.0)
INDEX = Craft("page", "pages", cost=10.0)
_BESIDE = ("scripts/script.css", "scripts/screen.css", "scripts/prompter.js")


def publish_scripts(  # noqa: PLR0913 - what it depends on, each by its name
    guide: Published, files: Files, maker: Maker, pictures: PictureMaker, problems: Problems, *, theme: tuple[Path, ...]
) -> None:
    """Everything under scripts/."""
    scripts = tuple(make_script_views(guide))
    problems.tell(*tell_missing())
    endings = tuple(ending if HAS_TYPESETTER or ending != ".pdf" else "" for ending in ENDINGS)
    shown = dict.fromkeys(line.photo.id for s in scripts for section in s.sections for line in section.lines if line.photo)
    copies = pictures.publish_copies("thumb", list(shown), "pictures")

    def piece(script: ScriptView) -> Piece:
        thumbs = _thumbs(script, copies)
        standing = tuple((variant.path, found) for _, variant in thumbs if (found := files.find(variant.path)))
        job = maker.job(SCRIPT, render_script, ScriptWork(script, thumbs, standing, theme, HAS_TYPESETTER), where=f"script {script.id}")
        return Piece(job, tuple(ending and f"{script.id}{ending}" for ending in endings))

    maker.make(map(piece, scripts))
    index = IndexWork(tuple(map(index_row, scripts)), guide.settings.title, guide.settings.language, theme)
    maker.make([Piece(maker.job(INDEX, render_index, index, where="page scripts/index.html"), ("index.html",))])
    publish_beside(guide, files, maker, theme=theme, names=_BESIDE)
    _tell_of_drafts(scripts, problems)


def _tell_of_drafts(scripts: tuple[ScriptView, ...], problems: Problems) -> None:
    off = [script for script in scripts if script.drafted and any(f.level is not Level.NOTE for f in script.findings)]
    if off:
        told = count_of(len(off), "draft does", "drafts do")
        what = f"{told} not fill or fit the slot; scripts/index.html lists how long each is"
        mend = "Say more in the accounts, or write the episode yourself."
        problems.tell(Problem("drafts-off-slot", "scripts", f"{what}. {mend}"))


def _thumbs(script: ScriptView, pictures: Mapping[str, PictureSet]) -> tuple[tuple[str, Variant], ...]:
    wanted = dict.fromkeys(line.photo.id for section in script.sections for line in section.lines if line.photo)
    return tuple((photo, pictures[photo].largest) for photo in wanted if photo in pictures)
