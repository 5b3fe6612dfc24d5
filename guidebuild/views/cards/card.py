"""What one field card shows: is it this one? on the front; when, where, its life and cautions on the back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from itertools import chain, groupby

from guidebuild.fieldwork.claims import find_marks
from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.account_fields import rows_of
from guidebuild.guide.accounts import HostUse, SimilarSpecies
from guidebuild.guide.dangers import find_hazards_in, is_dangerous
from guidebuild.guide.field_declaration import OutputName
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.identify.separation import best_separating
from guidebuild.later import imported_when_used
from guidebuild.views.cards.card_words import CardWords, card_words
from guidebuild.views.cards.small_pictures import choose_stage_beside, join_credits, other_forms, picture_beside
from guidebuild.views.pieces.cautions import cautions_of_account
from guidebuild.views.pieces.common import (
    NO_WORDS,
    CautionView,
    MarkView,
    NameView,
    PhotoView,
    SeasonBarView,
    SizeView,
    Wording,
    join_wordings,
)
from guidebuild.views.pieces.facts import head_plants, name_habitats
from guidebuild.views.pieces.laws import laws_of_account
from guidebuild.views.pieces.parts import PieceMaker, list_wordings, make_pieces, sizes_of_guide
from guidebuild.views.pieces.scopes import label_separations
from guidebuild.views.pieces.sizes import NO_SIZES, SizesView

with imported_when_used():  # geometry and projections
    from guidebuild.views.pieces import maps, small_maps

WHERE_TO_LOOK = "Where to look"
DECIDING = 2
"""So many characters tell a look-alike on a card: those the author names, else the best by the scores."""


@dataclass(frozen=True, slots=True)
class CardLookAlike:
    """Another species this one is taken for, and the one thing that separates it."""

    name: NameView
    tell: Wording
    photo: PhotoView | None = None
    """A small picture of it, on a card that is printed by itself."""


@dataclass(frozen=True, slots=True)
class CardHost:
    """A host plant with the part of it and the use, in a few words."""

    name: NameView
    use: Wording = NO_WORDS


HostsOfUse = tuple[Wording, tuple[NameView, ...]]
"""A use, which may be empty, and the plants that have it."""


def group_hosts(hosts: Iterable[CardHost]) -> tuple[HostsOfUse, ...]:
    """The names of host plants under their use, which is said once for those of the same use that follow one another."""
    return tuple((use, tuple(host.name for host in same)) for use, same in groupby(hosts, key=lambda host: host.use))


@dataclass(frozen=True, slots=True)
class CardFact:
    """A fact in words under its heading; `key` is the field's, by which a full card may leave it out."""

    key: str
    label: str
    text: Wording


@dataclass(frozen=True, slots=True)
class StageLine:
    """One life stage: its id, its word, and what is said of it, sentence by sentence."""

    stage: str
    label: str
    sentences: tuple[Wording, ...]


@dataclass(frozen=True, slots=True)
class CardView:
    """All that a card may show; what does not fit is left out sentence by sentence, in the order the theme ranks."""

    id: str
    language: str
    guide: str
    name: NameView
    words: CardWords
    family: str = ""
    plate: PhotoView | None = None
    forms: tuple[PhotoView, ...] = ()
    """Pictures of its other stages and sexes, on a card that is printed by itself."""
    marks: tuple[MarkView, ...] = ()
    size: SizeView | None = None
    sizes: SizesView = NO_SIZES
    """What its size has in common with those of the other cards."""
    look_alikes: tuple[CardLookAlike, ...] = ()
    season: SeasonBarView | None = None
    sought: tuple[str, ...] = ()
    """The stages that one looks for, by their ids."""
    hosts: tuple[CardHost, ...] = ()
    facts: tuple[CardFact, ...] = ()
    habitat: Wording = NO_WORDS
    look: tuple[Wording, ...] = ()
    """Where to look, sentence by sentence."""
    stages: tuple[StageLine, ...] = ()
    map: maps.MapView | None = None
    cautions: tuple[CautionView, ...] = ()
    laws: tuple[CautionView, ...] = ()
    status: Wording = NO_WORDS
    address: str = ""
    facts_on: str = ""
    publisher: str = ""

    @property
    def photos(self) -> tuple[PhotoView, ...]:
        """The pictures that the card prints."""
        alike = (other.photo for other in self.look_alikes)
        return tuple({photo.id: photo for photo in (self.plate, *self.forms, *alike) if photo}.values())

    def credit(self, small: Collection[str] = ()) -> str:
        """Whose pictures they are: the plate's, with what it shows where not all marks are of that, then the small ones shown."""
        of_plate = (self.plate, self.plate.whose if any(mark.whose for mark in self.marks) else "") if self.plate else None
        named = [(photo, photo.whose) for photo in self.forms]
        named += [(other.photo, other.name.short) for other in self.look_alikes if other.photo]
        return join_credits(of_plate, [(photo, whose) for photo, whose in named if photo.id in small])


