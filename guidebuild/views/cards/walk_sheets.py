"""A sheet for children on a walk: what to look for, as pictures with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.out import Chance, Out
from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.fieldwork.published import Published
from guidebuild.guide.dangers import is_fit_for_children
from guidebuild.views.cards.card import find_plate
from guidebuild.views.cards.card_words import card_words
from guidebuild.views.cards.printed import out_on_walk
from guidebuild.views.pieces.cautions import cautions_of_walk
from guidebuild.views.pieces.claims import StageClaim, find_claims
from guidebuild.views.pieces.common import CautionView, NameView, PhotoView
from guidebuild.views.pieces.laws import laws_of_walk
from guidebuild.views.pieces.parts import PieceMaker, make_pieces

EACH_FAMILY = 2
"""So many of each family are to be found; the others are for those who want more."""
MOST_EASY, MOST_HARDER = 6, 6
"""So many pictures fill either side of a sheet; what else may be met stands on the checklist."""


@dataclass(frozen=True, slots=True)
class Sought:
    """One thing to find: its name and picture, and what to look for at each stage that is out."""

    account: str
    name: NameView
    photo: PhotoView
    claims: tuple[StageClaim, ...]

    @property
    def shown(self) -> str:
        """Sex and stage of the picture, where the words beside it do not begin with them."""
        return "" if any(claim.stages == self.photo.whose for claim in self.claims) else self.photo.whose


@dataclass(frozen=True, slots=True)
class SpottingWords:
    """The words of the sheet."""

    found: str
    easy: str
    harder: str
    harder_told: str
    rule: str
    grown_ups: str
    mine: str
    name: str
    caution: str
    fifty: str


@dataclass(frozen=True, slots=True)
class SpottingView:
    """The sheet of one walk: what most children will find, then what takes sharper eyes or more luck."""

    id: str
    language: str
    title: str
    guide: str
    when: str
    easy: tuple[Sought, ...]
    harder: tuple[Sought, ...]
    cautions: tuple[CautionView, ...]
    credits: tuple[str, ...]
    words: SpottingWords

    @property
    def photos(self) -> tuple[PhotoView, ...]:
        """Its pictures, each once."""
        return tuple({one.photo.id: one.photo for one in (*self.easy, *self.harder)}.values())


def spotting_view(guide: Published, walk: PublicWalk) -> SpottingView | None:
    """The children's sheet of a walk; None where nothing that is out on it and harmless has a picture."""
    make, met = make_pieces(guide), out_on_walk(guide, walk)
    easy, harder = _divide(make, [out for out in met if is_fit_for_children(guide, out.account)])
    easy, harder = easy[:MOST_EASY], [*easy[MOST_EASY:], *harder][:MOST_HARDER]
    if not easy:
        return None
    names = [out.account for out in met]  # of all that may be met: cautions are for what is there, not for what is sought
    return SpottingView(
        id=walk.id,
        language=make.language,
        title=walk.title,
        guide=guide.settings.title,
        when=f"{make.words.date(walk.date)}, {walk.start:%H:%M}",
        easy=tuple(easy),
        harder=tuple(harder),
        cautions=(*cautions_of_walk(make, walk, names), *laws_of_walk(make, walk, names)),
        credits=tuple(_list_credits((*easy, *harder))),
        words=_words(make),
    )


def _divide(make: PieceMaker, met: Sequence[Out]) -> tuple[list[Sought], list[Sought]]:
    """What is easy, of each family the two with the best chance, first those that nothing else out is taken for; and the rest."""
    easy: list[Sought] = []
    harder: list[Sought] = []
    taken: dict[str, int] = {}
    for _, out, sought in sorted(_list_sought(make, met), key=lambda each: (each[1].chance, each[0])):
        family = make.guide.accounts[out.account].family
        is_easy = out.chance is not Chance.OUTSIDE and taken.get(family, 0) < EACH_FAMILY
        taken[family] = taken.get(family, 0) + is_easy
        (easy if is_easy else harder).append(sought)
    return (easy, harder) if easy else (harder, [])


def _list_sought(make: PieceMaker, met: Iterable[Out]) -> Iterator[tuple[bool, Out, Sought]]:
    """What has a picture, and whether something that is out too is taken for it."""
    together = {out.account for out in met}
    for out in met:
        account = make.guide.accounts[out.account]
        photo = find_plate(make, account, out.stages)
        if photo is not None:
            confused = any(other.account in together for other in account.similar)
            name = make.map.account(account).name or NameView(account.vernacular, ())
            yield confused, out, Sought(out.account, name, photo, _claims(make, account, out))


def _claims(make: PieceMaker, account: PublicAccount, out: Out) -> tuple[StageClaim, ...]:
    claims = find_claims(make, account, out.stages)
    return tuple(claim for claim in claims if claim.mark) or claims[:1]


def _list_credits(shown: Iterable[Sought]) -> Iterator[str]:
    """Whose pictures these are, one line where all have the same."""
    lines = {one.name.short: one.photo.credit_line for one in shown}
    if len(set(lines.values())) == 1:
        yield from filter(None, set(lines.values()))
        return
    yield from (f"{name}: {line}" for name, line in lines.items() if line)


def _words(make: PieceMaker) -> SpottingWords:
    say, card = make.words, card_words(make)
    return SpottingWords(
        found=say("Found it"),
        easy=say("Can you find these?"),
        harder=say("For sharp eyes"),
        harder_told=say("Rarer today, or easily taken for another."),
        rule=say("Stay with your grown-up. Look closely, and leave everything where it is."),
        grown_ups=say("For grown-ups"),
        mine=say("What else did you find? Draw it here."),
        name=say("Name"),
        caution=card.caution,
        fifty=card.fifty,
    )
