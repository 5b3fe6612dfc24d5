"""Of which stage and sex something is told, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from guidebuild.guide.life_stages import StageSet
from guidebuild.identify.readings import EVERYWHERE, Scope
from guidebuild.identify.separation import Separation
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.words import WRITTEN_IN


def scope_label(make: PieceMaker, scope: Scope) -> str:
    """Name a stage and sex in the reader's language: "male nymph"; empty for any."""
    if scope == EVERYWHERE:
        return ""
    group = _group_of(make, scope.stage)
    parts = (make.words(scope.sex), make.words(group.word(scope.stage) if group else scope.stage))
    return " ".join(part for part in parts if part)


def scope_of_many(make: PieceMaker, scope: Scope) -> str:
    """Name all that a key is for: "adults", "plants in flower"; in other languages than English the stage alone."""
    group = _group_of(make, scope.stage)
    if make.words.language != WRITTEN_IN or group is None:
        return scope_label(make, scope)
    return f"{scope.sex} {group.several(scope.stage)}".strip()


def _group_of(make: PieceMaker, stage: str) -> StageSet | None:
    """The first group of the guide's accounts that has such a stage."""
    groups = (make.guide.stage_set(account) for account in make.guide.accounts.values())
    return next((group for group in groups if stage in group.ids), None)


def label_separations(make: PieceMaker, separations: Iterable[Separation]) -> tuple[tuple[str, str, str], ...]:
    """Rows of what tells two apart: the character with the stages and sexes in which it does (“jaws (male)”), and what each shows.

    What shows the same in several stages is one row.
    """
    where: dict[tuple[str, str, str], list[Scope]] = {}
    for separation in separations:
        row = separation.character.label, separation.first_words, separation.second_words
        where.setdefault(row, []).append(separation.scope)
    return tuple((add_scopes(make, label, scopes), here, there) for (label, here, there), scopes in where.items())


def add_scopes(make: PieceMaker, said: str, scopes: Collection[Scope]) -> str:
    """What is said with the stages and sexes of which it is true, in order of life, in brackets; without, where it is true of any."""
    order = sort_stages(make, {scope.stage for scope in scopes})
    named = [scope_label(make, scope) for scope in sorted(scopes, key=lambda scope: (order.index(scope.stage), scope.sex))]
    return f"{said} ({make.words.listed(named)})" if all(named) else said


def sort_stages(make: PieceMaker, stages: Iterable[str]) -> list[str]:
    """Stages in order of life; such as no group has, last."""
    order = list(dict.fromkeys(stage for found in make.guide.stage_sets.values() for stage in found.ids))
    return sorted(stages, key=lambda stage: (order.index(stage) if stage in order else len(order), stage))
