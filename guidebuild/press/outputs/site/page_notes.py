"""What is known of pages from one run to the next: what each asked of the guide, so that it waits until an answer is another."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from guidebuild.fieldwork.asked import NOT_NOTED, find_answer
from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import EVERY, Ask, listen
from guidebuild.press.engine.digest import Digester, digest
from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.toolchain import digest_tools
from guidebuild.press.outputs.site.spool import Spool, Spooled
from guidebuild.views.site.page import Answers, PageNote, PageToMake, SiteView

T = TypeVar("T")
_ACCOUNTS = "accounts"
_DIGESTER = Digester(Path.as_posix, all_but=frozenset(("at", "positions")))
"""Of a guide all counts but the lines that texts stand on."""
_NO_SITE = SiteView("", "")
"""What all pages share need not be written down with each."""


@dataclass(slots=True)
class _Known:
    """What one run wrote down. Asks are named by their places in the list of all."""

    whole: str = ""
    """Digest of what counts for every page."""
    accounts: dict[str, str] = field(default_factory=dict)
    """Digests of accounts with all that they say."""
    asks: list[tuple[str, str, str, str]] = field(default_factory=list)
    """Each ask, with the digest of its answer."""
    answers: dict[str, tuple[Any, list[int]]] = field(default_factory=dict)
    pages: dict[str, tuple[str, str, PageNote, list[int]]] = field(default_factory=dict)
    """By path: digests of what the page was given and of all it showed, what was noted of it, and what it asked."""


class PageNotes(Answers):
    """Notes of the last run, asked for pages of this one, and written anew at its end.

    They hold for a guide with the same `settings` and the same tool; a note that is damaged counts as none.
    """

    def __init__(self, file: Path, guide: Published, today: dt.date, *, trusted: bool = True) -> None:
        """`guide` answers without noting it; pages may show what holds `today`. Where nothing is `trusted`, nothing is read."""
        self._file = file
        self._guide = guide
        whole = digest([getattr(guide, name) for name in sorted(NOT_NOTED)], today, digest_tools(__name__))
        known = _read(file) if trusted else None
        self._known = known if known and known.whole == whole else _Known(whole)
        self._now = _Known(whole, {ident: _DIGESTER.digest(account) for ident, account in guide.accounts.items()})
        self._same_accounts = {ident for ident, mark in self._now.accounts.items() if self._known.accounts.get(ident) == mark}
        self._all_accounts_same = list(self._known.accounts.items()) == list(self._now.accounts.items())
        self._marks: dict[Ask, str] = {}
        self._places: dict[Ask, int] = {}
        self._sites: dict[int, str] = {}
        self._same = [self._is_same(Ask(collection, record, name), mark) for collection, record, name, mark in self._known.asks]

    def recall(self, question: str, answer: Callable[[], T]) -> T:
        """The answer to a question, worked out only where something that it asked of the guide is another now."""
        known = self._known.answers.get(question)
        if known and self._all_same(known[1]):
            value: T = known[0]
            asks: Iterable[Ask] = self._named(known[1])
        else:
            value, asks = listen(answer)
        self._now.answers[question] = value, self._place(asks)
        return value

    def take(self, page: PageToMake, spool: Spool) -> Spooled:
        """A page that waits to be drawn; one that shows what it showed is not put together before someone wants it."""
        given = self._mark_given(page)
        known = self._known.pages.get(page.path)
        if known and known[0] == given and self._all_same(known[3]):
            _, mark, bare, places = known
            self._now.pages[page.path] = given, mark, bare, self._place(self._named(places))
            return Spooled(replace(bare, page=replace(bare.page, site=page.site)), spool.leave_out(mark), page.make)
        view, asks = listen(page.make)
        taken = spool.put(view)
        bare = replace(taken.note, page=replace(taken.note.page, site=_NO_SITE))
        self._now.pages[page.path] = given, taken.place.mark, bare, self._place(asks)
        return taken

    def write(self) -> None:
        """Write down what the next run may want to know; what a disk refuses is not kept."""
        self._now.asks = [(*ask, self._mark(ask)) for ask in self._places]
        with suppress(OSError):
            write_safely(self._file, _ADAPTER.dump_json(self._now))

    def _mark_given(self, page: PageToMake) -> str:
        site = id(page.site)  # one for all pages of a language, and held by them
        if site not in self._sites:
            self._sites[site] = digest(page.site)
        return digest(self._sites[site], page.given)

    def _all_same(self, places: Iterable[int]) -> bool:
        return all(0 <= place < len(self._same) and self._same[place] for place in places)

    def _named(self, places: Iterable[int]) -> Iterable[Ask]:
        return (Ask(*self._known.asks[place][:3]) for place in places)

    def _place(self, asks: Iterable[Ask]) -> list[int]:
        return sorted(self._places.setdefault(ask, len(self._places)) for ask in asks)

    def _is_same(self, ask: Ask, mark: str) -> bool:
        if ask.collection == _ACCOUNTS and (self._all_accounts_same if ask.record == EVERY else ask.record in self._same_accounts):
            self._marks[ask] = mark
            return True
        return self._mark(ask) == mark

    def _mark(self, ask: Ask) -> str:
        if ask not in self._marks:
            self._marks[ask] = _DIGESTER.digest(find_answer(self._guide, ask))
        return self._marks[ask]


_ADAPTER = TypeAdapter(_Known)


def _read(file: Path) -> _Known | None:
    try:
        return _ADAPTER.validate_json(file.read_bytes())
    except (OSError, ValidationError):
        return None
