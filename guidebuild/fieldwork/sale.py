"""Which pictures may stand in what is sold: those whose licence allows it, one's own, and those whose maker has said yes."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.guide.guide import Guide, Settings
from guidebuild.later import imported_when_used

with imported_when_used():  # a check asks of the author's guide only
    from guidebuild.fieldwork import published

CARDS_SOLD, DECK_SOLD, WALK_CARDS_SOLD, COMPARISONS_SOLD = "cards", "deck", "walk cards", "comparisons"
WITHOUT_PICTURES = ("checklists", "key")
ALWAYS_PRINTED = (CARDS_SOLD, DECK_SOLD, WALK_CARDS_SOLD, COMPARISONS_SOLD, *WITHOUT_PICTURES)
"""What `sold:` may name though `prints:` does not: each guide has it."""


def list_unsold_photos(guide: Guide | published.Published) -> tuple[str, ...]:
    """Pictures that may not be sold: NC, or by permission only, and the record names no permission (`permission:`)."""
    publisher = guide.settings.publisher.strip()
    return tuple(
        photo.id
        for photo in guide.photos.values()
        if not photo.permission.strip()
        and not (publisher and photo.credit.strip() == publisher)
        and not ((licence := guide.licences.get(photo.licence)) and licence.commercial)
    )


def list_sold_with_pictures(settings: Settings) -> tuple[str, ...]:
    """What is sold, as typed, without what shows no pictures."""
    return tuple(name for name in settings.sold if name.strip().casefold() not in WITHOUT_PICTURES)


def make_sellable(guide: published.Published) -> published.Published:
    """The guide without these pictures."""
    unsold = set(list_unsold_photos(guide))
    return replace(guide, photos={ident: photo for ident, photo in guide.photos.items() if ident not in unsold}) if unsold else guide
