"""Which lines of a text an edit may touch, worked out from the text alone, without the tool's own places."""

from __future__ import annotations


def unlike_lines(old: bytes, new: bytes) -> tuple[int, int, int]:
    """The lines that differ: the first of them (from 0), and the first alike after them, in the old text and in the new."""
    one, two = old.splitlines(keepends=True), new.splitlines(keepends=True)
    head = 0
    while head < min(len(one), len(two)) and one[head] == two[head]:
        head += 1
    tail = 0
    while tail < min(len(one), len(two)) - head and one[-1 - tail] == two[-1 - tail]:
        tail += 1
    return head, len(one) - tail, len(two) - tail


def lines_below(text: str, line: int) -> int:
    """The line after the last that belongs to the value which begins on this one: what is indented further, or an item below its key."""
    lines = text.splitlines()
    column = len(lines[line]) - len(lines[line].lstrip(" "))
    is_item = lines[line].lstrip().startswith("- ")
    last = line + 1
    for here in range(line + 1, len(lines)):
        bare = lines[here].strip()
        indent = len(lines[here]) - len(lines[here].lstrip(" "))
        if bare and indent <= column and (is_item or not (indent == column and bare.startswith("- "))):
            break
        last = here + 1 if bare else last
    return last
