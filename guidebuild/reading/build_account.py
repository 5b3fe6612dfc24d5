"""Shapes → Account, Translation and Episode values."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TypeVar

from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.accounts import (
    Account,
    FieldMark,
    HostUse,
    Review,
    Silenced,
    SimilarSpecies,
    StageSeason,
    StageText,
    Stated,
    Translation,
)
from guidebuild.guide.guide import Settings
from guidebuild.guide.name_text import with_authority
from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Episode, OwnSlides, Section
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.reading.account_shape import AccountShape, EpisodeShape, MarkShape, OwnSlidesShape, TranslationShape
from guidebuild.reading.block import Block, Plain
from guidebuild.reading.build_record import build_record
from guidebuild.reading.build_records import build_laws
from guidebuild.reading.notes import Notes
from guidebuild.reading.scores import ScoreReader
from guidebuild.reading.season_words import season_vocabulary

T = TypeVar("T")


def build_account(  # noqa: PLR0913 -- one parameter a source of what an account says
    account_id: str,
    shape: AccountShape,
    block: Block,
    *,
    sections: tuple[Section, ...],
    scores: ScoreReader,
    settings: Settings,
    notes: Notes,
) -> Account:
    """The account that a facts block and its sections say."""
    return build_record(
        Account,
        shape,
        block,
        id=account_id,
        name=_name(shape, block, notes, account_id),
        diagnostics=tuple(_mark(mark, block, number) for number, mark in enumerate(shape.diagnostics)),
        scores=scores.with_size(scores.scores(shape.characters, block, account_id), shape.size, block.key_at("size")),
        similar=_stated(block, "similar", _similar(shape, block)),
        host_plants=_stated(block, "host plants", _hosts(shape, block)),
        seasons=_seasons(shape, block, settings, notes, account_id),
        stages=_stage_texts(shape.life_stages, block),
        hazards=_stated(block, "hazards", shape.hazards),
        law=build_laws(shape.law, block, "law"),
        reviewed=build_record(Review, shape.reviewed, block, "reviewed") if shape.reviewed else None,
        silenced=tuple(build_record(Silenced, silence, block, "silence", number) for number, silence in enumerate(shape.silence)),
        sections=sections,
        at=block.key_at("name"),
        positions=block.key_places(inside=("sensitive", "reviewed")),
    )


def _name(shape: AccountShape, block: Block, notes: Notes, account: str) -> ScientificName:
    whole = with_authority(shape.name, shape.authority)
    if isinstance(whole, Unreadable):
        notes.unreadable(whole, block.at("authority"), account=account)
        return shape.name
    return whole


def _mark(shape: MarkShape, block: Block, number: int) -> FieldMark:
    stages = tuple(filter(None, shape.stage))
    return build_record(FieldMark, shape, block, "diagnostics", number, stages=stages, sexes=shape.sex if all(shape.sex) else ())


def _similar(shape: AccountShape, block: Block) -> tuple[SimilarSpecies, ...]:
    return tuple(
        build_record(SimilarSpecies, similar, block, "similar", number, at=block.at("similar", number, "account"))
        for number, similar in enumerate(shape.similar)
    )


def _hosts(shape: AccountShape, block: Block) -> tuple[HostUse, ...]:
    return tuple(
        build_record(HostUse, host, block, "host plants", number, at=block.at("host plants", number, "plant"))
        for number, host in enumerate(shape.host_plants)
    )


def _stated(block: Block, key: str, values: tuple[T, ...]) -> Stated[T]:
    raw = block.data.get(key)
    return Stated(values, said=raw is not None, reason=block.inline(_reason(raw), key, "not applicable"), at=block.key_at(key))


def _reason(raw: Plain) -> str:
    """Why a list does not apply: what follows `not applicable`."""
    if isinstance(raw, dict) and list(raw) == ["not applicable"]:
        return str(raw["not applicable"])
    if isinstance(raw, str) and raw.strip().lower().startswith("not applicable"):
        return raw.strip()[len("not applicable") :].strip(" :–—-()")
    return ""


def _seasons(shape: AccountShape, block: Block, settings: Settings, notes: Notes, account: str) -> tuple[StageSeason, ...]:
    read: list[StageSeason] = []
    for stage, items in shape.seasons.items():
        for number, item in enumerate(items):
            at = block.at("seasons", stage, number, "season")
            season = _season(item.season, settings.hemisphere, settings.languages)
            if isinstance(season, Unreadable):
                notes.unreadable(season, at, account=account)
            else:
                read.append(StageSeason(stage, season, place=item.place, at=at))
    return tuple(read)


@lru_cache(maxsize=4096)
def _season(text: str, hemisphere: str, languages: tuple[str, ...]) -> Season | Unreadable:
    """Many stages share a season."""
    return parse_season(text, hemisphere, season_vocabulary(languages))


def _stage_texts(texts: Mapping[str, str], block: Block) -> tuple[StageText, ...]:
    return tuple(
        StageText(stage, block.inline(text, "life stages", stage), at=block.at("life stages", stage)) for stage, text in texts.items()
    )


def build_translation(language: str, shape: TranslationShape, block: Block, sections: tuple[Section, ...]) -> Translation:
    """An account's words in another language."""
    by_words = isinstance(block.data.get("marks"), dict)
    return Translation(
        language=language,
        vernacular=shape.vernacular,
        marks=tuple(block.inline(text, "marks", words if by_words else n) for n, (words, text) in enumerate(shape.marks.items())),
        marks_of=tuple(shape.marks) if by_words else (),
        law=block.inlines(shape.law, "law"),
        stages=_stage_texts(shape.life_stages, block),
        similar_notes=tuple((other, block.inline(note, "similar", other)) for other, note in shape.similar.items()),
        facts=tuple((f.key, block.inline(text, f.key)) for f in INLINE_FIELDS if (text := getattr(shape, f.shape_attribute))),
        sections=sections,
        at=block.at(),
        compared_with=shape.compared_with,
        positions=block.key_places(),
    )


def build_own_slides(set_id: str, shape: OwnSlidesShape, block: Block, sections: tuple[Section, ...]) -> OwnSlides:
    """An author's own words for a set of slides."""
    return build_record(OwnSlides, shape, block, id=set_id, sections=sections)


def build_episode(episode_id: str, shape: EpisodeShape, block: Block, sections: tuple[Section, ...]) -> Episode:
    """An author's own script."""
    return build_record(Episode, shape, block, id=episode_id, sections=sections)
