"""The year of an account, painted: when each stage is about and when it is seen most, over what sightings say."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import RefusedError, SetValue
from guidebuild.desk.part import Part
from guidebuild.fieldwork.season_words import typed_words
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import DEKADS, Season, dekad_of
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view

NONE, SOMETIMES, ABOUT, MOST = range(4)
"""What a third of a month can be, from least to most."""


@dataclass(frozen=True, slots=True)
class PaintedStage:
    """A stage: what each third of a month is, how often it was seen then, and the words in the file.

    One that is `kept` as it stands says more than paint can (a season for each place, or a reason why there is none).
    """

    id: str
    word: str
    cells: tuple[int, ...]
    seen: tuple[int, ...]
    words: str
    kept: bool = False


@dataclass(frozen=True, slots=True)
class SeasonsView:
    """All that the page of an account shows; without one, the list of all."""

    accounts: tuple[tuple[str, NameView, str], ...] = ()
    id: str = ""
    name: NameView | None = None
    file: str = ""
    digest: str = ""
    stages: tuple[PaintedStage, ...] = ()
    months: tuple[str, ...] = ()
    letters: tuple[str, ...] = ()
    most_seen: int = 0
    """The most rows in one third of a month, for the bars."""
    before: str = ""
    after: str = ""


def show_seasons(desk: Desk, rest: str, _: Mapping[str, str]) -> SeasonsView | None:
    """The page of an account, or of all; None where there is no such account."""
    guide, say = desk.guide, desk.say
    if guide is None:
        return None if rest else SeasonsView()
    language = guide.settings.language
    if not rest:
        listed = tuple((a.id, name_view(a, language, language), _tell_year(guide, a)) for a in guide.accounts.values())
        return SeasonsView(accounts=listed)
    account = guide.accounts.get(rest)
    if account is None:
        return None
    standing = desk.writer.read(account.at.file)
    stages = tuple(_paint_stages(guide, account, standing.values.get("seasons")))
    every = list(guide.accounts)
    at = every.index(rest)
    return SeasonsView(
        id=rest,
        name=name_view(account, language, language),
        file=standing.file,
        digest=standing.digest,
        stages=stages,
        months=tuple(say.month(month) for month in range(1, 13)),
        letters=tuple(say.month(month, "narrow") for month in range(1, 13)),
        most_seen=max((rows for stage in stages for rows in stage.seen), default=0),
        before=every[at - 1] if at else "",
        after=every[at + 1] if at + 1 < len(every) else "",
    )


def _tell_year(guide: Guide, account: Account) -> str:
    group = guide.stage_set(account)
    return "; ".join(f"{group.word(stated.stage)}: {stated.season.typed}" for stated in account.seasons if not stated.place)


def _paint_stages(guide: Guide, account: Account, typed: object) -> Iterator[PaintedStage]:
    seen: dict[str, Counter[int]] = {}
    for tally in guide.sightings:
        if tally.account == account.id:
            for one in tally.seen():
                seen.setdefault(tally.stage, Counter())[dekad_of(one.day)] += one.rows
    written = typed if isinstance(typed, dict) else {}
    for stage, word in guide.stage_set(account).stages:
        season = account.season_of(stage) or Season("", frozenset())
        rows = tuple(seen.get(stage, Counter())[dekad] for dekad in range(DEKADS))
        text = written.get(stage)
        kept = text is not None and (not isinstance(text, str) or (not season.dekads and ":" in text))
        yield PaintedStage(stage, word, _cells_of(season), rows, text if isinstance(text, str) else season.typed, kept)


def _cells_of(season: Season) -> tuple[int, ...]:
    return tuple(
        NONE if dekad not in season.dekads else MOST if dekad in season.most_seen else SOMETIMES if dekad in season.uncertain else ABOUT
        for dekad in range(DEKADS)
    )


def write_season(cells: Sequence[object]) -> str:
    """Painted thirds of months in the words that say the same; "" where nothing is painted. Raises RefusedError for what is no year."""
    if len(cells) != DEKADS or not all(isinstance(cell, int) and NONE <= cell <= MOST for cell in cells):
        raise RefusedError("The page did not send a whole year. Load it anew.")
    painted = frozenset(dekad for dekad, cell in enumerate(cells) if cell != NONE)
    most = frozenset(dekad for dekad, cell in enumerate(cells) if cell == MOST)
    sometimes = frozenset(dekad for dekad, cell in enumerate(cells) if cell == SOMETIMES)
    if not painted:
        return ""
    if painted == sometimes:
        return typed_words(Season("", painted, frozenset(), painted))
    # A stage that is most seen whenever it is about is simply about.
    return typed_words(Season("", painted, frozenset() if most == painted - sometimes else most, sometimes))


def say_season(_: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """The words of a painted year, before it is written: `{cells}`."""
    return {"words": write_season(_read_cells(asked))}


def paint_season(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Write a painted year: `{file, digest, stage, cells}`. Answers `{file, digest, words}`."""
    guide = desk.guide
    account = next((a for a in guide.accounts.values() if a.at.file == asked.get("file")), None) if guide else None
    stage = str(asked.get("stage", ""))
    if guide is None or account is None or stage not in guide.stage_set(account).ids:
        raise RefusedError("The page did not say which stage of which account it means. Load it anew.")
    words = write_season(_read_cells(asked))
    written = desk.writer.change(account.at.file, str(asked.get("digest", "")), [SetValue(("seasons", stage), words or None)], guide)
    return {"file": written.file, "digest": written.digest, "words": words}


def _read_cells(asked: Mapping[str, Any]) -> Sequence[object]:
    cells = asked.get("cells")
    return cells if isinstance(cells, list) else ()


PART = Part("seasons", "Seasons", show_seasons, {"say": say_season, "paint": paint_season})
