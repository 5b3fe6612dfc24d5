"""The shortest diagnoses of one account: against the whole guide, its family and its look-alikes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.published import Published
from guidebuild.identify.columns import Matrix, matrix_of
from guidebuild.identify.diagnosis import Diagnosis, diagnose, family_of, similar_to
from guidebuild.identify.readings import SEXES, Scope
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.pieces.scopes import scope_label

SHOWN = 5
"""So many equally short diagnoses are shown, the easiest to see first."""


@dataclass(frozen=True, slots=True)
class DiagnosisView:
    """What tells an account from others: `against` says which.

    `sets` are equally short, each of (character, what it shows); `more` counts those not shown. Not `exact`: found
    quickly, and no diagnosis has fewer than `at_least` characters. `untold` are accounts that nothing separates it from there.
    `where` are the stages and the sex that it was found in, and holds for.
    """

    against: str
    sets: tuple[tuple[tuple[str, str], ...], ...]
    more: int
    exact: bool
    at_least: int
    untold: tuple[LinkView, ...] = ()
    where: str = ""


def diagnosis_views(guide: Published, account: str, language: str = "") -> tuple[DiagnosisView, ...]:
    """Show the diagnoses of an account (id), of every stage that one looks for: against all, its family and its look-alikes.

    Of one sex alone where that tells more. Raises KeyError for an id that is not in the guide.
    """
    return tuple(_views(make_pieces(guide, language), account))


def _views(make: PieceMaker, account: str) -> Iterator[DiagnosisView]:
    guide, family = make.guide, make.guide.accounts[account].family
    everyone = tuple(i for i in guide.accounts if i != account)
    asked = {
        make.words("all others in this guide"): everyone,
        make.words("its family, {family}", family=family): family_of(guide, account),
        make.words("the species it is taken for"): similar_to(guide, account),
    }
    matrices = [[matrix_of(guide, scope=scope) for scope in scopes] for scopes in _scopes(make, account)]
    seen: set[frozenset[str]] = set()
    for words, against in asked.items():
        if against and frozenset(against) not in seen:
            seen.add(frozenset(against))
            found = [d for of_stage in matrices for d in _told_in_stage(guide, account, against, of_stage)]
            told = [d for d in found if d.sets] or [diagnose(guide, account, against=against)]
            yield from (_view(make, words, same) for same in _put_together(told))


def _scopes(make: PieceMaker, account: str) -> list[list[Scope]]:
    """By stage: either sex, and each that the account scores by itself."""
    guide = make.guide
    scores = guide.accounts[account].scores
    sexes = [sex for sex in SEXES if any(sex in score.sexes for score in scores)]
    return [[Scope(stage, sex) for sex in ("", *sexes)] for stage in sought_stages(guide, guide.accounts[account])]


def _told_in_stage(guide: Published, account: str, against: tuple[str, ...], matrices: Sequence[Matrix]) -> Iterator[Diagnosis]:
    """What tells it in a stage, and in one sex where fewer characters do or more species are told apart."""
    either, *of_sexes = [diagnose(guide, account, against=against, matrix=matrix) for matrix in matrices]
    yield either
    yield from (d for d in of_sexes if d.sets and _rank(d) < _rank(either))


def _rank(diagnosis: Diagnosis) -> tuple[int, int]:
    return len(diagnosis.untold), len(diagnosis.sets[0]) if diagnosis.sets else 0


def _put_together(diagnoses: Iterable[Diagnosis]) -> Iterator[tuple[Diagnosis, ...]]:
    """Those that say the same of several stages, in order of life."""
    same: dict[object, list[Diagnosis]] = {}
    for diagnosis in diagnoses:
        sets = tuple(tuple((told.character.id, told.words) for told in one) for one in diagnosis.sets)
        same.setdefault((sets, diagnosis.untold, diagnosis.scope.sex), []).append(diagnosis)
    return (tuple(found) for found in same.values())


def _view(make: PieceMaker, against: str, same: tuple[Diagnosis, ...]) -> DiagnosisView:
    diagnosis = same[0]
    return DiagnosisView(
        against=against,
        sets=tuple(tuple((t.character.label, t.words) for t in told) for told in diagnosis.sets[:SHOWN]),
        more=max(len(diagnosis.sets) - SHOWN, 0),
        exact=diagnosis.exact,
        at_least=diagnosis.at_least,
        where=make.words.listed([label for d in same if (label := scope_label(make, d.scope))]),
        untold=tuple(make.map.account(make.guide.accounts[i]) for i in diagnosis.untold),
    )
