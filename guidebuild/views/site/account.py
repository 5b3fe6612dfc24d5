"""The account page: is it this one? when and where? its life, in the field, sources."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Set
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import SimilarSpecies
from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.characters import Character, Score
from guidebuild.guide.records import Section
from guidebuild.guide.text.footnotes import with_their_notes
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.identify.look_alikes import WIDEST_SET, other_pairs, similar_sets
from guidebuild.identify.readings import Scope
from guidebuild.identify.separation import best_separating, find_separations
from guidebuild.views.pieces.cautions import cautions_of_account
from guidebuild.views.pieces.common import (
    CautionView,
    FactRow,
    LinkView,
    MarkView,
    NameView,
    PhotoView,
    ProseView,
    SeasonBarView,
    SimilarView,
    SizeView,
    Wording,
)
from guidebuild.views.pieces.credits import LicenceView
from guidebuild.views.pieces.laws import laws_of_account
from guidebuild.views.pieces.maps import MapView, map_of_account
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.pieces.scopes import add_scopes, label_separations
from guidebuild.views.pieces.season_words import season_words
from guidebuild.views.site.account_facts import account_facts
from guidebuild.views.site.films import FilmView, films_of_account
from guidebuild.views.site.seen import describe_species
from guidebuild.views.site.sounds import SoundView, sounds_of_account
from guidebuild.views.telling.compare import TWO, compare_path, find_compared

FIRST = "in brief"
MOST_BESIDE = 6
"""Pictures of one look-alike that a plate can be laid beside."""


@dataclass(frozen=True, slots=True)
class StageView:
    """One stage in the strip of life."""

    label: str
    text: ProseView | None
    when: str = ""
    photo: PhotoView | None = None


@dataclass(frozen=True, slots=True)
class SourceView:
    """A source as cited; `reference` is its author, year and title, as far as they are given, or the whole citation of a data set."""

    id: str
    cite: str
    address: str = ""
    accessed: str = ""
    reference: str = ""
    used_by: tuple[LinkView, ...] = ()
    licence: LicenceView | None = None
    page: str = ""  # where it stands among the guide's sources


MOST_SIMILAR = 24
"""Look-alikes on an account's page: of more, the first ones that its author lists, and the way to the others."""


@dataclass(frozen=True, slots=True)
class AccountPage:
    """All that an account's page shows, in reading order."""

    name: NameView
    plate: PhotoView | None
    marks: tuple[MarkView, ...]
    size: SizeView | None
    brief: ProseView | None
    similar: tuple[SimilarView, ...]
    similar_reason: Wording
    compare: LinkView | None
    season: SeasonBarView | None
    facts: tuple[FactRow, ...]
    stages: tuple[StageView, ...]
    sections: tuple[ProseView, ...]
    gallery: tuple[PhotoView, ...]
    cautions: tuple[CautionView, ...]
    laws: tuple[CautionView, ...]
    sources: tuple[SourceView, ...]
    map: MapView | None = None
    family: LinkView | None = None
    reviewed_by: str = ""
    reviewed_on: str = ""
    untranslated: bool = False  # the reader's language is missing: the guide's first one is shown
    earlier: LinkView | None = None
    later: LinkView | None = None
    seen: str = ""  # what its button notes
    films: tuple[FilmView, ...] = ()
    sounds: tuple[SoundView, ...] = ()
    card: str = ""  # where its field card stands, if one was printed


def card_path(account: str) -> str:
    """Where a species' field card stands, from the site's root; there is one for all languages, in the guide's first."""
    return f"cards/{account}.pdf"


