"""Every rule, in the order it is run and listed, and the one function that runs them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Set
from dataclasses import dataclass, replace

from guidebuild.checks import (
    complete,
    films,
    law,
    life,
    looks_alike,
    maps,
    marks,
    photos,
    posts,
    references,
    rule_names,
    script_cautions,
    scripts,
    seasons,
    secrecy,
    sightings,
    sounds,
    spoken_text,
    too_little,
)
from guidebuild.checks.complete import Completeness, measure_completeness
from guidebuild.checks.rule import Rule, find_nothing
from guidebuild.guide.accounts import Silenced
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide

IDLE_SILENCE = Rule(
    "idle-silence",
    "Every silenced rule would find something",
    Level.NOTE,
    "A silence that is no longer needed hides the next finding of its rule.",
    "Take the entry out.",
    find_nothing,  # told by `check_guide`, once all else is found
)

RULES: tuple[Rule, ...] = (
    *complete.RULES,
    *references.RULES,
    *marks.RULES,
    *photos.RULES,
    *films.RULES,
    *posts.RULES,
    *sounds.RULES,
    *life.RULES,
    *law.RULES,
    *seasons.RULES,
    *sightings.RULES,
    *maps.RULES,
    *secrecy.RULES,
    *looks_alike.RULES,
    *too_little.RULES,
    *scripts.RULES,
    *script_cautions.RULES,
    *spoken_text.RULES,
    *rule_names.RULES,
    IDLE_SILENCE,
)


@dataclass(frozen=True, slots=True)
class Report:
    """What the checks found. `silenced` are findings that an account switched off, with its reason."""

    findings: tuple[Finding, ...]
    silenced: tuple[tuple[Finding, str], ...]
    completeness: tuple[tuple[str, Completeness], ...]

    def worst(self) -> int:
        """The weight of the gravest finding, 0 where there is none."""
        return max((f.level.weight for f in self.findings), default=0)

    def count(self, level: Level) -> int:
        """How many findings of a level."""
        return sum(f.level is level for f in self.findings)

    def blocked(self) -> frozenset[str]:
        """Accounts with an error: they are not published."""
        return frozenset(f.account for f in self.findings if f.level is Level.ERROR and f.account)


def check_guide(
    guide: Guide, from_reading: Iterable[Finding] = (), rules: Iterable[Rule] = RULES, *, give_way: Callable[[], None] = lambda: None
) -> Report:
    """Run every rule over a guide; levels are those of guide.yaml's `rules:` where it gives them.

    `give_way` is called before each rule, and may raise to end the checks.
    """
    levels = dict(guide.settings.rules)
    findings: list[Finding] = list(from_reading)
    # A value that is given but cannot be read is told once, not again as missing.
    unread = {(f.at.file, f.at.line) for f in findings if f.level is Level.ERROR and f.at.line}
    parts = {part.code for part in complete.PARTS}
    for rule in rules:
        give_way()
        if levels.get(rule.code, rule.level) is not None:
            findings += (f for f in rule.run(guide) if rule.code not in parts or (f.at.file, f.at.line) not in unread)
    kept: list[Finding] = []
    silenced: list[tuple[Finding, str]] = []
    for finding in (_levelled(f, levels) for f in findings):
        if finding is None:
            continue
        reason = _silence(guide, finding)
        if reason is None:
            kept.append(finding)
        else:
            silenced.append((finding, reason.reason))
    kept += _idle_silence(guide, silenced, {f.at for f in kept if f.code == rule_names.UNKNOWN_RULE.code})
    bars = tuple((a.id, measure_completeness(guide, a)) for a in guide.accounts.values())
    return Report(tuple(sorted(kept, key=_order)), tuple(silenced), bars)


def _levelled(finding: Finding, levels: dict[str, Level | None]) -> Finding | None:
    level = levels.get(finding.code, finding.level)
    return None if level is None else replace(finding, level=level)


def _silence(guide: Guide, finding: Finding) -> Silenced | None:
    account = guide.accounts.get(finding.account)
    if account is None:
        return None
    return next((s for s in account.silenced if s.code == finding.code), None)


def _idle_silence(guide: Guide, silenced: list[tuple[Finding, str]], places_told: Set[At]) -> Iterator[Finding]:
    """Silences that found nothing, but for those that are told already: of rules that there are not."""
    used = {(f.account, f.code) for f, _ in silenced}
    for account in guide.accounts.values():
        for silence in account.silenced:
            if (account.id, silence.code) not in used and silence.at not in places_told:
                message = f"The rule “{silence.code}” is silenced here but finds nothing."
                yield IDLE_SILENCE.finding(message, silence.at, account=account.id)


def _order(finding: Finding) -> tuple[str, int, int, str]:
    return finding.at.file, finding.at.line, finding.at.column, finding.code
