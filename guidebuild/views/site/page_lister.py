"""How the pages of one language are listed: each with its address and what will show it, none put together yet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import LongList, Run, name_run
from guidebuild.views.site.page import PageToMake, PageView, SiteView


@dataclass(frozen=True)
class PageLister:
    """Pages of one language."""

    make: PieceMaker
    site: SiteView

    def _page(self, path: str, template: str, title: str, data: object) -> PageView:
        return PageView(self.make.map.page(path), template, self.make.language, title, self.site, data)

    def _later(self, path: str, show: Callable[..., PageView], *given: object) -> PageToMake:
        return PageToMake(self.make.map.page(path), self.site, show, given)

    def _plain(self, path: str, template: str, title: str, data: Callable[..., object], *given: object, kind: str = "page") -> PageToMake:
        """A page of which nothing is special but what it shows: what `data` gives of what it is given."""
        return self._later(path, partial(self._show_plain, data), path, template, title, kind, *given)

    def _in_runs(self, listed: LongList, data: Callable[..., object], *given: object) -> Iterator[PageToMake]:
        """A page that shows a list, or as many as it takes. `data` gives what one shows of what it is given and the run."""
        for run in listed.runs:
            yield self._later(name_run(listed.path, run.number), partial(self._show_run, data), listed, run, *given)

    def _show_run(self, data: Callable[..., object], listed: LongList, run: Run, *given: object) -> PageView:
        links = [LinkView(self.make.map.page(name_run(listed.path, one.number)), one.words) for one in listed.runs]
        title = f"{listed.title}, {run.words}" if run.number else listed.title
        page = self._page(name_run(listed.path, run.number), listed.template, title, data(*given, run))
        return replace(page, kind=listed.kind, runs=tuple(links) if len(links) > 1 else ())

    def _show_plain(self, data: Callable[..., object], path: str, template: str, title: str, kind: str, *given: object) -> PageView:
        return replace(self._page(path, template, title, data(*given)), kind=kind)

    def _piece(self, show: Callable[..., object]) -> Callable[..., object]:
        """What shows a piece, given the maker of pieces."""
        return partial(show, self.make)
