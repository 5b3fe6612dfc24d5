"""The output `data`: checklist and dates seen as CSV, facts and sightings as Darwin Core archives, for others to use."""

from __future__ import annotations

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.files import Files
from guidebuild.press.outputs.data.tables import archive_file, as_csv
from guidebuild.views.data.checklist_table import checklist_table
from guidebuild.views.data.darwin_core import taxa_archive
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.outdoors.phenology_table import PHENOLOGY_COLUMNS, phenology_rows


def publish_data(guide: Published, files: Files) -> None:
    """Everything under data/."""
    files.add("checklist.csv", as_csv(checklist_table(guide)))
    files.add("taxa.zip", archive_file(taxa_archive(guide)))
    sightings = sightings_archive(guide)
    if sightings.core.rows:
        files.add("sightings.zip", archive_file(sightings))
        files.add("seen-dates.csv", as_csv([PHENOLOGY_COLUMNS, *phenology_rows(guide)]))
