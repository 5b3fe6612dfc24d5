"""The practice page: pictures without their names, the look-alikes each may be, and a hint at what the picture can show."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from guidebuild.fieldwork.claims import find_marks
from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.guide.accounts import SimilarSpecies
from guidebuild.guide.characters import Character, CharacterKind
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.identify.readings import Scope
from guidebuild.identify.senses import Sense, sense_of
from guidebuild.identify.sentences import tell_apart_sentence
from guidebuild.identify.separation import find_separations, told_by
from guidebuild.views.pieces.cautions import eating_caution
from guidebuild.views.pieces.common import CautionView, LinkView, MarkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker


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
MOST_HINTS = 3
"""Parts that a hint names."""
WHOLE = ("whole plant", "in habitat")
"""Views of all that there is to see of its stage."""
MOST_QUESTIONS = 80
"""Questions on the practice page."""


@dataclass(frozen=True, slots=True)
class PracticePage:
    """Questions: which of these look-alikes is it."""

    questions: tuple[Question, ...]
    caution: CautionView | None = None


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
    photo = make.guide.photos[plate.id]
    best = _marks_seen(make, account, photo)
    choices = [Choice(make.map.account(account), True, "; ".join(m.said for m in best), best[0].language if best else "")]
    for similar in account.similar:
        other = others.get(similar.account)
        if other:
            choices.append(Choice(make.map.account(other), False, *say_difference(make, account, other, similar)))
    choices.sort(key=lambda c: c.link.text.casefold())
    looked_at = _looked_at(make, photo, account, others.values())
    hint = make.words("Look at: {what}", what=looked_at) if looked_at else ""
    return Question(replace(plate, alt=alt, marks=(), caption="", language=""), tuple(choices), hint)


def _marks_seen(make: PieceMaker, account: PublicAccount, photo: PublicPhoto) -> tuple[MarkView, ...]:
    """The first marks of the stage and sex on a picture, those with a pointer on it first; the first of all where it shows none."""
    chosen = find_marks(account, photo.stage, photo.sex)[:MOST_MARKS] or range(MOST_MARKS)
    marks = make.marks(account, beside=photo.id, chosen=chosen)
    return tuple(sorted(marks, key=lambda mark: mark.photo != photo.id))


def say_difference(make: PieceMaker, account: PublicAccount, other: PublicAccount, similar: SimilarSpecies) -> tuple[str, str]:
    """What separates two accounts in one line, and its language if foreign: the author's note, else the best character."""
    translated = make.translation(account)
    theirs = dict(translated.similar_notes).get(similar.account, NO_TEXT) if translated else NO_TEXT
    if theirs:
        return theirs.words, ""
    return similar.note.words or tell_apart_sentence(make.guide, account.id, other.id), make.foreign


def _looked_at(make: PieceMaker, photo: PublicPhoto, account: PublicAccount, others: Iterable[PublicAccount]) -> str:
    """What in this picture tells it from each look-alike: what the authors name, or else the easiest that the picture shows."""
    found: dict[str, None] = {}
    for other in others:
        shown = [s for s in find_separations(make.guide, account.id, other.id) if _can_show(photo, s.character, s.scope)]
        named = [s for wanted in told_by(make.guide, account.id, other.id) for s in shown if s.character.id == wanted]
        found.update(dict.fromkeys(separation.character.label for separation in named or shown[:1]))
    return make.words.listed(list(found)[:MOST_HINTS])


def _can_show(photo: PublicPhoto, character: Character, scope: Scope) -> bool:
    """Whether a picture shows a character: no sound, no smell and no length, and of its stage, sex and side."""
    if character.kind is CharacterKind.RANGE or sense_of(character.label) is not Sense.SIGHT:
        return False
    stages = {scope.stage} if scope.stage else character.stages
    sexes = {scope.sex} if scope.sex else character.sexes
    of_stage = not stages or photo.stage in stages
    return of_stage and (not sexes or photo.sex in sexes) and (not character.view or photo.view in ("", *WHOLE, character.view))
