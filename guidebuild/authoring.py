"""New files for authors: a small guide to start from, and a draft account with every question to answer.

Nothing that exists is ever written over.
"""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from guidebuild.errors import SaidInOneLineError
from guidebuild.fieldwork.published import Published
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Character
from guidebuild.guide.field_declaration import Field
from guidebuild.guide.films import Film, FilmFact
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.guide.life_stages import POINTER, StageSet
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.posted import NotedPost, PostedFact, PostNotes
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.resolve import find_account
from guidebuild.press.engine.durable import write_safely
from guidebuild.reading.films import said_file
from guidebuild.reading.posted import noted_file
from guidebuild.speech.timing import Pace, write_clock
from guidebuild.views.scripts.own_copy import write_own_copy
from guidebuild.views.scripts.script import make_script_views

_PACE = re.compile(r"^pace:[ \t]*(?P<inline>\{[^{}\r\n]*\}[ \t]*(?:#[^\r\n]*)?)?(?=\r?$)", re.MULTILINE)


class CannotWriteError(SaidInOneLineError):
    """The asked file or folder cannot be written; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Written:
    """Files that were written, relative to the guide's folder."""

    folder: Path
    files: tuple[str, ...]


def add_account(folder: Path, guide: Guide, typed: str, *, vernacular: str = "") -> Written:
    """Write accounts/<id>.md for a scientific name, with what can be worked out and a question for the rest.

    Raises CannotWriteError where the name cannot be read or the guide has such an account.
    """
    name = parse_name(typed)
    if isinstance(name, Unreadable):
        raise CannotWriteError(f"{name.message} {name.mend}".strip())
    known = find_account(guide, name.plain)
    if known is not None:
        raise CannotWriteError(f"{known.at.file} is already the account of {name.plain}.")
    account_id = make_id(vernacular or name.plain, make_id(name.plain, "account"))
    if (folder / f"accounts/{account_id}.md").exists():
        raise CannotWriteError(f"accounts/{account_id}.md exists already. Give another --vernacular name.")
    return _write_new(folder, f"accounts/{account_id}.md", draft_account(guide, name, {"vernacular": vernacular}))


def add_episode(folder: Path, published: Published, account_id: str, kind: str = "") -> Written:
    """Write the drafted script of an account into episodes/, to be made one's own; `kind` is one of guide.yaml's kinds of episode.

    Raises CannotWriteError where there is no such draft, or the author has such an episode.
    """
    account = published.accounts.get(account_id)
    if account is None:
        raise CannotWriteError(f"{account_id} has an error or is kept secret, and no script is drafted of it. Look at: guidebuild check")
    views = {view.kind: view for view in make_script_views(published) if view.account == account_id}
    wanted = kind or next((view.kind for view in views.values() if view.drafted), next(iter(views), ""))
    view = views.get(wanted)
    if view is None:
        known = f"The kinds are: {', '.join(views)}." if views else "Drafts are written in English alone."
        raise CannotWriteError(f"There is no script of the kind “{wanted}” of {account_id}. {known}")
    if not view.drafted:
        raise CannotWriteError(f"episodes/{view.id}.md is your own already; open it, and `guidebuild preview` shows its times.")
    file = f"episodes/{account_id}-{view.kind}.md"
    return _write_new(folder, file, write_own_copy(published, account, view))


def _write_new(folder: Path, file: str, text: str) -> Written:
    """Write a file that is not there; raises CannotWriteError where it is, or cannot be written."""
    target = folder / file
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("x", encoding="utf-8", newline="\n") as out:
            out.write(text)
    except FileExistsError as error:
        raise CannotWriteError(f"{file} exists already, and is left as it is.") from error
    except OSError as error:
        raise CannotWriteError(f"{file} cannot be written: {error.strerror}.") from error
    return Written(folder, (file,))


def note_film(folder: Path, film: Film, facts: Sequence[FilmFact], day: dt.date) -> Written:
    """Write down beside a film what it says of its species today, in place of what was noted before; raises CannotWriteError."""
    file = said_file(film.id)
    head = f"# What the film “{film.title}” said of its species on this day; `guidebuild check` tells what has changed since."
    lines = [
        f"  - {{account: {fact.account}, fact: {_quote(fact.slot)}, words: {_quote(fact.words)}, at: {_quote(write_clock(fact.second))}}}"
        for fact in facts
    ]
    return _write_note(folder, file, (head, f"noted: {day.isoformat()}", "says:" if lines else "says: []", *lines))


def note_post(folder: Path, name: str, notes: PostNotes, post: NotedPost) -> Written:
    """Write down what a post of an account, called `name`, said, beside what is noted of earlier ones.

    It stands in place of another of the same day and kind. Raises CannotWriteError.
    """
    return _write_note(folder, noted_file(notes.account), list_post_notes(name, notes, post))


def list_post_notes(name: str, notes: PostNotes, post: NotedPost) -> list[str]:
    """The lines of that file."""
    others = (other for other in notes.posts if (other.day, other.correction) != (post.day, post.correction))
    lines = [f"# What posts of the {name} said; `guidebuild check` tells what has changed since. Written by: guidebuild posted", "posts:"]
    for one in sorted((*others, post), key=lambda one: (one.day, one.correction)):
        lines += [f"  - day: {one.day.isoformat()}", *(["    correction: yes"] if one.correction else [])]
        lines += ["    says:" if one.says else "    says: []", *(f"      - {_write_fact(fact)}" for fact in one.says)]
    return lines


