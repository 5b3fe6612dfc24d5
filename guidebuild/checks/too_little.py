"""Whether enough is scored for a key of the whole guide."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.planner import has_key
from guidebuild.identify.wanted import find_wanted
from guidebuild.words import words

_FILE = "characters.yaml"


def _find_too_little(guide: Guide) -> Iterator[Finding]:
    matrix = matrix_of(guide)
    if not matrix.columns or has_key(matrix):
        return
    listed, wanted = words("en").listed, find_wanted(matrix)
    named = {ident: account.vernacular or account.name.plain for ident, account in guide.accounts.items()}
    parts = [f"{character.label} of {listed([named[ident] for ident in ids])}" for character, ids in wanted.helpful]
    message = (
        f"Too little is scored for a key: of {wanted.possible:,} scores {wanted.missing:,} are missing. "
        f"These {wanted.count} would help most: {'; '.join(parts)}."
    )
    yield TOO_LITTLE_SCORED.finding(message, At(_FILE))


TOO_LITTLE_SCORED = Rule(
    "too-little-scored",
    "Enough is scored for a key",
    Level.NOTE,
    "A species that is not scored for what a couplet asks goes along both leads: with most scores missing a key never ends.",
    "Score these under `characters:` in their accounts.",
    _find_too_little,
)

RULES = (TOO_LITTLE_SCORED,)