def account_page(make: PieceMaker, account: PublicAccount) -> AccountPage:
    """The page of one account in the maker's language."""
    sections = _sections(make, account)
    plate = make.plate(account)
    pointed = dict.fromkeys(m.photo for m in account.diagnostics if m.point and m.photo in make.guide.photos)
    # Pictures stand in prose without pointers: one that has them is shown again as a plate.
    told = {photo.id for _, s in sections for photo in s.photos} - pointed.keys()
    taken = told | ({plate.id} if plate else set())
    stages = _stages(make, account, taken)
    shown = taken | {stage.photo.id for stage in stages if stage.photo}
    wanted = dict.fromkeys([*account.photos, *pointed])
    main = make.guide.settings.language
    return AccountPage(
        name=make.map.account(account).name or NameView(account.vernacular, ()),
        plate=plate,
        marks=make.marks(account),
        size=make.size(account),
        brief=next((s for key, s in sections if key == FIRST), None),
        similar=tuple(v for s in tuple(account.similar)[:MOST_SIMILAR] if (v := similar_view(make, account, s))),
        similar_reason=make.word(account.similar.reason),
        compare=compare_link(make, account),
        season=make.season_bar(account),
        facts=account_facts(make, account),
        stages=stages,
        sections=tuple(s for key, s in sections if key != FIRST),
        gallery=tuple(p for i in wanted if i not in shown and (p := make.photo_of(i, account))),
        cautions=cautions_of_account(make, account),
        laws=laws_of_account(make, account),
        sources=tuple(
            SourceView(s.id, s.cite, s.link, make.words.date(s.accessed) if s.accessed else "", page=make.map.source(s).path)
            for i in account.sources
            if (s := make.guide.sources.get(i))
        ),
        map=map_of_account(make, account),
        family=make.map.family(account.family) if account.family else None,
        reviewed_by=account.reviewed.by if account.reviewed else "",
        reviewed_on=make.words.date(account.reviewed.on) if account.reviewed else "",
        untranslated=make.language != main and make.translation(account) is None,
        seen=describe_species(make, account),
        films=films_of_account(make, account),
        sounds=sounds_of_account(make, account),
        card=card_path(account.id),
    )


def changed_on(account: PublicAccount, today: dt.date) -> dt.date | None:
    """The day an account last changed for its readers: posted or reviewed, whichever is later, and no day that is still to come."""
    days = [day for day in (account.posted, account.reviewed.on if account.reviewed else None) if day and day <= today]
    return max(days, default=None)


def compare_link(make: PieceMaker, account: PublicAccount) -> LinkView | None:
    """The page that compares all that are taken for one another, where they are more than a pair, or the one that shows any two of them."""
    wider = _sets_by_account(make.guide).get(account.id, ())
    if 0 < len(wider) <= WIDEST_SET:
        return LinkView(make.map.page(compare_path(wider)), make.words("All of these side by side"))
    if len(account.similar) > MOST_SIMILAR or any(account.id in pair for pair in other_pairs(make.guide)):
        note = make.words.count("{n} species", "{n} species", len(account.similar))
        return LinkView(make.map.page(f"{TWO}#{account.id}"), make.words("Beside any of its look-alikes"), note=note)
    return None


@kept_by_guide(2)
def _sets_by_account(guide: Published) -> Mapping[str, tuple[str, ...]]:
    return {account: ids for ids in similar_sets(guide) for account in ids}


def similar_view(make: PieceMaker, account: PublicAccount, similar: SimilarSpecies) -> SimilarView | None:
    """A look-alike with the author's note, in the reader's language where there is one, and its plate."""
    other = make.map.account_called(similar.account)
    if other is None:
        return None
    translated = make.translation(account)
    notes = dict(translated.similar_notes) if translated else {}
    theirs = notes.get(similar.account, NO_TEXT)
    return SimilarView(
        link=make.map.account(other),
        note=(note := theirs or similar.note).words,
        marked_note=make.marked(note),
        language="" if theirs else make.foreign,
        pairs=_pairs(make, account, other, similar),
        photo=make.small_plate(other),
        beside=_photos_beside(make, account, other),
        compare=LinkView(make.map.page(find_compared(make.guide, (account.id, other.id))), make.words("Side by side")),
    )


def _photos_beside(make: PieceMaker, account: PublicAccount, other: PublicAccount) -> tuple[PhotoView, ...]:
    """The other's pictures that may be laid beside this one's: its plate first, then those of stages that both show."""
    stages = {photo.stage for photo in make.guide.photos_of(account)}
    plate = make.plate(other)
    photos = [photo for photo in make.guide.photos_of(other) if photo.stage in stages]
    listed = [*((make.guide.photos[plate.id],) if plate else ()), *(photo for photo in photos if not plate or photo.id != plate.id)]
    return tuple(replace(make.photo(photo, other), marks=()) for photo in listed[:MOST_BESIDE])


