"""What the key's page and its printed sheet show."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import kept_by_guide
from guidebuild.identify.key import Key, Statistics, UnpartedTaxa, make_key
from guidebuild.identify.key_layout import KeyLine, lay_out_bracketed, lay_out_indented
from guidebuild.identify.key_words import letter_lead
from guidebuild.identify.readings import Scope
from guidebuild.identify.sentences import overlap_sentence, separation_sentence
from guidebuild.identify.wanted import WantedScores
from guidebuild.views.pieces.cautions import eating_caution
from guidebuild.views.pieces.common import CautionView, LinkView
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.pieces.scopes import scope_of_many
from guidebuild.views.telling.compare import find_compared


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One lead, as a line. `number` and `letter` name it ("3", "b"); `came_from` ("1", "a") leads back, empty at the start.

    `asks` is the couplet's question, or else its character's `label`; `says` the answer; `also` further characters that confirm it.
    Either `to` is the number of the next couplet, or `ends` are links to the accounts one has come to (a group where there
    is more than one; then `group` numbers its entry among the groups, from 1).
    """

    number: int
    letter: str
    first: bool
    depth: int
    asks: str
    says: str
    ease: str
    also: tuple[str, ...] = ()
    came_from: tuple[int, str] | None = None
    to: int | None = None
    ends: tuple[LinkView, ...] = ()
    group: int = 0
    label: str = ""
    states: tuple[tuple[str, str], ...] = ()  # ids of the character and of each state that the lead names


@dataclass(frozen=True, slots=True)
class KeyGroup:
    """Accounts that the key leaves together: why, and the page that compares them."""

    taxa: tuple[LinkView, ...]
    reasons: tuple[str, ...]
    compare: LinkView
    ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WantedView:
    """Why there is no key, and the scores that would help most: the label of a character, and the accounts to score for it."""

    words: str
    scores: tuple[tuple[str, tuple[LinkView, ...]], ...]


@dataclass(frozen=True, slots=True)
class KeyView:
    """The key's page. Rows come in both layouts; each row's place to link to is its couplet's number."""

    path: str
    scope: str  # "adult", "female adult": what the key is for; empty for any
    indented: tuple[KeyRow, ...]
    bracketed: tuple[KeyRow, ...]
    groups: tuple[KeyGroup, ...]
    statistics: Statistics
    dichotomous: bool
    alone: tuple[LinkView, ...] = ()  # all there is, where no couplet is needed or possible
    left_out: tuple[LinkView, ...] = ()  # accounts scored for no character
    caution: CautionView | None = None
    wanted: WantedView | None = None  # what is to be scored first, where too little is scored for a key


@kept_by_guide(4)
def _key_of(guide: Published, dichotomous: bool, scope: Scope | None, accounts: tuple[str, ...]) -> Key:
    """Plan a key once for all the languages in which it is shown."""
    return make_key(guide, dichotomous=dichotomous, scope=scope, accounts=accounts)


def key_view(
    guide: Published, language: str = "", *, dichotomous: bool = True, scope: Scope | None = None, accounts: Iterable[str] = ()
) -> KeyView:
    """Show the key of a guide, or of some of its accounts."""
    accounts = tuple(accounts)
    key = _key_of(guide, dichotomous, scope, accounts)
    make = make_pieces(guide, language)
    groups = {group.taxa: number for number, group in enumerate(key.groups, 1)}
    return KeyView(
        path=make.map.page("key.html"),
        scope=scope_of_many(make, key.scope),
        indented=tuple(_row(make, row, groups) for row in lay_out_indented(key)),
        bracketed=tuple(_row(make, row, groups) for row in lay_out_bracketed(key)),
        groups=tuple(_group(make, key, group) for group in key.groups),
        statistics=key.statistics,
        dichotomous=dichotomous,
        alone=_links(make, key.alone),
        left_out=_links(make, key.left_out),
        caution=eating_caution(make, accounts or make.guide.accounts),
        wanted=_show_wanted(make, key.wanted) if key.wanted else None,
    )


def _show_wanted(make: PieceMaker, wanted: WantedScores) -> WantedView:
    said = make.words(
        "Too little is scored for a key: of {possible} scores {missing} are missing. These {count} would help most:",
        possible=wanted.possible,
        missing=wanted.missing,
        count=wanted.count,
    )
    return WantedView(said, tuple((character.label, _links(make, ids)) for character, ids in wanted.helpful))


def _row(make: PieceMaker, row: KeyLine, groups: dict[tuple[str, ...], int]) -> KeyRow:
    couplet, lead = row.couplet, row.lead
    came_from = couplet.came_from
    return KeyRow(
        number=couplet.number,
        letter=letter_lead(row.place),
        first=row.first,
        depth=row.depth,
        asks=couplet.question or couplet.label,
        says=lead.words,
        ease=make.words(couplet.ease.words),
        also=tuple(f"{label}: {words}" for label, words in lead.also),
        came_from=(came_from[0], letter_lead(came_from[1])) if came_from else None,
        to=lead.to,
        ends=_links(make, lead.taxa),
        group=groups.get(lead.taxa, 0) if len(lead.taxa) > 1 else 0,
        label=couplet.label,
        states=tuple((couplet.character, state) for state in lead.states),
    )


def _links(make: PieceMaker, ids: Iterable[str]) -> tuple[LinkView, ...]:
    return tuple(make.map.account(make.guide.accounts[i]) for i in ids)


def _group(make: PieceMaker, key: Key, group: UnpartedTaxa) -> KeyGroup:
    taxa = _links(make, group.taxa)
    reasons: list[str] = []
    if make.language == make.main:  # characters are not translated
        reasons += [overlap_sentence(make.guide, overlap) for overlap in group.overlaps]
        reasons += [separation_sentence(make.guide, a, b, s) for a, b, s in group.told_apart]
    path = find_compared(make.guide, group.taxa)
    return KeyGroup(
        taxa,
        tuple(r for r in reasons if r),
        LinkView(make.map.page(path) if path else "", make.words.listed([t.text for t in taxa])),
        group.taxa,
    )
