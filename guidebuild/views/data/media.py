"""The pictures of an archive after Audubon Core (TDWG), as the extension "Audubon Media Description" of rs.gbif.org has it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.guide.life_stages import record_stage

_STILL_IMAGE = "http://purl.org/dc/dcmitype/StillImage"
COLUMNS = (
    "taxonID", "identifier", "dc:type", "type", "title", "ac:metadataLanguageLiteral", "rights", "xmpRights:UsageTerms",
    "xmpRights:WebStatement", "photoshop:Credit", "dc:creator", "ac:providerLiteral", "description", "ac:caption", "scientificName",
    "sex", "lifeStage", "ac:accessURI", "dc:format", "ac:furtherInformationURL",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class MediaFile:
    """Where a picture can be fetched: its path from the site's root, and its type (IANA media types)."""

    path: str
    format: str


def media_rows(guide: Published, files: Mapping[str, MediaFile]) -> Iterator[tuple[str, ...]]:
    """Pictures by species, under `COLUMNS`. One that cannot be fetched is none: without an address of the site there are no rows."""
    site = guide.settings.address.rstrip("/")
    for account in guide.accounts.values() if site else ():
        for photo in guide.photos_of(account):
            if photo.id in files:
                yield _tell_picture(guide, account, photo, site, files[photo.id])


def _tell_picture(guide: Published, account: PublicAccount, photo: PublicPhoto, site: str, file: MediaFile) -> tuple[str, ...]:
    known = guide.licences.get(photo.licence)
    title, licence = (known.title, known.address) if known else (photo.licence, "")
    address = f"{site}/{file.path}"
    return (
        account.id, address, "StillImage", _STILL_IMAGE, (photo.title or photo.caption).words, guide.settings.language, licence, title,
        licence, photo.credit, photo.credit, guide.settings.publisher, photo.alt.words, photo.caption.words, account.name.plain,
        photo.sex, record_stage(guide.stage_set(account), photo.stage).life_stage if photo.stage else "", address, file.format,
        f"{site}/accounts/{account.id}.html",
    )  # fmt: skip
