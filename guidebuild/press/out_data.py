"""The output `data`: the checklist as CSV and the guide's facts as a Darwin Core archive, for others to use."""

from __future__ import annotations

from guidebuild.press.run import Run
from guidebuild.press.tables import archive_file, as_csv
from guidebuild.views.checklist_table import COLUMNS, checklist_rows
from guidebuild.views.darwin_core import sightings_archive, taxa_archive

FOLDER = "data"


def publish_data(run: Run) -> None:
    """Everything under data/."""
    run.add(f"{FOLDER}/checklist.csv", as_csv([COLUMNS, *checklist_rows(run.guide)]))
    run.add(f"{FOLDER}/taxa.zip", archive_file(taxa_archive(run.guide)))
    sightings = sightings_archive(run.guide)
    if sightings.core.rows:
        run.add(f"{FOLDER}/sightings.zip", archive_file(sightings))
