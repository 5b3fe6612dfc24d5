"""The words for times of year that a guide's languages have: months after the CLDR, all others from `content/seasons/`."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from guidebuild import shipped
from guidebuild.guide.season_vocabulary import MEANINGS, Vocabulary, gather_vocabulary
from guidebuild.reading.notes import Notes
from guidebuild.reading.yaml_text import read_block


@cache
def season_vocabulary(languages: tuple[str, ...]) -> Vocabulary:
    """What the words of some languages stand for."""
    return gather_vocabulary(languages, {language: read_words(language) for language in languages})


@cache
def read_words(language: str) -> Mapping[str, tuple[str, ...]]:
    """The shipped words of a language by meaning, those of months by number; none where nothing is shipped for it.

    A fault in a shipped file is a fault of the tool, so it is raised.
    """
    name = f"{language.partition('-')[0]}.yaml"
    file = shipped.content().joinpath("seasons", name)
    if not file.is_file():
        return {}
    notes = Notes()
    block = read_block(file.read_text("utf-8"), f"content/seasons/{name}", notes)
    data = dict(block.data) if block else {}
    months = data.pop("months", {})
    if block is None or notes.findings or not data.keys() <= MEANINGS.keys() or not isinstance(months, dict):
        raise ValueError(f"The shipped file content/seasons/{name} is damaged: {[str(f) for f in notes.findings]}")
    lists = {**data, **{str(month): phrases for month, phrases in months.items()}}
    return {meaning: tuple(str(phrase) for phrase in phrases) for meaning, phrases in lists.items() if isinstance(phrases, list)}
