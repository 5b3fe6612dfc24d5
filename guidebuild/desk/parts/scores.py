"""The table of species and characters, and beside it what the scores do not tell apart yet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidebuild.checks.looks_alike import (
    SCORE_AGAINST_NOTE,
    SCORE_AGAINST_SIZE,
    SCORE_BESIDE_SIZE,
    TELL_BY_DOES_NOT_SEPARATE,
    TELL_BY_NOT_SCORED,
)
from guidebuild.desk.desk import Desk
from guidebuild.desk.part import Part
from guidebuild.desk.score_changes import put_scores, score_cell, tell_cell
from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Character, Known, Score
from guidebuild.guide.guide import Guide
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.key import make_key
from guidebuild.identify.readings import Scope
from guidebuild.identify.separation import find_separations
from guidebuild.identify.untold import UntoldPair, find_untold
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view

_AT_ODDS = frozenset(
    rule.code for rule in (SCORE_AGAINST_NOTE, SCORE_AGAINST_SIZE, SCORE_BESIDE_SIZE, TELL_BY_DOES_NOT_SEPARATE, TELL_BY_NOT_SCORED)
) | {"unknown-character", "unknown-state"}
"""Findings that say where an account's words and its scores do not go together."""
PAIRS = 24
"""So many pairs that are not told apart are looked into."""


@dataclass(frozen=True, slots=True)
class ScoreCell:
    """A cell: `state` is `scored`, `none`, `unknown` or `not-applicable`."""

    account: str
    character: str
    words: str
    state: str


@dataclass(frozen=True, slots=True)
class ScoreRow:
    """A species with its cells, as many as there are characters on show; `scored` counts all that are."""

    id: str
    name: NameView
    cells: tuple[ScoreCell, ...]
    scored: int


@dataclass(frozen=True, slots=True)
class CharacterHead:
    """A character over its column; `scored` counts the species that are scored for it."""

    id: str
    label: str
    question: str
    ease: str
    scored: int


@dataclass(frozen=True, slots=True)
class UntoldView:
    """Two species that nothing tells apart: what would, if it were scored; and what does so elsewhere than in the key."""

    first: ScoreLink
    second: ScoreLink
    would_tell: tuple[ScoreLink, ...]
    elsewhere: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ScoreLink:
    """Words, and the id of what they name."""

    id: str
    words: str


@dataclass(frozen=True, slots=True)
class AtOdds:
    """A finding about scores, and the line where it is mended."""

    at: str
    message: str


@dataclass(frozen=True, slots=True)
class Beside:
    """What the scores come to: the stage of the key, how long it is, who is left out of it, and the pairs that are not told apart."""

    stage: str
    couplets: int
    mean: float
    greatest: int
    left_out: tuple[str, ...]
    pairs: tuple[UntoldView, ...]
    more: int


@dataclass(frozen=True, slots=True)
class ScoresView:
    """The whole table; or one species (`account`) with all characters, or one character with all species."""

    kind: str = "table"
    id: str = ""
    title: str = ""
    before: str = ""
    after: str = ""
    heads: tuple[CharacterHead, ...] = ()
    rows: tuple[ScoreRow, ...] = ()
    characters: int = 0
    accounts: int = 0
    beside: Beside | None = None
    at_odds: tuple[AtOdds, ...] = ()


def show_scores(desk: Desk, rest: str, _: Mapping[str, str]) -> ScoresView | None:
    """The table at ``; one species at `its id`; one character at `by/its id`; None where there is no such one."""
    guide = desk.guide
    if guide is None:
        return None if rest else ScoresView()
    kind, one = ("character", rest.removeprefix("by/")) if rest.startswith("by/") else ("account", rest)
    if rest and one not in (guide.characters if kind == "character" else guide.accounts):
        return None
    if not rest:
        kind = "table"
    characters = [c for c in guide.characters.values() if kind != "character" or c.id == one]
    every = list(guide.characters if kind == "character" else guide.accounts)
    at = every.index(one) if rest else -1
    rows = [_make_row(guide, a, characters) for a in guide.accounts.values()]
    scored = [sum(row.cells[n].state != "none" for row in rows) for n in range(len(characters))]
    return ScoresView(
        kind,
        one,
        _title_of(guide, kind, one),
        every[at - 1] if at > 0 else "",
        every[at + 1] if rest and at + 1 < len(every) else "",
        tuple(CharacterHead(c.id, c.label, c.question, c.ease.words, n) for c, n in zip(characters, scored, strict=True)),
        tuple(row for row in rows if kind != "account" or row.id == one),
        len(guide.characters),
        len(guide.accounts),
        _look_beside(guide) if guide.characters and guide.accounts else None,
        tuple(_find_at_odds(desk)),
    )


def _title_of(guide: Guide, kind: str, one: str) -> str:
    if kind == "account":
        return _called(guide, one)
    return guide.characters[one].label if kind == "character" else ""


def _called(guide: Guide, account: str) -> str:
    return guide.accounts[account].vernacular or guide.accounts[account].name.plain


def _make_row(guide: Guide, account: Account, characters: Sequence[Character]) -> ScoreRow:
    language = guide.settings.language
    sheet: dict[str, list[Score]] = {}
    for score in account.scores:
        sheet.setdefault(score.character, []).append(score)
    cells = tuple(_make_cell(account.id, character, sheet.get(character.id, [])) for character in characters)
    return ScoreRow(account.id, name_view(account, language, language), cells, len(sheet))


def _make_cell(account: str, character: Character, scores: Sequence[Score]) -> ScoreCell:
    known = {score.known for score in scores}
    state = "none" if not scores else next(iter(known)).value.replace(" ", "-") if len(known) == 1 else Known.SCORED.value
    return ScoreCell(account, character.id, put_scores(character, scores), state)


def _look_beside(guide: Guide) -> Beside:
    matrix = matrix_of(guide)
    told, key = find_untold(matrix, most=PAIRS), make_key(guide, scope=matrix.scope)
    numbers = key.statistics
    stage = next((word for a in guide.accounts.values() if (word := guide.stage_set(a).word(matrix.scope.stage))), "")
    return Beside(
        stage,
        numbers.couplets,
        numbers.mean,
        numbers.greatest,
        tuple(_called(guide, account) for account in matrix.left_out),
        tuple(_view_pair(guide, pair) for pair in told.pairs),
        told.count - len(told.pairs),
    )


def _view_pair(guide: Guide, pair: UntoldPair) -> UntoldView:
    account = guide.accounts[pair.first]
    elsewhere = {s.character.label: _put_scope(guide, account, s.scope) for s in find_separations(guide, pair.first, pair.second)}
    return UntoldView(
        ScoreLink(pair.first, _called(guide, pair.first)),
        ScoreLink(pair.second, _called(guide, pair.second)),
        tuple(ScoreLink(c.id, c.label) for c in pair.would_tell),
        tuple(f"{label} ({where})" if where else label for label, where in elsewhere.items()),
    )


def _put_scope(guide: Guide, account: Account, scope: Scope) -> str:
    return " ".join(filter(None, (guide.stage_set(account).word(scope.stage) if scope.stage else "", scope.sex)))


def _find_at_odds(desk: Desk) -> Iterator[AtOdds]:
    for finding in desk.findings:
        if finding.code in _AT_ODDS:
            yield AtOdds(str(finding.at), f"{finding.message} {finding.mend}".strip())


PART = Part("scores", "Scores", show_scores, {"cell": tell_cell, "score": score_cell})
