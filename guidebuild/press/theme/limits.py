"""Bounds on what a template may cost: steps taken, and the length of any one text that it puts together.

A theme comes by mail as a guide does. Without bounds a loop in a loop, a macro that calls itself twice, or a text doubled forty
times would keep the machine busy for ever or fill its memory, and no page would say why.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import wraps
from typing import Any

from jinja2 import nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import markup_join

STEPS = 500_000
"""Turns of loops, calls and included templates in one page; a list of 5,000 accounts takes some 50,000."""
LONGEST = 20_000_000
"""Signs of any one text, a page among them."""
WIDEST = 10_000
"""The largest number that a filter or a text's own method may be given: a width, an indent, a count."""
LOOPED, JOINED = "each of", "joined"
_SIZED = ("batch", "center", "indent", "slice", "tojson", "truncate", "urlize", "wordwrap")
_WIDTH = re.compile(r"\d{5,}")


class Steps:
    """The steps left to the page that is being filled in."""

    def __init__(self) -> None:
        self._left = STEPS

    def anew(self) -> None:
        """A new page begins."""
        self._left = STEPS

    def take(self) -> None:
        """One step; raises `SecurityError` where none is left."""
        self._left -= 1
        if self._left < 0:
            raise SecurityError(f"the template never ends: it took more than {STEPS:,} steps")

    def each(self, values: Iterable[Any]) -> Iterator[Any]:
        """The values, a step each."""
        for value in values:
            self.take()
            yield value


def bounded(parsed: nodes.Template) -> nodes.Template:
    """The same template with its loops counted and its `~` held to a length."""
    for loop in parsed.find_all(nodes.For):
        loop.iter = nodes.Filter(loop.iter, LOOPED, [], [], None, None, lineno=loop.lineno)
    for parent in list(parsed.find_all(nodes.Node)):
        for name, value in list(parent.iter_fields()):
            if isinstance(value, nodes.Concat):
                setattr(parent, name, _joined(value))
            elif isinstance(value, list):
                value[:] = [_joined(one) if isinstance(one, nodes.Concat) else one for one in value]
    return parsed


def _joined(concat: nodes.Concat) -> nodes.Filter:
    pieces = nodes.List(concat.nodes, lineno=concat.lineno)
    return nodes.Filter(pieces, JOINED, [], [], None, None, lineno=concat.lineno)


def joined(pieces: Sequence[Any]) -> str:
    """What `~` makes of its sides."""
    of_length(sum(len(piece) for piece in pieces if isinstance(piece, str)))
    return markup_join(pieces)


def concat(pieces: Iterable[str]) -> str:
    """The pieces of a page, of a macro or of a `set` block as one text."""
    held = pieces if isinstance(pieces, list) else list(pieces)
    of_length(sum(map(len, held)))
    return "".join(held)


def of_length(length: int) -> None:
    """Raise `SecurityError` where a text would be too long."""
    if length > LONGEST:
        raise SecurityError(f"a text of {length:,} signs is too long")


def guard_call(called: Any, arguments: Sequence[Any]) -> None:
    """Refuse methods of texts that would give something much longer than what they are given."""
    called = getattr(called, "__wrapped__", called)  # Jinja puts its own function before `format`
    held = getattr(called, "__self__", None)
    if not isinstance(held, str):
        return
    guard_numbers(arguments)
    match called.__name__, arguments:
        case "replace", (str() as old, str() as new, *_):
            of_length(len(held) + (held.count(old) if old else len(held) + 1) * len(new))
        case "join", (list() | tuple() as pieces, *_):
            of_length(len(held) * len(pieces) + sum(len(piece) for piece in pieces if isinstance(piece, str)))
        case (("format" | "format_map"), _):
            guard_format(held)


def guard_numbers(arguments: Iterable[Any]) -> None:
    """Refuse widths and counts that no page needs."""
    for value in arguments:
        if isinstance(value, int) and abs(value) > WIDEST:
            raise SecurityError(f"{value:,} is more than a template may ask for")


def guard_format(pattern: str) -> None:
    """Refuse a pattern with a width of five figures or more, or with one from elsewhere."""
    if _WIDTH.search(pattern) or "*" in pattern or re.search(r"\{[^{}]*:[^{}]*\{", pattern):
        raise SecurityError("a width in a pattern of “format” is too large, or not a plain number")


def guarded_filters(filters: dict[str, Callable[..., Any]]) -> dict[str, Callable[..., Any]]:
    """The filters that can make much of little, each with its guard."""
    guarded = {name: _with_guard(filters[name], guard_numbers) for name in _SIZED}
    guarded["format"] = _with_guard(filters["format"], lambda given: guard_format(str(given[0])))
    guarded["replace"] = _with_guard(filters["replace"], _guard_replace)
    guarded["join"] = _with_guard(filters["join"], _guard_join)
    return guarded


def _with_guard(made: Callable[..., Any], guard: Callable[[Sequence[Any]], None]) -> Callable[..., Any]:
    @wraps(made)  # Jinja's marks, such as that it wants the environment first, come along
    def guarded(*arguments: Any, **named: Any) -> Any:
        plain = arguments[1:] if hasattr(made, "jinja_pass_arg") else arguments
        guard((*plain, *named.values()))
        return made(*arguments, **named)

    return guarded


def _guard_replace(given: Sequence[Any]) -> None:
    text, old, new = (str(value) for value in (*given, "", "")[:3])
    of_length(len(text) + (text.count(old) if old else len(text) + 1) * len(new))


def _guard_join(given: Sequence[Any]) -> None:
    between = next((len(value) for value in given[1:] if isinstance(value, str)), 0)
    if isinstance(given[0], list | tuple):
        of_length(between * len(given[0]) + sum(len(piece) for piece in given[0] if isinstance(piece, str)))
