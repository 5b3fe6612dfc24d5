"""What a print shop is sent: each card with a bleed as PDF/X-4, and all cards of a size in one file, in the order of the guide."""

from __future__ import annotations

from collections.abc import Sequence

from guidebuild.press.engine.made import Made
from guidebuild.press.engine.maker import Piece
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.card_sets import CardSets
from guidebuild.press.outputs.cards.fitting import BACK, FRONT
from guidebuild.press.outputs.cards.jobs import CardWork, DeckWork, print_card
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.printing import CARD, DECK, DECK_FILE, Printing
from guidebuild.press.outputs.cards.problems import near_problem
from guidebuild.press.paper.formats import PRINT_SHOP, Format, card_formats_among, format_named
from guidebuild.press.paper.ink import find_wet
from guidebuild.press.paper.near_trim import find_near_trim
from guidebuild.press.paper.output_profile import read_profile_of
from guidebuild.press.paper.print_shop import ShopWish, join_for_shop, to_print_shop
from guidebuild.views.cards.card import CardView

FOLDER = "print-shop/"
_SIDES = (FRONT, BACK)
SHOP_BLEED = 3.0
"""Millimetres, where guide.yaml names none."""


def publish_shop_cards(printing: Printing, sets: CardSets) -> None:
    """The guide's own cards and those of each further size that `prints:` lists."""
    try:
        wish = read_wish(printing)
    except (ValueError, OSError) as error:
        printing.problems.tell(Problem("print-profile", "guide.yaml", str(error)))
        return
    own = format_named(printing.guide.settings.card)
    variant = sets.choose(PRINT_SHOP)
    _publish(variant.printing, variant.cards, own, FOLDER, wish)
    for further in card_formats_among(printing.guide.settings.prints):
        if further.id != own.id:
            variant = sets.choose_cards(further, PRINT_SHOP)
            _publish(variant.printing, variant.cards, further, f"{FOLDER}{further.id}/", wish)


def read_wish(printing: Printing) -> ShopWish:
    """How the guide's print shop wants its files; raises `ValueError` that says why its profile is none, or `OSError`."""
    settings = printing.guide.settings
    name = settings.print_profile
    return ShopWish(read_profile_of(printing.folder, name) if name else None, settings.crop_marks, settings.ink_limit)


def _publish(printing: Printing, cards: Sequence[CardView], card_format: Format, folder: str, wish: ShopWish) -> None:
    look = printing.look(card_format, printing.guide.settings.bleed or SHOP_BLEED)
    shown = printing.shown_on(cards, picture_pixels(card_format))

    def piece(card: CardView) -> Piece:
        work = CardWork(card, shown[card.id], look, wish)
        return Piece(printing.maker.job(CARD, make_shop_card, work, where=f"card {card.id}"), (f"{folder}{card.id}.pdf",))

    pieces = {card.id: piece(card) for card in cards}
    printing.maker.make(pieces.values())
    parts = tuple((card.name.short, printed) for card in cards if (printed := printing.files.find(pieces[card.id].paths[0])))
    if parts:
        work = DeckWork(parts, f"{printing.guide.settings.title}: cards")
        printing.maker.make([Piece(printing.maker.job(DECK, join_shop_cards, work, where="deck"), (f"{folder}{DECK_FILE}",))])


def make_shop_card(work: CardWork) -> Made:
    """One card as PDF/X-4."""
    result = print_card(work)
    if not result.pdf:
        return Made((), result.problems)
    where, title = f"card {work.card.id}", work.look.format.title
    near = (near_problem(where, f"on the {_SIDES[(one.page - 1) % 2]} of the {title}", one) for one in find_near_trim(result.pdf))
    return Made((to_print_shop(result.pdf, work.wish),), (*result.problems, *find_wet(work.pictures, work.wish, where), *near))


def join_shop_cards(work: DeckWork) -> Made:
    """All cards of a size in one file, fronts and backs in turn."""
    return Made((join_for_shop([(words, card.path.read_bytes()) for words, card in work.parts], work.title),))
