"""Noting what is asked of a guide while something is worked out of it, so that it need not be worked out again while the answers stay.

An ask is the name of a collection of the guide, the id of a record in it and the name of a field. An empty field stands for
the record as a whole and, of accounts, for whether there is such a record at all; `EVERY` instead of an id stands for all records
in their order. What was worked out once and is kept for others carries its asks along: who is given it is taken to have asked them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, MutableMapping
from functools import lru_cache, wraps
from typing import Any, Concatenate, NamedTuple, ParamSpec, TypeVar, cast

P = ParamSpec("P")
T = TypeVar("T")
G = TypeVar("G", bound=Hashable)
EVERY = "*"
"""Stands for all records of a collection; no id is written like that."""
_MANY = 24
"""Who asks one field of so many records is taken to have asked it of all: that is shorter to keep, and never too little."""


class Ask(NamedTuple):
    """One thing that was asked of a guide."""

    collection: str
    record: str
    field: str


class Heard(NamedTuple):
    """What was worked out, and all that was asked for it."""

    value: Any
    asks: frozenset[Ask]


_listening: list[set[Ask]] = []


def note_ask(ask: Ask) -> None:
    """Tell whoever listens that this was asked."""
    if _listening:
        _listening[-1].add(ask)


def listen(work_out: Callable[P, T], *given: P.args, **named: P.kwargs) -> tuple[T, frozenset[Ask]]:
    """What a function gives, and all that it asks of guides for it."""
    heard: set[Ask] = set()
    _listening.append(heard)
    try:
        return work_out(*given, **named), _widen(heard)
    finally:
        _listening.pop()


def remember(kept: MutableMapping[Any, Any], name: Hashable, work_out: Callable[[], T]) -> T:
    """What a function gives, worked out once and kept under a name; what was asked for it counts as asked each time."""
    if name not in kept:
        kept[name] = Heard(*listen(work_out))
    heard: Heard = kept[name]
    _pass_on(heard)
    return cast("T", heard.value)


def kept_by_guide(most: int) -> Callable[[Callable[Concatenate[G, P], T]], Callable[Concatenate[G, P], T]]:
    """Keeps what a function gives of so many guides, with what it asks of them."""

    def keep(function: Callable[Concatenate[G, P], T]) -> Callable[Concatenate[G, P], T]:
        known: Any = lru_cache(maxsize=most)(lambda *given, **named: Heard(*listen(function, *given, **named)))

        @wraps(function)
        def recall(guide: G, *given: P.args, **named: P.kwargs) -> T:
            heard: Heard = known(guide, *given, **named)
            _pass_on(heard)
            return cast("T", heard.value)

        return cast("Callable[Concatenate[G, P], T]", recall)

    return keep


def _pass_on(heard: Heard) -> None:
    if _listening:
        _listening[-1] |= heard.asks


def _widen(asks: set[Ask]) -> frozenset[Ask]:
    asked = Counter((ask.collection, ask.field) for ask in asks)
    wide = {column for column, count in asked.items() if count > _MANY or Ask(column[0], EVERY, column[1]) in asks}
    narrow = (ask for ask in asks if (ask.collection, ask.field) not in wide)
    return frozenset((*narrow, *(Ask(collection, EVERY, field) for collection, field in wide)))
