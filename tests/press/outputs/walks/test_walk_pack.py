"""A leader's pack on paper."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.walks.pack import PackWork, render_pack
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.outdoors.walk import walk_pack_view
from tests.as_published import with_walk
from tests.fieldwork.invented import WALK, guide, tally

SEEN = (tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),)


def test_a_pack_prints_on_the_guides_paper_with_its_stops_in_order() -> None:
    view = walk_pack_view(*with_walk(guide(sightings=SEEN), WALK))
    made = render_pack(PackWork(view, (210.0, 297.0), (on_disk(themes().joinpath("plate")),)))
    assert made.problems == ()
    with pdfplumber.open(io.BytesIO(made.parts[0])) as pdf:
        assert [round(side * 25.4 / 72) for side in (pdf.pages[0].width, pdf.pages[0].height)] == [210, 297]
        text = "\n".join(page.extract_text() for page in pdf.pages)
    told = ["A June evening on the hedge", "20 June 2026, 18:30–20:00", "Caution: Road walking", "1. North Hedge", "2. Long Meadow",
            "Taken for one another here", "What the words mean", "Nothing is promised"]  # fmt: skip
    places = [text.find(words) for words in told]
    assert -1 not in places
    assert places == sorted(places)


def test_no_stop_begins_at_the_foot_of_a_page() -> None:
    """Its time, its notes and the first thing to find there stand together, wherever the foot of the paper happens to be."""
    waders = read_guide(Path(__file__).parents[3] / "guides" / "estuary-waders").guide
    assert waders
    published = make_published(waders)
    (walk,) = published.walks.values()
    view = walk_pack_view(published, walk)
    stops = [stop for stop in view.stops if stop.met]
    assert len(stops) == 3
    last = set()
    for height in range(200, 297, 6):
        made = render_pack(PackWork(view, (210.0, float(height)), (on_disk(themes().joinpath("plate")),)))
        with pdfplumber.open(io.BytesIO(made.parts[0])) as pdf:
            # The last line of each page stands above its folio, and the next page goes on.
            last |= {page.extract_text().splitlines()[-2] for page in pdf.pages[:-1]}
    begun = [line for line in last for stop in stops if f"{stop.number}. {stop.place.text}" in line or line in stop.note.words]
    assert begun == []
