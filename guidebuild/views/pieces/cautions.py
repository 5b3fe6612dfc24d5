"""Cautions as they are shown: of one account, of several at once, of a place or plant, and against eating by a name found here."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.guide.dangers import (
    EATEN,
    HARMS,
    NOT_FOR_EATING,
    FoundCaution,
    find_cautions,
    find_poisonous,
    harm_of,
    hurts_by_itself,
    keep_worst,
)
from guidebuild.guide.findings import NOWHERE
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.guide.text.sentences import split_sentences
from guidebuild.identify.sentences import call_by_name
from guidebuild.views.pieces.common import CautionView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.words import WRITTEN_IN

_ALIKE, _SAME = 3, 0.85
_SAID_HARMS = {
    "deadly": ("is deadly poisonous", "are deadly poisonous"),
    "poisonous": ("is poisonous", "are poisonous"),
    "touch": ("is harmful to touch", "are harmful to touch"),
    "venomous": ("is venomous", "are venomous"),
    "sting": ("can sting", "can sting"),
    "bite": ("can bite", "can bite"),
}
"""What is said of one and of several that hurt so."""


def show_cautions(make: PieceMaker, hazards: Iterable[str], own: Inline = NO_TEXT, language: str | None = None) -> tuple[CautionView, ...]:
    """The cautions of some hazards, the author's own words last, in the guide's language where no other is said."""
    views = [view_caution(make, hazard) for hazard in hazards]
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
    """The cautions of look-alikes that are more dangerous than an account: one of all that hurt alike, so that each is named once.

    What to do about a hazard is said with the first of them.
    """
    hazards_of: dict[str, list[str]] = {}
    for found in find_cautions(make.guide, (account.id,)):
        for other, _ in found.like:
            hazards_of.setdefault(other, []).append(found.hazard)
    alike: dict[tuple[str, ...], list[str]] = {}
    for other, hazards in hazards_of.items():
        alike.setdefault(tuple(hazards), []).append(other)
    worst_first = sorted(alike, key=lambda hazards: (min(_weight(make, h, ()) for h in hazards), -len(hazards)))
    told: set[str] = set()
    views = []
    for shared in worst_first:
        views.append(_taken_for(make, shared, alike[shared], told))
        told.update(shared)
    return tuple(views)


def brief_cautions(make: PieceMaker, account: PublicAccount) -> tuple[str, str]:
    """The cautions of an account with what to do about each, and as short as they can be said; both empty where there is none."""
    views = cautions_of_account(make, account)
    harms = {view: harm_of(make.guide, view.id) for view in views if view.id}
    said = _say_harms(make, harms.values(), several=False)
    kind = make.words("It {harms}.", harms=said) if said else ""
    whole = (kind, *(" ".join(part for part in (_own_title(make, view), view.short or view.text) if part) for view in views))
    short = (kind, *(_say_short(make, view) for view in views if harms.get(view) not in _SAID_HARMS))
    return " ".join(filter(None, whole)), " ".join(filter(None, short))


def _own_title(make: PieceMaker, view: CautionView) -> str:
    """A title that says more than that it is a caution, as a sentence: whom it may be taken for."""
    return "" if view.id or view.title == make.words("Caution") else f"{view.title}."


def _say_short(make: PieceMaker, view: CautionView) -> str:
    return f"{view.title}." if view.id else _own_title(make, view) or view.text


def _say_harms(make: PieceMaker, harms: Iterable[str], *, several: bool) -> str:
    """How something hurts, as what is said of it: `is poisonous and harmful to touch`; empty where that is not known."""
    by_verb: dict[str, list[str]] = {}
    for harm in keep_worst(harms):
        if harm in _SAID_HARMS:
            verb, _, how = make.words(_SAID_HARMS[harm][several]).partition(" ")
            by_verb.setdefault(verb, []).append(how)
    return make.words.listed([f"{verb} {make.words.listed(how)}" for verb, how in by_verb.items()])


def cautions_of_set(
    make: PieceMaker, accounts: Iterable[str], hazards: Iterable[str] = (), plants: Iterable[str] = (), *, by_itself: bool = False
) -> tuple[CautionView, ...]:
    """The cautions of several accounts and plants, each naming whose it is, the worst first, after those of a walk's or a place's hazards.

    `by_itself` keeps to species that hurt, and leaves out what law and place ask for.
    """
    shown, first = tuple(dict.fromkeys(accounts)), tuple(dict.fromkeys(hazards))
    found = sorted(find_cautions(make.guide, shown, first, plants), key=lambda f: _weight(make, f.hazard, first))
    views = [
        _say_whose(make, f, anyone=f.hazard == NOT_FOR_EATING or (f.hazard in first and not hurts_by_itself(make.guide, f.hazard)))
        for f in found
        if not by_itself or hurts_by_itself(make.guide, f.hazard)
    ]
    views.sort(key=lambda view: not view.id)
    return (*views, *_own_words(make, shown))


def _weight(make: PieceMaker, hazard: str, first: Collection[str]) -> int:
    """Where a caution stands among those of several: less comes first."""
    if hazard in first:
        return -1
    return HARMS.index(harm_of(make.guide, hazard) or "none")


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
    names = make.words("Poisonous: {names}.", names=make.words.listed(_names(make, poisonous))) if poisonous else ""
    title = make.words("Not for deciding what may be eaten")
    return replace(view_caution(make, NOT_FOR_EATING), title=title, title_language="", lead=names, id="")


def view_caution(make: PieceMaker, hazard: str) -> CautionView:
    """The caution of a hazard; one of the guide's own is all in its language where the reader's lacks any of it."""
    caution = make.guide.cautions.get(hazard)
    if caution is None:
        return CautionView(hazard.replace("-", " ").capitalize(), "", title_language=make.foreign)
    given = (caution.title, caution.text, caution.local, caution.short)
    said = tuple(map(make.words, given))
    is_own = caution.at != NOWHERE
    if make.foreign and is_own and any(one and one == typed for one, typed in zip(said, given, strict=True)):
        said, written_in = given, make.foreign
    else:
        written_in = ""
    title, text, local, short = said
    return CautionView(title, text, local, caution.id, short, written_in, written_in, written_in)


def _names(make: PieceMaker, accounts: Iterable[str]) -> list[str]:
    return [make.map.account(make.guide.accounts[ident]).text for ident in accounts]


def _called(make: PieceMaker, accounts: Iterable[str]) -> list[str]:
    """The names of some accounts as a sentence takes them: in English with an article."""
    if make.words.language.partition("-")[0] != WRITTEN_IN:
        return _names(make, accounts)
    shown = [make.guide.accounts[ident] for ident in accounts]
    return [
        call_by_name(make.guide, account, make.map.account(account).text) if account.vernacular else account.name.plain for account in shown
    ]


def _taken_for(make: PieceMaker, hazards: Sequence[str], others: Sequence[str], told: Collection[str]) -> CautionView:
    """The caution of look-alikes: named for them, and what to do in its short form, for its text speaks of "this".

    For the hazards that are `told`, what to do has been said.
    """
    harms = {hazard: harm_of(make.guide, hazard) for hazard in hazards}
    titles = [view for hazard in hazards if harms[hazard] not in _SAID_HARMS and not (view := view_caution(make, hazard)).title_language]
    names, said = make.words.listed(_called(make, others)), _say_harms(make, harms.values(), several=len(others) > 1)
    if titles:
        names = f"{names} ({make.words.listed([view.title for view in titles])})"
    title = make.words("May be taken for {names}, which {harms}", names=names, harms=said) if said else ""
    new = [hazard for hazard in hazards if hazard not in told]
    language = next((found for hazard in new if (found := _what_to_do(make, hazard, others[0])[1])), "")
    say = make.in_main if language else make  # where one of them is not in the reader's language, none is
    local = " ".join(leave_out_repeats([local for hazard in new if (local := view_caution(say, hazard).local)]))
    to_do = [_what_to_do(say, hazard, others[0])[0] for hazard in new]
    left = [_leave_out_said(one, local) for one in to_do]
    whole, short = (_in_doubt(say, " ".join(dict.fromkeys(told)), several=len(others) > 1) for told in (left, to_do))
    title = title or make.words("May be taken for {names}", names=names)
    return CautionView(title, whole, local, short=short, language=language, local_language=language)


def _in_doubt(make: PieceMaker, what_to_do: str, *, several: bool) -> str:
    """What to do about a look-alike, so that nobody takes it for said of the harmless one."""
    if not what_to_do:
        return ""
    if several:
        return make.words("If in doubt, treat it as one of these: {told}", told=what_to_do)
    return make.words("If in doubt, treat it as that one: {told}", told=what_to_do)


def _what_to_do(make: PieceMaker, hazard: str, other: str) -> tuple[str, str]:
    """What to do about a hazard of another species, and its language where it is not the reader's."""
    view = view_caution(make, hazard)
    general = view_caution(make, NOT_FOR_EATING) if harm_of(make.guide, hazard) in EATEN else view
    told = next(((text, of.language) for text, of in ((view.short, view), (general.short, general), (view.text, view)) if text), None)
    own, language = make.told(make.guide.accounts[other], "caution")
    return told or (own.words, language)


