"""Dates seen, as a table."""

from guidebuild.fieldwork.published import make_published
from guidebuild.views.outdoors.phenology_table import PHENOLOGY_COLUMNS, phenology_rows
from tests.fieldwork.invented import guide, tally


def test_a_stage_has_its_dates_in_a_row() -> None:
    days = {f"2025-06-{d:02}": 1 for d in (3, 5, 6, 9, 12, 13, 18, 21, 24, 28)}
    (row,) = phenology_rows(make_published(guide(sightings=(tally("birch-bug", "nymph", "", days),))))
    told = dict(zip(PHENOLOGY_COLUMNS, row, strict=True))
    assert (told["scientific name"], told["stage"], told["sightings"], told["years"]) == ("Elasmostethus interstinctus", "nymph", "10", "1")
    assert (told["first seen"], told["50 % date"], told["last seen"]) == ("06-03", "06-13", "06-28")
    assert told["true first (Roberts & Solow 2003)"] < "06-03"
    assert told["note"].startswith("Only 1 year")


def test_a_stage_seen_once_has_no_estimate() -> None:
    (row,) = phenology_rows(make_published(guide(sightings=(tally("birch-bug", "nymph", "", {"2025-06-03": 1}),))))
    told = dict(zip(PHENOLOGY_COLUMNS, row, strict=True))
    assert told["true last (Roberts & Solow 2003)"] == ""
    assert told["5 % interval"] == "06-03 to 06-03"
