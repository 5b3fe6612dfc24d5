"""From what a file says to what it should say: the fewest steps, each a value, an entry more or an entry less."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from guidebuild.desk.editing.wanted import Path
from guidebuild.reading.block import Plain


@dataclass(frozen=True, slots=True)
class Replace:
    """Another value at a path, or a first one after its key."""

    path: Path
    value: Plain


@dataclass(frozen=True, slots=True)
class Insert:
    """A further entry: its path ends in the new key, or in the place that the new item will have."""

    path: Path
    value: Plain


@dataclass(frozen=True, slots=True)
class Remove:
    """An entry less."""

    path: Path


Step: TypeAlias = Replace | Insert | Remove


def plan_steps(old: Plain, new: Plain, path: Path = ()) -> Iterator[Step]:
    """The steps in an order in which the paths of each are right once those before it are done."""
    if old == new:
        return
    if isinstance(old, dict) and isinstance(new, dict) and old and new:
        yield from _plan_keys(old, new, path)
    elif isinstance(old, list) and isinstance(new, list) and old and new:
        yield from _plan_items(old, new, path)
    elif path:
        yield Replace(path, new)
    else:  # a file of which nothing stood yet, or nothing is left
        yield from (Insert((key,), value) for key, value in (new.items() if isinstance(new, dict) else ()))
        yield from (Remove((key,)) for key in (old if isinstance(old, dict) else ()))


def _plan_keys(old: dict[str, Plain], new: dict[str, Plain], path: Path) -> Iterator[Step]:
    # New ones first: keys of which all go would leave nothing to put the others beside.
    for key, value in new.items():
        if key not in old:
            yield Insert((*path, key), value)
        else:
            yield from plan_steps(old[key], value, (*path, key))
    for key in old:
        if key not in new:
            yield Remove((*path, key))


def _plan_items(old: list[Plain], new: list[Plain], path: Path) -> Iterator[Step]:
    """What both have at their beginning and end stays; items between change one by one, from the last."""
    shorter = min(len(old), len(new))
    first = next((n for n in range(shorter) if old[n] != new[n]), shorter)
    last = next((n for n in range(shorter - first) if old[-1 - n] != new[-1 - n]), shorter - first)
    gone, come = old[first : len(old) - last], new[first : len(new) - last]
    both = min(len(gone), len(come))
    for n in range(len(come) - 1, both - 1, -1):
        yield Insert((*path, first + both), come[n])
    for n in range(len(gone) - 1, both - 1, -1):
        yield Remove((*path, first + n))
    for n in range(both - 1, -1, -1):
        yield from plan_steps(gone[n], come[n], (*path, first + n))
