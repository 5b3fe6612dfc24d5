"""What is wrong with a guide's own theme before anything is made with it: files that nothing uses, words that mean nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path, PurePosixPath

import yaml

from guidebuild.guide.findings import At, Finding
from guidebuild.press.engine.trees import files_below, find_inside
from guidebuild.press.theme.codes import THEME_UNUSED, THEME_WORD
from guidebuild.press.theme.folders import find_theme

_STATIC = "static"
_CARD = "cards/card.yaml"


def find_theme_faults(folder: Path) -> Iterator[Finding]:
    """Findings on the theme of the guide in a folder; nothing where it has none of its own."""
    *own, shipped = find_theme(folder)
    for theme in own:
        yield from _unused_files(theme, sorted(files_below(shipped)))
        yield from _unknown_words(theme, shipped)


def _unused_files(theme: Path, shipped: list[str]) -> Iterator[Finding]:
    paths = sorted(path for path in files_below(theme) if not PurePosixPath(path).name.startswith("."))
    texts = {path: _text(theme, path) for path in paths}
    for path in paths:
        if path in shipped or PurePosixPath(path).parts[:-1] == (_STATIC,):
            continue
        name = PurePosixPath(path).name
        if not any(name in text for other, text in texts.items() if other != path):
            message = f"Nothing uses this file of the theme: there is no “{path}” to replace."
            yield THEME_UNUSED.finding(message, _at(path), mend=_mend(path, shipped))


def _mend(path: str, shipped: list[str]) -> str:
    name = PurePosixPath(path).name
    folder = PurePosixPath(path).parts[0]
    same = [other for other in shipped if PurePosixPath(other).name == name]
    near = get_close_matches(folder, [PurePosixPath(other).parts[0] for other in same], n=1, cutoff=0.0)
    meant = [other for other in same if near and other.startswith(f"{near[0]}/")] or get_close_matches(path, shipped, n=1)
    return f"Move it to theme/{meant[0]}." if meant else f"{THEME_UNUSED.mend}"


def _text(theme: Path, path: str) -> str:
    file = find_inside(theme, path)
    return file.read_text(encoding="utf-8", errors="replace") if file is not None and file.is_file() else ""


def _unknown_words(theme: Path, shipped: Path) -> Iterator[Finding]:
    try:
        own, known = yaml.compose(_text(theme, _CARD)), yaml.safe_load(_text(shipped, _CARD))
    except yaml.YAMLError:
        return  # said when cards are made, with what is wrong
    yield from _compare(own, known, "the file")


def _compare(own: yaml.Node | None, known: object, place: str) -> Iterator[Finding]:
    """Keys, and words of lists, that the shipped rules do not have in this place."""
    if isinstance(own, yaml.MappingNode) and isinstance(known, Mapping):
        for key, value in own.value:
            if isinstance(key, yaml.ScalarNode) and key.value in known:
                yield from _compare(value, known[key.value], f"“{key.value}”")
            else:
                yield _unknown(key, place, known)
    elif isinstance(own, yaml.SequenceNode) and isinstance(known, list) and all(isinstance(word, str) for word in known):
        yield from (_unknown(word, place, known) for word in own.value if not (isinstance(word, yaml.ScalarNode) and word.value in known))


def _unknown(node: yaml.Node, place: str, known: Mapping[str, object] | list[str]) -> Finding:
    words = [str(word) for word in known]
    said = str(node.value) if isinstance(node, yaml.ScalarNode) else "…"
    near = get_close_matches(said, words, n=1)
    mend = f"Write “{near[0]}”." if near else f"Write one of: {', '.join(words)}."
    at = _at(_CARD, node.start_mark.line + 1, node.start_mark.column + 1)
    return THEME_WORD.finding(f"{place[0].upper()}{place[1:]} has no “{said}”.", at, mend=mend)


def _at(path: str, line: int = 0, column: int = 0) -> At:
    return At(f"theme/{path}", line, column)
