"""A card's own headings and short words in its language."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.views.pieces.parts import PieceMaker


@dataclass(frozen=True, slots=True)
class CardWords:
    """The headings and short words that a card prints, in its language."""

    not_this: str
    size: str
    when: str
    hosts: str
    where: str
    life: str
    facts_on: str
    picture: str
    enlarged: str
    no_picture: str
    more: str
    more_there: str
    fifty: str
    caution: str
    one_scale: str
    no_scale: str
    apart: str
    small_beside: str


def card_words(make: PieceMaker) -> CardWords:
    """A card's own words in the maker's language."""
    say = make.words
    return CardWords(
        not_this=say("Not"),
        size=say("Size"),
        when=say("When"),
        hosts=say("Host plants"),
        where=say("Where"),
        life=say("Its life"),
        facts_on=say("Facts of {date}", date="{date}"),
        picture=say("Picture: {credit}", credit="{credit}"),
        enlarged=say("picture {times}", times="{times}"),
        no_picture=say("No picture yet"),
        more=say("more on its page"),
        more_there=say("More on its page") if make.guide.settings.address else say("More in the guide"),
        fifty=say("50 mm when printed at 100 %"),
        caution=say("Caution"),
        one_scale=say("{length}: all at this scale", length="{length}"),
        no_scale=say("not at one scale"),
        apart=say("not at this scale"),
        small_beside=say("and small beside it at the scale of the others"),
    )
