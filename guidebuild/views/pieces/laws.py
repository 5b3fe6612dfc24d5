"""Notes on the law as they are shown: in their author's words, with the day on which they were so, and a word to check the law of today."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.guide.records import LawNote
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.views.pieces.common import CautionView
from guidebuild.views.pieces.parts import PieceMaker


def laws_of_account(make: PieceMaker, account: PublicAccount) -> tuple[CautionView, ...]:
    """What the law says of an account and, after that, of all that is in the guide."""
    return (*_of_account(make, account), *laws_of_guide(make))


def laws_of_guide(make: PieceMaker) -> tuple[CautionView, ...]:
    """What the law says of all that is in the guide."""
    return show_laws(make, make.guide.settings.law)


def laws_of_set(make: PieceMaker, accounts: Iterable[str]) -> tuple[CautionView, ...]:
    """The guide's notes on the law, and those of some accounts, each with its name."""
    own = [
        replace(view, lead=f"{make.map.account(account).text}:")
        for account in (make.guide.accounts[ident] for ident in dict.fromkeys(accounts))
        for view in _of_account(make, account)
    ]
    return (*laws_of_guide(make), *own)


def laws_of_walk(make: PieceMaker, walk: PublicWalk, accounts: Iterable[str]) -> tuple[CautionView, ...]:
    """The same for those met on a walk, with the notes of its open stops."""
    places = [make.guide.places[ident] for ident in dict.fromkeys(stop.place for stop in walk.stops) if ident in make.guide.places]
    here = [replace(view, lead=f"{place.name}:") for place in places for view in show_laws(make, place.law)]
    return (*here, *laws_of_set(make, accounts))


def show_laws(make: PieceMaker, notes: Sequence[LawNote], translated: Sequence[Inline] = ()) -> tuple[CautionView, ...]:
    """Notes on the law; in the reader's language where each is translated."""
    return tuple(_views(make, notes, translated if len(translated) == len(notes) else ()))


def _of_account(make: PieceMaker, account: PublicAccount) -> tuple[CautionView, ...]:
    translation = make.translation(account)
    return show_laws(make, account.law, translation.law if translation else ())


def _views(make: PieceMaker, notes: Sequence[LawNote], translated: Sequence[Inline]) -> Iterator[CautionView]:
    for number, note in enumerate(notes):
        theirs = translated[number] if translated else NO_TEXT
        said = make.word(theirs, "") if theirs else make.word(note.text)
        if said:
            when = make.words("As of {date}: check the current law.", date=make.words.date(note.as_of))
            language, marked = said.language, said.marked
            yield CautionView(make.words("Law"), said.words, when, language=language, is_law=True, address=note.address, marked=marked)
