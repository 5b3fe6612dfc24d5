"""Small pictures on cards: other plumages and sexes on the front, look-alikes at one scale on the back, and nothing that they cost."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pikepdf
import pytest
from PIL import Image

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.press.outputs.cards.card import fit_card, render_card
from guidebuild.press.outputs.cards.fitting import CardFitting
from guidebuild.press.outputs.cards.shown import shown_small
from guidebuild.press.paper.formats import MM_PER_INCH, format_named
from guidebuild.press.paper.setup import CardResult, make_setup
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.session import open_session
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.pieces.credits import LicenceView
from tests.guides.whole_guides import copy_guide
from tests.outside.structure_rules import judge_structure
from tests.press.outputs.test_type_sizes import LEAST, find_sizes
from tests.press.small_guide import THEME

FREE, BOUND = LicenceView("CC-BY-4.0", "CC BY 4.0"), LicenceView("CC-BY-ND-4.0", "CC BY-ND 4.0", derivatives=False)


@pytest.fixture(scope="module")
def birds(tmp_path_factory: pytest.TempPathFactory) -> tuple[Published, Pictures]:
    """Waders in three plumages, with their pictures as drawn."""
    folder = copy_guide("estuary-waders", tmp_path_factory.mktemp("birds"))
    guide = make_published(open_session(folder).guide)
    return guide, {photo.id: read_size(folder / photo.file) for photo in guide.photos.values()}


def read_size(path: Path) -> Picture:
    with Image.open(path) as picture:
        return Picture(path, *picture.size)


def card_of(birds: tuple[Published, Pictures], name: str) -> CardView:
    return next(card for card in card_views(birds[0]) if card.id == name)


def show(birds: tuple[Published, Pictures], card: CardView, size: str = "a6") -> tuple[CardResult, list[str]]:
    """The card, and its sides in words."""
    result = render_card(card, birds[1], format_named(size), THEME)
    assert result.pdf, result.problems
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        return result, [" ".join((page.extract_text() or "").split()) for page in opened.pages]


def left_out(result: CardResult) -> str:
    return " ".join(problem.message for problem in result.problems if problem.what == "left-out")


def test_other_plumages_stand_under_the_words_of_the_front(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "dunlin")
    assert card.plate
    assert card.plate.stage == "breeding plumage"
    assert [photo.stage for photo in card.forms] == ["juvenile", "winter plumage"]
    result, (front, _) = show(birds, card)
    assert front.endswith("juvenile winter plumage")
    assert left_out(result) == ""
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        assert len(opened.pages[0].images) == 3


@pytest.mark.parametrize("size", ["a6", "a7", "id-1", "index-3x5", "index-4x6"])
def test_the_plate_is_as_large_as_without_small_pictures(birds: tuple[Published, Pictures], size: str) -> None:
    """And no word is smaller than it may be, and what is left out of small pictures costs nothing else."""
    for card in (card_of(birds, name) for name in ("dunlin", "redshank", "curlew")):
        bare = replace(card, forms=(), look_alikes=tuple(replace(other, photo=None) for other in card.look_alikes))
        with_all, without = (fit_card(CardFitting(one, make_setup(birds[1], format_named(size), THEME))) for one in (card, bare))
        assert with_all[2].placing
        assert without[2].placing
        assert with_all[2].placing.spot.width >= without[2].placing.spot.width - 0.01, card.id
        small = {piece for piece in with_all[0].front.left_out | with_all[0].back.left_out if "picture" in piece}
        assert (with_all[0].front.left_out | with_all[0].back.left_out) - small == without[0].front.left_out | without[0].back.left_out


def test_small_pictures_without_room_go_and_are_told(birds: tuple[Published, Pictures]) -> None:
    result, (front, back) = show(birds, card_of(birds, "redshank"), "a7")
    assert "the picture “breeding plumage”" in left_out(result)
    assert "the picture of Spotted Redshank" in left_out(result)
    assert "More on its page" in back
    assert front.count("breeding plumage") == 1  # of the mark


def bar_and_widths(result: CardResult) -> tuple[float, list[float]]:
    """The length of the scale bar and the widths of the pictures on the back, millimetres."""
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        page = opened.pages[1]
        assert page.images
        top = min(image["top"] for image in page.images)
        bars = [line for line in (*page.lines, *page.curves) if top - 25 < line["top"] < top and line["width"] > 4]
        # A bar's lines have their middle a tenth of a millimetre inside its ends.
        return bars[0]["width"] / 72 * MM_PER_INCH + 0.2, [image["width"] / 72 * MM_PER_INCH for image in page.images]


def test_look_alikes_stand_at_one_scale(birds: tuple[Published, Pictures]) -> None:
    """The bar is as long on paper as its words say, measured by the line along each bird's body."""
    card = card_of(birds, "curlew")
    result, (_, back) = show(birds, card)
    assert "Beside its look-alikes" in back
    assert "20 cm: all at this scale" in back
    assert "Bar-tailed Godwit: bill shape" in back
    bar, widths = bar_and_widths(result)
    assert card.beside
    (godwit,) = (other.photo for other in card.look_alikes)
    assert godwit
    for photo, width in zip((card.beside, godwit), widths, strict=True):
        picture = birds[1][photo.id]
        assert photo.measured
        assert photo.length
        x1, y1, x2, y2 = photo.measured
        share = (((x2 - x1) * picture.width) ** 2 + ((y2 - y1) * picture.height) ** 2) ** 0.5 / 100 / picture.width
        # All of each picture is shown, as its bird fills it.
        assert width * share == pytest.approx(photo.length * bar / 200, abs=0.1), photo.id


