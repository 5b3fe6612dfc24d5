"""Shapes → Account, Translation and Episode values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any, TypeVar

from guidebuild.guide.account_fields import ACCOUNT_FIELDS, INLINE_FIELDS
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
from guidebuild.guide.field_declaration import Field
from guidebuild.guide.guide import Settings
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Episode, Section
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.reading.account_shape import AccountShape, EpisodeShape, TranslationShape
from guidebuild.reading.block import Block, Plain
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
    built: Mapping[str, object] = {
        "name": _name(shape, block, notes, account_id),
        "diagnostics": _marks(shape, block),
        "characters": scores.with_size(scores.scores(shape.characters, block, account_id), shape.size, block.key_at("size")),
        "similar": _stated(block, "similar", _similar(shape, block)),
        "host plants": _stated(block, "host plants", _hosts(shape, block)),
        "habitat": block.inlines(shape.habitat, "habitat"),
        "seasons": _seasons(shape, block, settings, notes, account_id),
        "life stages": _stage_texts(shape.life_stages, block),
        "law": build_laws(shape.law, block, "law"),
        "hazards": _stated(block, "hazards", shape.hazards),
        "reviewed": _review(shape, block),
        "silence": tuple(Silenced(s.rule, s.reason, block.at("silence", n)) for n, s in enumerate(shape.silence)),
    }
    values: dict[str, Any] = {
        f.attribute: _value(f, shape, built, block) for f in ACCOUNT_FIELDS if f.key != "authority"
    }  # it is part of the name
    return Account(
        id=account_id,
        at=block.key_at("name"),
        sections=sections,
        positions=block.key_positions() + block.inner_positions("sensitive") + block.inner_positions("reviewed"),
        **values,
    )


def _value(field: Field, shape: AccountShape, built: Mapping[str, object], block: Block) -> object:
    """What was built of a field, else its plain value as it was read, Markdown with its place."""
    if field.key in built:
        return built[field.key]
    read = getattr(shape, field.shape_attribute)
    return block.inline(read, field.key) if field.inline else read


def _name(shape: AccountShape, block: Block, notes: Notes, account: str) -> ScientificName:
    if not shape.authority:
        return shape.name
    whole = parse_name(shape.name.typed, shape.authority)
    if isinstance(whole, Unreadable):
        notes.unreadable(whole, block.at("authority"), account=account)
        return shape.name
    return whole


def _marks(shape: AccountShape, block: Block) -> tuple[FieldMark, ...]:
    return tuple(
        FieldMark(
            block.inline(m.mark, "diagnostics", n, "mark"),
            stages=tuple(filter(None, m.stage)),
            sexes=m.sex if all(m.sex) else (),
            view=m.view,
            photo=m.photo,
            point=m.at,
            at=block.at("diagnostics", n),
            positions=block.key_positions("diagnostics", n),
        )
        for n, m in enumerate(shape.diagnostics)
    )


def _similar(shape: AccountShape, block: Block) -> tuple[SimilarSpecies, ...]:
    return tuple(
        SimilarSpecies(s.account, tell_by=s.tell_by, note=block.inline(s.note, "similar", n, "note"), at=block.at("similar", n, "account"))
        for n, s in enumerate(shape.similar)
    )


def _hosts(shape: AccountShape, block: Block) -> tuple[HostUse, ...]:
    return tuple(
        HostUse(
            h.plant,
            part=block.inline(h.part, "host plants", n, "part"),
            use=block.inline(h.use, "host plants", n, "use"),
            at=block.at("host plants", n, "plant"),
        )
        for n, h in enumerate(shape.host_plants)
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


def _review(shape: AccountShape, block: Block) -> Review | None:
    return Review(shape.reviewed.by, shape.reviewed.on, at=block.key_at("reviewed")) if shape.reviewed else None


def build_translation(language: str, shape: TranslationShape, block: Block, sections: tuple[Section, ...]) -> Translation:
    """An account's words in another language."""
    return Translation(
        language=language,
        vernacular=shape.vernacular,
        marks=block.inlines(shape.marks, "marks"),
        law=block.inlines(shape.law, "law"),
        stages=_stage_texts(shape.life_stages, block),
        similar_notes=tuple((other, block.inline(note, "similar", other)) for other, note in shape.similar.items()),
        facts=tuple((f.key, block.inline(text, f.key)) for f in INLINE_FIELDS if (text := getattr(shape, f.shape_attribute))),
        sections=sections,
        at=block.at(),
        positions=block.key_positions(),
    )


def with_translations(account: Account, translations: list[Translation], notes: Notes) -> Account:
    """The account with its translations; marks and notes on the law that do not pair up are a finding."""
    for translation in translations:
        if translation.marks and len(translation.marks) != len(account.diagnostics):
            words = f"{len(translation.marks)} marks are translated, and the account has {len(account.diagnostics)}."
            notes.add("translation-length", words, translation.at, account=account.id)
        if translation.law and len(translation.law) != len(account.law):
            words = f"{len(translation.law)} notes on the law are translated, and the account has {len(account.law)}."
            notes.add("translation-length", words, translation.at, account=account.id)
    return replace(account, translations=tuple(sorted(translations, key=lambda t: t.language)))


def build_episode(episode_id: str, shape: EpisodeShape, block: Block, sections: tuple[Section, ...]) -> Episode:
    """An author's own script."""
    return Episode(
        id=episode_id,
        title=shape.title,
        account=shape.account,
        kind=shape.kind,
        length=shape.length,
        sections=sections,
        posted=shape.posted,
        at=block.at(),
        positions=block.key_positions(),
    )
