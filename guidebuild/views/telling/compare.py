"""What a comparison shows: two or more look-alikes side by side, what separates them first."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import chain, combinations

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import remember
from guidebuild.guide.characters import Ease
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.identify.comparison import (
    Compared,
    Comparison,
    compare_accounts,
    holds_in,
    stands_alone,
    tell_each,
)
from guidebuild.identify.look_alikes import WIDEST_SET, other_pairs, own_pairs, similar_sets
from guidebuild.identify.readings import EVERYWHERE, Scope
from guidebuild.identify.sentences import tell_apart_sentence
from guidebuild.views.pieces.cautions import cautions_of_set
from guidebuild.views.pieces.common import NO_WORDS, CautionView, LinkView, PhotoView, Wording
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.pieces.scopes import add_scopes, scope_label, sort_stages
from guidebuild.views.telling.side_by_side import Side, SideBySide, choose_stage, show_side_by_side

TWO = "compare/two.html"
"""The page that shows any two look-alikes which have no page of their own."""
LONGEST = 100
"""Characters of ids in a page's name."""


@dataclass(frozen=True, slots=True)
class CompareNote:
    """What an author says of one species beside another."""

    words: Wording
    beside: LinkView


@dataclass(frozen=True, slots=True)
class CompareTaxon:
    """One of the taxa compared; `notes` are what the authors of the others say of it."""

    id: str
    link: LinkView
    plate: PhotoView | None
    notes: tuple[CompareNote, ...] = ()


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One character; `values` in the order of the taxa, empty where not scored.

    `where` narrows it ("male", "nymph"); `separates` are pairs of places of taxa that it tells apart, `alone` the places of those
    that show what no other does.
    """

    character: str
    label: str
    ease: str
    where: str
    values: tuple[str, ...]
    separates: tuple[tuple[int, int], ...] = ()
    alone: tuple[int, ...] = ()

    @property
    def agreed(self) -> str:
        """What all show, where they show the same."""
        return self.values[0] if len(set(self.values)) == 1 else ""


@dataclass(frozen=True, slots=True)
class CompareStage:
    """What tells them apart in one stage, under their pictures of it."""

    pictures: SideBySide
    separating: tuple[CompareRow, ...]


@dataclass(frozen=True, slots=True)
class CompareView:
    """A comparison page: what separates first, easiest first, then what they share.

    `stages` hold the same separating rows, each under the pictures of its stage; `answers` say of each taxon, in their order, what
    tells it from all the others.
    """

    path: str
    title: str
    taxa: tuple[CompareTaxon, ...]
    sentences: tuple[str, ...]
    separating: tuple[CompareRow, ...]
    shared: tuple[CompareRow, ...]
    untold: tuple[tuple[str, str], ...] = ()  # short names of pairs that nothing separates
    in_hand: tuple[tuple[str, str], ...] = ()  # short names of pairs told apart only in the hand or under a lens
    cautions: tuple[CautionView, ...] = ()
    answers: tuple[Wording, ...] = ()
    stages: tuple[CompareStage, ...] = ()


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
    """Ids of the accounts of every comparison that has a page of its own: pairs, then sets of three or more."""
    sets = (ids for ids in similar_sets(guide) if len(ids) <= WIDEST_SET)
    return tuple(dict.fromkeys((*own_pairs(guide), *sets)))


def find_compared(guide: Published, ids: Sequence[str]) -> str:
    """Where a comparison stands: on its own page, or on the one that shows any two; empty where the set is too large to be read."""
    wanted = tuple(sorted(dict.fromkeys(ids)))
    if len(wanted) > WIDEST_SET:
        return ""
    return f"{TWO}#{'--'.join(wanted)}" if wanted in other_pairs(guide) else compare_path(wanted)


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
    stage = choose_stage(make, [make.guide.accounts[taxon] for taxon in comparison.taxa])
    answers = tuple(_answer(make, rows, place) for place, rows in enumerate(tell_each(comparison, stage, _named(make, comparison))))
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
        answers=answers,
        stages=tuple(_stages(make, comparison, stage, answers)),
    )


def _named(make: PieceMaker, comparison: Comparison) -> list[set[str]]:
    """For each taxon, in their order: the characters that authors tell it from these others by."""
    named: dict[str, set[str]] = {taxon: set() for taxon in comparison.taxa}
    for taxon in comparison.taxa:
        for similar in make.guide.accounts[taxon].similar:
            if similar.account in named:
                named[taxon] |= set(similar.tell_by)
                named[similar.account] |= set(similar.tell_by)
    return list(named.values())


def _answer(make: PieceMaker, rows: Sequence[Compared], place: int) -> Wording:
    """What tells one taxon from all the others, in the guide's language: `wing pattern: pink curves`."""
    told = (f"{add_scopes(make.in_main, row.character.label, _scopes(row))}: {row.values[place]}" for row in rows)
    return Wording("; ".join(told), None, make.foreign)


def _scopes(row: Compared) -> list[Scope]:
    return [Scope(stage, row.scope.sex) for stage in row.stages or ("",)] if row.scope != EVERYWHERE else [EVERYWHERE]


def _stages(make: PieceMaker, comparison: Comparison, first: str, answers: Sequence[Wording]) -> Iterator[CompareStage]:
    """The stage that most plates show, with all that holds in it, then each other stage of which there are pictures to show."""
    accounts = [make.guide.accounts[taxon] for taxon in comparison.taxa]
    rows = {first: [row for row in comparison.separating if holds_in(row, first)]}
    for row in comparison.separating:
        if not holds_in(row, first):
            of = row.stages or tuple(row.character.stages)
            pictured = next((stage for stage in sort_stages(make, of) if _count_pictured(make, accounts, stage) > 1), first)
            rows.setdefault(pictured, []).append(row)
    for stage, told in rows.items():
        said = answers if stage == first else (NO_WORDS,) * len(accounts)
        characters = {row.character.id: row.character for row in told}.values()
        pictures = show_side_by_side(make, Side(accounts, stage, said, characters, only=stage != first, headed=len(rows) > 1))
        yield CompareStage(pictures, tuple(_row(make, row) for row in told))


def _count_pictured(make: PieceMaker, accounts: Iterable[PublicAccount], stage: str) -> int:
    return sum(any(photo.stage == stage for photo in make.guide.photos_of(account)) for account in accounts)


def _taxon(make: PieceMaker, taxon: str, others: Sequence[str]) -> CompareTaxon:
    account = make.guide.accounts[taxon]
    notes = (_notes(make, make.guide.accounts[other], taxon) for other in others if other != taxon)
    return CompareTaxon(taxon, make.map.account(account), make.plate(account), tuple(chain.from_iterable(notes)))


def _notes(make: PieceMaker, author: PublicAccount, taxon: str) -> Iterator[CompareNote]:
    """What one account says of another that it is taken for."""
    translated = make.translation(author)
    own = dict(translated.similar_notes) if translated else {}
    for similar in author.similar:
        if similar.account == taxon:
            words = make.word(theirs, "") if (theirs := own.get(taxon, NO_TEXT)) else make.word(similar.note)
            if words:
                yield CompareNote(words, make.map.account(author))


def _row(make: PieceMaker, row: Compared) -> CompareRow:
    character = row.character
    return CompareRow(
        character=character.id,
        label=character.label,
        ease=make.words(character.ease.words),
        where=_where(make, row),
        values=row.values,
        separates=row.separates,
        alone=tuple(place for place in range(len(row.values)) if stands_alone(row, place)),
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
