"""Every account of the sample in every shipped format, and every format with what is hard to set: nothing over, nothing touches."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from PIL import Image
from pypdfium2 import PdfDocument

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import HostUse, Stated
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Plant
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import POINTS_PER_MM, Format, PrintKind, format_named, read_formats
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.session import open_session
from guidebuild.views.cards.card import CardView, card_view, card_views
from guidebuild.views.cards.printed import checklist_view, leaflet_views
from guidebuild.views.pieces.parts import make_pieces
from tests.as_published import with_walk
from tests.press.small_guide import THEME, account, drawn_picture, guide

SAMPLE = Path(__file__).parents[4] / "sample_guide"
RENDERERS = {PrintKind.CARD: render_card, PrintKind.PLATE: render_plate}
SETS = [name for name, one in read_formats().items() if one.kind in RENDERERS]
SHEETS = [name for name, one in read_formats().items() if one.kind is PrintKind.LEAFLET]


@pytest.fixture(scope="module")
def sample() -> Guide:
    return open_session(SAMPLE).guide


@pytest.fixture(scope="module")
def photos(sample: Guide, tmp_path_factory: pytest.TempPathFactory) -> Pictures:
    """The sample's photos as small copies that say they are as large as the originals: words, not pixels, are looked at here."""
    folder = tmp_path_factory.mktemp("photos")
    return dict(_copies(sample, folder))


def _copies(sample: Guide, folder: Path) -> Iterator[tuple[str, Picture]]:
    for photo in sample.photos.values():
        with Image.open(SAMPLE / photo.file) as opened:
            size = opened.size
            opened.draft("RGB", (200, 200))
            opened.convert("RGB").resize((120, round(120 * size[1] / size[0]))).save(folder / f"{photo.id}.jpg")
        yield photo.id, Picture(folder / f"{photo.id}.jpg", *size)


def troubles(results: list[CardResult]) -> list[str]:
    """What went wrong but for what was left out on purpose."""
    return [f"{r.id}: {p.message}" for r in results for p in r.problems if p.what not in {"left-out", "few-pixels"}] + [
        f"{r.id}: not printed" for r in results if not r.pdf
    ]


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter as it is inked, in points from the foot of its page."""

    text: str
    left: float
    low: float
    right: float
    high: float

    def covers(self, other: Letter) -> bool:
        """Whether the other's middle lies in this one; the letters of a ligature share one box."""
        if (self.left, self.right) == (other.left, other.right):
            return False
        x, y = (other.left + other.right) / 2, (other.low + other.high) / 2
        return self.left + 0.2 < x < self.right - 0.2 and self.low + 0.2 < y < self.high - 0.2


def letters(pdf: bytes) -> Iterator[tuple[tuple[float, float], list[Letter]]]:
    """Width and height of each page, and the letters on it."""
    with closing(PdfDocument(pdf)) as opened:
        for page in opened:
            words = page.get_textpage()
            boxes = ((words.get_text_range(n, 1), *words.get_charbox(n)) for n in range(words.count_chars()))
            yield page.get_size(), [Letter(*box) for box in boxes if box[0].strip()]


