"""Completeness: what an account must say to be a sketch, to be taken into the field, and to be published."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from guidebuild.checks.rule import Rule
from guidebuild.fieldwork.out import sought_stages
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.accounts import Account, Stated
from guidebuild.guide.field_declaration import LEVELS, Field
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import EATEN, GROWN_ON, PLANTS_KEY, POINTER, PREY_KEY, StageSet
from guidebuild.guide.text.denied import is_nothing

PREY_QUESTION = next(field.question for field in ACCOUNT_FIELDS if field.key == PREY_KEY)
GROWN_WORDS, PREY_WORDS = "what it grows on or with", "what it eats"
Said = Callable[[Guide, Account], bool]
# The question of a draft is not its answer.
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)


@dataclass(frozen=True, slots=True)
class RequiredPart:
    """One thing an account must say, where its group asks for it.

    `key` is where a finding points in the facts block, `asked_as` how a group says that it does not ask; `question` asks for it.
    """

    code: str
    words: str
    level: str
    key: str
    asked_as: str
    question: str
    said: Said

    def is_asked(self, guide: Guide, account: Account) -> bool:
        """Whether it is asked of this account at all."""
        if self.code == "no-scores" and not guide.characters:
            return False
        group = guide.stage_set(account)
        return group.asks(self.asked_as) or (self.asked_as == PLANTS_KEY and group.asks(PREY_KEY))

    def key_in(self, group: StageSet) -> str:
        """The key by which a group answers it: hunters have no host plants."""
        return PREY_KEY if self.key == PLANTS_KEY and not group.asks(PLANTS_KEY) else self.key

    def words_in(self, group: StageSet) -> str:
        """What is missing, as it is called in a group."""
        if self.key != PLANTS_KEY or group.food == EATEN:
            return self.words
        return GROWN_WORDS if group.food == GROWN_ON else PREY_WORDS

    def question_in(self, group: StageSet) -> str:
        """What is asked, as it is asked in a group."""
        key = self.key_in(group)
        return dict(group.questions).get(key) or (PREY_QUESTION if key == PREY_KEY else self.question)


def _says_food(_: Guide, account: Account) -> bool:
    return account.host_plants.said or bool(account.prey)


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


MORE_THAN_GIVEN: Mapping[str, Said] = MappingProxyType(
    {
        "no-food": _says_food,
        "no-season": _says_sought_seasons,
        "no-life-stages": _says_sought_stages,
        "no-plate": _has_photo,
        "no-pointer": _has_pointer,
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
            asked_as = POINTER if ask.code == "no-pointer" else field.key
            yield RequiredPart(ask.code, ask.words, ask.level, key, asked_as, ask.question or field.question, said)


PARTS = tuple(sorted(_parts(), key=lambda part: LEVELS.index(part.level)))


@dataclass(frozen=True, slots=True)
class Completeness:
    """How far an account has come: parts said of parts asked, and the highest level it reaches in full ("" for none)."""

    said: int
    asked: int
    level: str
    missing: tuple[str, ...]


def find_asked_parts(guide: Guide, account: Account, level: str) -> tuple[RequiredPart, ...]:
    """What a level asks of an account of its group; each level asks all that the ones before it do."""
    within = _parts_within(level)
    return tuple([p for p in PARTS if p.code in within and p.is_asked(guide, account)])


@cache
def _parts_within(level: str) -> frozenset[str]:
    """The parts that a level asks for, which a lower one may ask for already; an unknown level asks for all."""
    asked = LEVELS[: LEVELS.index(level) + 1] if level in LEVELS else LEVELS
    return frozenset(part.code for part in PARTS if part.level in asked)


def measure_completeness(guide: Guide, account: Account) -> Completeness:
    """How complete an account is against the level the guide asks; what its group does not ask counts neither way."""
    parts = find_asked_parts(guide, account, LEVELS[-1])
    unsaid = [p for p in parts if not p.said(guide, account)]
    lacking = min((LEVELS.index(p.level) for p in unsaid), default=len(LEVELS))  # the first level that is not reached
    group, within = guide.stage_set(account), _parts_within(guide.settings.level)
    missing = tuple(p.words_in(group) for p in unsaid if p.code in within)
    asked = sum([p.code in within for p in parts])
    return Completeness(asked - len(missing), asked, LEVELS[lacking - 1] if lacking else "", missing)


def find_next_part(guide: Guide, account: Account) -> RequiredPart | None:
    """What an account should say next, of what the guide's level asks: what the lowest level asks first. None where it says all."""
    return next((part for part in find_asked_parts(guide, account, guide.settings.level) if not part.said(guide, account)), None)


def _rule(part: RequiredPart) -> Rule:
    def run(guide: Guide) -> Iterator[Finding]:
        for account in guide.accounts.values() if part.code in _parts_within(guide.settings.level) else ():
            if not part.said(guide, account) and part.is_asked(guide, account):
                group = guide.stage_set(account)
                key, words = part.key_in(group), part.words_in(group)
                message = f"{account.vernacular or account.id} does not give {words}, which a {guide.settings.level} account needs."
                yield rule.finding(message, account.where(key), mend=part.question_in(group), account=account.id)

    why = f"An account is {part.level} only once it gives {part.words}."
    rule = Rule(part.code, f"Every account gives {part.words}", Level.WARNING, why, part.question, run)
    return rule


RULES = tuple(_rule(part) for part in PARTS)
