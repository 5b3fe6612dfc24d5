"""Rules that a guide sets or silences are rules that there are: a misspelt one would change nothing, without a word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidebuild.checks.references import Suggestions
from guidebuild.checks.rule import Rule, find_nothing
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide

UNKNOWN_RULE = Rule(
    "unknown-rule",
    "Rules that are set or silenced exist",
    Level.WARNING,
    "A misspelt rule is neither set nor silenced.",
    "`guidebuild check --rules` lists them all.",
    find_nothing,  # told by whoever knows the rules of every room
)

RULES = (UNKNOWN_RULE,)


def find_unknown_rules(guide: Guide, known: Iterable[str]) -> Iterator[Finding]:
    """A finding for each word under `rules:` in guide.yaml, and under `silence:` in an account, that is no rule."""
    rules, suggest = frozenset(known), Suggestions()
    for code, at, account in _named_rules(guide):
        if code not in rules:
            yield UNKNOWN_RULE.finding(f"There is no rule “{code}”.", at, mend=suggest(code, sorted(rules)), account=account)


def _named_rules(guide: Guide) -> Iterator[tuple[str, At, str]]:
    """Each rule that is named, where, and in whose account."""
    settings = guide.settings
    places = settings.positions
    for code, _ in settings.rules:
        yield code, places.get(f"rules.{code}") or places.get("rules") or settings.at, ""
    for account in guide.accounts.values():
        yield from ((silenced.code, silenced.at, account.id) for silenced in account.silenced)
