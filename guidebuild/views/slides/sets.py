"""Sets of slides: of an account, of two look-alikes, of a walk, and of what is out in ten days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import replace

from guidebuild.fieldwork.out import Chance, Out, out_on
from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.fieldwork.walks import cards_for, walk_pack
from guidebuild.guide.seasons import dekad_of
from guidebuild.identify.senses import Sense, sense_of
from guidebuild.views.outdoors.walk import CARDS, walk_pack_view
from guidebuild.views.pieces.cautions import cautions_of_account, cautions_of_set
from guidebuild.views.pieces.common import PhotoView, Wording
from guidebuild.views.pieces.laws import laws_of_account, laws_of_set
from guidebuild.views.pieces.links import dekad_path
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.slides.pieces import (
    LETTERS,
    beside_slide,
    care_slide,
    choose_picture,
    credits_slide,
    name_of,
    plate_slide,
    say_whose,
    when_slide,
)
from guidebuild.views.slides.slide import Slide, SlideKind, SlideSet
from guidebuild.views.telling.compare import Comparer, compare_path

FEW = 2
"""Where no more are met, a slide says when each is about."""
MOST_ALIKE, MOST_MET = 3, 4
"""So many look-alikes of an account have a slide of their own; so many species of a walk or of ten days."""


def account_set(make: PieceMaker, account: PublicAccount) -> SlideSet:
    """An account: the question, its marks, each look-alike beside it, when and where, care, credits."""
    name, say, path = name_of(make, account), make.words, make.map.account(account).path
    plate = plate_slide(make, account)
    number = len(plate.marks)
    is_seen = all(sense_of(mark.words) is Sense.SIGHT for mark in plate.marks)
    look = say.count("Look for {n} thing.", "Look for {n} things.", number)
    know = say.count("Know it by {n} thing.", "Know it by {n} things.", number)
    hook = (look if is_seen else know) if number else ""
    question = Slide(
        SlideKind.QUESTION,
        name.short,
        make.guide.settings.title,
        name,
        lines=(Wording(hook),) if hook else (),
        photo=_unmarked(make, account),
        note=plate.note,
    )
    cautions = (*cautions_of_account(make, account), *laws_of_account(make, account))
    when, care = when_slide(make, [account]), care_slide(make, name.short, cautions, [account])
    others = _other_pictures(make, account, plate.photo)
    when = replace(when, photo=others[0], note=say_whose(make, others[0]), may_go=True) if others else when
    care = replace(care, photo=others[1], note=say_whose(make, others[1]), may_go=True) if len(others) > 1 and not cautions else care
    slides = [question, plate, *_look_alikes(make, account), when, care]
    slides.append(credits_slide(make, slides, path, [account]))
    alike = tuple(s.account for s in account.similar if s.account in make.guide.accounts)
    return _set(make, account.id, name.short, slides, (account.id, *alike[:MOST_ALIKE]))


def _other_pictures(make: PieceMaker, account: PublicAccount, plate: PhotoView | None) -> tuple[PhotoView, ...]:
    """Further pictures of the whole animal: of another stage first."""
    shown = make.guide.photos[plate.id] if plate else None
    photos = [p for p in make.guide.photos_of(account) if p.file and not p.part and (shown is None or p.id != shown.id)]
    photos.sort(key=lambda photo: shown is not None and photo.stage == shown.stage)
    return tuple(make.photo(photo) for photo in photos)


def _unmarked(make: PieceMaker, account: PublicAccount, stages: Sequence[str] = ()) -> PhotoView | None:
    photo = choose_picture(make, account, stages)
    return replace(photo, marks=()) if photo else None


def _look_alikes(make: PieceMaker, account: PublicAccount) -> Iterator[Slide]:
    others = [make.guide.accounts[s.account] for s in account.similar if s.account in make.guide.accounts and s.account != account.id]
    for other in others[:MOST_ALIKE]:
        title = make.words("{one} or {other}?", one=name_of(make, account).short, other=name_of(make, other).short)
        slide = beside_slide(make, Comparer(make).show((account.id, other.id)), title)
        if slide:
            yield slide


def pair_set(make: PieceMaker, one: PublicAccount, other: PublicAccount) -> SlideSet:
    """Two look-alikes: which is it, each by itself, what tells them apart, when, care, credits."""
    say, both = make.words, [one, other]
    compared = Comparer(make).show((one.id, other.id))
    names = [name_of(make, account).short for account in both]
    either = say("{one} or {other}?", one=names[0], other=names[1])
    question = beside_slide(make, compared, say("Which is which?"), answered=False)
    question = replace(question, lines=(Wording(either),)) if question else None
    answer = beside_slide(make, compared, either)
    order = [taxon.id for taxon in compared.taxa]
    plates = [plate_slide(make, account, about=LETTERS[order.index(account.id)]) for account in both]
    slides = [slide for slide in (question, *plates, answer, when_slide(make, both)) if slide]
    ids = (one.id, other.id)
    cautions = (*cautions_of_set(make, ids), *laws_of_set(make, ids))
    slides.append(care_slide(make, say.listed(names), cautions, both))
    slides.append(credits_slide(make, slides, make.map.page(compare_path(ids)), both))
    return _set(make, pair_id(ids), say.listed(names), slides, ids)


def pair_id(ids: Sequence[str]) -> str:
    """What the set of two look-alikes is called: both ids, in alphabetical order."""
    return "--".join(sorted(ids))


def walk_id(walk: PublicWalk) -> str:
    """What the set of a walk is called."""
    return f"walk-{walk.id}"


def walk_set(make: PieceMaker, walk: PublicWalk) -> SlideSet:
    """A walk: when and where to meet, what may be met with its marks, what to beware of, credits."""
    say, pack = make.words, walk_pack_view(make.guide, walk, make.language)
    met: dict[str, tuple[str, ...]] = {}
    for stop in pack.stops:
        for one in stop.met:
            met[one.id] = tuple(dict.fromkeys((*met.get(one.id, ()), *one.stage_ids)))
    ranked = [card for card in cards_for(walk_pack(make.guide, walk), CARDS) if card in met]
    chosen = [make.guide.accounts[ident] for ident in dict.fromkeys((*ranked, *met))][:MOST_MET]
    lines = [Wording(f"{pack.when}, {pack.starts}–{pack.ends}")]
    lines += [Wording(say("Meet: {place}", place=pack.meet))] if pack.meet else []
    first = _unmarked(make, chosen[0], met[chosen[0].id]) if chosen else None
    question = Slide(SlideKind.QUESTION, pack.title, say("A walk"), lines=tuple(lines), photo=first)
    plates = [plate_slide(make, account, met[account.id], say("You may meet")) for account in chosen]
    bring = [Wording(say("Bring: {things}", things=say.listed(list(pack.bring)))).as_sentence()] if pack.bring else []
    care = care_slide(make, pack.title, pack.cautions)
    slides = [question, *plates, *_when_few(make, chosen), replace(care, lines=(*bring, *care.lines))]
    slides.append(credits_slide(make, slides, make.map.page(f"walks/{walk.id}.html")))
    return _set(make, walk_id(walk), pack.title, slides, tuple(account.id for account in chosen))


def dekad_set(make: PieceMaker, day: dt.date) -> SlideSet | None:
    """What is out in ten days: names, then the likeliest with the stage that is out, care, credits; None where nothing is."""
    say, dekad = make.words, dekad_of(day)
    out = [one for one in out_on(make.guide, day) if one.chance is not Chance.OUTSIDE and one.stages]
    if not out:
        return None
    when = dekad_words(dekad, say)
    chosen = [(make.guide.accounts[one.account], one) for one in out[:MOST_MET]]
    names = Wording(say.listed([_name_out(make, account, one) for account, one in chosen])).as_sentence()
    first = _unmarked(make, chosen[0][0], chosen[0][1].stages)
    question = Slide(SlideKind.QUESTION, say("Out now: {when}", when=when), make.guide.settings.title, lines=(names,), photo=first)
    plates = [plate_slide(make, account, one.stages, say("Out now")) for account, one in chosen]
    ids = tuple(account.id for account, _ in chosen)
    care = care_slide(make, when, (*cautions_of_set(make, ids), *laws_of_set(make, ids)))
    slides = [question, *plates, *_when_few(make, [account for account, _ in chosen]), care]
    slides.append(credits_slide(make, slides, make.map.page(dekad_path(dekad)), [account for account, _ in chosen]))
    return _set(make, "now", when, slides, ids)


def _when_few(make: PieceMaker, accounts: Sequence[PublicAccount]) -> tuple[Slide, ...]:
    """Where few are met there is room to say when each is about."""
    return (when_slide(make, accounts),) if 0 < len(accounts) <= FEW else ()


def _name_out(make: PieceMaker, account: PublicAccount, out: Out) -> str:
    stages = make.words.listed([make.stage_word(account, stage) for stage in out.stages])
    return f"{name_of(make, account).short} ({stages})"


def _set(make: PieceMaker, ident: str, title: str, slides: Sequence[Slide], accounts: Sequence[str]) -> SlideSet:
    return SlideSet(ident, title, make.language, make.guide.settings.title, tuple(slides), tuple(accounts))