def _write_fact(fact: PostedFact) -> str:
    return f"{{fact: {_quote(fact.slot)}, words: {_quote(fact.words)}}}"


def join_note(lines: Iterable[str]) -> bytes:
    """The text of a small file that only the tool writes."""
    return "\n".join((*lines, "")).encode()


def _write_note(folder: Path, file: str, lines: Iterable[str]) -> Written:
    """Write such a file; raises CannotWriteError."""
    try:
        (folder / file).parent.mkdir(exist_ok=True)
        write_safely(folder / file, join_note(lines))
    except OSError as error:
        raise CannotWriteError(f"{file} cannot be written: {error.strerror}.") from error
    return Written(folder, (file,))


def _quote(text: str) -> str:
    """A text as YAML takes it whatever signs it holds: YAML 1.2 reads JSON."""
    return json.dumps(text, ensure_ascii=False)


def save_pace(folder: Path, pace: Pace) -> None:
    """Write a fitted pace as one line of guide.yaml, in place of the one that is there; all else stays to the byte.

    Raises CannotWriteError where guide.yaml cannot be written, or its pace spans several lines.
    """
    file = folder / "guide.yaml"
    told = ", ".join(f"{name}: {getattr(pace, name):.2f}" for name in ("syllables", "comma", "sentence", "paragraph"))
    line = f"pace: {{{told}}}"
    try:
        text = file.read_bytes().decode("utf-8-sig")
        match = _PACE.search(text)
        if match and not match["inline"]:
            raise CannotWriteError(f"The pace in {file} spans several lines. Replace them by: {line}")
        newline = "\r\n" if "\r\n" in text else "\n"
        changed = f"{text[: match.start()]}{line}{text[match.end() :]}" if match else f"{text.rstrip()}{newline}{line}{newline}"
        write_safely(file, changed.encode())
    except OSError as error:
        raise CannotWriteError(f"{file} cannot be written: {error.strerror}. Add this line to it: {line}") from error


def draft_account(guide: Guide, name: ScientificName, given: Mapping[str, str]) -> str:
    """The text of a draft account: what is `given` (by key or heading) filled in, every other question behind a #."""
    relatives = [a for a in guide.accounts.values() if name.genus and a.name.genus == name.genus and a.name.plain != name.plain]
    known = {"name": name.plain, "authority": name.authority, "family": next((a.family for a in relatives if a.family), "")}
    known |= given
    group = guide.stage_sets.get(given.get("group", guide.settings.group), StageSet("", "", ()))
    blanks = _blanks_of(guide, group, relatives)
    lines = ["---"]
    for field in ACCOUNT_FIELDS:
        if value := known.get(field.key):
            lines.append(f"{field.key}:{_after_key(value)}")
        elif field.question and _is_asked(field, guide, group):
            lines += _ask(field, blanks.get(field.key, field.blank), group)
    lines.append("---")
    for section in (s for s in SECTIONS if group.asks(s.key) or known.get(s.key)):
        lines += ["", f"## {section.key}", "", known.get(section.key) or f"<!-- {section.question} -->"]
    return "\n".join(lines) + "\n"


def _is_asked(field: Field, guide: Guide, group: StageSet) -> bool:
    """Whether a draft asks for a field: characters where the guide has some, and what the group asks."""
    return bool(guide.characters) if field.key == "characters" else group.asks(field.key)


def _ask(field: Field, blank: str, group: StageSet) -> list[str]:
    """A key behind a # with its question, in the words of the group, and what is to be filled in below it."""
    first, *more = f"{field.key}:{_after_key(blank)}".split("\n")
    example = dict(group.such_as).get(field.key, field.example)
    such_as = "" if blank or "\n" in example else f" Such as: {example}"
    question = dict(group.questions).get(field.key, field.question)
    return [f"# {first:<18} # {question}{such_as}", *(f"# {line}" for line in more)]


def _after_key(value: str) -> str:
    return value if not value or value.startswith("\n") else f" {value}"


def _blanks_of(guide: Guide, group: StageSet, relatives: Sequence[Account]) -> Mapping[str, str]:
    """What a draft can ask more exactly, because the guide says what there is to choose from."""
    stage_lines = "".join(f"\n  {stage}:" + ("" if words == stage else f"  # {words}") for stage, words in group.stages)
    similar = "".join(f"\n  - account: {relative.id}   # same genus" for relative in relatives)
    characters = "".join(f"\n  {c.id}:    # {_choice(c)}" for c in guide.characters.values())
    blanks = {
        "diagnostics": _mark_to_fill(group),
        "seasons": stage_lines,
        "life stages": stage_lines,
        "similar": similar,
        "characters": characters,
    }
    return {key: blank for key, blank in blanks.items() if blank}


def _mark_to_fill(group: StageSet) -> str:
    """A mark with the stages that one looks for, to choose from, and the group's own view, where it has any."""
    stages, views = group.sought or group.ids, group.views[:1] or ("upperside",)
    stage = f"\n    stage: {stages[0]}" if len(stages) == 1 else f"\n    stage:  # {' | '.join(stages)}" if stages else ""
    where = "\n    photo:\n    at:  # per cent across and down, such as 50, 40" if group.asks(POINTER) else ""
    return f"\n  - mark:{stage}\n    view: {views[0]}{where}"


def _choice(character: Character) -> str:
    if character.states:
        return " | ".join(state.id for state in character.states)
    return "a number" if character.unit == "count" else f"a range in {character.unit or 'mm'}"