def _leave_out_said(text: str, local: str) -> str:
    """A text without those of its clauses that stand, said at greater length, in what follows it."""
    clauses = text.removesuffix(".").split("; ")
    kept = leave_out_repeats([*clauses, *split_sentences(local)])
    left = "; ".join(clause for clause in clauses if clause in kept)
    return f"{left}." if left and text.endswith(".") else left


def _say_whose(make: PieceMaker, caution: FoundCaution, *, anyone: bool) -> CautionView:
    """A caution that begins with those it speaks of; for one of a place, that is anyone who walks there."""
    view = view_caution(make, caution.hazard)
    like = [
        make.words("{other} (looks like {one})", other=other, one=one) for other, one in ((*_names(make, pair),) for pair in caution.like)
    ]
    growing = [make.map.plant(plant).text for plant in caution.plants]
    whose = (*growing, *_names(make, caution.of), *like)
    if anyone or not whose:
        return view
    names = make.words("Each of {names}", names=make.words.listed(whose)) if len(whose) > 1 else whose[0]
    return replace(view, lead=f"{names}:" if view.text else names)


def _own_words(make: PieceMaker, accounts: Iterable[str]) -> Iterable[CautionView]:
    for ident in accounts:
        own, language = make.told(make.guide.accounts[ident], "caution")
        if own:
            (name,) = _names(make, (ident,))
            yield CautionView(make.words("Caution"), own.words, language=language, lead=f"{name}:", marked=make.marked(own))
