"""What a comparison shows: two or more look-alikes side by side, what separates them first."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import combinations

from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import remember
from guidebuild.guide.characters import Ease
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.identify.comparison import Compared, Comparison, compare_accounts, similar_pairs, similar_sets
from guidebuild.identify.readings import Scope
from guidebuild.identify.sentences import tell_apart_sentence
from guidebuild.views.pieces.cautions import cautions_of_set
from guidebuild.views.pieces.common import CautionView, LinkView, PhotoView, Wording
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.pieces.scopes import scope_label, sort_stages

LONGEST = 100
"""Characters of ids in a page's name."""


@dataclass(frozen=True, slots=True)
class CompareTaxon:
    """One of the taxa compared; `notes` are what its author says of the others."""

    id: str
    link: LinkView
    plate: PhotoView | None
    notes: tuple[Wording, ...] = ()


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One character; `values` in the order of the taxa, empty where not scored.

    `where` narrows it ("male", "nymph"); `separates` are pairs of places of taxa that it tells apart.
    """

    character: str
    label: str
    ease: str
    where: str
    values: tuple[str, ...]
    separates: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class CompareView:
    """A comparison page: what separates first, easiest first, then what they share."""

    path: str
    title: str
    taxa: tuple[CompareTaxon, ...]
    sentences: tuple[str, ...]
    separating: tuple[CompareRow, ...]
    shared: tuple[CompareRow, ...]
    untold: tuple[tuple[str, str], ...] = ()  # short names of pairs that nothing separates
    in_hand: tuple[tuple[str, str], ...] = ()  # short names of pairs told apart only in the hand or under a lens
    cautions: tuple[CautionView, ...] = ()


def compare_path(ids: Sequence[str]) -> str:
    """Name the page of a comparison: `compare/birch-shieldbug--parent-bug.html`, ids in alphabetical order.

    A large set is named by its first account and a digest of all, for file names have a limit.
    """
    joined = "--".join(sorted(dict.fromkeys(ids)))
    if len(joined) > LONGEST:
        first, digest = min(ids), hashlib.sha256(joined.encode()).hexdigest()[:8]
        joined = f"{first}--{len(set(ids)) - 1}-more-{digest}"
    return f"compare/{joined}.html"


def compare_view(guide: Published, ids: Sequence[str], language: str = "") -> CompareView:
    """Show a comparison of accounts by id. Raises KeyError for one that is not in the guide."""
    return _view(make_pieces(guide, language), compare_accounts(guide, ids), partial(tell_apart_sentence, guide))


def list_compared(guide: Published) -> tuple[tuple[str, ...], ...]:
    """Ids of the accounts of every comparison that the guide's look-alikes ask for: pairs, then sets of three or more."""
    return tuple(dict.fromkeys((*similar_pairs(guide), *similar_sets(guide))))


class Comparer:
    """Makes comparisons for one language."""

    def __init__(self, make: PieceMaker) -> None:
        self._make = make

    def link_to(self, ids: Sequence[str]) -> LinkView:
        """The link to a comparison: its page and the names of its species, in the order of the comparison."""
        make = self._make
        names = [make.map.account(make.guide.accounts[i]).text for i in dict.fromkeys(ids)]
        return LinkView(make.map.page(compare_path(ids)), make.words.listed(names))

    def show(self, ids: Sequence[str]) -> CompareView:
        """The comparison of accounts by id."""
        return _view(self._make, compare_accounts(self._make.guide, ids), self._tell)

    def _tell(self, first: str, second: str) -> str:
        """What tells a pair apart, worked out once: it stands alone and in its set."""
        make = self._make
        return remember(make.kept, ("apart", f"{first} {second}"), lambda: tell_apart_sentence(make.guide, first, second))


def _view(make: PieceMaker, comparison: Comparison, tell: Callable[[str, str], str]) -> CompareView:
    taxa = tuple(_taxon(make, taxon, comparison.taxa) for taxon in comparison.taxa)
    names = {t.id: t.link.text for t in taxa}
    pairs = tuple(combinations(comparison.taxa, 2))
    said = tuple(s for a, b in pairs if make.language == make.main and (s := tell(a, b)))
    return CompareView(
        path=make.map.page(compare_path(comparison.taxa)),
        title=make.words.listed([t.link.text for t in taxa]),
        taxa=taxa,
        sentences=said,
        separating=tuple(_row(make, row) for row in comparison.separating),
        shared=tuple(_row(make, row) for row in comparison.shared),
        untold=tuple((names[a], names[b]) for a, b in comparison.untold),
        in_hand=tuple((names[a], names[b]) for a, b in _in_hand(comparison)),
        cautions=cautions_of_set(make, comparison.taxa, by_itself=True),
    )


def _taxon(make: PieceMaker, taxon: str, others: Sequence[str]) -> CompareTaxon:
    account = make.guide.accounts[taxon]
    translated = make.translation(account)
    own = dict(translated.similar_notes) if translated else {}
    notes = (
        make.word(theirs, "") if (theirs := own.get(similar.account, NO_TEXT)) else make.word(similar.note)
        for similar in account.similar
        if similar.account in others
    )
    return CompareTaxon(taxon, make.map.account(account), make.plate(account), tuple(filter(None, notes)))


def _row(make: PieceMaker, row: Compared) -> CompareRow:
    character = row.character
    return CompareRow(
        character=character.id,
        label=character.label,
        ease=make.words(character.ease.words),
        where=_where(make, row),
        values=row.values,
        separates=row.separates,
    )


def _where(make: PieceMaker, row: Compared) -> str:
    """All stages in which a row holds, in order of life, and its sex."""
    stages = sort_stages(make, row.stages)
    if len(stages) < 2:
        return scope_label(make, row.scope)
    named = make.words.listed([scope_label(make, Scope(stage)) for stage in stages])
    return " ".join(part for part in (make.words(row.scope.sex), named) if part)


def _in_hand(comparison: Comparison) -> tuple[tuple[str, str], ...]:
    told = {pair for row in comparison.separating for pair in row.separates}
    easy = {pair for row in comparison.separating if row.character.ease <= Ease.CLOSE_UP for pair in row.separates}
    return tuple((comparison.taxa[a], comparison.taxa[b]) for a, b in sorted(told - easy))
