"""Pages that tell look-alikes apart or find a name: the hub, finder, index of names, practice.

Comparisons and the key have modules of their own.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace

from guidebuild.fieldwork.claims import find_marks
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.accounts import SimilarSpecies
from guidebuild.guide.characters import Ease
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.identify.finder import FinderCharacter, finder_table
from guidebuild.identify.senses import Sense, sense_of
from guidebuild.identify.sentences import tell_apart_sentence
from guidebuild.views.pieces.cautions import eating_caution
from guidebuild.views.pieces.common import CautionView, LinkView, MarkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.site.lists import ListEntry, make_entry
from guidebuild.views.telling.compare import scope_of_many


@dataclass(frozen=True, slots=True)
class TellPage:
    """The ways to tell species apart: helps first, then every comparison."""

    helps: tuple[LinkView, ...]
    sets: tuple[LinkView, ...]
    pairs: tuple[LinkView, ...]


@dataclass(frozen=True, slots=True)
class FindItem:
    """One page that can be found, by its title and by `words` that stand for it."""

    link: LinkView
    kind: str
    words: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class FinderPage:
    """What has been seen, and what it may be. `table` is the finder's table as JSON; `taxa` stand in its order."""

    scope: str
    characters: tuple[FinderCharacter, ...]
    eases: tuple[str, ...]  # words for ease 0–3
    taxa: tuple[ListEntry, ...]
    table: str
    caution: CautionView | None = None


@dataclass(frozen=True, slots=True)
class FindPage:
    """Everything that has a name, in alphabetical order."""

    items: tuple[FindItem, ...]
    asks: str  # what may be written to find something


@dataclass(frozen=True, slots=True)
class Choice:
    """One possible answer, and what the answerer learns from it."""

    link: LinkView
    right: bool
    why: str
    language: str = ""  # of the reason, where it is not in the page's


@dataclass(frozen=True, slots=True)
class Question:
    """A picture without its name, and the look-alikes it may be."""

    photo: PhotoView
    choices: tuple[Choice, ...]
    hint: str


MOST_MARKS = 3
"""Marks in the answer: the first ones of what the picture shows."""
MOST_QUESTIONS = 80
"""Questions on the practice page."""


@dataclass(frozen=True, slots=True)
class PracticePage:
    """Questions: which of these look-alikes is it."""

    questions: tuple[Question, ...]
    caution: CautionView | None = None


def finder_page(make: PieceMaker) -> FinderPage | None:
    """The finder; None where no character tells anything apart."""
    table = finder_table(make.guide)
    if not table.characters:
        return None
    return FinderPage(
        scope=scope_of_many(make, table.scope),
        characters=table.characters,
        eases=tuple(make.words(ease.words) for ease in Ease),
        taxa=tuple(make_entry(make, make.guide.accounts[taxon]) for taxon in table.taxa),
        table=json.dumps(table.plain(), ensure_ascii=False, separators=(",", ":")),
        caution=eating_caution(make, table.taxa),
    )


def find_page(make: PieceMaker) -> FindPage:
    """The index of names: accounts by every name, plant and mark; plants, places, words and families by their own."""
    items = [*(_account_item(make, a) for a in make.guide.accounts.values()), *_other_items(make)]
    asks = (
        make.words("A name, plant, place or mark; one slip of the finger does not matter")
        if make.guide.plants
        else make.words("A name, place or mark; one slip of the finger does not matter")
    )
    return FindPage(tuple(sorted(items, key=lambda item: item.link.text.casefold())), asks)


def _account_item(make: PieceMaker, account: PublicAccount) -> FindItem:
    hosts = [make.map.plant(h.plant) for h in account.host_plants]
    names = [account.vernacular, *account.other_vernaculars, account.name.plain, *(s.plain for s in account.synonyms)]
    names += [t.vernacular for t in account.translations]
    about = [account.family, *(write_plain(m.words) for m in make.marks(account))]
    about += [f"{h.text} {h.name.plain if h.name else ''}" for h in hosts]
    synonyms = ", ".join(s.plain for s in account.synonyms)
    note = make.words("also named {names}", names=synonyms) if synonyms else ""
    return FindItem(make.map.account(account), make.words("species"), " | ".join(filter(None, [*names, *about])), note)


