"""What is shown beside the states that one chooses between: the author's own picture, or one that marks and scores lead to."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.asking import remember
from guidebuild.guide.characters import Character, CharacterKind, Ease, PictureOfState
from guidebuild.identify.readings import Scope, reading_in, score_sheet
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.parts import PieceMaker

WHOLE = ("whole plant", "in habitat")
"""Views of all that there is to see of a stage."""
_WORD = re.compile(r"\w+")


@dataclass(frozen=True, slots=True)
class StatePicture:
    """A small picture of a state, beside its words: a photo cut round `point` (without one, to its subject), or a drawn sign."""

    photo: PhotoView | None = None
    point: tuple[float, float] | None = None
    sign: str = ""


Pictures = Mapping[tuple[str, str], StatePicture]
"""By the ids of character and state."""


@dataclass(frozen=True, slots=True)
class _Example:
    """A photo that shows a state, of an account that shows no other: the more words agree, the better."""

    photo: PublicPhoto
    point: tuple[float, float] | None
    words: int


def find_state_pictures(make: PieceMaker, scope: Scope) -> Pictures:
    """Find a picture for each state of each character as a stage shows it; states of which there is none are left out.

    A pointer on the part that a character names, in an account that shows one state alone, points at that state. Of a character
    of the whole body, a whole picture of such an account shows it. Nothing is shown of what cannot be seen.
    """
    return remember(make.kept, ("state pictures", f"{scope.stage}/{scope.sex}"), lambda: dict(_find_all(make, scope)))


def _find_all(make: PieceMaker, scope: Scope) -> Iterator[tuple[tuple[str, str], StatePicture]]:
    names = _PlaceNames(make)
    for character in make.guide.characters.values():
        if character.kind is CharacterKind.RANGE or (character.stages and scope.stage not in character.stages):
            continue
        own = {picture.state: picture for picture in character.pictures}
        found = _find_examples(make, character, scope, names) if len(own) < len(character.states) else {}
        for state in character.states:
            if state.id in own:
                picture = _show_own(make, own[state.id])
            else:
                example = found.get(state.id)
                picture = _show(make, example.photo, example.point) if example else None
            if picture:
                yield (character.id, state.id), picture


def _show_own(make: PieceMaker, own: PictureOfState) -> StatePicture | None:
    photo = make.guide.photos.get(own.photo)
    if photo is not None and _may_be_cut(make, photo):
        return _show(make, photo, own.point)
    return StatePicture(sign=own.sign) if own.sign else None


def _show(make: PieceMaker, photo: PublicPhoto, point: tuple[float, float] | None) -> StatePicture:
    small = make.small_photo(photo)
    return StatePicture(replace(small, measured=photo.measured), point)


def _may_be_cut(make: PieceMaker, photo: PublicPhoto) -> bool:
    licence = make.guide.licences.get(photo.licence)
    return bool(photo.file) and (licence is None or licence.derivatives)


def _find_examples(make: PieceMaker, character: Character, scope: Scope, names: _PlaceNames) -> dict[str, _Example]:
    """The best example of each state, the first in the guide's order among equals."""
    best: dict[str, _Example] = {}
    if not character.view or character.ease is Ease.UNDER_A_LENS:  # what is heard or smelt, or too small for a photo
        return best
    wanted = Scope(scope.stage, min(character.sexes)) if character.sexes and not scope.sex else scope
    for account in make.guide.accounts.values():
        scores = score_sheet(make.guide, account.id).get(character.id, ())
        reading = reading_in(scores, wanted) if scores else None
        if reading is None or reading.rare or len(reading.usual) != 1:
            continue
        (state,) = reading.usual
        for example in _examples(make, account, character, wanted, names):
            if state not in best or example.words > best[state].words:
                best[state] = example
    return best


def _examples(make: PieceMaker, account: PublicAccount, character: Character, scope: Scope, names: _PlaceNames) -> Iterator[_Example]:
    said = {s for state in character.states for s in _words(f"{state.words} {state.id}")}
    if character.part:
        for mark in account.diagnostics:
            photo = make.guide.photos.get(mark.photo)
            points = photo and mark.point and _shows(mark, photo, character, scope) and _may_be_cut(make, photo)
            if photo and points and character.id in names.named_first(mark.mark.words):
                yield _Example(photo, mark.point, len(said & set(_words(mark.mark.words))) + 1)
        return
    for photo in make.guide.photos.values():
        of_it = photo.account == account.id and photo.view == character.view and not photo.part
        if of_it and photo.stage == scope.stage and (not scope.sex or photo.sex == scope.sex) and _may_be_cut(make, photo):
            yield _Example(photo, None, 2 if photo.measured else 1)


def _shows(mark: FieldMark, photo: PublicPhoto, character: Character, scope: Scope) -> bool:
    """Whether a mark on a photo is of the stage, the sex and the side that are asked about."""
    of_stage = (not mark.stages or scope.stage in mark.stages) and photo.stage in ("", scope.stage)
    of_sex = not mark.sexes or (bool(scope.sex) and scope.sex in mark.sexes)
    return of_stage and of_sex and (mark.view or photo.view) in ("", *WHOLE, character.view)


class _PlaceNames:
    """What the parts of the body are called that characters ask about: by their words, glossary forms and the characters' labels."""

    def __init__(self, make: PieceMaker) -> None:
        forms = {term.word.casefold(): term.also for term in make.guide.terms.values()}
        named = [(c.id, c.part) for c in make.guide.characters.values() if c.part]
        named += [(ident, form) for ident, part in named for form in forms.get(part.casefold(), ())]
        named += [(c.id, c.label) for c in make.guide.characters.values() if c.part]
        self._names = [(ident, frozenset(_words(name))) for ident, name in named]

    def named_first(self, words: str) -> set[str]:
        """The characters whose part a mark names before any other: "bars on the corium beside the scutellum" is about the corium."""
        order = list(_words(words))
        here = [(min(map(order.index, name)), ident) for ident, name in self._names if name and name <= set(order)]
        first = min((place for place, _ in here), default=0)
        return {ident for place, ident in here if place == first}


def _words(text: str) -> Iterable[str]:
    """Words as they are compared: in small letters, without the sign of a plural."""
    return (word.removesuffix("s") if len(word) > 3 else word for word in _WORD.findall(text.casefold()))