def card_views(guide: Published) -> tuple[CardView, ...]:
    """The cards of a guide, one an account, in the guide's order."""
    make = make_pieces(guide)
    return tuple(field_card(make, account) for account in guide.accounts.values())


def field_card(make: PieceMaker, account: PublicAccount) -> CardView:
    """The card of one account as it is printed by itself: with small pictures, and a map where the guide wants one on cards."""
    card, region = card_view(make, account), make.guide.region
    card = replace(card, map=small_maps.map_on_card(make, account)) if region and region.on_cards else card
    stage = choose_stage_beside(make, account, card.plate)
    alike = [
        replace(shown, photo=picture_beside(make, other, stage))
        for shown, (_, other) in zip(card.look_alikes, _similar(make, account), strict=True)
    ]
    return replace(card, forms=other_forms(make, account, card.plate), look_alikes=tuple(alike))


def card_view(make: PieceMaker, account: PublicAccount, stages: Collection[str] = ()) -> CardView:
    """The same without a map, for leaflets and booklets; where it is for a day, of the `stages` that are out."""
    settings, plate = make.guide.settings, find_plate(make, account, stages)
    return CardView(
        id=account.id,
        language=make.language,
        guide=settings.title,
        name=make.map.account(account).name or NameView(account.vernacular, ()),
        words=replace(card_words(make), hosts=make.words(head_plants(make.guide, [account]))),
        family=account.family,
        plate=plate,
        marks=_marks(make, account, plate, stages),
        size=make.size(account),
        sizes=sizes_of_guide(make),
        look_alikes=tuple(_look_alikes(make, account)),
        season=make.season_bar(account),
        sought=sought_stages(make.guide, account),
        hosts=tuple(CardHost(_plant_name(make, h.plant), _use(make, h)) for h in account.host_plants),
        facts=tuple(_facts(make, account)),
        habitat=list_wordings(make.words, tuple(map(make.word, name_habitats(make.guide, account)))).as_sentence(),
        look=_look(make, account),
        stages=tuple(_stages(make, account)),
        cautions=cautions_of_account(make, account),
        laws=laws_of_account(make, account),
        status=make.word(*make.told(account, "status")),
        address=_address(make, account),
        facts_on=make.words.date(account.reviewed.on) if account.reviewed else "",
        publisher=settings.publisher,
    )


