"""The finder's page: what has been seen, and what it may be."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.seen import seen_index
from guidebuild.guide.characters import Ease
from guidebuild.identify.finder import FinderTable, finder_tables, order_questions
from guidebuild.identify.readings import Scope
from guidebuild.views.pieces.cautions import eating_caution
from guidebuild.views.pieces.common import CautionView, LinkView
from guidebuild.views.pieces.diagram import Diagram, NamedPart, find_diagram, link_part
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import MOST_ENTRIES
from guidebuild.views.pieces.scopes import scope_label, scope_of_many
from guidebuild.views.pieces.season_words import fill_cells
from guidebuild.views.pieces.state_pictures import Pictures, StatePicture, find_state_pictures
from guidebuild.views.site.lists import ListEntry, make_entry, year_of


@dataclass(frozen=True, slots=True)
class Answer:
    """What one may tick. `bit` is its place in the table."""

    bit: int
    words: str
    picture: StatePicture | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """A character as it is asked; `place` is its place in the table, `ease` in words how near one must be."""

    place: int
    id: str
    asks: str
    ease: str
    answers: tuple[Answer, ...]
    part: NamedPart | None = None

    @property
    def pictured(self) -> bool:
        """Whether any answer has a picture."""
        return any(answer.picture for answer in self.answers)


@dataclass(frozen=True, slots=True)
class FinderStage:
    """All that is asked of one stage, in the order in which it is asked; `left_out` are accounts that say nothing of it."""

    id: str
    word: str
    questions: tuple[Question, ...]
    left_out: tuple[LinkView, ...] = ()
    diagram: Diagram | None = None


@dataclass(frozen=True, slots=True)
class FinderPage:
    """What has been seen, and what it may be. `table` is what the page's script ranks by, as JSON; `taxa` stand in its order.

    `shown` is the place of the stage that the page begins with, `scope` its word in the heading; its diagram is the page's.
    """

    scope: str
    stages: tuple[FinderStage, ...]
    shown: int
    taxa: tuple[ListEntry, ...]
    places: tuple[LinkView, ...]
    place_ids: tuple[str, ...]
    table: str
    caution: CautionView | None = None
    pieces: tuple[str, ...] = ()  # of a large guide: where table and taxa stand instead of on the page


TABLE, TAXA = "finder/table.js", "finder/species.js"
"""The table and the candidates as pieces, where they are too much for one page."""
TABLE_MARK = "finder_table.js"
LONGEST_TABLE = 50_000
"""Signs of the table up to which it stands on the page."""


def finder_page(make: PieceMaker) -> FinderPage | None:
    """The finder; None where no character tells anything apart."""
    tables = finder_tables(make.guide)
    if not tables:
        return None
    asked = {taxon for table in tables for taxon in table.taxa}
    accounts = [account for account in make.guide.accounts.values() if account.id in asked]
    places = {account.id: place for place, account in enumerate(accounts)}
    here = {place: known for place in make.guide.places if (known := _known_from(make, accounts, place))}
    shown = max(range(len(tables)), key=lambda n: (len(tables[n].taxa) * len(tables[n].characters), n))
    data = {
        "stages": [
            table.plain()
            | {
                "id": table.scope.stage,
                "taxa": [places[taxon] for taxon in table.taxa],
                "years": [_year(make, taxon, table.scope) for taxon in table.taxa],
            }
            for table in tables
        ],
        "here": {place: [places[ident] for ident in known] for place, known in here.items()},
    }
    table = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    large = len(accounts) > MOST_ENTRIES or len(table) > LONGEST_TABLE
    return FinderPage(
        scope=scope_of_many(make, tables[shown].scope) if len(tables) == 1 else "",
        stages=tuple(_stage(make, table) for table in tables),
        shown=shown,
        taxa=tuple(make_entry(make, account) for account in accounts),
        places=tuple(map(make.map.place, here)),
        place_ids=tuple(here),
        table=table,
        caution=eating_caution(make, [account.id for account in accounts]),
        pieces=(make.map.page(TABLE), make.map.page(TAXA)) if large else (),
    )


def _stage(make: PieceMaker, table: FinderTable) -> FinderStage:
    eases, pictures = [make.words(ease.words) for ease in Ease], find_state_pictures(make, table.scope)
    left_out = tuple(make.map.account(make.guide.accounts[ident]) for ident in table.left_out)
    diagram = find_diagram(make, table.scope.stage)
    questions = (
        replace(_question(table, place, eases, pictures), part=_part(make, diagram, table.characters[place].id))
        for place in order_questions(make.guide, table)
    )
    return FinderStage(table.scope.stage, scope_label(make, table.scope), tuple(questions), left_out, diagram)


def _part(make: PieceMaker, diagram: Diagram | None, character: str) -> NamedPart | None:
    """The part that a question names, where it is shown or explained."""
    word = make.guide.characters[character].part
    if not word:
        return None
    found = (diagram.find(word) if diagram else None) or NamedPart(0, link_part(make, word))
    return found if found.picture or found.link.path else None


def _question(table: FinderTable, place: int, eases: Sequence[str], pictures: Pictures) -> Question:
    character = table.characters[place]
    named = enumerate(zip(character.states, character.state_ids, strict=True))
    answers = tuple(Answer(bit, words, pictures.get((character.id, state))) for bit, (words, state) in named)
    return Question(place, character.id, character.question or character.label, eases[character.ease], answers)


def _year(make: PieceMaker, ident: str, scope: Scope) -> str:
    """The 36 cells of the stage's season as digits; empty where nothing is said of it."""
    account = make.guide.accounts[ident]
    season = account.season_of(scope.stage) if scope.stage else None
    cells = fill_cells(season) if season else year_of(make, account) if not scope.stage else ()
    return "".join(map(str, cells)) if any(cells) else ""


def _known_from(make: PieceMaker, accounts: Iterable[PublicAccount], place: str) -> list[str]:
    """Accounts that are known from a place, of those that may be tied to it."""
    tied = {account.id for account in make.guide.accounts_at(place)}
    seen = seen_index(make.guide)
    return [a.id for a in accounts if a.id in tied and place not in a.absent_from and (place in a.places or place in seen.places(a.id))]