def _pairs(make: PieceMaker, here: PublicAccount, there: PublicAccount, similar: SimilarSpecies) -> tuple[tuple[str, str, str], ...]:
    """The characters the author tells the two by, else the two best that the scores give; each with the stage and sex it holds for."""
    facts = make if make.language == make.main else make_pieces(make.guide)  # as the characters, in the guide's own language
    named = [c for c in similar.tell_by if c in make.guide.characters]
    if not named:
        return label_separations(facts, best_separating(make.guide, here.id, there.id, 2))
    found = find_separations(make.guide, here.id, there.id)
    rows = [label_separations(facts, apart) if (apart := [s for s in found if s.character.id == c]) else (_pair(facts, here, there, c),)
            for c in named]  # fmt: skip
    return tuple(row for told in rows for row in told)


def _pair(make: PieceMaker, here: PublicAccount, there: PublicAccount, character: str) -> tuple[str, str, str]:
    return (make.guide.characters[character].label, _list_scored(make, here, character), _list_scored(make, there, character))


def _list_scored(make: PieceMaker, account: PublicAccount, character: str) -> str:
    """All that an account says of a character, each with its stage and sex; a dash where nothing is known."""
    said = []
    for score in (score for score in account.scores if score.character == character):
        scopes = [Scope(stage, sex) for stage in score.stages or ("",) for sex in score.sexes or ("",)]
        said.append(add_scopes(make, _say_score(make, make.guide.characters[character], score), scopes))
    return "; ".join(said) or "–"


def _say_score(make: PieceMaker, character: Character, score: Score) -> str:
    if score.measure:
        return score.measure.typed
    usual = [s.words for s in character.states if s.id in score.states]
    say = make.words
    rare = [say("rarely {state}", state=s.words) for s in character.states if s.id in score.rarely]
    return ", ".join([say(" or ").join(usual), *rare]).strip(", ") or score.typed or "–"


def _sections(make: PieceMaker, account: PublicAccount) -> list[tuple[str, ProseView]]:
    translated = make.translation(account)
    main = make.guide.settings.language
    shown: list[tuple[Section, str]] = [(section, main) for section in account.sections]
    if translated:
        theirs = [(section, translated.language) for section in translated.sections]
        shown[: len(theirs)] = [given if given[0].text else own for given, own in zip(theirs, shown, strict=False)]
    texts = with_their_notes([section.text for section, _ in shown])
    made = []
    for number, ((section, language), text) in enumerate(zip(shown, texts, strict=True)):
        prefix = f"{account.id}-{number + 1}"
        prose = make.prose(text, heading=make.words(section.heading), prefix=prefix, language=language)
        made.append((account.sections[number].heading.casefold(), prose))
    return made


def _stages(make: PieceMaker, account: PublicAccount, taken: Set[str]) -> tuple[StageView, ...]:
    translated = make.translation(account)
    said = {s.stage: s.text for s in account.stages}
    theirs = {s.stage: s.text for s in translated.stages} if translated else {}
    order = [*make.guide.stage_set(account).ids, *(s for s in said if s not in make.guide.stage_set(account).ids)]
    main = make.guide.settings.language
    strip = []
    for stage in order:
        season = account.season_of(stage)
        if stage not in said and season is None:
            continue
        picture = next((p for p in make.guide.photos_of(account) if p.stage == stage and p.id not in taken), None)
        text = theirs.get(stage, said.get(stage, NO_TEXT)).text
        language = make.language if stage in theirs else main
        strip.append(
            StageView(
                label=make.stage_word(account, stage),
                text=make.prose(text, prefix=f"{account.id}-{stage}", language=language) if text else None,
                when=season_words(season, make.words, make.guide.settings) if season else "",
                photo=make.photo(picture, account) if picture else None,
            )
        )
    return tuple(strip)
