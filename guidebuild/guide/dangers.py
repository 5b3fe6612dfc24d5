"""Which cautions belong to what is shown: those of its own hazards, and those of look-alikes that are more dangerous.

Every output asks `find_cautions`, whether it shows one account, a pair, a key or a walk: a caution follows the danger.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import kept_by_guide, remember
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.resolve import find_account

HARMS = ("deadly", "poisonous", "touch", "venomous", "sting", "bite", "none")
"""How a species itself hurts. `none`: it does not, or the hazard is one of the place, of the law or of eating anything at all."""

EATEN = frozenset({"deadly", "poisonous"})
NOT_FOR_EATING = "not-for-eating"
"""The hazard of eating anything at all by a name from a guide."""
PROTECTED = "protected-species"
"""The hazard of disturbing what the law protects."""
_COVERED = {"deadly": EATEN, "venomous": frozenset({"venomous", "sting", "bite"})}


@dataclass(frozen=True, slots=True)
class FoundCaution:
    """A hazard, and whose it is: of accounts and host plants that are shown, or of look-alikes (each with whom it is taken for)."""

    hazard: str
    of: tuple[str, ...] = ()
    like: tuple[tuple[str, str], ...] = ()
    plants: tuple[str, ...] = ()


def find_cautions(
    guide: AnyGuide, accounts: Iterable[str], hazards: Iterable[str] = (), plants: Iterable[str] = ()
) -> tuple[FoundCaution, ...]:
    """All cautions of what is shown: those of further hazards first (a walk's and its places'), then of plants and accounts (ids)."""
    shown = tuple(dict.fromkeys(accounts))
    of: dict[str, list[str]] = {hazard: [] for hazard in hazards}
    like: dict[str, dict[str, str]] = {}
    growing: dict[str, list[str]] = {}
    for plant in dict.fromkeys(plants):
        for hazard in guide.plants[plant].hazards:
            growing.setdefault(hazard, []).append(plant)
            of.setdefault(hazard, [])
    for ident in shown:
        for hazard in guide.accounts[ident].hazards:
            of.setdefault(hazard, []).append(ident)
    for ident in shown:
        for hazard, other in _worse_look_alikes(guide, ident):
            if other not in shown:
                like.setdefault(hazard, {}).setdefault(other, ident)
    every = dict.fromkeys((*of, *like))
    return tuple(FoundCaution(h, tuple(of.get(h, ())), tuple(like.get(h, {}).items()), tuple(growing.get(h, ()))) for h in every)


def find_poisonous(guide: AnyGuide, accounts: Iterable[str]) -> tuple[str, ...]:
    """Those of some accounts and of their more dangerous look-alikes that are poisonous to eat, the deadly ones first."""
    found = [f for f in find_cautions(guide, accounts) if harm_of(guide, f.hazard) in EATEN]
    found.sort(key=lambda f: harm_of(guide, f.hazard) != "deadly")
    return tuple(dict.fromkeys(ident for f in found for ident in (*f.of, *(other for other, _ in f.like))))


def harm_of(guide: AnyGuide, hazard: str) -> str:
    """How a hazard hurts. Where its caution does not say, its id and title are looked through for known words; empty: not known."""
    caution = guide.cautions.get(hazard)
    if caution and caution.harm:
        return caution.harm
    known = find_hazards_in(guide, f"{hazard} {caution.title if caution else ''}")
    return guide.cautions[known[0]].harm if known else ""


def keep_worst(harms: Iterable[str]) -> tuple[str, ...]:
    """Ways to hurt, each once, without those that a worse one among them covers: what is deadly poisonous need not be called poisonous."""
    each = tuple(dict.fromkeys(harms))
    return tuple(harm for harm in each if not any(harm != worse and harm in _COVERED.get(worse, ()) for worse in each))


def find_hazards_in(guide: AnyGuide, text: str) -> tuple[str, ...]:
    """The hazards that a text speaks of, by the words under `asked as` of their cautions: the worst harm first."""
    words = text.casefold().replace("-", " ")
    found = [c for c in guide.cautions.values() if any(re.search(rf"\b{re.escape(word)}", words) for word in c.asked_as)]
    return tuple(c.id for c in sorted(found, key=lambda c: HARMS.index(c.harm) if c.harm in HARMS else len(HARMS)))


def hurts_by_itself(guide: AnyGuide, hazard: str) -> bool:
    """Whether it is the species that hurts. A hazard of which that is not known counts, to be on the safe side."""
    return harm_of(guide, hazard) != "none"


def is_dangerous(guide: AnyGuide, account: AccountFacts) -> bool:
    """Whether a species itself can hurt."""
    return any(hurts_by_itself(guide, hazard) for hazard in _hazards_of(guide, account))


def is_fit_for_children(guide: AnyGuide, ident: str) -> bool:
    """Whether a child may be sent to look for a species: it does not hurt, nor is it taken for what does worse than bite."""
    likes = (harm_of(guide, found.hazard) for found in find_cautions(guide, [ident]) if found.like)
    return not is_dangerous(guide, guide.accounts[ident]) and all(harm == "bite" for harm in likes)


def _worse_look_alikes(guide: AnyGuide, ident: str) -> tuple[tuple[str, str], ...]:
    """Hazards that look-alikes have and this account has not, nor one that covers them; each with whose it is.

    Kept, as an account that thousands name is asked of again by the page of each.
    """
    return remember(_known_worse(guide), ident, lambda: tuple(_find_worse(guide, guide.accounts[ident])))


@kept_by_guide(4)
def _known_worse(guide: AnyGuide) -> dict[str, object]:
    """Room for the worse look-alikes of each account."""
    return {}


def _find_worse(guide: AnyGuide, account: AccountFacts) -> Iterator[tuple[str, str]]:
    own = set(account.hazards) | set(_hazards_of(guide, account))
    covered = {covered for harm in (harm_of(guide, h) for h in own) for covered in _COVERED.get(harm, {harm} - {"", "none"})}
    for ident in _look_alikes(guide).get(account.id, ()):
        for hazard in _hazards_of(guide, guide.accounts[ident]):
            if hazard not in own and hurts_by_itself(guide, hazard) and harm_of(guide, hazard) not in covered:
                yield hazard, ident


def _hazards_of(guide: AnyGuide, account: AccountFacts) -> tuple[str, ...]:
    """The hazards of an account; where none is listed, the first that its own caution speaks of."""
    return account.hazards.values or find_hazards_in(guide, account.caution.words)[:1]


@kept_by_guide(4)
def _look_alikes(guide: AnyGuide) -> dict[str, tuple[str, ...]]:
    """The look-alikes of each account, whichever of the two names the other."""
    alike: dict[str, dict[str, None]] = {}
    for account in guide.accounts.values():
        for similar in account.similar:
            other = find_account(guide, similar.account)
            if other and other.id != account.id:
                alike.setdefault(account.id, {})[other.id] = None
                alike.setdefault(other.id, {})[account.id] = None
    return {ident: tuple(others) for ident, others in alike.items()}
