"""What buttons note, which places can be chosen, and what a tally counts: nothing of them tells what is secret."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.records import Sensitivity
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.page import PlainPiece
from guidebuild.views.site.seen import ChecklistPage, describe_species, places_piece
from guidebuild.views.site.tally import TallyPage, species_piece
from tests.views.invented_site import BIRCH, GUIDE, TODAY
from tests.views.whole_site import site_pages

MADE = make_published(GUIDE)
MAKE = make_pieces(MADE)


def read(piece: PlainPiece) -> Any:
    return json.loads(piece.json)


def test_a_button_notes_names_and_the_stages_of_its_group() -> None:
    told = json.loads(describe_species(MAKE, MADE.accounts["parent-bug"]))
    assert (told["id"], told["name"], told["latin"]) == ("parent-bug", "Parent Bug", "Elasmucha grisea")
    assert [stage for stage, _ in told["stages"]] == ["egg", "nymph", "adult"]
    assert "decimals" not in told


def test_of_secret_species_it_says_how_finely_a_position_may_be_kept() -> None:
    # Chapman (2020): category 1 gives no coordinates, 2 to 4 round to 0.1°, 0.01° and 0.001°.
    for category, decimals in ((1, 0), (2, 1), (3, 2), (4, 3)):
        secret = replace(BIRCH, sensitivity=Sensitivity(category, "Collected for sale."))
        made = make_published(replace(GUIDE, accounts={**GUIDE.accounts, "birch-bug": secret}))
        assert json.loads(describe_species(make_pieces(made), made.accounts["birch-bug"]))["decimals"] == decimals


def test_only_places_that_may_be_named_can_be_chosen() -> None:
    assert [row[0] for row in read(places_piece(MAKE))] == ["long-hedge"]


def test_a_tally_names_its_stops_and_leaves_secret_species_out() -> None:
    assert [json.loads(text)["id"] for text in read(species_piece(MAKE))] == ["parent-bug"]
    page = next(page for page in site_pages(MADE, TODAY) if page.path == "tallies/june.html")
    assert isinstance(page.data, TallyPage)
    assert page.data.stops[0].id == "long-hedge"
    assert [json.loads(row.seen)["id"] for stop in page.data.stops for row in stop.rows] == ["parent-bug"]


def test_a_checklist_has_every_species_under_its_family() -> None:
    page = next(page for page in site_pages(MADE, TODAY) if page.path == "checklist.html")
    assert isinstance(page.data, ChecklistPage)
    assert [len(family.species) for family in page.data.families] == [len(MADE.accounts)]
