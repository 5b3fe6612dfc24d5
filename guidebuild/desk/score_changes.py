"""One cell of the table of scores: what stands in the file, and what is written when it is scored."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import RefusedError, SetValue
from guidebuild.desk.editing.writer import Standing
from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Character, CharacterKind, Known, Score
from guidebuild.guide.guide import Guide
from guidebuild.reading.block import Plain
from guidebuild.reading.parse_values import SEXES
from guidebuild.reading.scores import find_key, read_typed_scores, write_scores

_KEY = "characters"
_ASK_ANEW = "The page did not say what of which account is scored. Load it anew."


def tell_cell(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """What a cell says and may say: `{account, character}`."""
    guide, account, character = _find_cell(desk, asked)
    return _tell(desk, guide, account, character, desk.writer.read(account.at.file))


def score_cell(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Score a cell: `{file, digest, account, character, entries}`, entries as `tell_cell` gives them. Answers what it says then."""
    guide, account, character = _find_cell(desk, asked)
    entries = asked.get("entries")
    if not isinstance(entries, list):
        raise RefusedError(_ASK_ANEW)
    scores = [_read_entry(character, entry) for entry in entries]
    file = account.at.file
    values = desk.writer.read(file).values.get(_KEY)
    key = find_key(character, values if isinstance(values, dict) else ()) or character.label
    wanted = SetValue((_KEY, key), write_scores(character, _merge(scores)))
    desk.writer.change(file, str(asked.get("digest", "")), [wanted], guide)
    return _tell(desk, guide, account, character, desk.writer.read(file))


def _find_cell(desk: Desk, asked: Mapping[str, Any]) -> tuple[Guide, Account, Character]:
    guide = desk.guide
    account = guide.accounts.get(str(asked.get("account"))) if guide else None
    character = guide.characters.get(str(asked.get("character"))) if guide else None
    if guide is None or account is None or character is None:
        raise RefusedError(_ASK_ANEW)
    return guide, account, character


def _tell(desk: Desk, guide: Guide, account: Account, character: Character, standing: Standing) -> dict[str, Any]:
    scores, findings = read_typed_scores(character, _value_of(standing, character))
    group = guide.stage_set(account)
    stages = [stage for stage in group.ids if not character.stages or stage in character.stages]
    of_size = [s.typed for s in account.scores if s.character == character.id] if not scores else []
    return {
        "file": standing.file,
        "digest": standing.digest,
        "species": account.vernacular or account.name.plain,
        "label": character.label,
        "question": character.question,
        "range": character.kind is CharacterKind.RANGE,
        "unit": character.unit,
        "states": [{"id": state.id, "words": state.words} for state in character.states],
        "stages": [{"id": stage, "words": group.word(stage)} for stage in stages] if len(stages) > 1 else [],
        "sexes": [{"id": sex, "words": desk.say(sex)} for sex in SEXES if not character.sexes or sex in character.sexes],
        "entries": [_tell_entry(character, score) for score in scores],
        "faults": [f"{finding.message} {finding.mend}".strip() for finding in findings],
        "size": of_size[0] if of_size and find_key(character, _keys_of(standing)) is None else "",
        "words": put_scores(character, scores),
    }


def _keys_of(standing: Standing) -> Iterable[str]:
    values = standing.values.get(_KEY)
    return values if isinstance(values, dict) else ()


def _value_of(standing: Standing, character: Character) -> Plain:
    values = standing.values.get(_KEY)
    key = find_key(character, _keys_of(standing))
    return values.get(key) if isinstance(values, dict) and key is not None else None


def _tell_entry(character: Character, score: Score) -> dict[str, Any]:
    return {
        "usual": [state.id for state in character.states if state.id in score.states],
        "rarely": [state.id for state in character.states if state.id in score.rarely],
        "known": "" if score.known is Known.SCORED else score.known.value,
        "text": score.typed if score.measure is not None else "",
        "stages": sorted(score.stages),
        "sex": next(iter(score.sexes), ""),
    }


def _read_entry(character: Character, entry: object) -> Score:
    """An entry as a page sends it; raises RefusedError for one that no page sends."""
    said = entry if isinstance(entry, dict) else {}
    usual, rarely, stages = (said.get(key, []) for key in ("usual", "rarely", "stages"))
    text, sex, known = (said.get(key, "") for key in ("text", "sex", "known"))
    listed = all(isinstance(each, list) and all(isinstance(one, str) for one in each) for each in (usual, rarely, stages))
    typed = all(isinstance(each, str) for each in (text, sex, known))
    if not (said and listed and typed) or known not in {"", Known.UNKNOWN, Known.NOT_APPLICABLE}:
        raise RefusedError(_ASK_ANEW)
    if not {*usual, *rarely} <= {state.id for state in character.states} or (sex and sex not in SEXES):
        raise RefusedError(_ASK_ANEW)
    return Score(
        character.id,
        Known(known or Known.SCORED),
        frozenset(usual),
        frozenset(rarely),
        stages=frozenset(stages),
        sexes=frozenset({sex} - {""}),
        typed=text.strip(),
    )


def _merge(scores: Iterable[Score]) -> Iterator[Score]:
    """The scores, without a plain “not known” beside plain states: what is known is not unknown."""
    listed = list(scores)
    has_states = any(s.known is Known.SCORED and (s.possible or s.typed) and not (s.stages or s.sexes) for s in listed)
    for score in listed:
        if score.known is Known.SCORED or score.stages or score.sexes or not has_states:
            yield score


def put_scores(character: Character, scores: Iterable[Score]) -> str:
    """Scores in the few words of a cell: `green or brown, rarely red; female: blue`."""
    return "; ".join(filter(None, (_put_score(character, score) for score in scores)))


def _put_score(character: Character, score: Score) -> str:
    where = " ".join((*sorted(score.stages), *sorted(score.sexes)))
    said = write_scores(character, [Score(score.character, score.known, score.states, score.rarely, typed=score.typed)])
    words = ", ".join(map(str, said)) if isinstance(said, list) else str(said or "")
    return f"{where}: {words}" if where and words else words
