"""The output `scripts`: for each episode the filming page, prompter, PDF, Markdown and captions, and a list of them all."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping

from guidebuild.guide.findings import Level
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.scripts.pages import ENDINGS, ScriptJob, index_row, render_index
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.press.run import Run, Work
from guidebuild.press.working_pages import publish_beside
from guidebuild.views.scripts.script import ScriptView, script_views

FOLDER = "scripts"
_BESIDE = ("scripts/script.css", "scripts/screen.css", "scripts/prompter.js")


def publish_scripts(run: Run) -> None:
    """Everything under scripts/."""
    scripts = tuple(script_views(run.guide))
    shown = dict.fromkeys(line.photo.id for s in scripts for section in s.sections for line in section.lines if line.photo)
    pictures = run.pictures("thumb", list(shown), folder="pictures", publish=FOLDER)

    def work() -> Iterator[Work]:
        for script in scripts:
            thumbs = _thumbs(script, pictures)
            files = tuple((variant.path, run.published(f"{FOLDER}/{variant.path}") or b"") for _, variant in thumbs)
            payload = ScriptJob(script, thumbs, files, run.theme_folders)
            job = run.job(
                "script",
                "guidebuild.press.outputs.scripts.pages:render_script",
                payload,
                seen=(script, thumbs),
                where=f"script {script.id}",
            )
            yield Work(job, tuple(f"{FOLDER}/{script.id}{ending}" for ending in ENDINGS))

    deque(run.make(work()), maxlen=0)
    rows = [index_row(script) for script in scripts]
    settings = run.guide.settings
    page = render_index(rows, guide=settings.title, language=settings.language, theme_folders=run.theme_folders)
    run.add(f"{FOLDER}/index.html", page)
    publish_beside(run, FOLDER, _BESIDE)
    off = [script for script in scripts if script.drafted and any(f.level is not Level.NOTE for f in script.findings)]
    if off:
        told = f"{len(off)} drafts do not fill or fit their slot; {FOLDER}/index.html lists their lengths"
        run.problems.append(Problem("drafts-off-slot", FOLDER, f"{told}. Say more in the accounts, or write the episode yourself."))


def _thumbs(script: ScriptView, pictures: Mapping[str, PictureSet]) -> tuple[tuple[str, Variant], ...]:
    wanted = dict.fromkeys(line.photo.id for section in script.sections for line in section.lines if line.photo)
    return tuple((photo, pictures[photo].largest) for photo in wanted if photo in pictures)
