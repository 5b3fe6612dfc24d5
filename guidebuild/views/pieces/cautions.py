"""Cautions as they are shown: of one account, of several at once, of a place or plant, and against eating by a name found here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.guide.dangers import EATEN, NOT_FOR_EATING, FoundCaution, find_cautions, find_poisonous, harm_of, hurts_by_itself
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.views.pieces.common import CautionView
from guidebuild.views.pieces.parts import PieceMaker

_ALIKE, _SAME = 3, 0.85
_TAKEN_FOR = {
    "deadly": ("May be taken for {names}, which is deadly poisonous", "May be taken for {names}, which are deadly poisonous"),
    "poisonous": ("May be taken for {names}, which is poisonous", "May be taken for {names}, which are poisonous"),
    "touch": ("May be taken for {names}, which hurts when touched", "May be taken for {names}, which hurt when touched"),
    "venomous": ("May be taken for {names}, which is venomous", "May be taken for {names}, which are venomous"),
    "sting": ("May be taken for {names}, which can sting", "May be taken for {names}, which can sting"),
    "bite": ("May be taken for {names}, which can bite", "May be taken for {names}, which can bite"),
}


def show_cautions(make: PieceMaker, hazards: Iterable[str], own: Inline = NO_TEXT, language: str | None = None) -> tuple[CautionView, ...]:
    """The cautions of some hazards, the author's own words last, in the guide's language where no other is said."""
    views = [_view(make, hazard) for hazard in hazards]
    views.sort(key=lambda view: not view.id)
    written_in = make.foreign if language is None else language
    mine = (CautionView(make.words("Caution"), own.words, language=written_in, marked=make.marked(own)),) if own else ()
    return (*views, *mine)


def cautions_of_account(make: PieceMaker, account: PublicAccount) -> tuple[CautionView, ...]:
    """The cautions of an account: of its hazards, in its author's words, and of look-alikes that are more dangerous."""
    found = find_cautions(make.guide, (account.id,))
    own, language = make.told(account, "caution")
    shown = show_cautions(make, [f.hazard for f in found if f.of], own, language)
    views = (*shown, *cautions_of_look_alikes(make, account))
    kept = leave_out_repeats([view.local for view in views])
    return tuple(view if view.local in kept else replace(view, local="") for view in views)


def leave_out_repeats(sentences: Sequence[str]) -> tuple[str, ...]:
    """The sentences without those that a longer one, which begins alike, says again; what is said twice is listened to once."""
    words_of = {sentence: re.findall(r"\w+", sentence.casefold()) for sentence in dict.fromkeys(sentences)}

    def is_said_by(short: str, long: str) -> bool:
        few, many = words_of[short], words_of[long]
        said = sum(word in many for word in few)
        return len(few) < len(many) and few[:_ALIKE] == many[:_ALIKE] and said >= _SAME * len(few)

    return tuple(s for s in words_of if not any(is_said_by(s, other) for other in words_of))


def cautions_of_look_alikes(make: PieceMaker, account: PublicAccount) -> tuple[CautionView, ...]:
    """The cautions of look-alikes that are more dangerous than an account."""
    return tuple(_taken_for(make, found) for found in find_cautions(make.guide, (account.id,)) if found.like)


def brief_cautions(make: PieceMaker, account: PublicAccount) -> tuple[tuple[str, str], ...]:
    """Each caution of an account in a sentence or two that say what to do, and as short as it can be said."""
    own = [(view, _kind(make, view)) for view in cautions_of_account(make, account)]
    return tuple((" ".join(part for part in (kind, view.short or view.text) if part), kind or _short(view)) for view, kind in own)


def _kind(make: PieceMaker, view: CautionView) -> str:
    """What kind of danger it is, as a sentence, where what to do does not say it."""
    if not view.id:
        return f"{view.title}." if view.title != make.words("Caution") else ""
    return {"deadly": make.words("It is deadly poisonous."), "poisonous": make.words("It is poisonous.")}.get(
        harm_of(make.guide, view.id), ""
    )


def _short(view: CautionView) -> str:
    return f"{view.title}." if view.id else view.text


