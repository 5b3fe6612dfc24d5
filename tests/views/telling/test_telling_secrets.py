"""Whatever tells species apart, published or in the terminal, says nothing of where a secret one lives."""

from __future__ import annotations

import io
from dataclasses import asdict, replace

import pdfplumber
import pytest
from rich.console import Console

from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import SimilarSpecies, Stated
from guidebuild.guide.guide import Guide
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.comparison import CompareWork, render_sheet, sheet_area
from guidebuild.press.outputs.cards.key import KeyWork, render_key
from guidebuild.press.paper.formats import Area
from guidebuild.shipped import on_disk, themes
from guidebuild.terminal.telling import print_comparison, print_diagnoses, print_key
from guidebuild.views.telling.compare import compare_view
from guidebuild.views.telling.compare_sheet import compare_sheets
from guidebuild.views.telling.diagnosis import diagnosis_views
from guidebuild.views.telling.key import key_view
from guidebuild.views.telling.key_sheet import key_sheet
from tests.fieldwork.invented import PARENT, RARE, guide
from tests.identify.invented import shows, states

A4 = Area(210.0, 297.0)
THEME = (on_disk(themes().joinpath("plate")),)
SPOT = states("scutellum mark", spot="a dark spot", none="no clear mark")
SCORED = (
    replace(PARENT, scores=(shows(SPOT, "spot"),), similar=Stated((SimilarSpecies("rare-bug"),), said=True)),
    replace(RARE, scores=(shows(SPOT, "none"),), similar=Stated((SimilarSpecies("parent-bug"),), said=True)),
)
GUIDE: Guide = guide(*SCORED, characters={SPOT.id: SPOT})


def on_paper(data: bytes) -> str:
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


def printed_comparison() -> str:
    (sheet,) = compare_sheets(make_published(GUIDE))
    return on_paper(render_sheet(CompareWork(sheet, (), sheet_area(sheet, A4), THEME)).parts[0])


def printed_key() -> str:
    return on_paper(render_key(KeyWork(key_sheet(make_published(GUIDE)), A4, THEME)).parts[0])


def page_views() -> str:
    return str([asdict(compare_view(make_published(GUIDE), ["parent-bug", "rare-bug"])), asdict(key_view(make_published(GUIDE)))])


def terminal() -> str:
    console = Console(file=io.StringIO(), width=120)
    print_comparison(console, compare_view(make_published(GUIDE), ["parent-bug", "rare-bug"]))
    print_key(console, key_view(make_published(GUIDE)), layout="indented")
    print_diagnoses(console, "Rare Bug", diagnosis_views(make_published(GUIDE), "rare-bug"))
    assert isinstance(console.file, io.StringIO)
    return console.file.getvalue()


@pytest.mark.parametrize("told", [printed_comparison, printed_key, page_views, terminal])
def test_telling_apart_gives_no_secret_away(told) -> None:
    text = told()
    assert "Rare Bug" in text
    assert "no clear mark" in text
    for secret in ("Weir Pool", "weir-pool", "51.12", "1.28", "Upper Larkfold"):
        assert secret not in text
    assert list(leaks_in(text, secrets_of(GUIDE))) == []


def test_a_note_that_names_the_place_is_left_out() -> None:
    """The scan would find it, were it told."""
    note = "It has no mark. Only the Rare Bug is found at Weir Pool."
    told = Stated((SimilarSpecies("rare-bug", note=Inline(note)),), said=True)
    loose = guide(replace(SCORED[0], similar=told), SCORED[1], characters={SPOT.id: SPOT})
    text = str(asdict(compare_view(make_published(loose), ["parent-bug", "rare-bug"])))
    assert "It has no mark." in text
    assert list(leaks_in(note, secrets_of(loose)))
    assert list(leaks_in(text, secrets_of(loose))) == []
