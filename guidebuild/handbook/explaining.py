"""What a word means: a key of a file, a rule of the checks, a word of the trade, a command."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from guidebuild.guide.findings import Code
from guidebuild.handbook.chapters import list_words
from guidebuild.handbook.keys import Key
from guidebuild.handbook.theme_keys import list_all_files
from guidebuild.reading.nearest_name import find_nearest_name
from guidebuild.rules import gather_rules

RULES_PAGE = "Rules of the checks"
"""The page of the handbook that all rules stand on."""
_GAPS = re.compile(r"[\s_:./›-]+")


@dataclass(frozen=True, slots=True)
class CommandTold:
    """A command with its help."""

    name: str
    help: str
    """Paragraphs, the first of them a sentence that says what it does."""
    usage: str
    options: tuple[tuple[str, str], ...]
    """How each is typed, and what it does."""
    example: str


@dataclass(frozen=True, slots=True)
class Explained:
    """All that one word can mean; empty where it is none of them. Then `nearest` is what may have been meant, or empty."""

    keys: tuple[tuple[str, Key], ...]
    """Each with the name of the file that holds it."""
    rules: tuple[Code, ...]
    words: tuple[tuple[str, str], ...]
    commands: tuple[CommandTold, ...]
    nearest: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether the word is not known."""
        return not (self.keys or self.rules or self.words or self.commands)


def explain_word(wanted: str, commands: Sequence[CommandTold]) -> Explained:
    """What a word means; of a key its last part is enough (`at`), or all that leads to it (`diagnostics at`), or its file (`photos at`)."""
    asked = _plain(wanted)
    keys = tuple((file.file, key) for file in list_all_files() for key in file.keys if asked in _names_of(key))
    rules = tuple(rule for rule in gather_rules() if _plain(rule.code) == asked)
    words = tuple((used.word, used.meaning) for used in list_words() if _plain(used.word) == asked)
    told = tuple(command for command in commands if _plain(command.name) == asked.removeprefix("guidebuild "))
    found = Explained(keys, rules, words, told)
    return Explained((), (), (), (), _find_near(asked, commands)) if found.is_empty else found


def _names_of(key: Key) -> frozenset[str]:
    ends = {_plain(" ".join(key.path[start:])) for start in range(len(key.path))}
    return frozenset(ends | {_plain(f"{key.kind} {end}") for end in ends})


def _find_near(asked: str, commands: Iterable[CommandTold]) -> str:
    known = [key.path[-1] for file in list_all_files() for key in file.keys]
    known += [rule.code for rule in gather_rules()] + [used.word for used in list_words()] + [command.name for command in commands]
    plain = {_plain(word): word for word in known}
    return plain.get(find_nearest_name(asked, list(plain)), "")


def _plain(word: str) -> str:
    return _GAPS.sub(" ", word.strip().casefold()).strip()
