"""The shortest diagnoses of one account: against the whole guide, its family and its look-alikes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.published import Published
from guidebuild.identify.columns import Matrix, matrix_of
from guidebuild.identify.diagnosis import Diagnosis, diagnose, family_of, similar_to
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.telling.compare import scope_label

SHOWN = 5
"""So many equally short diagnoses are shown, the easiest to see first."""


@dataclass(frozen=True, slots=True)
class DiagnosisView:
    """What tells an account from others: `against` says which.

    `sets` are equally short, each of (character, what it shows); `more` counts those not shown. Not `exact`: found
    quickly, and no diagnosis has fewer than `at_least` characters. `untold` are accounts that nothing separates it from. `where` is the
    stage and sex that it was found in, and holds for.
    """

    against: str
    sets: tuple[tuple[tuple[str, str], ...], ...]
    more: int
    exact: bool
    at_least: int
    untold: tuple[LinkView, ...] = ()
    where: str = ""


def diagnosis_views(guide: Published, account: str, language: str = "", matrix: Matrix | None = None) -> tuple[DiagnosisView, ...]:
    """Show the diagnoses of an account (id); `matrix` is the whole guide's, for a caller who shows many.

    Raises KeyError for an id that is not in the guide.
    """
    return tuple(_views(make_pieces(guide, language), account, matrix or matrix_of(guide)))


def _views(make: PieceMaker, account: str, matrix: Matrix) -> Iterator[DiagnosisView]:
    guide, family = make.guide, make.guide.accounts[account].family
    everyone = tuple(i for i in guide.accounts if i != account)
    asked = {
        make.words("the whole guide"): everyone,
        make.words("its family, {family}", family=family): family_of(guide, account),
        make.words("the species it is taken for"): similar_to(guide, account),
    }
    seen: set[frozenset[str]] = set()
    for words, against in asked.items():
        if against and frozenset(against) not in seen:
            seen.add(frozenset(against))
            yield _view(make, words, diagnose(guide, account, against=against, matrix=matrix))


def _view(make: PieceMaker, against: str, diagnosis: Diagnosis) -> DiagnosisView:
    return DiagnosisView(
        against=against,
        sets=tuple(tuple((t.character.label, t.words) for t in told) for told in diagnosis.sets[:SHOWN]),
        more=max(len(diagnosis.sets) - SHOWN, 0),
        exact=diagnosis.exact,
        at_least=diagnosis.at_least,
        where=scope_label(make, diagnosis.scope),
        untold=tuple(make.map.account(make.guide.accounts[i]) for i in diagnosis.untold),
    )
