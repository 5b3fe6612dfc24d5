"""Which account is meant: by id, former address, current name, synonym or vernacular name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TypeVar

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.facts import AnyGuide, GuideFacts

A = TypeVar("A", bound=AccountFacts)
_HYBRID = re.compile(r"\s*(?:×|(?<=\s)x(?=\s))\s*")


def fold_name(text: str) -> str:
    """A name as it is compared: case, hybrid signs however typed, and spaces do not count."""
    folded = text.casefold()
    return " ".join((_HYBRID.sub(" × ", folded) if "x" in folded or "×" in folded else folded).split())


@dataclass(frozen=True, slots=True)
class NameIndex:
    """Every name that leads to an account; `claims` keeps all who claim a name, so that clashes can be found."""

    by_id: dict[str, AccountFacts]
    claims: dict[str, list[AccountFacts]] = field(default_factory=dict)

    def find(self, wanted: str) -> AccountFacts | None:
        """The one account meant by an id or any of its names; None where there is none or more than one."""
        if wanted in self.by_id:
            return self.by_id[wanted]
        claimed = self.claims.get(fold_name(wanted), [])
        return claimed[0] if len(claimed) == 1 else None


def names_of(account: AccountFacts) -> Iterator[str]:
    """Every text an account answers to: its names, old and new, and its former addresses."""
    yield account.name.plain
    yield from (synonym.plain for synonym in account.synonyms)
    yield from account.formerly
    if account.vernacular:
        yield account.vernacular
    yield from account.other_vernaculars


@kept_by_guide(4)
def name_index(guide: AnyGuide) -> NameIndex:
    """The index of a guide's names, made once a guide."""
    index = NameIndex(dict(guide.accounts))
    for account in guide.accounts.values():
        for name in dict.fromkeys(fold_name(n) for n in names_of(account)):
            index.claims.setdefault(name, []).append(account)
    return index


def find_account(guide: GuideFacts[A], wanted: str) -> A | None:
    """The account meant by `wanted` (an id, a former address, any name), or None."""
    found = name_index(guide).find(wanted.strip())
    return guide.accounts[found.id] if found else None
