"""Whether enough is scored for a key of the whole guide."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.identify.columns import tabulate_guide
from guidebuild.later import imported_when_used
from guidebuild.words import words

with imported_when_used():  # a guide without scores plans no key
    from guidebuild.identify import planner, wanted

_FILE = "characters.yaml"


def _find_too_little(guide: Guide) -> Iterator[Finding]:
    matrix = tabulate_guide(guide)
    if not matrix.columns or planner.has_key(matrix):
        return
    listed, found = words("en").listed, wanted.find_wanted(matrix)
    named = {ident: account.vernacular or account.name.plain for ident, account in guide.accounts.items()}
    parts = [f"{character.label} of {listed([named[ident] for ident in ids])}" for character, ids in found.helpful]
    message = (
        f"Too little is scored for a key: of {found.possible:,} scores {found.missing:,} are missing. "
        f"These {found.count} would help most: {'; '.join(parts)}."
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
