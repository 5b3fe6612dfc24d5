"""Pages one looks things up in: glossary, sources and credits, cautions; and pages for former addresses."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.guide.records import Source
from guidebuild.guide.sounds import Sound
from guidebuild.views.pieces.cautions import show_cautions
from guidebuild.views.pieces.citations import make_citation
from guidebuild.views.pieces.common import CautionView, LinkView, PhotoView, ProseView, Wording
from guidebuild.views.pieces.credits import CreditPart, LicenceView
from guidebuild.views.pieces.laws import laws_of_guide
from guidebuild.views.pieces.links import list_sources, list_terms
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import WHOLE, Run
from guidebuild.views.site.account import SourceView
from guidebuild.views.site.data import PATH as DATA
from guidebuild.views.site.sounds import SoundView, sound_view
from guidebuild.views.site.walk import walk_link


@dataclass(frozen=True, slots=True)
class TermView:
    """One word and its meaning."""

    id: str
    word: str
    also: tuple[str, ...]
    meaning: ProseView
    photo: PhotoView | None = None


@dataclass(frozen=True, slots=True)
class GlossaryPage:
    """All words, in alphabetical order."""

    terms: tuple[TermView, ...]


@dataclass(frozen=True, slots=True)
class CreditView:
    """A picture and where it is shown; `parts` are what its credit says besides who made it and under which licence."""

    photo: PhotoView
    shown: LinkView | None
    what: Wording
    parts: tuple[CreditPart, ...]


@dataclass(frozen=True, slots=True)
class CreditGroup:
    """All pictures that one person gave under one licence."""

    who: str
    licence: LicenceView | None
    credits: tuple[CreditView, ...]


@dataclass(frozen=True, slots=True)
class SourcesPage:
    """Sources of facts, and credits of pictures."""

    sources: tuple[SourceView, ...]
    groups: tuple[CreditGroup, ...]
    data: LinkView
    sounds: tuple[SoundView, ...] = ()


@dataclass(frozen=True, slots=True)
class CautionsPage:
    """Every caution that the guide gives, and where."""

    cautions: tuple[tuple[CautionView, tuple[LinkView, ...]], ...]
    laws: tuple[CautionView, ...] = ()


@dataclass(frozen=True, slots=True)
class MovedPage:
    """A former address, and where its account stands now."""

    to: LinkView


MOST_CITING = 60
"""Accounts that are named beside a source; of more, only how many there are."""


def glossary_page(make: PieceMaker, run: Run = WHOLE) -> GlossaryPage:
    """The glossary, or a run of it."""
    terms = list_terms(make.guide)[run.held]
    return GlossaryPage(
        tuple(
            TermView(t.id, t.word, t.also, make.prose(t.meaning.text, prefix=f"term-{t.id}", language=make.main), make.photo_of(t.photo))
            for t in terms
        )
    )


def sources_page(make: PieceMaker, run: Run = WHOLE) -> SourcesPage:
    """Sources with the accounts that cite them, then pictures with who made them; or a run of both."""
    accounts = make.guide.accounts.values()
    everything: tuple[Source | PublicPhoto | Sound, ...] = (
        *list_sources(make.guide),
        *make.guide.photos.values(),
        *make.guide.sounds.values(),
    )
    listed = everything[run.held]
    sources = tuple(_show_source(make, source) for source in listed if isinstance(source, Source))
    owners: dict[str, PublicAccount] = {p: a for a in accounts for p in a.photos}
    groups: dict[tuple[str, LicenceView | None], list[CreditView]] = {}
    for photo in listed:
        if isinstance(photo, Source | Sound):
            continue
        owner = owners.get(photo.id) or make.guide.accounts.get(photo.account)
        view = make.photo(photo, None)
        credit = view.attribution
        parts = tuple(part for part in credit.parts if not (part.is_licence or part.is_title or part.words == credit.maker))
        what = make.word(photo.title or photo.caption or photo.alt)
        one = CreditView(view, make.map.account(owner) if owner else None, what, parts)
        groups.setdefault((credit.maker, credit.licence), []).append(one)
    data = LinkView(make.map.page(DATA), make.words("The data: what they hold, how to cite them, downloads"))
    sounds = tuple(sound_view(make, sound) for sound in listed if isinstance(sound, Sound))
    grouped = tuple(CreditGroup(who, licence, tuple(ones)) for (who, licence), ones in groups.items())
    return SourcesPage(sources, grouped, data, sounds)


def _show_source(make: PieceMaker, source: Source) -> SourceView:
    citing = [account for account in make.guide.accounts.values() if source.id in account.sources]
    used_by = tuple(make.map.account(account) for account in citing) if len(citing) <= MOST_CITING else (_count_citing(make, len(citing)),)
    cited = make_citation(source, make.words)
    # A source of which nothing but its short name is given is not said twice.
    reference = cited.words if source.author or source.title or source.publisher else ""
    accessed = make.words.date(source.accessed) if source.accessed else ""
    return SourceView(source.id, source.cite, cited.address, accessed, reference, used_by, make.licence(source.licence))


def _count_citing(make: PieceMaker, number: int) -> LinkView:
    return LinkView(make.map.page("accounts/index.html"), make.words.count("{n} species", "{n} species", number))


def cautions_page(make: PieceMaker) -> CautionsPage:
    """Cautions that are given anywhere, with the pages that give them."""
    guide = make.guide
    where: dict[str, list[LinkView]] = {}
    for account in guide.accounts.values():
        for hazard in account.hazards:
            where.setdefault(hazard, []).append(make.map.account(account))
    for plant in guide.plants.values():
        for hazard in plant.hazards:
            where.setdefault(hazard, []).append(make.map.plant(plant.id))
    for place in guide.places.values():
        for hazard in place.hazards:
            where.setdefault(hazard, []).append(make.map.place(place.id))
    for walk in guide.walks.values():
        for hazard in walk.hazards:
            where.setdefault(hazard, []).append(walk_link(make, walk))
    cautions = tuple((show_cautions(make, (hazard,))[0], tuple(links)) for hazard, links in sorted(where.items()))
    return CautionsPage(cautions, laws_of_guide(make))


def moved_page(make: PieceMaker, account: PublicAccount) -> MovedPage:
    """The page that stands at a former address."""
    return MovedPage(make.map.account(account))
