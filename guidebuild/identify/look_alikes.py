"""Which accounts are listed as similar: pairs, sets of several, and which of them are compared on a page of their own."""

from __future__ import annotations

from collections import Counter

from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.facts import AnyGuide

Pair = tuple[str, str]

MANY = 12
"""Look-alikes of one account up to which each of them is compared with it on a page of its own."""
WIDEST_SET = 30
"""Accounts that can be read side by side at all; larger sets are looked at two by two."""


@kept_by_guide(2)
def similar_pairs(guide: AnyGuide) -> tuple[Pair, ...]:
    """Pairs that either account lists as similar, each once, ids in alphabetical order."""
    pairs = {
        tuple(sorted((account.id, similar.account)))
        for account in guide.accounts.values()
        for similar in account.similar
        if similar.account in guide.accounts and similar.account != account.id
    }
    return tuple(sorted((a, b) for a, b in pairs))


@kept_by_guide(2)
def similar_sets(guide: AnyGuide) -> tuple[tuple[str, ...], ...]:
    """Sets of three or more accounts joined by being listed as similar, ids and sets in alphabetical order."""
    leads_to: dict[str, str] = {}

    def find_first(ident: str) -> str:
        """The account that stands for all those that this one is joined with."""
        first = ident
        while (further := leads_to.get(first, first)) != first:
            first = further
        while (further := leads_to.get(ident, ident)) != first:
            leads_to[ident], ident = first, further
        return first

    for a, b in similar_pairs(guide):
        first, second = sorted((find_first(a), find_first(b)))
        leads_to[second] = leads_to[first] = first
    sets: dict[str, list[str]] = {}
    for ident in sorted(leads_to.keys() | {one for pair in similar_pairs(guide) for one in pair}):
        sets.setdefault(find_first(ident), []).append(ident)
    return tuple(sorted(tuple(together) for together in sets.values() if len(together) > 2))


@kept_by_guide(2)
def own_pairs(guide: AnyGuide) -> tuple[Pair, ...]:
    """Pairs with a page of their own: those of which an author says something, and all of accounts that have few look-alikes."""
    others = Counter(ident for pair in similar_pairs(guide) for ident in pair)
    named = {
        (account.id, similar.account)
        for account in guide.accounts.values()
        for similar in account.similar
        if similar.note or similar.tell_by
    }
    return tuple((a, b) for a, b in similar_pairs(guide) if (a, b) in named or (b, a) in named or max(others[a], others[b]) <= MANY)


@kept_by_guide(2)
def other_pairs(guide: AnyGuide) -> frozenset[Pair]:
    """The pairs that have no page of their own."""
    return frozenset(similar_pairs(guide)) - frozenset(own_pairs(guide))
