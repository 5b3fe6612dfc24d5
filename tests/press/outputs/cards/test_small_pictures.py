"""Small pictures on cards: look-alikes beside their words at one scale, other plumages and sexes below, and nothing that they cost."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pikepdf
import pytest
from PIL import Image

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.press.outputs.cards.card import fit_card, render_card
from guidebuild.press.outputs.cards.fitting import CardFitting, comfortable
from guidebuild.press.outputs.cards.shown import shown_small
from guidebuild.press.paper.formats import MM_PER_INCH, format_named
from guidebuild.press.paper.setup import CardResult, make_setup
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.session import open_session
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.credits import LicenceView
from tests.guides.whole_guides import copy_guide
from tests.outside.structure_rules import judge_structure
from tests.press.outputs.test_type_sizes import LEAST, find_sizes
from tests.press.small_guide import THEME

CUT = re.compile(r"/(\d+)\.(\d+)\.(\d+)\.(\d+)/")
SAMPLE = Path(__file__).parents[4] / "sample_guide"
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
def test_the_plate_gives_a_fifth_to_look_alikes_and_nothing_to_a_strip(birds: tuple[Published, Pictures], size: str) -> None:
    """And no word is smaller than it may be, and what is left out of small pictures costs nothing else."""
    for card in (card_of(birds, name) for name in ("dunlin", "redshank", "curlew")):
        bare = replace(card, forms=(), look_alikes=tuple(replace(other, photo=None) for other in card.look_alikes))
        with_all, without = (fit_card(CardFitting(one, make_setup(birds[1], format_named(size), THEME))) for one in (card, bare))
        assert with_all[2].placing
        assert without[2].placing
        least = 0.8 if with_all[2].thumbs else 1
        assert with_all[2].placing.spot.width >= without[2].placing.spot.width * least - 0.01, card.id
        assert not with_all[2].thumbs or with_all[0].front.points >= comfortable(
            CardFitting(card, make_setup(birds[1], format_named(size), THEME))
        )
        small = {piece for piece in with_all[0].front.left_out | with_all[0].back.left_out if "picture" in piece}
        assert (with_all[0].front.left_out | with_all[0].back.left_out) - small == without[0].front.left_out | without[0].back.left_out


def test_small_pictures_without_room_go_and_are_told(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "redshank")
    (other,) = card.look_alikes
    result, (front, back) = show(birds, replace(card, look_alikes=(other,) * 4), "a7")
    assert "the picture “breeding plumage”" in left_out(result)
    assert "the pictures of look-alikes" in left_out(result)
    assert "More on its page" in back
    assert front.count("breeding plumage") == 1  # of the mark


@pytest.fixture(scope="module")
def bugs() -> tuple[Published, Pictures]:
    """The sample, of which most species have two look-alikes and more."""
    folder = SAMPLE
    guide = make_published(open_session(folder).guide)
    return guide, {photo.id: read_size(folder / photo.file) for photo in guide.photos.values() if (folder / photo.file).is_file()}


def test_every_look_alike_of_the_sample_has_its_picture(bugs: tuple[Published, Pictures]) -> None:
    """On a pocket card with two of them the plate gave nothing, and four of the sample's cards named theirs without a picture."""
    for card in card_views(bugs[0]):
        drawn = fit_card(CardFitting(card, make_setup(bugs[1], format_named("a6"), THEME)))[2]
        assert [other.name.short for other in drawn.look_alikes] == [name.short for name in (drawn.thumbs.by_name if drawn.thumbs else ())]


@pytest.mark.parametrize("name", ["blue-shieldbug", "hawthorn-shieldbug", "birch-shieldbug", "tortoise-bug"])
def test_size_and_both_bars_stand_in_one_line(bugs: tuple[Published, Pictures], name: str) -> None:
    """The bar of life size broke off, as what is free round it was reckoned too small."""
    result, _ = show(bugs, card_of(bugs, name))
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        lines = [line["text"] for line in opened.pages[0].extract_text_lines() if "body length" in line["text"]]
    assert len(lines) == 1
    assert "life size" in lines[0]
    assert "picture ×" in lines[0]


def bar_and_widths(result: CardResult) -> tuple[float, list[float]]:
    """The length of the scale bar and the widths of the look-alikes' pictures, millimetres."""
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        page = opened.pages[0]
        small = sorted((image for image in page.images if image["width"] < page.width / 4), key=lambda image: image["top"])
        assert small
        low = max(image["bottom"] for image in small)
        bars = [line for line in (*page.lines, *page.curves) if low < line["top"] < low + 25 and line["width"] > 2]
        # A bar's lines have their middle a tenth of a millimetre inside its ends.
        return bars[0]["width"] / 72 * MM_PER_INCH + 0.2, [image["width"] / 72 * MM_PER_INCH for image in small]


def share_of(photo: PhotoView, picture: Picture) -> float:
    """Length of the measured line by the width of the picture."""
    assert photo.measured
    x1, y1, x2, y2 = photo.measured
    return float((((x2 - x1) * picture.width) ** 2 + ((y2 - y1) * picture.height) ** 2) ** 0.5 / 100 / picture.width)


