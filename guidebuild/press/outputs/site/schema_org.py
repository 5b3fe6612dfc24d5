"""Pages in the words of schema.org: an account as a taxon with its family, a family with its species, a film, the guide as a site."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Any

from guidebuild.press.outputs.site.plate import Pictures
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.speech.script import join_text
from guidebuild.views.pieces.common import LinkView, PhotoView
from guidebuild.views.site.account import AccountPage
from guidebuild.views.site.films import ChapterView, FilmPage, FilmView
from guidebuild.views.site.page import PageView, values_of
from guidebuild.views.site.sounds import SoundView

Address = Callable[[str], str]
"""The address of a path of the site."""
_CONTEXT = {"@context": "https://schema.org"}


def describe_page(page: PageView, pictures: Pictures, find_address: Address, *, plays: Collection[str] = ()) -> dict[str, Any]:
    """What is said of a page; nothing where it is neither of a taxon nor the first page.

    `plays` are the paths of films and the ids of sounds whose files stand on the site.
    """
    if page.kind == "account":
        return _CONTEXT | _describe_account(page, pictures, find_address, plays)
    if page.kind == "film" and isinstance(page.data, FilmPage):
        return _CONTEXT | _describe_film(page, page.data.film, pictures, find_address, is_here=page.data.film.file in plays)
    if page.kind == "family":
        return _CONTEXT | _describe_family(page, find_address)
    return _CONTEXT | _describe_guide(page, find_address) if page.path == page.site.home else {}


def _describe_account(page: PageView, pictures: Pictures, find_address: Address, plays: Collection[str]) -> dict[str, Any]:
    name = page.name
    taxon: dict[str, Any] = {"@type": "Taxon", "name": name.plain if name else page.title}
    if name and name.vernacular:
        taxon["alternateName"] = name.vernacular
    taxon["taxonRank"] = "species"
    if isinstance(page.data, AccountPage) and page.data.family:
        taxon["parentTaxon"] = _name_taxon(page, page.data.family, find_address) | {"taxonRank": "family"}
    if page.description:
        taxon["description"] = page.description
    if page.site.address:
        taxon["url"] = find_address(page.path)
    if page.share and page.share.id in pictures:
        taxon["image"] = _describe_image(page.share, pictures[page.share.id], find_address)
    if isinstance(page.data, AccountPage) and page.data.sounds:
        taxon["subjectOf"] = [
            _describe_sound(page, sound, find_address, is_here=bool(sound.file) and sound.id in plays) for sound in page.data.sounds
        ]
    return taxon


def _describe_sound(page: PageView, sound: SoundView, find_address: Address, *, is_here: bool) -> dict[str, Any]:
    said = {
        "name": sound.title,
        "description": sound.note.words,
        "contentUrl": find_address(sound.file) if is_here and page.site.address else "",
        "encodingFormat": sound.type if is_here else "",
        "sameAs": sound.address,
        "dateCreated": sound.day,
        "creditText": sound.attribution.maker if sound.attribution else "",
        "license": sound.attribution.licence.address if sound.attribution and sound.attribution.licence else "",
    }
    return {"@type": "AudioObject"} | {key: value for key, value in said.items() if value}


def _describe_film(page: PageView, film: FilmView, pictures: Pictures, find_address: Address, *, is_here: bool) -> dict[str, Any]:
    """A film with its chapters as clips and all that is said in it. Addresses are left out where the site has none."""
    site, has_address = page.site, bool(page.site.address)
    still = pictures.get(film.still.id) if film.still else None
    said = {
        "name": film.title,
        "description": film.note.words or film.title,
        "uploadDate": film.day.isoformat() if film.day else "",
        "duration": f"PT{round(film.seconds)}S" if film.seconds else "",
        "inLanguage": film.spoken_in,
        "url": find_address(page.path) if has_address else "",
        "contentUrl": find_address(film.file) if is_here and has_address else "",
        "encodingFormat": film.type if is_here else "",
        "sameAs": film.address,
        "thumbnailUrl": find_address(still.largest.path) if still and has_address else "",
        "creditText": film.attribution.maker if film.attribution else "",
        "license": film.attribution.licence.address if film.attribution and film.attribution.licence else "",
        "about": [_name_taxon(page, species.link, find_address) for species in film.species],
        "hasPart": [_describe_clip(page, chapter, find_address) for chapter in film.chapters],
        "transcript": " ".join(join_text(cue.words) for paragraph in film.transcript for cue in paragraph.cues),
        "isPartOf": {"@type": "WebSite", "name": site.title},
    }
    return {"@type": "VideoObject"} | {key: value for key, value in said.items() if value}


def _describe_clip(page: PageView, chapter: ChapterView, find_address: Address) -> dict[str, Any]:
    clip = {"@type": "Clip", "name": chapter.words, "startOffset": round(chapter.start), "endOffset": round(chapter.end)}
    return clip | {"url": f"{find_address(page.path)}#t={round(chapter.start)}"} if page.site.address else clip


def _describe_family(page: PageView, find_address: Address) -> dict[str, Any]:
    species = {
        link.path: link for link in values_of(LinkView, page.data) if link.name and link.path.startswith(f"{page.site.base}accounts/")
    }
    taxon: dict[str, Any] = {"@type": "Taxon", "name": page.title.split(",", 1)[0], "taxonRank": "family"}
    if page.site.address:
        taxon["url"] = find_address(page.path)
    return taxon | {"childTaxon": [_name_taxon(page, link, find_address) for link in species.values()]}


def _describe_guide(page: PageView, find_address: Address) -> dict[str, Any]:
    site = page.site
    families = {link.path: link for link in values_of(LinkView, page.data) if link.path.startswith(f"{site.base}families/")}
    said = {
        "name": site.title,
        "description": site.description,
        "inLanguage": page.language,
        "url": find_address(page.path) if site.address else "",
        "license": site.licence.address if site.licence else "",
        "publisher": {"@type": "Organization", "name": site.publisher} if site.publisher else None,
        "spatialCoverage": site.region,
        "about": [_name_taxon(page, link, find_address) | {"taxonRank": "family"} for link in families.values()],
    }
    return {"@type": "WebSite"} | {key: value for key, value in said.items() if value}


def _name_taxon(page: PageView, link: LinkView, find_address: Address) -> dict[str, Any]:
    """A taxon that another page tells of."""
    taxon: dict[str, Any] = {"@type": "Taxon", "name": link.name.plain if link.name and link.name.plain else link.text}
    if link.name and link.name.vernacular:
        taxon["alternateName"] = link.name.vernacular
    return taxon | {"url": find_address(link.path)} if page.site.address else taxon


def _describe_image(photo: PhotoView, copies: PictureSet, find_address: Address) -> dict[str, Any]:
    image: dict[str, Any] = {
        "@type": "ImageObject",
        "contentUrl": find_address(copies.largest.path),
        "width": copies.width,
        "height": copies.height,
    }
    if photo.credit:
        image["creditText"] = photo.credit
    if photo.licence and photo.licence.address:
        image["license"] = photo.licence.address
    if photo.alt:
        image["caption"] = photo.alt
    return image
