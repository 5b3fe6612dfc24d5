"""The files of data that others may use, by their names: the output `data` puts them down, and the site offers them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import kept_by_guide
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
    return {name: data for name, make in data_makers(guide, pictures).items() if (data := make())}


def data_makers(guide: Published, pictures: Mapping[str, PictureSet]) -> Mapping[str, Callable[[], bytes]]:
    """What makes each of them by itself; where nothing was seen, those of sightings are empty and left out."""

    def if_seen(make: Callable[[], bytes]) -> Callable[[], bytes]:
        return lambda: make() if sightings_archive(guide).core.rows else b""

    return {
        "checklist.csv": lambda: as_csv(checklist_table(guide)),
        "taxa.zip": lambda: archive_file(taxa_archive(guide, list_media(pictures))),
        "sightings.zip": if_seen(lambda: _sightings_file(guide)),
        "seen-dates.csv": if_seen(lambda: _dates_file(guide)),
        "seen-by-place.csv": if_seen(lambda: as_csv([SEEN_COLUMNS, *seen_rows(guide)])),
    }


@kept_by_guide(2)
def _sightings_file(guide: Published) -> bytes:
    """Two outputs ask for it, and it may be large."""
    return archive_file(sightings_archive(guide))


@kept_by_guide(2)
def _dates_file(guide: Published) -> bytes:
    return as_csv([PHENOLOGY_COLUMNS, *phenology_rows(guide)])


def list_media(pictures: Mapping[str, PictureSet]) -> dict[str, MediaFile]:
    """Of each photo the copy that everybody can open: the widest JPEG."""
    widest = {photo: (copies.of_format("jpeg") or (copies.largest,))[-1] for photo, copies in pictures.items()}
    return {photo: MediaFile(copy.path, _TYPES[copy.format]) for photo, copy in widest.items()}