def test_a_picture_without_a_scale_says_so(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "curlew")
    assert card.beside
    (other,) = card.look_alikes
    assert other.photo
    unmeasured = replace(other, photo=replace(other.photo, measured=None, length=None))
    _, (_, back) = show(birds, replace(card, look_alikes=(unmeasured,)))
    assert "not at one scale" in back
    assert "all at this scale" not in back


def test_what_may_not_be_changed_is_shown_whole(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "curlew")
    (other,) = card.look_alikes
    assert other.photo
    bound = replace(card, look_alikes=(replace(other, photo=replace(other.photo, licence=BOUND)),))
    _, (_, back) = show(birds, bound)
    assert "not at one scale" in back
    laid = fit_card(CardFitting(bound, make_setup(birds[1], format_named("a6"), THEME)))
    assert laid[2].beside
    assert "/0.0.10000.10000/" in str(laid[2].beside.pictures[1].picture)


def test_every_picture_that_is_shown_is_credited_and_no_other(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "curlew")
    (other,) = card.look_alikes
    assert other.photo
    credited = replace(other, photo=replace(other.photo, credit="G. Odwit", licence=FREE))
    forms = tuple(replace(photo, credit="F. Orm", licence=FREE) for photo in card.forms)
    told = replace(card, look_alikes=(credited,), forms=forms)
    _, (_, back) = show(birds, told)
    assert "Bar-tailed Godwit · G. Odwit · CC BY 4.0" in back
    assert "F. Orm" not in back  # its strip has no room on this card
    result, (_, small) = show(birds, told, "a7")
    assert "the picture of Bar-tailed Godwit" in left_out(result)
    assert "G. Odwit" not in small
    dunlin = card_of(birds, "dunlin")
    shown = replace(dunlin, forms=tuple(replace(photo, credit="F. Orm") for photo in dunlin.forms))
    assert "; juvenile, winter plumage · F. Orm" in show(birds, shown)[1][1]


@pytest.mark.parametrize("contrast", [False, True])
def test_small_pictures_are_told_in_words_and_their_words_can_be_read(
    birds: tuple[Published, Pictures], contrast: bool, tmp_path: Path
) -> None:
    for name, size in (("dunlin", "a6"), ("redshank", "a6"), ("redshank", "large-print-card")):
        result = render_card(card_of(birds, name), birds[1], format_named(size), THEME, contrast=contrast)
        file = tmp_path / f"{name}-{size}.pdf"
        file.write_bytes(result.pdf)
        assert judge_structure(file) == []
        printed = format_named(size)
        assert min(find_sizes(file)) >= LEAST
        with pikepdf.open(file) as opened:
            figures = [thing for thing in opened.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/S") == "/Figure"]
            assert all(str(figure.Alt).strip() for figure in figures), (name, printed.id)


def test_a_picture_is_embedded_no_larger_than_it_is_printed(birds: tuple[Published, Pictures]) -> None:
    """300 pixels an inch at most, and each once."""
    result, _ = show(birds, card_of(birds, "redshank"))
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        for image in (image for page in opened.pages for image in page.images):
            assert image["srcsize"][0] <= image["width"] / 72 * 300 * 1.06 + 1
    with pikepdf.open(io.BytesIO(result.pdf)) as opened:
        streams = [
            thing.read_raw_bytes() for thing in opened.objects if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image"
        ]
        assert len(streams) == len(set(streams))


def test_a_card_of_which_no_picture_stands_leaves_none_out(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "redshank")
    result = render_card(card, {}, format_named("a7"), THEME)
    assert "picture" not in left_out(result)
    assert shown_small(CardFitting(card, make_setup({}, format_named("a7"), THEME)).card, frozenset()) == frozenset()


def test_a_picture_that_may_not_be_shown_stands_on_no_card(tmp_path: Path) -> None:
    """Without a licence: neither in the strip nor beside a look-alike."""
    folder = copy_guide("estuary-waders", tmp_path)
    guide = open_session(folder).guide
    assert guide
    withheld = {"dunlin-juvenile": "", "redshank-winter": ""}
    assert withheld.keys() <= guide.photos.keys()
    photos = {ident: replace(photo, licence=withheld.get(ident, photo.licence)) for ident, photo in guide.photos.items()}
    shown, less = (card_views(make_published(told)) for told in (guide, replace(guide, photos=photos)))
    assert withheld.keys() <= {photo.id for card in shown for photo in card.photos}
    assert not withheld.keys() & {photo.id for card in less for photo in card.photos}
