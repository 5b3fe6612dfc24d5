"""The table of scores: what it shows, what is written when a cell is scored, and what is not told apart yet."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.desk.editing.writer import ConflictError
from guidebuild.desk.parts.scores import ScoresView, show_scores
from guidebuild.desk.score_changes import score_cell, tell_cell
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.characters import Character, CharacterKind, Known, Score, State
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.untold import find_untold
from guidebuild.reading.scores import read_typed_scores, write_scores
from guidebuild.session import read_for_draft
from tests.desk.test_plate import desk_on, hedge

__all__ = ["hedge"]

COLOUR = Character(
    "ground-colour", "ground colour", CharacterKind.STATES, tuple(State(one, one) for one in ("green", "brown", "or-red", "blue"))
)
STATES = st.sets(st.sampled_from([state.id for state in COLOUR.states]))
PLAIN = {"usual": [], "rarely": [], "known": "", "text": "", "stages": [], "sex": ""}


@st.composite
def _scores(draw: st.DrawFn) -> list[Score]:
    """Scores, each of another stage and sex, as a page can send them."""
    scopes = draw(
        st.lists(st.tuples(st.sampled_from(["", "adult", "nymph"]), st.sampled_from(["", "male", "female"])), unique=True, max_size=4)
    )
    made = []
    for stage, sex in sorted(scopes):
        scope = {"stages": frozenset({stage} - {""}), "sexes": frozenset({sex} - {""})}
        known = draw(st.sampled_from(Known))
        if known is not Known.SCORED:
            made.append(Score(COLOUR.id, known, **scope))
            continue
        usual, rare = draw(STATES), draw(STATES)
        if usual | rare:
            made.append(Score(COLOUR.id, known, frozenset(usual), frozenset(rare - usual), **scope))
    return made


@given(_scores())
@settings(max_examples=400, deadline=None)
def test_what_is_scored_reads_back_the_same(scores: list[Score]) -> None:
    read, findings = read_typed_scores(COLOUR, write_scores(COLOUR, scores))
    assert findings == ()
    assert [(s.known, s.states, s.rarely, s.stages, s.sexes) for s in read] == [
        (s.known, s.states, s.rarely, s.stages, s.sexes) for s in scores
    ]  # fmt: skip


def _view(folder: Path, rest: str) -> ScoresView:
    with desk_on(folder) as desk:
        view = show_scores(desk, rest, {})
    assert view is not None
    return view


def test_the_table_has_every_species_and_character(hedge: Path) -> None:
    view = _view(hedge, "")
    assert (len(view.rows), len(view.heads)) == (18, 17)
    row = next(row for row in view.rows if row.id == "parent-bug")
    cells = {cell.character: (cell.words, cell.state) for cell in row.cells}
    assert cells["outline"] == ("shield", "scored")
    assert cells["membrane"] == ("pale, brown", "scored")
    assert view.at_odds == ()
    assert view.beside is not None
    assert view.beside.couplets > 5


def test_one_species_and_one_character_have_pages_of_their_own(hedge: Path) -> None:
    one = _view(hedge, "parent-bug")
    assert (one.kind, len(one.rows), len(one.heads)) == ("account", 1, 17)
    by = _view(hedge, "by/outline")
    assert (by.kind, by.title, len(by.rows), len(by.heads)) == ("character", "outline", 18, 1)
    assert (by.before, by.after) == ("ground-colour", "shoulders")
    with desk_on(hedge) as desk:
        assert show_scores(desk, "outline", {}) is None
        assert show_scores(desk, "by/parent-bug", {}) is None


def _score(folder: Path, character: str, *entries: dict[str, Any], account: str = "parent-bug") -> tuple[list[str], Any]:
    """The lines that scoring changes in the account's file, and what the page is answered."""
    file = folder / f"accounts/{account}.md"
    before = file.read_text("utf-8")
    with desk_on(folder) as desk:
        told = tell_cell(desk, {"account": account, "character": character})
        answer = score_cell(
            desk, {"file": told["file"], "digest": told["digest"], "account": account, "character": character, "entries": list(entries)}
        )
    changed = difflib.ndiff(before.splitlines(), file.read_text("utf-8").splitlines())
    return [line for line in changed if line[:2] in ("- ", "+ ")], answer


@pytest.mark.parametrize(
    ("character", "entries", "lines"),
    [
        ("ground-colour", [{**PLAIN, "usual": ["brown", "green"]}], ["-   ground colour: brown", "+   ground colour: [green, brown]"]),
        (
            "ground-colour",
            [{**PLAIN, "usual": ["brown"], "rarely": ["red"]}],
            ["-   ground colour: brown", "+   ground colour: [brown, rarely red]"],
        ),
        ("ground-colour", [{**PLAIN, "known": "not applicable"}], ["-   ground colour: brown", "+   ground colour: not applicable"]),
        ("ground-colour", [{**PLAIN, "known": "unknown"}], ["-   ground colour: brown", '+   ground colour: "unknown"']),
        ("ground-colour", [], ["-   ground colour: brown"]),
        ("body-length", [{**PLAIN, "text": "7 to 9 mm"}], ["-   body length: 6–9 mm", "+   body length: 7 to 9 mm"]),
        (
            "ground-colour",
            [{**PLAIN, "usual": ["brown"]}, {**PLAIN, "usual": ["green"], "rarely": ["red"], "sex": "female"}],
            [
                "-   ground colour: brown",
                "+   ground colour:",
                "+     - brown",
                "+     - value: [green, rarely red]",
                "+       sex: female",
            ],
        ),
    ],
)  # fmt: skip
def test_only_the_lines_of_the_character_change(hedge: Path, character: str, entries: list[dict[str, Any]], lines: list[str]) -> None:
    changed, answer = _score(hedge, character, *entries)
    assert changed == lines
    assert [{key: one[key] for key in PLAIN} for one in answer["entries"]] == entries or answer["entries"][0]["usual"] == ["green", "brown"]


