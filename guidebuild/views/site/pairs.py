"""One page that shows any two look-alikes: those that no author says anything of would be too many pages of their own."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.identify.look_alikes import Pair, other_pairs, own_pairs
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import WHOLE, Run
from guidebuild.views.site.account import MOST_SIMILAR
from guidebuild.views.site.lists import ListEntry, make_entry
from guidebuild.views.site.page import PlainPiece

PAIRS = "compare/pairs.js"
"""Who is a look-alike of whom, as a piece for the script of that page."""
PAIR_PIECES = "compare/of"
"""Below it stand the comparisons themselves: for the first of each pair, so many to a piece."""
MOST_IN_PIECE = 40
PAIRS_MARK, PAIR_PIECES_MARK = "pairs.js", "pair_pieces.js"
"""Such pieces are made without a template: these stand where pages name theirs."""


@dataclass(frozen=True, slots=True)
class TwoPage:
    """Species that have look-alikes, each with its mark; `pairs` is where the script finds which go together."""

    entries: tuple[ListEntry, ...]
    pairs: str


def has_many_pairs(guide: Published) -> bool:
    """Whether there are pairs without a page of their own, or more look-alikes of one species than its page shows."""
    return bool(other_pairs(guide)) or any(len(account.similar) > MOST_SIMILAR for account in guide.accounts.values())


def list_alike(make: PieceMaker) -> list[PublicAccount]:
    """The accounts that have look-alikes, by name."""
    paired = {ident for pair in (*own_pairs(make.guide), *other_pairs(make.guide)) for ident in pair}
    return sorted((make.guide.accounts[ident] for ident in paired), key=lambda account: make.map.account(account).text.casefold())


def two_page(make: PieceMaker, run: Run = WHOLE) -> TwoPage:
    """The page, or a run of the species on it."""
    return TwoPage(tuple(make_entry(make, account) for account in list_alike(make)[run.held]), make.map.page(PAIRS))


def pairs_piece(make: PieceMaker) -> PlainPiece:
    """Names by id in alphabetical order; then, by the places of their names, the pairs to be shown and those that have their own pages."""
    accounts = list_alike(make)
    places = {account.id: place for place, account in enumerate(accounts)}
    told = {
        "names": [[account.id, make.map.account(account).text] for account in accounts],
        "shown": [[places[a], places[b], piece] for piece, pairs in list_pair_pieces(make.guide) for a, b in pairs],
        "own": [[places[a], places[b]] for a, b in own_pairs(make.guide)],
    }
    return PlainPiece(json.dumps(told, ensure_ascii=False, separators=(",", ":")))


def list_pair_pieces(guide: Published) -> Iterator[tuple[int, tuple[Pair, ...]]]:
    """The pairs of each piece; all have the same first account, whose pieces are numbered from 1."""
    of_first: dict[str, list[Pair]] = {}
    for pair in sorted(other_pairs(guide)):
        of_first.setdefault(pair[0], []).append(pair)
    for pairs in of_first.values():
        for number, start in enumerate(range(0, len(pairs), MOST_IN_PIECE), start=1):
            yield number, tuple(pairs[start : start + MOST_IN_PIECE])


def pair_piece_path(pairs: Sequence[Pair], number: int) -> str:
    """Where a piece stands."""
    return f"{PAIR_PIECES}/{pairs[0][0]}/{number}.js"