def cautions_of_set(
    make: PieceMaker, accounts: Iterable[str], hazards: Iterable[str] = (), plants: Iterable[str] = (), *, by_itself: bool = False
) -> tuple[CautionView, ...]:
    """The cautions of several accounts and plants, each naming whose it is, after those of a walk's or a place's hazards.

    `by_itself` keeps to species that hurt, and leaves out what law and place ask for.
    """
    shown, first = tuple(dict.fromkeys(accounts)), tuple(dict.fromkeys(hazards))
    found = find_cautions(make.guide, shown, first, plants)
    views = [
        _say_whose(make, f, anyone=f.hazard in first and not hurts_by_itself(make.guide, f.hazard))
        for f in found
        if not by_itself or hurts_by_itself(make.guide, f.hazard)
    ]
    views.sort(key=lambda view: not view.id)
    return (*views, *_own_words(make, shown))


def cautions_of_walk(make: PieceMaker, walk: PublicWalk, accounts: Iterable[str]) -> tuple[CautionView, ...]:
    """The cautions of a walk: its own, of its open stops and the plants there, and of accounts met on it."""
    places = [make.guide.places[stop.place] for stop in walk.stops if stop.place in make.guide.places]
    hazards = (*walk.hazards, *(hazard for place in places for hazard in place.hazards))
    plants = (plant for place in places for plant in place.plants if plant in make.guide.plants)
    return cautions_of_set(make, accounts, hazards, plants)


def eating_caution(make: PieceMaker, accounts: Iterable[str]) -> CautionView | None:
    """Against eating by a name that came out here, where anything among some accounts or taken for them is poisonous."""
    shown = tuple(accounts)
    poisonous = find_poisonous(make.guide, shown)
    if not poisonous and not any(NOT_FOR_EATING in make.guide.accounts[a].hazards for a in shown):
        return None
    general = _view(make, NOT_FOR_EATING)
    names = make.words("Poisonous: {names}.", names=make.words.listed(_names(make, poisonous))) if poisonous else ""
    text = " ".join(part for part in (names, general.text) if part)
    short = " ".join(part for part in (names, general.short) if part)
    return replace(general, title=make.words("Not for deciding what may be eaten"), text=text, short=short, id="")


def _view(make: PieceMaker, hazard: str) -> CautionView:
    say, caution = make.words, make.guide.cautions.get(hazard)
    if caution is None:
        return CautionView(hazard.replace("-", " ").capitalize(), "")
    return CautionView(say(caution.title), say(caution.text), say(caution.local), caution.id, say(caution.short))


def _names(make: PieceMaker, accounts: Iterable[str]) -> list[str]:
    return [make.map.account(make.guide.accounts[ident]).text for ident in accounts]


def _taken_for(make: PieceMaker, caution: FoundCaution) -> CautionView:
    """The caution of look-alikes: named for them, and what to do in its short form, for its text speaks of "this"."""
    others, view, harm = [other for other, _ in caution.like], _view(make, caution.hazard), harm_of(make.guide, caution.hazard)
    names = make.words.listed(_names(make, others))
    if harm in _TAKEN_FOR:
        one, several = _TAKEN_FOR[harm]
        title = make.words(several if len(others) > 1 else one, names=names)
    else:
        title = make.words("May be taken for {names} ({hazard})", names=names, hazard=view.title)
    general = _view(make, NOT_FOR_EATING).short if harm in EATEN else ""
    own = "" if view.text else make.guide.accounts[others[0]].caution.words
    text = view.short or general or view.text or own
    return CautionView(title, text, view.local, short=text)


def _say_whose(make: PieceMaker, caution: FoundCaution, *, anyone: bool) -> CautionView:
    """A caution that begins with those it speaks of; for one of a place, that is anyone who walks there."""
    view = _view(make, caution.hazard)
    like = [make.words("{other} (like {one})", other=other, one=one) for other, one in ((*_names(make, pair),) for pair in caution.like)]
    growing = [make.map.plant(plant).text for plant in caution.plants]
    names = ", ".join((*growing, *_names(make, caution.of), *like))
    if anyone or not names:
        return view
    return replace(view, text=f"{names}: {view.text}" if view.text else names, short=f"{names}: {view.short}" if view.short else "")


def _own_words(make: PieceMaker, accounts: Iterable[str]) -> Iterable[CautionView]:
    for ident in accounts:
        own, language = make.told(make.guide.accounts[ident], "caution")
        if own:
            (name,) = _names(make, (ident,))
            yield CautionView(make.words("Caution"), f"{name}: {own.words}", language=language)
