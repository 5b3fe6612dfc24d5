"""Bounds on what a template may cost: steps taken, and the size of whatever it puts together.

A theme comes by mail as a guide does. Without bounds a loop in a loop, a macro that calls itself twice, or a text or a list
doubled forty times would keep the machine busy for ever or fill its memory, and no page would say why. Every list, text and
number is looked at where it comes into being, so that whatever is done with it later (printed, compared, sorted, written as
JSON) has an end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import is_dataclass
from typing import Any

from jinja2 import nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import markup_join

STEPS = 500_000
"""Turns of loops, calls, filters and included templates in one page; a list of 5,000 accounts takes some 50,000."""
LONGEST = 20_000_000
"""Signs of any one text, a page among them, and of all texts in a list."""
MOST = 200_000
"""Values in a list, with those in its lists."""
_FIGURES = 4_096
"""Binary digits of a whole number."""
_VALUES_A_STEP = 50
LOOPED, JOINED, BUILT = "each of", "joined", "built"
_GROUPS = (list, tuple, dict, set, frozenset)


class Steps:
    """The steps left to the page that is being filled in."""

    def __init__(self) -> None:
        self._left = STEPS

    def anew(self) -> None:
        """A new page begins."""
        self._left = STEPS

    def take(self, number: int = 1) -> None:
        """So many steps; raises `SecurityError` where none is left."""
        self._left -= number
        if self._left < 0:
            raise SecurityError(f"the template never ends: it took more than {STEPS:,} steps")

    def each(self, values: Iterable[Any]) -> Iterator[Any]:
        """The values, a step each."""
        for value in values:
            self.take()
            yield self.bounded(value)

    def bounded(self, value: Any) -> Any:
        """The same value; raises `SecurityError` where it is larger than any page needs."""
        if isinstance(value, str):
            of_length(len(value))
        elif isinstance(value, int):
            of_figures(value)
        elif isinstance(value, _GROUPS):
            self.take(count_values(value) // _VALUES_A_STEP)
        return value


def count_values(group: Any) -> int:
    """The values in a list, a tuple or a mapping, with those in its lists, each as often as it would be printed."""
    waiting, seen, signs = [group], 0, 0
    while waiting:
        value = waiting.pop()
        seen += 1
        if isinstance(value, _GROUPS):
            seen += len(value) // 8  # so that one very long list is refused before all of it is put here
            of_count(len(value) + len(waiting))
            waiting.extend(value)
            if isinstance(value, Mapping):
                waiting.extend(value.values())
        elif isinstance(value, str):
            signs += len(value)
        of_count(seen)
        of_length(signs)
    return seen


def of_count(number: int) -> None:
    """Raise `SecurityError` where a list holds too much."""
    if number > MOST:
        raise SecurityError(f"a list of more than {MOST:,} values is too long")


def of_length(length: int) -> None:
    """Raise `SecurityError` where a text would be too long."""
    if length > LONGEST:
        raise SecurityError(f"a text of {length:,} signs is too long")


def of_figures(number: int) -> None:
    """Raise `SecurityError` where a whole number is too large."""
    if number.bit_length() > _FIGURES:
        raise SecurityError("a number of more than a thousand figures is too large")


def bounded_template(parsed: nodes.Template) -> nodes.Template:
    """The same template with its loops counted, and its lists and its `~` held to a length."""
    for loop in parsed.find_all(nodes.For):
        loop.iter = _filtered(loop.iter, LOOPED)
    for parent in list(parsed.find_all(nodes.Node)):
        for name, value in list(parent.iter_fields()):
            if isinstance(value, nodes.Node):
                setattr(parent, name, _with_bounds(value))
            elif isinstance(value, list):
                value[:] = [_with_bounds(one) if isinstance(one, nodes.Node) else one for one in value]
    return parsed


def _with_bounds(node: Any) -> Any:
    if isinstance(node, nodes.Concat):
        return _filtered(nodes.List(node.nodes, lineno=node.lineno), JOINED)
    if isinstance(node, nodes.List | nodes.Dict) or (isinstance(node, nodes.Tuple) and node.ctx == "load"):
        within = list(node.iter_child_nodes())
        return node if all(isinstance(one, nodes.Const) for one in within) else _filtered(node, BUILT)
    return node


def _filtered(node: Any, name: str) -> nodes.Filter:
    return nodes.Filter(node, name, [], [], None, None, lineno=node.lineno)


def joined(pieces: Sequence[Any]) -> str:
    """What `~` makes of its sides."""
    for piece in pieces:
        shown(piece)
    of_length(sum(len(piece) for piece in pieces if isinstance(piece, str)))
    return markup_join(pieces)


def concat(pieces: Iterable[str]) -> str:
    """The pieces of a page, of a macro or of a `set` block as one text."""
    held = pieces if isinstance(pieces, list) else list(pieces)
    of_length(sum(map(len, held)))
    return "".join(held)


def shown(value: Any) -> Any:
    """What a page shows of a value; a record has no words of its own, only its fields have."""
    if is_dataclass(value) and type(value).__str__ is object.__str__ and not hasattr(value, "__html__"):
        raise SecurityError("a record is put on the page as a whole; name the field that is meant")
    return value
