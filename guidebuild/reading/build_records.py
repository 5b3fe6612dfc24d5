"""Shapes → plants, places, characters, terms, sources, photos, walks and settings: what is more than the value as it was read."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import Any

from guidebuild.guide.characters import Character, CharacterKind, Ease, PictureOfState, State
from guidebuild.guide.guide import Caution, EpisodeSlot, Licence, PaceSetting, PostLimit, Settings
from guidebuild.guide.life_stages import StageSet, StageWords
from guidebuild.guide.records import LawNote, PartPointer, Photo, Place, Plant, Source, Stop, Term, Walk
from guidebuild.reading.block import Block
from guidebuild.reading.build_record import build_record, collect_shipped
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
    StopShape,
    TermShape,
    WalkShape,
)
from guidebuild.reading.settings_shape import SettingsShape, SlotShape


def build_plant(key: str, shape: PlantShape, block: Block) -> Plant:
    """A host plant; without a vernacular name it goes by its scientific one."""
    called = shape.vernacular or (shape.name.plain if shape.name else key)
    return build_record(Plant, shape, block, key, id=key, vernacular=called)


def build_laws(shapes: tuple[LawShape, ...], block: Block, *keys: str) -> tuple[LawNote, ...]:
    """Notes on the law that stand under some keys."""
    return tuple(build_record(LawNote, law, block, *keys, number, at=block.at(*keys, number, "text")) for number, law in enumerate(shapes))


def build_place(key: str, shape: PlaceShape, block: Block) -> Place:
    """A place, with its uncertainty put into its position."""
    position = replace(shape.position, uncertainty=shape.uncertainty) if shape.position else None
    positions = block.key_places(key, inside=("sensitive",))
    laws = build_laws(shape.law, block, key, "law")
    return build_record(Place, shape, block, key, id=key, position=position, law=laws, positions=positions)


def build_character(key: str, shape: CharacterShape, block: Block) -> Character:
    """A character with its states and scope."""
    return build_record(
        Character,
        shape,
        block,
        key,
        id=key,
        kind=CharacterKind(shape.kind),
        states=tuple(State(s, words, at=block.key_at(key, "states", s)) for s, words in shape.states.items()),
        stages=frozenset(shape.stage),
        sexes=frozenset({shape.sex} if shape.sex else ()),
        ease=next(ease for ease in Ease if ease.words == shape.ease),
        unit=shape.unit or (shape.margin.unit if shape.margin else ""),
        margin=_margin(shape),
        pictures=tuple(
            build_record(PictureOfState, picture, block, key, "pictures", state, state=state, at=block.key_at(key, "pictures", state))
            for state, picture in shape.pictures.items()
        ),
    )


def _margin(shape: CharacterShape) -> float:
    """The margin in the character's unit."""
    margin = shape.margin
    if margin is None:
        return 0.0
    return (margin.in_unit(shape.unit) if margin.unit and shape.unit else margin).high or 0.0


def build_term(key: str, shape: TermShape, block: Block) -> Term:
    """A glossary entry."""
    return build_record(Term, shape, block, key, id=key)


def build_source(key: str, shape: SourceShape, block: Block) -> Source:
    """A source as cited."""
    return build_record(Source, shape, block, key, id=key)


def mark_data_sets(sources: Mapping[str, Source], named: Collection[str]) -> Mapping[str, Source]:
    """The sources; what a file of sightings comes from is a data set, whether its author said so or not."""
    return {key: replace(source, kind="data set") if key in named else source for key, source in sources.items()} if named else sources


def build_photo(key: str, shape: PhotoShape, block: Block) -> Photo:
    """A photo; its file is matched with the disk afterwards."""
    parts = tuple(PartPointer(part, point, block.key_at(key, "parts", part)) for part, point in shape.parts.items())
    return build_record(Photo, shape, block, key, id=key, file=shape.file or f"photos/{key}.jpg", parts=parts)


def build_walk(walk_id: str, shape: WalkShape, block: Block, settings: Settings) -> Walk:
    """A guided walk; without a time zone it is in the guide's."""
    return build_record(
        Walk,
        shape,
        block,
        id=walk_id,
        zone=shape.time_zone or settings.zone,
        stops=tuple(_stop(stop, block, number) for number, stop in enumerate(shape.stops)),
        minutes=shape.minutes or shape.length,
    )


def _stop(shape: StopShape, block: Block, number: int) -> Stop:
    return build_record(Stop, shape, block, "stops", number, metres=round(shape.metres))


def build_stage_set(key: str, shape: StageSetShape) -> StageSet:
    """The life stages of a group that the tool ships, in order."""
    return _stage_set(StageSet(key, shape.title, ()), shape)


def _stage_set(base: StageSet, shape: StageSetShape) -> StageSet:
    """The group with all that is given in place of what it had."""
    read = collect_shipped(StageSet, shape)
    given = {field.attribute: read[field.attribute] for field in shape.declared if field.shape_attribute in shape.model_fields_set}
    values: dict[str, Any] = {name: tuple(value.items()) if isinstance(value, dict) else value for name, value in given.items()}
    # What one looks for belongs to a group's own stages, which are always given.
    values["sought"], values["keyed"], values["like"] = shape.sought, shape.key, shape.like
    values["stages"] = tuple((stage, words.word) for stage, words in shape.stages.items())
    values["spoken"] = tuple((stage, build_record(StageWords, words, None)) for stage, words in shape.stages.items())
    return replace(base, **values)


def build_caution(key: str, shape: CautionShape, block: Block | None = None) -> Caution:
    """A hazard and its warning; without a block, one that the tool ships."""
    return build_record(Caution, shape, block, "cautions", key, id=key)


def build_licence(key: str, shape: LicenceShape) -> Licence:
    """A licence."""
    return build_record(Licence, shape, None, id=key)


def build_settings(shape: SettingsShape, block: Block) -> Settings:
    """What guide.yaml says."""
    return build_record(
        Settings,
        shape,
        block,
        languages=shape.languages or ("en",),
        address=shape.address.rstrip("/"),
        hashtags=tuple(tag.lstrip("#") for tag in shape.hashtags),
        post_limits=tuple(build_record(PostLimit, limit, block, "posts", number) for number, limit in enumerate(shape.posts)),
        slots=tuple(_slot(slot, block, number) for number, slot in enumerate(shape.episodes)),
        pace=build_record(PaceSetting, shape.pace, block, "pace") if shape.pace else PaceSetting(at=block.at()),
        law=build_laws(shape.law, block, "law"),
        rules=tuple(shape.rules.items()),
        at=block.key_at("title"),
        positions=block.key_places(inside=("rules",)),
    )


def _slot(shape: SlotShape, block: Block, number: int) -> EpisodeSlot:
    shortest, longest = shape.length
    return build_record(EpisodeSlot, shape, block, "episodes", number, shortest=shortest, longest=longest)


def own_stage_sets(shape: SettingsShape, block: Block, known: Mapping[str, StageSet]) -> Mapping[str, StageSet]:
    """Life-stage sets that the guide defines itself; what is not given is taken from the known group that one is like."""
    bases = {key: known.get(own.like) or StageSet(key, own.title, ()) for key, own in shape.life_stages.items()}
    placed = {
        key: replace(base, id=key, at=block.key_at("life stages", key), positions=block.key_places("life stages", key))
        for key, base in bases.items()
    }
    return {key: _stage_set(placed[key], own) for key, own in shape.life_stages.items()}


def own_cautions(shape: SettingsShape, block: Block) -> Mapping[str, Caution]:
    """Cautions that the guide words itself."""
    return {key: build_caution(key, value, block) for key, value in shape.cautions.items()}
