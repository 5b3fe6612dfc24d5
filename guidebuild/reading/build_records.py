"""Shapes → plants, places, characters, terms, sources, photos, walks and settings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from guidebuild.guide.characters import Character, CharacterKind, Ease, State
from guidebuild.guide.findings import NOWHERE, At
from guidebuild.guide.guide import Caution, EpisodeSlot, Licence, PaceSetting, PostLimit, Settings
from guidebuild.guide.life_stages import StageSet, StageWords
from guidebuild.guide.records import LawNote, Photo, Place, Plant, Source, Stop, Term, Walk
from guidebuild.reading.block import Block
from guidebuild.reading.record_shapes import (
    CautionShape,
    CharacterShape,
    LawShape,
    LicenceShape,
    PhotoShape,
    PlaceShape,
    PlantShape,
    SourceShape,
    StageSetShape,
    TermShape,
    WalkShape,
)
from guidebuild.reading.settings_shape import SettingsShape

_OF_GROUP = ("living_thing", "kingdom", "measured", "food", "food_heading", "views", "questions", "such_as", "clear_pots")


def build_plant(key: str, shape: PlantShape, block: Block) -> Plant:
    """A host plant; without a vernacular name it goes by its scientific one."""
    return Plant(
        id=key,
        vernacular=shape.vernacular or (shape.name.plain if shape.name else key),
        name=shape.name,
        note=block.inline(shape.note, key, "note"),
        photo=shape.photo,
        hazards=shape.hazards,
        caution=block.inline(shape.caution, key, "caution"),
        at=block.key_at(key),
        positions=block.key_positions(key),
    )


def build_laws(shapes: tuple[LawShape, ...], block: Block, *keys: str) -> tuple[LawNote, ...]:
    """Notes on the law that stand under some keys."""
    return tuple(
        LawNote(block.inline(s.text, *keys, n, "text"), s.as_of, s.address, block.at(*keys, n, "text")) for n, s in enumerate(shapes)
    )


def build_place(key: str, shape: PlaceShape, block: Block) -> Place:
    """A place, with its uncertainty put into its position."""
    return Place(
        id=key,
        name=shape.name,
        area=shape.area,
        habitat=block.inlines(shape.habitat, key, "habitat"),
        position=replace(shape.position, uncertainty=shape.uncertainty) if shape.position else None,
        sensitivity=shape.sensitive,
        access=block.inline(shape.access, key, "access"),
        hazards=shape.hazards,
        caution=block.inline(shape.caution, key, "caution"),
        law=build_laws(shape.law, block, key, "law"),
        plants=shape.plants,
        note=block.inline(shape.note, key, "note"),
        photo=shape.photo,
        at=block.key_at(key),
        positions=block.key_positions(key) + block.inner_positions(key, "sensitive"),
    )


def build_character(key: str, shape: CharacterShape, block: Block) -> Character:
    """A character with its states and scope."""
    return Character(
        id=key,
        label=shape.label,
        kind=CharacterKind(shape.kind),
        states=tuple(State(s, words, at=block.key_at(key, "states", s)) for s, words in shape.states.items()),
        question=shape.question,
        part=shape.part,
        view=shape.view,
        stages=frozenset(shape.stage),
        sexes=frozenset({shape.sex} if shape.sex else ()),
        ease=next(ease for ease in Ease if ease.words == shape.ease),
        unit=shape.unit or (shape.margin.unit if shape.margin else ""),
        margin=_margin(shape),
        at=block.key_at(key),
        positions=block.key_positions(key),
    )


def _margin(shape: CharacterShape) -> float:
    """The margin in the character's unit."""
    margin = shape.margin
    if margin is None:
        return 0.0
    return (margin.in_unit(shape.unit) if margin.unit and shape.unit else margin).high or 0.0


def build_term(key: str, shape: TermShape, block: Block) -> Term:
    """A glossary entry."""
    return Term(
        key,
        shape.word,
        block.inline(shape.meaning, key, "meaning"),
        also=shape.also,
        photo=shape.photo,
        at=block.key_at(key),
        positions=block.key_positions(key),
    )


def build_source(key: str, shape: SourceShape, block: Block) -> Source:
    """A source as cited."""
    return Source(
        id=key,
        cite=shape.cite,
        author=shape.author,
        year=shape.year,
        title=shape.title,
        address=shape.address,
        accessed=shape.accessed,
        at=block.key_at(key),
        positions=block.key_positions(key),
    )


def build_photo(key: str, shape: PhotoShape, block: Block) -> Photo:
    """A photo; its file is matched with the disk afterwards."""
    return Photo(
        id=key,
        file=shape.file or f"photos/{key}.jpg",
        shows=shape.shows,
        account=shape.account,
        stage=shape.stage,
        sex=shape.sex,
        view=shape.view,
        part=shape.part,
        place=shape.place,
        taken=shape.taken,
        credit=shape.credit,
        licence=shape.licence,
        title=block.inline(shape.title, key, "title"),
        source=shape.source,
        alt=block.inline(shape.alt, key, "alt"),
        decorative=shape.decorative,
        caption=block.inline(shape.caption, key, "caption"),
        focus=shape.focus,
        length=shape.length,
        measured=shape.measured,
        at=block.key_at(key),
        positions=block.key_positions(key),
    )


