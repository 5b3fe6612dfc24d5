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
from guidebuild.views.pieces.common import NO_WORDS, CautionView, LinkView, MarkView, PhotoView, Wording, join_wordings
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.state_pictures import WHOLE


@dataclass(frozen=True, slots=True)
class Choice:
    """One possible answer, and what the answerer learns from it."""

    link: LinkView
    right: bool
    why: Wording


@dataclass(frozen=True, slots=True)
class Question:
    """A picture without its name, and the look-alikes it may be."""

    photo: PhotoView
    choices: tuple[Choice, ...]
    hint: Wording


MOST_MARKS = 3
"""Marks in the answer: the first ones of what the picture shows."""
MOST_HINTS = 3
"""Parts that a hint names."""
MOST_CHOICES = 7
"""Look-alikes among the answers to a question: the first that the author lists."""
MOST_QUESTIONS = 60
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
    listed = tuple(account.similar)[:MOST_CHOICES]
    others = {s.account: o for s in listed if (o := make.map.account_called(s.account))}
    if plate is None or not others:
        return None
    if plate.view in plate.stage.split():  # “in flower, flower” says one thing twice
        plate = replace(plate, view="")
    photo = make.guide.photos[plate.id]
    best = _marks_seen(make, account, photo)
    why = join_wordings("; ", [m.said for m in best], best[0].language if best else "")
    choices = [Choice(make.map.account(account), True, why)]
    for similar in listed:
        other = others.get(similar.account)
        if other:
            choices.append(Choice(make.map.account(other), False, say_difference(make, account, other, similar)))
    choices.sort(key=lambda c: c.link.text.casefold())
    alt = _say_without_name(make, account, photo)
    shown = replace(plate, alt=alt.words, alt_language=alt.language or make.language if make.foreign else "", marks=(), caption="")
    return Question(shown, tuple(choices), _looked_at(make, photo, account, others.values()))


def _say_without_name(make: PieceMaker, account: PublicAccount, photo: PublicPhoto) -> Wording:
    """What a picture shows: the author's alt text may name the animal, and that would be the answer."""
    marks = make.marks_in_one(account, [number for number, mark in enumerate(account.diagnostics) if mark.photo == photo.id])
    language = marks[0].language if marks else ""
    say = make.in_main if language else make
    shown = say.photo(photo, account)
    view = "" if shown.view in shown.stage.split() else shown.view
    seen = ", ".join(filter(None, (shown.stage, shown.sex, view)))
    told = "; ".join(mark.words for mark in marks)
    message = say.words("A picture without its name: {seen}. {marks}", seen=seen, marks=f"{told[:1].upper()}{told[1:]}." if told else "")
    return Wording(message.strip(), None, language)


def _marks_seen(make: PieceMaker, account: PublicAccount, photo: PublicPhoto) -> tuple[MarkView, ...]:
    """The first marks of the stage and sex on a picture, those with a pointer on it first; the first of all where it shows none."""
    chosen = find_marks(account, photo.stage, photo.sex)[:MOST_MARKS] or range(MOST_MARKS)
    marks = make.marks_in_one(account, chosen, beside=photo.id)
    return tuple(sorted(marks, key=lambda mark: mark.photo != photo.id))


def say_difference(make: PieceMaker, account: PublicAccount, other: PublicAccount, similar: SimilarSpecies) -> Wording:
    """What separates two accounts in one line: the author's note, else the best character."""
    translated = make.translation(account)
    theirs = dict(translated.similar_notes).get(similar.account, NO_TEXT) if translated else NO_TEXT
    if theirs:
        return make.word(theirs, "")
    return make.word(similar.note) or Wording(tell_apart_sentence(make.guide, account.id, other.id), None, make.foreign)


def _looked_at(make: PieceMaker, photo: PublicPhoto, account: PublicAccount, others: Iterable[PublicAccount]) -> Wording:
    """What in this picture tells it from each look-alike: what the authors name, or else the easiest that the picture shows.

    It is said in the guide's language, as characters are.
    """
    found: dict[str, None] = {}
    for other in others:
        shown = [s for s in find_separations(make.guide, account.id, other.id) if _can_show(photo, s.character, s.scope)]
        named = [s for wanted in told_by(make.guide, account.id, other.id) for s in shown if s.character.id == wanted]
        found.update(dict.fromkeys(separation.character.label for separation in named or shown[:1]))
    say = make.in_main.words
    return Wording(say("Look at: {what}", what=say.listed(list(found)[:MOST_HINTS])), None, make.foreign) if found else NO_WORDS


def _can_show(photo: PublicPhoto, character: Character, scope: Scope) -> bool:
    """Whether a picture shows a character: no sound, no smell and no length, and of its stage, sex and side."""
    if character.kind is CharacterKind.RANGE or sense_of(character.label) is not Sense.SIGHT:
        return False
    stages = {scope.stage} if scope.stage else character.stages
    sexes = {scope.sex} if scope.sex else character.sexes
    of_stage = not stages or photo.stage in stages
    return of_stage and (not sexes or photo.sex in sexes) and (not character.view or photo.view in ("", *WHOLE, character.view))