def letters_that_touch(pdf: bytes) -> list[str]:
    """Letters that stand on others: a foot on the words above it, a word in a drawing."""
    found = []
    for _, page in letters(pdf):
        near: dict[int, list[Letter]] = {}
        for letter in page:
            for row in {int(letter.low // 10), int(letter.high // 10)}:
                near.setdefault(row, []).append(letter)
        for one in page:
            row = near.get(int((one.low + one.high) / 2 // 10), ())
            found += [f"{one.text} on {other.text}" for other in row if other is not one and other.covers(one)]
    return found


def letters_outside(pdf: bytes, page_format: Format) -> list[str]:
    """Letters that leave the page less its margin, of which a millimetre is left to what overhangs: the foot of a J, a comma."""
    least = (page_format.margin - 1) * POINTS_PER_MM
    return [
        letter.text
        for (wide, high), page in letters(pdf)
        for letter in page
        if letter.left < least or letter.right > wide - least or letter.low < least or letter.high > high - least
    ]


def words_of(pdf: bytes) -> str:
    """All words, with single spaces."""
    with closing(PdfDocument(pdf)) as opened:
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in opened)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "language"), [*((name, "en") for name in SETS), ("id-1", "es")])
def test_every_account_of_the_sample_fits_every_card_and_plate(name: str, language: str, sample: Guide, photos: Pictures) -> None:
    printed, make = format_named(name), make_pieces(make_published(sample), language)
    cards = [card_view(make, account) for account in make.guide.accounts.values()]
    results = [RENDERERS[printed.kind](card, photos, printed, THEME) for card in cards]
    assert troubles(results) == []
    assert [(r.id, letters_that_touch(r.pdf), letters_outside(r.pdf, printed)) for r in results] == [(r.id, [], []) for r in results]


@pytest.mark.slow
@pytest.mark.parametrize("name", SHEETS)
def test_every_leaflet_of_the_sample_fits(name: str, sample: Guide, photos: Pictures) -> None:
    results = [render_leaflet(view, photos, format_named(name), THEME) for view in leaflet_views(make_published(sample))]
    assert troubles(results) == []
    assert [letters_that_touch(r.pdf) for r in results] == [[] for _ in results]


@pytest.mark.slow
def test_the_samples_checklists_fit(sample: Guide) -> None:
    made = [render_checklist(checklist_view(*with_walk(sample, walk)), format_named("checklist"), THEME) for walk in sample.walks.values()]
    assert troubles(made) == []
    assert [letters_that_touch(r.pdf) for r in made] == [[] for _ in made]


def hard() -> dict[str, CardView]:
    """Cards that are hard to set, each in one way."""
    plants = {f"p{n}": Plant(f"p{n}", f"Invented Plant Number {n}") for n in range(40)}
    hosts = Stated(tuple(HostUse(p, Inline("leaves and catkins"), Inline("food of nymph and adult")) for p in plants), said=True)
    (many,) = card_views(
        make_published(replace(guide(account("forty", "Parent Bug", "Elasmucha", "grisea", host_plants=hosts)), plants=plants))
    )
    (usual,) = card_views(make_published(guide(account("parent", "Parent Bug", "Elasmucha", "grisea"))))
    long = "Greater Long-legged Spotted and Banded Riverside Willow Shieldbug of the North"
    (warned,) = card_views(
        make_published(
            guide(
                account(
                    "warned",
                    "Parent Bug",
                    "Elasmucha",
                    "grisea",
                    hazards=Stated(("ticks",), said=True),
                    caution=Inline("It bites. Look without picking it up, and let it go where you found it."),
                )
            )
        )
    )
    return {
        "no picture": replace(usual, plate=None),
        "forty plants": many,
        "a long name": replace(usual, name=replace(usual.name, vernacular=long)),
        "an unbroken name": replace(usual, name=replace(usual.name, vernacular="Donaudampfschifffahrtsgesellschaftskapitänswanze")),
        "cautions": warned,
        "portrait": usual,
        "panorama": usual,
    }


@pytest.mark.parametrize("what", hard())
@pytest.mark.parametrize("name", ["id-1", "index-3x5", "plate-a5"])  # the least of each layout: lying, upright, on a page
def test_what_is_hard_to_set_fits_and_nothing_touches(name: str, what: str, tmp_path: Path) -> None:
    printed, card = format_named(name), hard()[what]
    size = {"portrait": (900, 1600), "panorama": (3000, 800)}.get(what, (1200, 900))
    pictures = {} if what == "no picture" else {"plate": drawn_picture(tmp_path, size=size)}
    result = RENDERERS[printed.kind](card, pictures, printed, THEME)
    assert troubles([result]) == []
    assert letters_that_touch(result.pdf) == []
    assert letters_outside(result.pdf, printed) == []
    if card.cautions:
        text = words_of(result.pdf)
        assert all(caution.title in text for caution in card.cautions)
        assert "It bites. Look without picking it up" in text