def build_walk(walk_id: str, shape: WalkShape, block: Block, settings: Settings) -> Walk:
    """A guided walk; without a time zone it is in the guide's."""
    return Walk(
        id=walk_id,
        title=shape.title,
        date=shape.date,
        start=shape.start,
        zone=shape.time_zone or settings.zone,
        meet=shape.meet,
        stops=tuple(
            Stop(
                s.place,
                minutes=s.minutes,
                metres=round(s.metres),
                note=block.inline(s.note, "stops", n, "note"),
                at=block.at("stops", n),
                positions=block.key_positions("stops", n),
            )
            for n, s in enumerate(shape.stops)
        ),
        leader=shape.leader,
        contact=shape.contact,
        audience=shape.audience,
        minutes=shape.minutes or shape.length,
        bring=shape.bring,
        hazards=shape.hazards,
        note=block.inline(shape.note, "note"),
        card_format=shape.card,
        at=block.at(),
        positions=block.key_positions(),
    )


def build_stage_set(key: str, shape: StageSetShape) -> StageSet:
    """The life stages of a group, in order."""
    return _stage_set(StageSet(key, shape.title, ()), shape)


def _stage_set(base: StageSet, shape: StageSetShape) -> StageSet:
    """The group with all that is given in place of what it had."""
    given = {name: getattr(shape, name) for name in _OF_GROUP if name in shape.model_fields_set}
    given |= {name: tuple(value.items()) for name, value in given.items() if isinstance(value, dict)}
    if "clear_pots" in given:
        given["pots"] = given.pop("clear_pots")
    return replace(
        base,
        title=shape.title,
        stages=tuple((stage, words.word) for stage, words in shape.stages.items()),
        spoken=tuple((stage, StageWords(words.sentence, words.many, words.mark)) for stage, words in shape.stages.items()),
        sought=shape.sought,
        like=shape.like,
        **given,
    )


def build_caution(key: str, shape: CautionShape, at: At = NOWHERE, positions: tuple[tuple[str, At], ...] = ()) -> Caution:
    """A hazard and its warning."""
    return Caution(key, shape.title, shape.text, shape.local, shape.short, shape.harm, shape.asked_as, at, positions)


def build_licence(key: str, shape: LicenceShape) -> Licence:
    """A licence."""
    return Licence(
        key,
        shape.title,
        shape.address,
        attribution=shape.attribution,
        derivatives=shape.derivatives,
        commercial=shape.commercial,
    )


def build_settings(shape: SettingsShape, block: Block) -> Settings:
    """What guide.yaml says."""
    return Settings(
        title=shape.title,
        region=shape.region,
        description=shape.description,
        languages=shape.languages or ("en",),
        address=shape.address.rstrip("/"),
        publisher=shape.publisher,
        contact=shape.contact,
        licence=shape.licence,
        group=shape.group,
        level=shape.level,
        hemisphere=shape.hemisphere,
        zone=shape.time_zone,
        card=shape.card,
        paper=shape.paper,
        flip=shape.flip,
        prints=shape.prints,
        print_profile=shape.print_profile,
        bleed=shape.bleed,
        sign_off=shape.sign_off,
        greeting=shape.greeting,
        hashtags=tuple(tag.lstrip("#") for tag in shape.hashtags),
        post_limits=tuple(
            PostLimit(p.name, p.characters, p.link_cost, p.hashtags, at=block.at("posts", n)) for n, p in enumerate(shape.posts)
        ),
        slots=tuple(EpisodeSlot(e.name, *e.length, e.captions, block.at("episodes", n)) for n, e in enumerate(shape.episodes)),
        pace=_pace(shape, block),
        law=build_laws(shape.law, block, "law"),
        region_box=shape.region_box,
        date_order=shape.dates,
        review_after_months=shape.review_after,
        rules=tuple(shape.rules.items()),
        at=block.key_at("title"),
        positions=block.key_positions() + block.inner_positions("rules"),
    )


def _pace(shape: SettingsShape, block: Block) -> PaceSetting:
    if shape.pace is None:
        return PaceSetting(at=block.at())
    pace = shape.pace
    return PaceSetting(pace.syllables, pace.comma, pace.sentence, pace.paragraph, at=block.key_at("pace"))


def own_stage_sets(shape: SettingsShape, block: Block, known: Mapping[str, StageSet]) -> Mapping[str, StageSet]:
    """Life-stage sets that the guide defines itself; what is not given is taken from the known group that one is like."""
    bases = {key: known.get(own.like) or StageSet(key, own.title, ()) for key, own in shape.life_stages.items()}
    placed = {
        key: replace(base, id=key, at=block.key_at("life stages", key), positions=block.key_positions("life stages", key))
        for key, base in bases.items()
    }
    return {key: _stage_set(placed[key], own) for key, own in shape.life_stages.items()}


def own_cautions(shape: SettingsShape, block: Block) -> Mapping[str, Caution]:
    """Cautions that the guide words itself."""
    return {
        key: build_caution(key, value, block.key_at("cautions", key), block.key_positions("cautions", key))
        for key, value in shape.cautions.items()
    }
