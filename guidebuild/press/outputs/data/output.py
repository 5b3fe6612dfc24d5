"""The output `data`: checklist and dates seen as CSV, facts and sightings as Darwin Core archives, for others to use."""

from __future__ import annotations

from guidebuild.press.outputs.data.tables import archive_file, as_csv
from guidebuild.press.run import Run
from guidebuild.views.data.checklist_table import COLUMNS, checklist_rows
from guidebuild.views.data.darwin_core import sightings_archive, taxa_archive
from guidebuild.views.outdoors.phenology_table import PHENOLOGY_COLUMNS, phenology_rows

FOLDER = "data"


def publish_data(run: Run) -> None:
    """Everything under data/."""
    run.add(f"{FOLDER}/checklist.csv", as_csv([COLUMNS, *checklist_rows(run.guide)]))
    run.add(f"{FOLDER}/taxa.zip", archive_file(taxa_archive(run.guide)))
    sightings = sightings_archive(run.guide)
    if sightings.core.rows:
        run.add(f"{FOLDER}/sightings.zip", archive_file(sightings))
        run.add(f"{FOLDER}/seen-dates.csv", as_csv([PHENOLOGY_COLUMNS, *phenology_rows(run.guide)]))