def _other_items(make: PieceMaker) -> Iterator[FindItem]:
    guide, w = make.guide, make.words
    for plant in guide.plants.values():
        link = make.map.plant(plant.id)
        yield FindItem(link, w("plant"), f"{link.text} | {link.name.plain if link.name else ''}")
    for place in guide.places.values():
        yield FindItem(make.map.place(place.id), w("place"), " | ".join((place.name, place.area, *(h.words for h in place.habitat))))
    for term in guide.terms.values():
        yield FindItem(LinkView(make.map.page(f"glossary.html#{term.id}"), term.word), w("word"), " | ".join((term.word, *term.also)))
    for family in sorted({a.family for a in guide.accounts.values() if a.family}):
        yield FindItem(make.map.family(family), w("family"), family)


def practice_page(make: PieceMaker) -> PracticePage:
    """One question for each account that has look-alikes and a plate; of a large guide, as many as one sitting needs, from all over it."""
    able = [account for account in make.guide.accounts.values() if account.similar and account.photos]
    step = max(1, -(-len(able) // MOST_QUESTIONS))
    questions = (_question(make, account) for account in able[::step])
    return PracticePage(tuple(q for q in questions if q), eating_caution(make, (account.id for account in able)))


def _question(make: PieceMaker, account: PublicAccount) -> Question | None:
    plate = make.plate(account)
    others = {s.account: o for s in account.similar if (o := make.map.account_called(s.account))}
    if plate is None or not others:
        return None
    if plate.view in plate.stage.split():  # “in flower, flower” says one thing twice
        plate = replace(plate, view="")
    marks = "; ".join(m.words for m in make.marks(account) if m.photo == plate.id)
    seen = ", ".join(filter(None, (plate.stage, plate.sex, plate.view)))
    # The author's alt text may name the animal: that would be the answer.
    alt = make.words(
        "A picture without its name: {seen}. {marks}", seen=seen, marks=f"{marks[:1].upper()}{marks[1:]}." if marks else ""
    ).strip()
    best = _marks_seen(make, account, plate.id)
    choices = [Choice(make.map.account(account), True, "; ".join(m.said for m in best), best[0].language if best else "")]
    for similar in account.similar:
        other = others.get(similar.account)
        if other:
            choices.append(Choice(make.map.account(other), False, *say_difference(make, account, other, similar)))
    choices.sort(key=lambda c: c.link.text.casefold())
    looked_at = _looked_at(make, account)
    hint = make.words("Look at: {what}", what=looked_at) if looked_at else ""
    return Question(replace(plate, alt=alt, marks=(), caption="", language=""), tuple(choices), hint)


def _marks_seen(make: PieceMaker, account: PublicAccount, plate: str) -> tuple[MarkView, ...]:
    """The first marks of the stage and sex on a picture, whatever its side; the first of all where it shows none."""
    photo = make.guide.photos[plate]
    chosen = find_marks(account, photo.stage, photo.sex)[:MOST_MARKS] or range(MOST_MARKS)
    return make.marks(account, beside=plate, chosen=chosen)


def say_difference(make: PieceMaker, account: PublicAccount, other: PublicAccount, similar: SimilarSpecies) -> tuple[str, str]:
    """What separates two accounts in one line, and its language if foreign: the author's note, else the best character."""
    translated = make.translation(account)
    theirs = dict(translated.similar_notes).get(similar.account, NO_TEXT) if translated else NO_TEXT
    if theirs:
        return theirs.words, ""
    return similar.note.words or tell_apart_sentence(make.guide, account.id, other.id), make.foreign


def _looked_at(make: PieceMaker, account: PublicAccount) -> str:
    """What a picture can show of what tells it apart: no call and no smell."""
    told_by = dict.fromkeys(c for s in account.similar for c in s.tell_by if c in make.guide.characters)
    labels = (make.guide.characters[c].label for c in told_by)
    return make.words.listed([label for label in labels if sense_of(label) is Sense.SIGHT][:3])