def test_a_first_score_is_written_under_the_characters_label(hedge: Path) -> None:
    removed, _ = _score(hedge, "outline")
    assert removed == ["-   outline: shield"]
    added, answer = _score(hedge, "outline", {**PLAIN, "usual": ["shield"]})
    assert added == ["+   outline: shield"]
    assert answer["words"] == "shield"
    assert {s.character: s.states for s in read_for_draft(hedge).accounts["parent-bug"].scores}["outline"] == {"shield"}


def test_what_is_no_measure_is_refused_in_the_readers_words(hedge: Path) -> None:
    with pytest.raises(SaidInOneLineError, match="rather long"):
        _score(hedge, "body-length", {**PLAIN, "text": "rather long"})


@pytest.mark.parametrize(
    "entries",
    [
        None, "green", [None], [{}], [{**PLAIN, "usual": "green"}], [{**PLAIN, "usual": ["purple"]}],
        [{**PLAIN, "known": "scored?"}], [{**PLAIN, "sex": "x"}],
    ],
)  # fmt: skip
def test_what_no_page_sends_is_refused(hedge: Path, entries: Any) -> None:
    file = hedge / "accounts/parent-bug.md"
    before = file.read_bytes()
    with desk_on(hedge) as desk:
        told = tell_cell(desk, {"account": "parent-bug", "character": "outline"})
        for cell in ({"account": "parent-bug", "character": "ground-colour"}, {"account": "nobody", "character": "outline"}):
            with pytest.raises(SaidInOneLineError):
                score_cell(desk, {**cell, "file": told["file"], "digest": told["digest"], "entries": entries})
    assert file.read_bytes() == before


def test_a_file_that_was_changed_elsewhere_is_not_written(hedge: Path) -> None:
    file = hedge / "accounts/parent-bug.md"
    with desk_on(hedge) as desk:
        told = tell_cell(desk, {"account": "parent-bug", "character": "outline"})
        file.write_text(file.read_text("utf-8").replace("outline: shield", "outline: narrow"), "utf-8")
        with pytest.raises(ConflictError):
            score_cell(desk, {**told, "account": "parent-bug", "character": "outline", "entries": [{**PLAIN, "usual": ["broad"]}]})
    assert "outline: narrow" in file.read_text("utf-8")


def test_pairs_that_nothing_tells_apart_name_the_character_that_would(hedge: Path) -> None:
    guide = read_for_draft(hedge)
    other = next(a for a in guide.accounts.values() if a.id != "parent-bug")
    file = hedge / f"accounts/{other.id}.md"
    text = file.read_text("utf-8")
    start = text.index("\ncharacters:\n") + 1
    end = start + next(n for n in range(len("characters:\n"), len(text)) if text[start + n - 1] == "\n" and text[start + n] not in " #")
    # Of the other nothing is scored but the outline that both have: all else would tell, the likeliest first.
    file.write_text(text[:start] + "characters:\n  outline: shield\n" + text[end:], "utf-8")
    told = find_untold(matrix_of(read_for_draft(hedge), scope=matrix_of(guide).scope), most=1000)
    pair = next(one for one in told.pairs if {one.first, one.second} == {"parent-bug", other.id})
    assert "outline" not in {c.id for c in pair.would_tell}
    assert len(pair.would_tell) == 3
    assert told.count == len(told.pairs)
    assert len(find_untold(matrix_of(read_for_draft(hedge)), most=1).pairs) == 1


def test_words_that_contradict_a_score_are_told_with_their_line(hedge: Path) -> None:
    _score(hedge, "body-length", {**PLAIN, "text": "20–22 mm"})
    with desk_on(hedge) as desk:
        desk.resident.find_notes()
        view = show_scores(desk, "", {})
    assert view is not None
    assert any(one.at.startswith("accounts/parent-bug.md:") and "20–22" in one.message for one in view.at_odds)


def test_a_value_that_cannot_be_read_is_told(hedge: Path) -> None:
    file = hedge / "accounts/parent-bug.md"
    file.write_text(file.read_text("utf-8").replace("outline: shield", "outline: squarish"), "utf-8")
    with desk_on(hedge) as desk:
        told = tell_cell(desk, {"account": "parent-bug", "character": "outline"})
    assert told["entries"] == []
    assert "squarish" in told["faults"][0]
