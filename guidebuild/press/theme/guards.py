"""What filters and methods may be given: those that make much of little are refused before they begin."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import wraps
from typing import Any

from jinja2.exceptions import SecurityError
from jinja2.runtime import Macro

from guidebuild.press.theme.limits import Steps, of_length, shown

WIDEST = 10_000
"""The largest number that a filter or a text's own method may be given: a width, an indent, a count."""
_LONG = 100_000
"""Signs of a text beyond which what takes ever longer for long ones is refused."""
_REFUSED = frozenset(("encode", "format_map", "maketrans", "to_bytes", "translate"))
_WIDTH = re.compile(r"\d{5,}")
_FIGURES = re.compile(r"\d+")
_STAMP_WIDTH = re.compile(r"%[^a-zA-Z%]*\d")
Given = Sequence[Any]


def guard_call(called: Any, arguments: Given) -> None:
    """Refuse methods that would give something much longer than what they are given, and what a page never needs."""
    called = getattr(called, "__wrapped__", called)  # Jinja puts its own function before `format`
    held, name = getattr(called, "__self__", None), getattr(called, "__name__", "")
    if name in _REFUSED:
        raise SecurityError(f"“{name}” is not for templates")
    if name == "strftime" and any(isinstance(value, str) and _STAMP_WIDTH.search(value) for value in arguments):
        raise SecurityError("a width in a pattern of “strftime” is not for templates")
    if isinstance(held, str):
        _guard_method(held, name, arguments)
    elif not isinstance(called, Macro):
        _guard_patterns(arguments)


def _guard_method(held: str, name: str, arguments: Given) -> None:
    guard_numbers(arguments)
    match name, arguments:
        case "replace", (str() as old, str() as new, *_):
            of_length(_replaced(held, old, new))
        case "join", (pieces, *_):
            _guard_join((pieces, held))
        case "expandtabs", _:
            of_length(len(held) + held.count("\t") * max((value for value in arguments if isinstance(value, int)), default=8))
        case "format", _:
            guard_format(held, arguments)


def guard_numbers(arguments: Iterable[Any]) -> None:
    """Refuse widths and counts that no page needs."""
    for value in arguments:
        if isinstance(value, int) and abs(value) > WIDEST:
            raise SecurityError("a number of more than four figures is more than a template may ask for")


def guard_format(pattern: str, arguments: Iterable[Any] = ()) -> None:
    """Refuse a pattern with a width of five figures or more, or with one from elsewhere, and one that fills in far too much."""
    if _WIDTH.search(pattern) or "*" in pattern or re.search(r"\{[^{}]*:[^{}]*\{", pattern):
        raise SecurityError("a width in a pattern of “format” is too large, or not a plain number")
    of_length(len(pattern) + sum(map(int, _FIGURES.findall(pattern))))
    _guard_filling(pattern, arguments)


def _guard_patterns(arguments: Given) -> None:
    """The tool's own functions fill in patterns too: `_("{a} {b}", a=…, b=…)`."""
    for value in arguments:
        if isinstance(value, str) and ("{" in value or "<" in value):
            _guard_filling(value, arguments)


def _guard_filling(pattern: str, arguments: Iterable[Any]) -> None:
    longest = 8
    for value in arguments:
        if isinstance(value, str):
            longest = max(longest, len(value))
        elif isinstance(value, list | tuple | dict | set):
            longest = max(longest, len(str(value)))
    of_length(len(pattern) + (pattern.count("{") + pattern.count("%")) * longest)


def _guard_text(given: Given) -> None:
    if isinstance(given[0], str) and len(given[0]) > _LONG:
        raise SecurityError(f"a text of {len(given[0]):,} signs is too long for this filter")


def _guard_urlize(given: Given) -> None:
    guard_numbers(given)
    _guard_text(given)
    of_length(len(str(given[0])) * (1 + max((len(value) for value in given[1:] if isinstance(value, str)), default=0)))


def _guard_indent(given: Given) -> None:
    guard_numbers(given)
    text = str(given[0])
    widest = max((len(value) if isinstance(value, str) else int(value) for value in given[1:] if isinstance(value, str | int)), default=4)
    of_length(len(text) + (len(text.splitlines()) + 1) * widest)


def _guard_wordwrap(given: Given) -> None:
    guard_numbers(given)
    _guard_text(given)
    of_length(len(str(given[0])) * (1 + max((len(value) for value in given[1:] if isinstance(value, str)), default=1)))


def _guard_json(given: Given) -> None:
    if any(isinstance(value, int) and value > 16 for value in given[1:]):
        raise SecurityError("an indent of more than 16 is more than a template may ask for")


def _guard_replace(given: Given) -> None:
    text, old, new = (str(value) for value in (*given, "", "")[:3])
    of_length(_replaced(text, old, new))


def _replaced(text: str, old: str, new: str) -> int:
    return len(text) + (text.count(old) if old else len(text) + 1) * len(new)


def _guard_join(given: Given) -> None:
    between = next((len(value) for value in given[1:] if isinstance(value, str)), 0)
    pieces = given[0]
    if isinstance(pieces, str | list | tuple | set | frozenset | Mapping | range):
        of_length(between * len(pieces) + sum(len(piece) for piece in pieces if isinstance(piece, str)))


def _guard_sum(given: Given) -> None:
    if any(isinstance(value, list | tuple | str) for value in given[2:]):
        raise SecurityError("“sum” is for numbers only")


def _guard_xmlattr(given: Given) -> None:
    if isinstance(given[0], Mapping):
        for value in given[0].values():
            shown(value)


_GUARDS: Mapping[str, Callable[[Given], None]] = {
    **dict.fromkeys(("batch", "center", "filesizeformat", "round", "slice", "truncate"), guard_numbers),
    "format": lambda given: guard_format(str(given[0]), given[1:]),
    "indent": _guard_indent,
    "join": _guard_join,
    "replace": _guard_replace,
    "striptags": _guard_text,
    "sum": _guard_sum,
    "title": _guard_text,
    "tojson": _guard_json,
    "urlize": _guard_urlize,
    "wordwrap": _guard_wordwrap,
    "xmlattr": _guard_xmlattr,
}
_SHOWING = frozenset(("e", "escape", "forceescape", "pprint", "string", "safe", "tojson", "upper", "lower", "trim", "title", "capitalize"))
_LAZY = frozenset(("join",))


def guarded_filters(filters: Mapping[str, Callable[..., Any]], steps: Steps) -> dict[str, Callable[..., Any]]:
    """The same filters, each a step, with what they are given and what they give held to a size."""
    return {name: _with_guard(name, made, _GUARDS.get(name), steps) for name, made in filters.items()}


def _with_guard(name: str, made: Callable[..., Any], guard: Callable[[Given], None] | None, steps: Steps) -> Callable[..., Any]:
    passed = 1 if hasattr(made, "jinja_pass_arg") else 0

    @wraps(made)  # Jinja's marks, such as that it wants the environment first, come along
    def guarded(*arguments: Any, **named: Any) -> Any:
        steps.take()
        plain = arguments[passed:]
        if name in _LAZY and plain and hasattr(plain[0], "__next__"):  # how much it gives is known only when it has given it
            plain = (steps.bounded(list(steps.each(plain[0]))), *plain[1:])
        if name in _SHOWING and plain:
            shown(plain[0])
        if guard is not None:
            guard((*plain, *named.values()))
        return steps.bounded(made(*arguments[:passed], *plain, **named))

    return guarded
