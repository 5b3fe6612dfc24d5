"""Completeness: what an account must say to be a sketch, to be taken into the field, and to be published."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from guidebuild.checks.rule import Rule
from guidebuild.fieldwork.out import sought_stages
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.accounts import Account, Stated
from guidebuild.guide.field_declaration import LEVELS, Field
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import GROWN_ON
from guidebuild.guide.text.denied import is_nothing

GROWN_WORDS = "what it grows on or with"
Said = Callable[[Guide, Account], bool]
# The question of a draft is not its answer.
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)


@dataclass(frozen=True, slots=True)
class RequiredPart:
    """One thing an account must say. `key` is where a finding points in the facts block; `question` asks for it."""

    code: str
    words: str
    level: str
    key: str
    question: str
    said: Said


def _says_food(guide: Guide, account: Account) -> bool:
    return account.host_plants.said or bool(account.prey) or not guide.stage_set(account).asks_food


def denied_stages(account: Account) -> frozenset[str]:
    """The stages that are said not to occur: `egg: none`, once, under seasons or under life stages."""
    never = {s.stage for s in account.seasons if not s.place and not s.season.dekads}
    return frozenset(never | {s.stage for s in account.stages if is_nothing(s.text.text)})


def _says_sought_seasons(guide: Guide, account: Account) -> bool:
    known = {s.stage for s in account.seasons}
    return bool(known) and known | denied_stages(account) >= set(guide.stage_set(account).sought)


def _says_sought_stages(guide: Guide, account: Account) -> bool:
    described = {s.stage for s in account.stages if s.text}
    return bool(described) and described | denied_stages(account) >= set(sought_stages(guide, account))


def _has_photo(guide: Guide, account: Account) -> bool:
    return bool(guide.photos_of(account))


def _has_pointer(guide: Guide, account: Account) -> bool:
    return any(m.point is not None and m.photo in guide.photos for m in account.diagnostics)


def _has_scores(guide: Guide, account: Account) -> bool:
    return not guide.characters or bool(account.scores)


MORE_THAN_GIVEN: Mapping[str, Said] = MappingProxyType(
    {
        "no-food": _says_food,
        "no-season": _says_sought_seasons,
        "no-life-stages": _says_sought_stages,
        "no-plate": _has_photo,
        "no-pointer": _has_pointer,
        "no-scores": _has_scores,
    }
)
"""By code, what is looked at where it is not enough that the field is given."""


def _said_of(field: Field) -> Said:
    def said(guide: Guide, account: Account) -> bool:
        value = getattr(account, field.attribute)
        return value.said if isinstance(value, Stated) else bool(value)

    return said


def _said_under(heading: str) -> Said:
    def said(guide: Guide, account: Account) -> bool:
        section = account.section(heading)
        return section is not None and bool(_COMMENT.sub("", section.text).strip())

    return said


def _parts() -> Iterator[RequiredPart]:
    """What the fields and sections ask, as declared."""
    for field in (*ACCOUNT_FIELDS, *SECTIONS):
        section = field in SECTIONS
        for ask in field.asks:
            said = MORE_THAN_GIVEN.get(ask.code) or (_said_under(field.key) if section else _said_of(field))
            key = "sections" if section else field.key
            yield RequiredPart(ask.code, ask.words, ask.level, key, ask.question or field.question, said)


PARTS = tuple(sorted(_parts(), key=lambda part: LEVELS.index(part.level)))


@dataclass(frozen=True, slots=True)
class Completeness:
    """How far an account has come: parts said of parts asked, and the highest level it reaches in full ("" for none)."""

    said: int
    asked: int
    level: str
    missing: tuple[str, ...]


def asked_parts(level: str) -> tuple[RequiredPart, ...]:
    """The parts that a level asks for; each level asks all that the ones before it do."""
    reach = LEVELS.index(level) if level in LEVELS else len(LEVELS) - 1
    return tuple(p for p in PARTS if LEVELS.index(p.level) <= reach)


def measure_completeness(guide: Guide, account: Account) -> Completeness:
    """How complete an account is against the level the guide asks."""
    parts = asked_parts(guide.settings.level)
    said = {p.code for p in PARTS if p.said(guide, account)}
    reached = ""
    for level in LEVELS:
        if not all(p.code in said for p in asked_parts(level)):
            break
        reached = level
    missing = tuple(p.words for p in parts if p.code not in said)
    return Completeness(len(parts) - len(missing), len(parts), reached, missing)


def _rule(part: RequiredPart) -> Rule:
    def run(guide: Guide) -> Iterator[Finding]:
        if part not in asked_parts(guide.settings.level):
            return
        for account in guide.accounts.values():
            if not part.said(guide, account):
                group = guide.stage_set(account)
                words = GROWN_WORDS if part.key == "host plants" and group.food == GROWN_ON else part.words
                message = f"{account.vernacular or account.id} does not give {words}, which a {guide.settings.level} account needs."
                mend = dict(group.questions).get(part.key, "")
                yield rule.finding(message, account.where(part.key), mend=mend, account=account.id)

    why = f"An account is {part.level} only once it gives {part.words}."
    rule = Rule(part.code, f"Every account gives {part.words}", Level.WARNING, why, part.question, run)
    return rule


RULES = tuple(_rule(part) for part in PARTS)