def find_plate(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> PhotoView | None:
    """The picture on which most marks can be pointed at, the first of them where several are equal, else the account's.

    Where only some stages are asked for, one of those if there is any.
    """
    fits = {photo.id for photo in make.guide.photos.values() if not stages or photo.stage in ("", *stages)}
    pointed = Counter(m.photo for m in account.diagnostics if m.point and m.photo in make.guide.photos)
    best = next((photo for photo, _ in pointed.most_common() if photo in fits), "")
    usual = make.photo_of(pointed.most_common(1)[0][0], account) if pointed else make.plate(account)
    if best:
        return make.photo_of(best, account)
    if usual and usual.id in fits:
        return usual
    other = next((photo for photo in make.guide.photos_of(account) if photo.id in fits), None)
    return make.photo(other, account) if other else usual


def _marks(make: PieceMaker, account: PublicAccount, plate: PhotoView | None, stages: Collection[str]) -> tuple[MarkView, ...]:
    """The marks of an account; where only some stages are asked for, those that any of them shows, numbered anew."""
    beside = plate.id if plate else ""
    chosen = sorted({number for stage in stages for number in find_marks(account, stage)})
    if not chosen or len(chosen) == len(account.diagnostics):
        return make.marks(account, beside=beside)
    shown = make.marks(account, beside=beside, chosen=chosen)
    return tuple(replace(mark, number=number) for number, mark in enumerate(shown, start=1))


def _look_alikes(make: PieceMaker, account: PublicAccount) -> Iterable[CardLookAlike]:
    for similar, other in _similar(make, account):
        name = make.map.account(other).name or NameView(other.vernacular, ())
        yield CardLookAlike(name, _tell(make, account, other, similar))


def _similar(make: PieceMaker, account: PublicAccount) -> Iterable[tuple[SimilarSpecies, PublicAccount]]:
    """What it is taken for, of that which has an account in the guide."""
    for similar in account.similar:
        other = make.guide.accounts.get(similar.account)
        if other is not None and other.id != account.id:
            yield similar, other


def _tell(make: PieceMaker, account: PublicAccount, other: PublicAccount, similar: SimilarSpecies) -> Wording:
    """The author's own sentence, with the next where it only warns, else what the scored characters say, first what the other shows."""
    translated = make.translation(account)
    note = dict(translated.similar_notes).get(similar.account, NO_TEXT) if translated else NO_TEXT
    sentences = tuple(map(make.word, (note or similar.note).sentences))
    # A sentence that only warns does not tell them apart.
    only_warns = bool(sentences) and is_dangerous(make.guide, other) and bool(find_hazards_in(make.guide, sentences[0].words))
    if len(sentences) > only_warns:
        return join_wordings(" ", sentences[: 1 + only_warns])
    told = "; ".join(
        make.words("{character} {there}, here {here}", character=label, there=there, here=here)
        for label, here, there in label_separations(make, best_separating(make.guide, account.id, other.id, DECIDING))
    )
    computed = Wording(told)
    return join_wordings(" ", (*sentences, computed.as_sentence())) if sentences else computed


def _facts(make: PieceMaker, account: PublicAccount) -> Iterable[CardFact]:
    for field, row in rows_of(OutputName.CARDS):
        if text := make.told(account, field.key)[0]:
            yield CardFact(field.key, make.words(row.label), make.word(text))


def _plant_name(make: PieceMaker, plant: str) -> NameView:
    link = make.map.plant(plant)
    return link.name or NameView(link.text, ())


def _use(make: PieceMaker, use: HostUse) -> Wording:
    return join_wordings(", ", (make.word(use.part), make.word(use.use)))


def _look(make: PieceMaker, account: PublicAccount) -> tuple[Wording, ...]:
    translated = make.translation(account)
    number = next((n for n, s in enumerate(account.sections) if s.heading.casefold() == WHERE_TO_LOOK.casefold()), None)
    if number is None:
        return ()
    section = account.sections[number]
    if translated and number < len(translated.sections):
        section = translated.sections[number]
    return tuple(map(make.word, Inline(section.text).sentences))


def _stages(make: PieceMaker, account: PublicAccount) -> Iterable[StageLine]:
    translated = make.translation(account)
    texts = {s.stage: s.text for s in account.stages} | ({s.stage: s.text for s in translated.stages} if translated else {})
    order = [*make.guide.stage_set(account).ids, *texts]
    for stage in dict.fromkeys(s for s in order if s in texts):
        said = tuple(map(make.word, texts[stage].sentences))
        if said:
            yield StageLine(stage, make.stage_word(account, stage), said)


def _address(make: PieceMaker, account: PublicAccount) -> str:
    """Where its code leads: to its page, or to the film or the sound on it that asks for that, the film before the sound."""
    root = make.guide.settings.address.rstrip("/")
    films = ("#film" for film in make.guide.films.values() if film.card and account.id in film.accounts)
    sounds = (f"#sound-{sound.id}" for sound in make.guide.sounds.values() if sound.card and account.id in sound.accounts)
    return f"{root}/{make.map.account(account).path}{next(chain(films, sounds), '')}" if root else ""
