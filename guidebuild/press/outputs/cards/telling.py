"""Prints that tell species apart, among the cards: the key, and a sheet for each set of look-alikes."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from itertools import chain

from guidebuild.press.outputs.cards.comparison import MODULE as COMPARE
from guidebuild.press.outputs.cards.comparison import CompareWork, picture_pixels, sheet_area
from guidebuild.press.outputs.cards.key import MODULE as KEY
from guidebuild.press.outputs.cards.key import KeyWork
from guidebuild.press.outputs.cards.pictures import print_pictures
from guidebuild.press.paper.formats import Paper
from guidebuild.press.run import Run, Work
from guidebuild.views.telling.compare_sheet import compare_sheets
from guidebuild.views.telling.key_sheet import key_sheet

FOLDER = "cards"


def publish_telling(run: Run, paper: Paper) -> None:
    """The key where the guide's characters make one, and the comparison sheets."""
    deque(run.make(chain(_key(run, paper), _sheets(run, paper))), maxlen=0)


def _key(run: Run, paper: Paper) -> Iterator[Work]:
    sheet = key_sheet(run.guide)
    if sheet.key.bracketed:
        work = KeyWork(sheet, paper.size, run.theme_folders)
        yield Work(run.job("sheet", f"{KEY}:render_key", work, seen=(sheet, paper), where="key"), (f"{FOLDER}/key.pdf",))


def _sheets(run: Run, paper: Paper) -> Iterator[Work]:
    sheets = compare_sheets(run.guide)
    boxes = {taxon.plate.id: picture_pixels(sheet, paper.size) for sheet in sheets for taxon in sheet.compared.taxa if taxon.plate}
    pictures = print_pictures(run, boxes)
    for sheet in sheets:
        plates = [taxon.plate.id for taxon in sheet.compared.taxa if taxon.plate and taxon.plate.id in pictures]
        shown = tuple((plate, pictures[plate][1]) for plate in plates)
        area = sheet_area(sheet, paper.size)
        work = CompareWork(sheet, shown, area, run.theme_folders, run.high_contrast)
        seen = (sheet, [pictures[plate][0] for plate in plates], area, run.high_contrast)
        job = run.job("sheet", f"{COMPARE}:render_sheet", work, seen=seen, where=f"comparison {sheet.id}")
        yield Work(job, (f"{FOLDER}/compare-{sheet.id}.pdf",))
