"""Footnotes of a text that is shown in pieces: a note written in one piece may be called in another."""

from __future__ import annotations

from collections.abc import Sequence

from guidebuild.guide.text.reader import ASIDE, Tree, read_tree, without_marks


def with_their_notes(pieces: Sequence[str]) -> list[str]:
    """Each piece with the notes that it calls and does not hold itself: of two notes of one name the first counts."""
    if not any("[^" in piece for piece in pieces):
        return list(pieces)
    trees = [read_tree(piece) for piece in pieces]
    anywhere = {name: _write_note(name, note, tree) for tree in reversed(trees) for name, note in tree.notes}
    return [_with_notes(tree, {name: note for name, note in anywhere.items() if name not in dict(tree.notes)}) for tree in trees]


def _with_notes(tree: Tree, others: dict[str, str]) -> str:
    if not others or "[^" not in tree.text:
        return tree.text
    called = read_tree("\n\n".join((tree.text, *others.values()))).called
    return "\n\n".join((tree.text, *(others[name] for name in called if name in others)))


def _write_note(name: str, note: str, tree: Tree) -> str:
    """A note as it is typed, from what the reader took it for."""
    whole = ASIDE.sub(lambda match: _write_aside(tree, int(match[1])), without_marks(note))
    return f"[^{without_marks(name)}]: " + whole.replace("\n", "\n    ")


def _write_aside(tree: Tree, number: int) -> str:
    piece = tree.aside[number] if number < len(tree.aside) else ""
    return piece if isinstance(piece, str) else ""
