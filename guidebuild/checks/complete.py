"""Completeness: what an account must say to be a sketch, to be taken into the field, and to be published."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from guidebuild.checks.rule import Rule
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide

LEVELS = ("sketch", "fieldable", "publishable")
SECTIONS = ("In brief", "How to know it", "Where to look", "Life story", "In the field")


@dataclass(frozen=True, slots=True)
class Part:
    """One thing an account must say. `key` is where a finding points in the facts block; `question` asks for it."""

    code: str
    words: str
    level: str
    key: str
    question: str
    said: Callable[[Guide, Account], bool]


def _section(heading: str) -> Callable[[Guide, Account], bool]:
    def said(guide: Guide, account: Account) -> bool:
        section = account.section(heading)
        return section is not None and bool(section.text.strip())

    return said


def _feeds(guide: Guide, account: Account) -> bool:
    return account.host_plants.said or bool(account.prey)


def _sought_seasons(guide: Guide, account: Account) -> bool:
    sought = guide.stage_set(account).sought
    known = {s.stage for s in account.seasons}
    return bool(known) and all(stage in known for stage in sought)


def _sought_stages(guide: Guide, account: Account) -> bool:
    described = {s.stage for s in account.stages if s.text.strip()}
    stages = guide.stage_set(account).ids
    return bool(described) and all(stage in described for stage in stages)


def _plate(guide: Guide, account: Account) -> bool:
    return bool(guide.photos_of(account))


def _pointed(guide: Guide, account: Account) -> bool:
    return any(m.point is not None and m.photo in guide.photos for m in account.diagnostics)


def _scored(guide: Guide, account: Account) -> bool:
    return not guide.characters or bool(account.scores)


PARTS = (
    Part("no-vernacular", "vernacular name", "sketch", "vernacular", "What do people call it?", lambda g, a: bool(a.vernacular)),
    Part("no-family", "family", "sketch", "family", "Which family is it in?", lambda g, a: bool(a.family)),
    Part("no-brief", "In brief", "sketch", "sections", "Why would someone stop for this one?", _section(SECTIONS[0])),
    Part(
        "no-field-mark",
        "field marks",
        "fieldable",
        "diagnostics",
        "Which marks decide, most useful first?",
        lambda g, a: bool(a.diagnostics),
    ),
    Part(
        "no-similar",
        "similar species",
        "fieldable",
        "similar",
        "What is it taken for? Write `none` if nothing.",
        lambda g, a: a.similar.said,
    ),
    Part("no-size", "size", "fieldable", "size", "How long is it, in millimetres?", lambda g, a: a.size is not None),
    Part(
        "no-food",
        "host plants or prey",
        "fieldable",
        "host plants",
        "What does it feed on? Write `none` and give `prey:` for a hunter.",
        _feeds,
    ),
    Part("no-habitat", "habitat", "fieldable", "habitat", "In what kind of place does one look?", lambda g, a: bool(a.habitat)),
    Part("no-season", "seasons", "fieldable", "seasons", "When is each stage about?", _sought_seasons),
    Part("no-hazard-word", "hazards", "fieldable", "hazards", "Can it hurt? Write `none` if it cannot.", lambda g, a: a.hazards.said),
    Part("no-plate", "a photo", "fieldable", "photos", "Which photo shows the whole animal?", _plate),
    Part("no-how-to-know", "How to know it", "publishable", "sections", "How is it told, in words?", _section(SECTIONS[1])),
    Part(
        "no-where-to-look",
        "Where to look",
        "publishable",
        "sections",
        "Where does one stand, and what does one look at?",
        _section(SECTIONS[2]),
    ),
    Part("no-life-story", "Life story", "publishable", "sections", "What happens in its year?", _section(SECTIONS[3])),
    Part(
        "no-in-the-field",
        "In the field",
        "publishable",
        "sections",
        "How is it watched and photographed without harm?",
        _section(SECTIONS[4]),
    ),
    Part("no-life-stages", "life stages", "publishable", "life stages", "What does each stage look like?", _sought_stages),
    Part(
        "no-pointer",
        "a pointer on a photo",
        "publishable",
        "diagnostics",
        "Where on the photo is the first mark? Give `photo:` and `at:`.",
        _pointed,
    ),
    Part("no-scores", "characters", "publishable", "characters", "What are its states for the guide's characters?", _scored),
    Part("no-source", "sources", "publishable", "sources", "Which book, paper or person says so?", lambda g, a: bool(a.sources)),
    Part(
        "not-reviewed", "a review", "publishable", "reviewed", "Who has checked these facts, and when?", lambda g, a: a.reviewed is not None
    ),
)


@dataclass(frozen=True, slots=True)
class Completeness:
    """How far an account has come: parts said of parts asked, and the highest level it reaches in full ("" for none)."""

    said: int
    asked: int
    level: str
    missing: tuple[str, ...]


def asked_parts(level: str) -> tuple[Part, ...]:
    """The parts that a level asks for; each level asks all that the ones before it do."""
    reach = LEVELS.index(level) if level in LEVELS else len(LEVELS) - 1
    return tuple(p for p in PARTS if LEVELS.index(p.level) <= reach)


def completeness(guide: Guide, account: Account) -> Completeness:
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


def _rule(part: Part) -> Rule:
    def run(guide: Guide) -> Iterator[Finding]:
        if part not in asked_parts(guide.settings.level):
            return
        for account in guide.accounts.values():
            if not part.said(guide, account):
                message = f"{account.vernacular or account.id} does not give {part.words}, which a {guide.settings.level} account needs."
                yield Finding(part.code, Level.WARNING, message, account.where(part.key), part.question, account.id)

    why = f"An account is {part.level} only once it gives {part.words}."
    return Rule(part.code, f"Every account gives {part.words}", Level.WARNING, why, part.question, run)


RULES = tuple(_rule(part) for part in PARTS)
