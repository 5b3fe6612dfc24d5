"""Which sets of slides are made: those that are due, those that guide.yaml names, or all."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from functools import partial

from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import Finding
from guidebuild.guide.resolve import find_account
from guidebuild.identify.look_alikes import own_pairs
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.posts.week_plan import week_plan
from guidebuild.views.slides.codes import SLIDES_UNKNOWN
from guidebuild.views.slides.own_words import say_own_words
from guidebuild.views.slides.sets import account_set, dekad_set, pair_id, pair_set, walk_id, walk_set
from guidebuild.views.slides.slide import SlideSet

DUE, ALL = "due", "all"
WALK_AHEAD = dt.timedelta(weeks=4)
"""A walk is due for so long before its day."""

Make = Callable[[], SlideSet | None]


def choose_sets(guide: Published, today: dt.date) -> tuple[tuple[SlideSet, ...], tuple[Finding, ...]]:
    """The sets that are asked for, each once, in the order of the list, then those of posts/; and what is asked for that there is not."""
    make = make_pieces(guide)
    known, findings = list_sets(make, today), []
    wanted: dict[str, Make] = {}
    for word in guide.settings.slides:
        if word in {DUE, ALL}:
            wanted |= {ident: known[ident] for ident in (known if word == ALL else list_due(guide, today))}
        elif ident := _find_id(guide, known, word):
            wanted[ident] = known[ident]
        else:
            at = guide.settings.positions.get("slides", guide.settings.at)
            findings.append(SLIDES_UNKNOWN.finding(f"No account, pair or walk is called “{word}”.", at))
    own = {_find_id(guide, known, name): slides for name, slides in guide.own_slides.items()}
    wanted |= {ident: known[ident] for ident in own if ident}
    sets = {ident: make_set() for ident, make_set in wanted.items()}
    said = (say_own_words(make, one, own[ident]) if ident in own else one for ident, one in sets.items() if one)
    return tuple(said), (*findings, *_find_strange(guide, known))


def _find_strange(guide: Published, known: Mapping[str, Make]) -> Iterator[Finding]:
    """Files in posts/ that are called after nothing in the guide."""
    for name, slides in guide.own_slides.items():
        if not _find_id(guide, known, name):
            yield SLIDES_UNKNOWN.finding(f"No account, pair or walk is called “{name}”, as this file is.", slides.at)


def list_sets(make: PieceMaker, today: dt.date) -> Mapping[str, Make]:
    """Every set that a guide can have, by its id, with what makes it."""
    guide = make.guide
    sets: dict[str, Make] = {account.id: partial(account_set, make, account) for account in guide.accounts.values()}
    sets |= {pair_id(pair): partial(pair_set, make, guide.accounts[pair[0]], guide.accounts[pair[1]]) for pair in own_pairs(guide)}
    sets |= {walk_id(walk): partial(walk_set, make, walk) for walk in guide.walks.values()}
    return sets | {"now": partial(dekad_set, make, today)}


def list_due(guide: Published, today: dt.date) -> Iterator[str]:
    """The species of this week's plan, these ten days, and the next walk where it is soon."""
    yield from (week.account for week in week_plan(guide, today, weeks=1).weeks)
    yield "now"
    coming = sorted((w for w in guide.walks.values() if today <= w.date <= today + WALK_AHEAD), key=lambda w: (w.date, w.start, w.id))
    yield from (walk_id(walk) for walk in coming[:1])


def _find_id(guide: Published, known: Mapping[str, Make], word: str) -> str:
    """The set that a word means: ids, former ids and names in any order, a walk with `walk-` or without; empty where there is none."""
    parts = [found.id if (found := find_account(guide, part)) else part for part in word.split("--")]
    ids = (word, pair_id(parts), f"walk-{word}" if word in guide.walks else word)
    return next((ident for ident in ids if ident in known), "")
