"""A page that is not put together again would have shown the same: whatever is edited, notes and digests are those of a fresh run."""

from __future__ import annotations

import datetime as dt
import os
import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from guidebuild.fieldwork.asked import ask_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.asking import EVERY, Ask, listen
from guidebuild.press.engine.digest import digest
from guidebuild.press.outputs.site import page_notes
from guidebuild.press.outputs.site.page_notes import PageNotes
from guidebuild.press.outputs.site.spool import Spooled, open_spool
from guidebuild.reading.whole import read_guide
from guidebuild.views.site.page import PageNote, PageToMake, note_page
from guidebuild.views.site.pages import SitePages
from tests.guides.whole_guides import NAMES
from tests.reading.test_memory import copy_texts, edit
from tests.views.invented_site import GUIDE
from tests.views.whole_site import site_pages

TODAY = dt.date(2026, 6, 1)
SEQUENCES = int(os.environ.get("GUIDEBUILD_EDITS", "12"))
"""So many guides are edited."""
EDITS = 4
INVENTED = make_published(GUIDE)


def run(guide: Published, folder: Path, today: dt.date = TODAY, *, trusted: bool = True) -> dict[str, Spooled]:
    """All pages of a run, by path, as they wait to be drawn; what is known of them is written down."""
    notes = PageNotes(folder / "pages.json", guide, today, trusted=trusted)
    with open_spool(folder) as spool:
        waiting = [notes.take(page, spool) for page in SitePages(ask_of(guide), today, notes).list_all()]
    notes.write()
    return {one.note.page.path: one for one in waiting}


def shown_by(waiting: dict[str, Spooled]) -> dict[str, tuple[PageNote, str]]:
    return {path: (one.note, one.place.mark) for path, one in waiting.items()}


def shown_afresh(guide: Published) -> dict[str, tuple[PageNote, str]]:
    return {page.path: (note_page(page), digest(page)) for page in site_pages(guide, TODAY)}


def viewed_in(waiting: dict[str, Spooled]) -> set[str]:
    return {path for path, one in waiting.items() if one.make is None}


@pytest.mark.parametrize("seed", range(SEQUENCES))
def test_after_any_edits_pages_are_as_if_all_were_put_together(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    folder, place = copy_texts(NAMES[seed % len(NAMES)], tmp_path), tmp_path / "notes"
    place.mkdir()
    for _ in range(EDITS):
        read = read_guide(folder, as_of=TODAY).guide
        if read is None:
            return
        guide = make_published(read)
        assert shown_by(run(guide, place)) == shown_afresh(guide)
        for _ in range(chance.randint(1, 3)):
            edit(folder, chance)


def test_where_nothing_has_changed_no_page_is_put_together(tmp_path: Path) -> None:
    first = run(INVENTED, tmp_path)
    assert viewed_in(first) == set(first)
    second = run(make_published(GUIDE), tmp_path)
    assert viewed_in(second) == set()
    assert shown_by(second) == shown_by(first)


def test_a_section_is_on_its_own_page_alone(tmp_path: Path) -> None:
    run(INVENTED, tmp_path)
    account = GUIDE.accounts["parent-bug"]
    changed = tuple(replace(section, text=f"{section.text} More.") for section in account.sections)
    assert changed
    guide = make_published(replace(GUIDE, accounts={**GUIDE.accounts, account.id: replace(account, sections=changed)}))
    own = {page for page in run(guide, tmp_path) if page.endswith("accounts/parent-bug.html")}
    run(INVENTED, tmp_path)
    assert viewed_in(run(guide, tmp_path)) == own


def test_what_holds_for_all_pages_and_what_is_not_trusted_has_all_put_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    everything = set(run(INVENTED, tmp_path))
    other = make_published(replace(GUIDE, settings=replace(GUIDE.settings, contact="someone@example.org")))
    assert viewed_in(run(other, tmp_path)) == everything
    assert viewed_in(run(other, tmp_path, TODAY + dt.timedelta(1))) == everything
    assert viewed_in(run(other, tmp_path, TODAY + dt.timedelta(1), trusted=False)) == everything
    monkeypatch.setattr(page_notes, "digest_tools", lambda module: f"of tomorrow: {module}")
    assert viewed_in(run(other, tmp_path, TODAY + dt.timedelta(1))) == everything


@pytest.mark.parametrize("damage", [lambda text: text[:-9], lambda text: "[]", lambda text: text.replace('"asks":[[', '"asks":[["a"],[')])
def test_a_damaged_note_counts_as_none(tmp_path: Path, damage: Callable[[str], str]) -> None:
    everything = set(run(INVENTED, tmp_path))
    file = tmp_path / "pages.json"
    file.write_text(damage(file.read_text("utf-8")), "utf-8")
    assert viewed_in(run(INVENTED, tmp_path)) == everything


def functions_of(show: Callable[..., Any]) -> Iterator[Callable[..., Any]]:
    """A function and those that it was given to call."""
    if isinstance(show, partial):
        for one in (show.func, *show.args):
            if callable(one):
                yield from functions_of(one)
    else:
        yield show


def test_no_page_holds_what_its_note_would_not_know_of() -> None:
    for page in SitePages(INVENTED, TODAY).list_all():
        for function in functions_of(page.show):
            assert getattr(getattr(function, "__func__", function), "__closure__", None) is None, page.path


def asks_of(page: PageToMake) -> frozenset[Ask]:
    return listen(page.make)[1]


def test_what_is_kept_for_several_pages_counts_as_asked_by_each() -> None:
    guide = ask_of(INVENTED)
    warm = {page.path: asks_of(page) for page in SitePages(guide, TODAY).list_all()}
    for path, asks in warm.items():
        cold = next(asks_of(page) for page in SitePages(ask_of(INVENTED), TODAY).list_all() if page.path == path)
        assert {ask for ask in cold - asks if Ask(ask.collection, EVERY, ask.field) not in asks} == set(), path


def test_every_part_of_a_guide_is_noted_or_counts_for_all() -> None:
    guide = ask_of(INVENTED)
    _, asks = listen(lambda: [list(getattr(guide, name)) for name in ("accounts", "plants", "sightings", "rows", "stage_sets")])
    assert {ask.collection for ask in asks} == {"accounts", "plants", "sightings", "rows", "stage_sets"}
    account = guide.accounts["parent-bug"]
    assert listen(lambda: (account.family, account.season_of("adult")))[1] == {
        Ask("accounts", "parent-bug", "family"),
        Ask("accounts", "parent-bug", "seasons"),
    }
    assert account.id == "parent-bug"
