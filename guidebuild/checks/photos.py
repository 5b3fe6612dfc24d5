"""Photos: the file is there, someone is credited, a licence allows it, and those who cannot see it are told what it shows."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidebuild.checks.references import nearest
from guidebuild.checks.rule import Rule
from guidebuild.fieldwork.sale import ALWAYS_PRINTED, list_sold_with_pictures, list_unsold_photos
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.licence_text import version_of
from guidebuild.guide.records import Photo

_FILE_NAME = re.compile(
    r"^(?:img|dsc|dscn|pxl|photo|image|p)?[\s_-]*\d[\w\s-]*(?:\.\w{3,4})?$|\.(?:jpe?g|png|heic|webp|tiff?)$", re.IGNORECASE
)


def _file_missing(guide: Guide) -> Iterator[Finding]:
    for photo in guide.photos.values():
        if photo.file not in guide.photo_files:
            mend = nearest(photo.file, guide.photo_files) or "Put the file there, or correct `file:`."
            yield FILE_MISSING.finding(
                f"The file {photo.file} of photo “{photo.id}” is not there.", photo.at, mend=mend, account=photo.account
            )


def _file_not_entered(guide: Guide) -> Iterator[Finding]:
    entered = {photo.file for photo in guide.photos.values()}
    for file in sorted(guide.photo_files - entered):
        yield FILE_NOT_ENTERED.finding(f"{file} stands in the folder but not in photos.yaml.", At(file))


def _no_credit(guide: Guide) -> Iterator[Finding]:
    for photo in guide.photos.values():
        if not photo.credit.strip():
            yield NO_CREDIT.finding(f"The photo “{photo.id}”{_of(guide, photo)} has no credit.", photo.at, account=photo.account)


def _no_licence(guide: Guide) -> Iterator[Finding]:
    for photo in guide.photos.values():
        if not photo.licence.strip():
            yield NO_LICENCE.finding(f"The photo “{photo.id}”{_of(guide, photo)} has no licence.", photo.at, account=photo.account)


def _nearest_licence(guide: Guide, licence: str) -> str:
    """A known licence of the same version: what an older one asks is not what a newer one does."""
    version = version_of(licence)
    if not version and "cc" in licence.casefold():
        return "Say which version it is, such as CC-BY-3.0 or CC-BY-4.0: the picture's page tells."
    return nearest(licence, [known for known in guide.licences if version_of(known) == version])


def _unknown_licence(guide: Guide) -> Iterator[Finding]:
    named = [(p.licence, p.at, p.account) for p in guide.photos.values()]
    named += [(film.licence, film.where("licence"), "") for film in guide.films.values()]
    named += [(sound.licence, sound.where("licence"), "") for sound in guide.sounds.values()]
    named += [(guide.settings.licence, guide.settings.at, "")]
    for licence, at, account in named:
        if licence and licence not in guide.licences:
            mend = _nearest_licence(guide, licence) or "Write an SPDX id such as CC-BY-4.0, or all-rights-reserved."
            yield UNKNOWN_LICENCE.finding(f"“{licence}” is not a licence this tool knows.", at, mend=mend, account=account)


def _poor_alt(guide: Guide) -> Iterator[Finding]:
    for photo in guide.photos.values():
        problem = "" if photo.decorative else _alt_problem(guide, photo)
        if problem:
            message = f"The words for those who cannot see the photo “{photo.id}”{_of(guide, photo)} {problem}."
            yield POOR_ALT.finding(message, photo.at, account=photo.account)


def _not_for_sale(guide: Guide) -> Iterator[Finding]:
    named_sold = list_sold_with_pictures(guide.settings)
    sold = ", ".join(named_sold)
    for ident in list_unsold_photos(guide) if named_sold else ():
        photo = guide.photos[ident]
        licence = guide.licences.get(photo.licence)
        named = licence.title if licence else photo.licence
        message = f"The photo “{ident}”{_of(guide, photo)} ({named}) may not be sold, so it is left out of what is sold: {sold}."
        yield NOT_FOR_SALE.finding(message, photo.positions.get("licence", photo.at))


def _sold_but_not_printed(guide: Guide) -> Iterator[Finding]:
    known = (*guide.settings.prints, *ALWAYS_PRINTED)
    folded = {name.strip().casefold() for name in known}
    for name in guide.settings.sold:
        if name.strip().casefold() not in folded:
            always = ", ".join(ALWAYS_PRINTED)
            mend = nearest(name, known) or f"Write {name} under `prints:` too, or name one of these, which are always made: {always}."
            where = guide.settings.positions.get("sold", guide.settings.at)
            yield SOLD_NOT_PRINTED.finding(f"“{name}” is sold but never printed.", where, mend=mend)


def _alt_problem(guide: Guide, photo: Photo) -> str:
    alt = photo.alt.words
    account = guide.accounts.get(photo.account)
    if not alt:
        return "are missing (`alt:`)"
    if _FILE_NAME.search(alt):
        return f"are a file name: “{alt}”"
    if alt.casefold() == photo.caption.words.casefold():
        return "only repeat its caption"
    names = (account.vernacular, account.name.plain) if account else ()
    if alt.casefold().strip(".") in {name.casefold() for name in names if name}:
        return f"say no more than the name: “{alt}”"
    return ""


def _of(guide: Guide, photo: Photo) -> str:
    account = guide.accounts.get(photo.account)
    return f" of {account.vernacular or account.id}" if account else ""


FILE_MISSING = Rule(
    "photo-file-missing",
    "Every photo's file is there",
    Level.ERROR,
    "The page would stand without its plate.",
    "Put the file there, or correct `file:`.",
    _file_missing,
)
FILE_NOT_ENTERED = Rule(
    "photo-not-entered",
    "Every file in photos/ is entered in photos.yaml",
    Level.NOTE,
    "A photo without an entry has no credit and is never shown.",
    "Add an entry to photos.yaml.",
    _file_not_entered,
)
NO_CREDIT = Rule(
    "no-credit",
    "Every photo is credited",
    Level.ERROR,
    "Whoever made a picture must be named; it is not published until then.",
    "Write `credit:` and the maker's name.",
    _no_credit,
)
NO_LICENCE = Rule(
    "no-licence",
    "Every photo has a licence",
    Level.ERROR,
    "A picture without a licence must not be published.",
    "Write `licence:` and an SPDX id such as CC-BY-4.0.",
    _no_licence,
)
UNKNOWN_LICENCE = Rule(
    "unknown-licence",
    "Every licence is one that can be named",
    Level.ERROR,
    "The credit line must say what others may do with the picture.",
    "Write an SPDX id such as CC-BY-4.0.",
    _unknown_licence,
)
POOR_ALT = Rule(
    "poor-alt",
    "Alt text says what a photo shows",
    Level.WARNING,
    "Someone who cannot see the plate must still learn the mark (WCAG 2.2, success criterion 1.1.1).",
    "Write in `alt:` what one sees: which side, what stands out, where.",
    _poor_alt,
)

NOT_FOR_SALE = Rule(
    "not-for-sale",
    "Pictures in what is sold may be sold",
    Level.WARNING,
    "A licence with NC, or a permission that was given for the guide, does not cover a print that costs money.",
    "Ask its maker, and write what was allowed into `permission:`; or take another picture.",
    _not_for_sale,
)
SOLD_NOT_PRINTED = Rule(
    "sold-not-printed",
    "What is sold is printed",
    Level.WARNING,
    "Pictures would be sold that may not be.",
    "Write under `sold:` a print of `prints:`, or one of those that are always made: cards, deck, walk cards.",
    _sold_but_not_printed,
)

RULES = (FILE_MISSING, FILE_NOT_ENTERED, NO_CREDIT, NO_LICENCE, UNKNOWN_LICENCE, POOR_ALT, NOT_FOR_SALE, SOLD_NOT_PRINTED)