def cut_widths(fitting: CardFitting) -> list[float]:
    """What share of its picture's width each look-alike's window shows."""
    thumbs = fit_card(fitting)[2].thumbs
    assert thumbs
    return [(int(cut[2]) - int(cut[0])) / 10_000 for cut in (CUT.findall(str(thumb.picture))[-1] for thumb in thumbs.by_name.values())]


@pytest.mark.parametrize("name", ["parent-bug", "green-shieldbug"])
def test_look_alikes_stand_at_one_scale(bugs: tuple[Published, Pictures], name: str) -> None:
    """The bar is as long on paper as its words say, measured by the line along each body."""
    card = card_of(bugs, name)
    result, (front, _) = show(bugs, card)
    assert len(card.look_alikes) > 1
    said = re.search(r"(\d+) mm: all at this scale", front)
    assert said
    bar, widths = bar_and_widths(result)
    shown = cut_widths(CardFitting(card, make_setup(bugs[1], format_named("a6"), THEME)))
    for other, width, part in zip(card.look_alikes, widths, shown, strict=True):
        photo = other.photo
        assert photo and photo.length
        on_paper = width / part * share_of(photo, bugs[1][photo.id])
        assert on_paper == pytest.approx(photo.length * bar / float(said[1]), rel=0.03), photo.id


def test_one_alone_has_a_bar_of_its_own(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "curlew")
    result, (front, back) = show(birds, card)
    assert re.search(r"\d+ cm(?! length)", front) and "at this scale" not in front
    assert "Bar-tailed Godwit ·" not in back or card.look_alikes[0].photo
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        assert [len(page.images) for page in opened.pages][1:] == [0]


def test_each_stands_beside_its_words(bugs: tuple[Published, Pictures]) -> None:
    """Picture and words of a look-alike begin at one height, and the next ones below them."""
    result, _ = show(bugs, card_of(bugs, "parent-bug"))
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        page = opened.pages[0]
        small = sorted((image for image in page.images if image["width"] < page.width / 4), key=lambda image: image["top"])
        said = [word for word in page.extract_words() if word["text"].startswith("Not")]
    assert len(small) == len(said) == 2
    for image, word in zip(small, said, strict=True):
        assert abs(image["top"] - word["top"]) < 6
        assert image["x1"] < word["x0"]
    assert small[0]["bottom"] < small[1]["top"]


def test_words_keep_to_their_column_below_a_low_picture(tmp_path: Path) -> None:
    """The third line of a look-alike stands below its picture, and begins where the others do."""
    folder = copy_guide("southern-frogs", tmp_path)
    guide = make_published(open_session(folder).guide)
    frogs = guide, {photo.id: read_size(folder / photo.file) for photo in guide.photos.values()}
    result, _ = show(frogs, card_of(frogs, "spotted-marsh-frog"))
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        page = opened.pages[0]
        low = max((image for image in page.images if image["width"] < page.width / 4), key=lambda image: image["top"])
        lines = page.extract_text_lines()
    begin = next(n for n, line in enumerate(lines) if line["text"].startswith("NotCommon"))
    said = lines[begin : next(n for n, line in enumerate(lines) if line["text"].startswith("20"))]
    assert said[-1]["top"] > low["bottom"]
    assert {round(line["x0"]) for line in said} == {round(said[0]["x0"])}
    assert said[0]["x0"] > low["x1"]


def test_a_picture_without_a_scale_says_so(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "curlew")
    (other,) = card.look_alikes
    assert other.photo
    unmeasured = replace(other, photo=replace(other.photo, measured=None, length=None))
    _, (front, _) = show(birds, replace(card, look_alikes=(unmeasured,)))
    assert "not at one scale" in front


def test_one_of_several_without_a_scale_is_told(bugs: tuple[Published, Pictures]) -> None:
    card = card_of(bugs, "parent-bug")
    first, *rest = card.look_alikes
    assert first.photo
    unmeasured = replace(first, photo=replace(first.photo, measured=None, length=None))
    _, (front, _) = show(bugs, replace(card, look_alikes=(unmeasured, *rest)))
    assert "(not at this scale)" in front


def test_what_may_not_be_changed_is_shown_whole(birds: tuple[Published, Pictures]) -> None:
    card = card_of(birds, "curlew")
    (other,) = card.look_alikes
    assert other.photo
    bound = replace(card, look_alikes=(replace(other, photo=replace(other.photo, licence=BOUND)),))
    _, (front, _) = show(birds, bound)
    assert "not at one scale" in front
    laid = fit_card(CardFitting(bound, make_setup(birds[1], format_named("a6"), THEME)))
    assert laid[2].thumbs
    assert "/0.0.10000.10000/" in str(laid[2].thumbs.by_name[other.name].picture)


def test_a_life_stage_leaves_no_line_half_empty(bugs: tuple[Published, Pictures]) -> None:
    """A space at the end of a list's item made the typesetter break a line after its first word."""
    card = card_of(bugs, "birch-shieldbug")
    result, _ = show(bugs, card)
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        lines = [line["text"].split() for line in opened.pages[1].extract_text_lines()]
    assert ["back."] not in lines
    assert any(line[:3] == ["back.", "Five", "instars."] for line in lines)


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
    result, (_, small) = show(birds, replace(told, look_alikes=(credited,) * 3), "a7")
    assert "the pictures of look-alikes" in left_out(result)
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
