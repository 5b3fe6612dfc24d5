"""A drafted script as its author's own episode: what is seen is marked, and facts are slots, which stay those of the account."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.speech.marks import Mark
from guidebuild.speech.script import Piece, Script, ScriptLine, Spoken
from guidebuild.speech.script_text import write_script
from guidebuild.views.scripts.filled import Facts, fill_line, say_facts, say_facts_in_sentences
from guidebuild.views.scripts.script import ScriptView

_SHORTEST_FACT = 4
"""Signs below which a fact is found in too many sentences that do not tell it."""

_LISTS = frozenset({"places", "habitat", "host plants", "similar species"})


def write_own_copy(guide: Published, account: PublicAccount, view: ScriptView) -> str:
    """The text of `episodes/ID.md` that says what the draft says."""
    facts, bare = say_facts_in_sentences(guide, account), say_facts(guide, account)
    script = replace(view.script, sections=tuple(
        replace(section, lines=tuple(_mark_shots([_with_slots(line, facts, bare) for line in section.lines])))
        for section in view.script.sections
    ))  # fmt: skip
    title = f"{account.vernacular or account.name.plain}: {view.kind}"
    head = f'---\ntitle: "{title}"\naccount: {account.id}\nkind: {view.kind}\n---\n'.replace("\\", "")
    return f"{head}{write_script(Script(script.sections, script.language)).rstrip()}\n"


def _mark_shots(lines: list[ScriptLine]) -> Iterator[ScriptLine]:
    """Lines with a mark where another photo begins to be seen."""
    shown = ""
    for line in lines:
        if line.photo and line.photo != shown:
            shown = line.photo
            yield replace(line, pieces=(Mark("show", shown), *line.pieces))
        else:
            yield line


def _with_slots(line: ScriptLine, facts: Facts, bare: Facts) -> ScriptLine:
    """The line with its facts as slots, each only where filling it gives the very words again."""
    for slot, words in _plain_facts(bare).items():
        tried = replace(line, pieces=tuple(_put_slot(piece, slot, words) for piece in line.pieces))
        if tried != line and fill_line(tried, facts, bare).pieces == fill_line(line, facts, bare).pieces:
            line = tried
    return line


def _put_slot(piece: Piece, slot: str, words: str) -> Piece:
    if isinstance(piece, Mark) or piece.is_name:
        return piece
    # “In the birch clump” is the author's own sentence about one place; a list of places would not fit there.
    not_behind = "(?<!the )" if slot in _LISTS else ""
    return replace(piece, text=re.sub(rf"(?<![\w{{]){not_behind}{re.escape(words)}(?![\w}}])", f"{{{slot}}}", piece.text))


def _plain_facts(facts: Facts) -> Mapping[str, str]:
    """Facts that are words alone, the longest first, so that none is found within another."""
    plain = {slot: "".join(word.text for word in fact if isinstance(word, Spoken)) for slot, fact in facts.items()
             if all(isinstance(word, Spoken) and not word.is_name for word in fact)}  # fmt: skip
    return {slot: words for slot, words in sorted(plain.items(), key=lambda item: -len(item[1])) if len(words) >= _SHORTEST_FACT}
