"""Whether there is room for a format on a paper: known before anything is laid out."""

from __future__ import annotations

from guidebuild.press.paper.formats import Area, Format, Paper
from guidebuild.press.paper.imposition import EDGE, Grid, best_grid


class NoRoomError(ValueError):
    """A card that does not fit on the paper, in a sentence."""


def grid_for(card_format: Format, paper: Paper, bleed: float) -> Grid:
    """How the cards stand on the paper, lying or upright whichever takes more; raises `NoRoomError`.

    Without a bleed a card's own margin may lie on the edge that the printer leaves white.
    """
    edge = EDGE if bleed else max(0.0, EDGE - card_format.margin)
    grid = best_grid(paper.size, card_format.size, bleed=bleed, edge=edge)
    if grid is None:
        raise NoRoomError(f"the {card_format.title} with {bleed:g} mm bleed does not fit on {paper.title}; choose a larger paper")
    return grid


def booklet_sheet(leaf: Format, paper: Paper) -> Area:
    """The paper as it lies when two pages of a booklet stand side by side on it; raises `NoRoomError`."""
    sheet = paper.size.turned if leaf.size.height > leaf.size.width else paper.size
    if 2 * leaf.size.width > sheet.width + 0.05 or leaf.size.height > sheet.height + 0.05:
        raise NoRoomError(f"two pages of the {leaf.title} do not fit side by side on {paper.title}")
    return sheet
