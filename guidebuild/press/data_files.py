"""The files of data that others may use, by their names: the output `data` puts them down, and the site offers them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from guidebuild.fieldwork.published import Published
from guidebuild.press.data_tables import archive_file, as_csv
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.views.data.checklist_table import checklist_table
from guidebuild.views.data.darwin_core import taxa_archive
from guidebuild.views.data.media import MediaFile
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.data.seen_table import SEEN_COLUMNS, seen_rows
from guidebuild.views.outdoors.phenology_table import PHENOLOGY_COLUMNS, phenology_rows

_TYPES = {"jpeg": "image/jpeg", "webp": "image/webp", "avif": "image/avif"}


def data_files(guide: Published, pictures: Mapping[str, PictureSet]) -> dict[str, bytes]:
    """Tables and archives. `pictures` are the copies of photos on the site."""
    taxa = archive_file(taxa_archive(guide, list_media(pictures)))
    return {"checklist.csv": as_csv(checklist_table(guide)), "taxa.zip": taxa, **_sighting_files(guide)}


@lru_cache(maxsize=1)
def _sighting_files(guide: Published) -> Mapping[str, bytes]:
    """What sightings make: two outputs ask for it, and it may be large."""
    sightings = sightings_archive(guide)
    if not sightings.core.rows:
        return {}
    return {
        "sightings.zip": archive_file(sightings),
        "seen-dates.csv": as_csv([PHENOLOGY_COLUMNS, *phenology_rows(guide)]),
        "seen-by-place.csv": as_csv([SEEN_COLUMNS, *seen_rows(guide)]),
    }


def list_media(pictures: Mapping[str, PictureSet]) -> dict[str, MediaFile]:
    """Of each photo the copy that everybody can open: the widest JPEG."""
    widest = {photo: (copies.of_format("jpeg") or (copies.largest,))[-1] for photo, copies in pictures.items()}
    return {photo: MediaFile(copy.path, _TYPES[copy.format]) for photo, copy in widest.items()}
