"""A picture whose licence allows no changed copies is shown whole wherever it stands, on pages and on paper, and says why it stands apart.

Creative Commons counts a crop among the changes, and another size or format not (CC BY-ND 4.0, sections 1(a) and 2(a)(4)).
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import astuple, replace
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.outputs.cards.booklet.plates import draw_pictures
from guidebuild.press.outputs.cards.side import draw_side
from guidebuild.press.outputs.cards.small_pictures import draw_strip, draw_thumbs
from guidebuild.press.outputs.cards.walk_sheets import _draw as draw_sought
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.outputs.site.plate import draw_plate, small_picture_html
from guidebuild.press.outputs.site.side_plates import draw_side_by_side
from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.formats import Area
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.views.cards.card import card_views
from guidebuild.views.pieces.common import LicenceView, MarkView, PhotoView
from guidebuild.views.pieces.one_scale import LEAST, Print, find_width, frame_at_one_scale
from guidebuild.words import words
from tests.press.outputs.cards.test_side_by_side_prints import THEME, draw, find_sheet, read
from tests.press.outputs.test_wide_wings import (
    ANIMALS,
    PICTURES,
    TURNS,
    Shot,
    all_shots,
    parts_on_paper,
    plates,
    printed,
    published,
    shoot,
)
from tests.views.invented_site import TODAY
from tests.views.whole_site import site_pages

NO_CHANGES = LicenceView("CC-BY-ND-4.0", "CC BY-ND 4.0", derivatives=False)
WHY = "Whole, and so not at one scale, as the licence allows no cut"
NEAR = 1e-3


def keep_whole(shot: Shot, length: float = 30.0) -> Shot:
    return replace(shot, photo=replace(shot.photo, licence=NO_CHANGES, length=length))


def is_whole(part: tuple[float, float, float, float]) -> bool:
    left, top, right, foot = part
    return left <= NEAR and top <= NEAR and right >= 1 - NEAR and foot >= 1 - NEAR


def shows_all(shown: Print) -> bool:
    sides = zip(astuple(shown.shown), astuple(shown.whole), strict=True)
    return all(abs(one - other) < NEAR for one, other in sides)


def area_of(svg: str) -> Area:
    wide, high = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg).groups()  # type: ignore[union-attr]
    return Area(float(wide), float(high))


@pytest.mark.parametrize("size", PICTURES)
@pytest.mark.parametrize("turn", TURNS)
def test_beside_others_on_a_page_it_is_whole_at_their_scale(size: tuple[int, int], turn: int) -> None:
    """Of five animals of one length two may not be cut."""
    shots = [shoot(name, size, turn) for name in ANIMALS]
    shots = [keep_whole(shot) if number in (1, 3) else shot for number, shot in enumerate(shots)]
    copies: dict[str, PictureSet] = {}
    for shot in shots:
        copies |= published(shot)
    drawn = draw_side_by_side(copies, "")(plates(*(shot.photo for shot in shots)))
    assert len(drawn.together) + len(drawn.uncut) == len(shots) and not drawn.apart
    scales = set()
    for one in drawn.together:
        assert one.frame
        frame, photo = one.frame, one.frame.photo
        scales.add(round(frame.at_scale.whole.width / (find_width(photo, size[1] / size[0]) or 0), 6))
        if not photo.may_be_cut:
            assert shows_all(frame.at_scale) and frame.enlarged is None
            assert frame.at_scale.whole.width <= 100 + NEAR and frame.at_scale.whole.height <= drawn.height + 0.01
    assert len(scales) == 1
    assert all(one.whole and shows_all(one.whole.at_scale) for one in drawn.uncut)


def measured(length: float, share: float, *, whole: bool = True) -> tuple[PhotoView, float]:
    """A picture of three by four on which a lying line takes a share of the width."""
    line = (50 - 50 * share, 50.0, 50 + 50 * share, 50.0)
    return PhotoView("p", "", length=length, measured=line, licence=NO_CHANGES if whole else None), 0.75


@pytest.mark.parametrize(
    ("pictures", "framed"),
    [
        ((measured(10, 0.6), measured(10, 0.6, whole=False)), [True, True]),  # alike: at one scale
        ((measured(10, 0.1), measured(10, 0.6, whole=False)), [False, True]),  # a small animal in a wide view
        ((measured(400, 0.6), measured(10, 0.6, whole=False)), [False, True]),  # a bird beside a bug
        ((measured(10, 0.6), measured(400, 0.6, whole=False)), [False, True]),  # a bug beside a bird: too small in its frame
        ((measured(10, 0.6), measured(14, 0.7)), [True, True]),  # none may be cut
        ((measured(10, 0.1), measured(10, 0.7)), [False, True]),
        ((measured(10, 0.1), measured(12, 0.05)), [False, False]),
        ((measured(10, 0.3),), [True]),
    ],
)
def test_one_scale_goes_as_far_as_all_can_be_made_out(pictures: tuple[tuple[PhotoView, float], ...], framed: list[bool]) -> None:
    frames = frame_at_one_scale(pictures)
    assert (frames is not None) is any(framed)
    if frames is None:
        return
    assert [frame is not None for frame in frames.frames] == framed
    for frame in filter(None, frames.frames):
        if not frame.photo.may_be_cut:
            assert shows_all(frame.at_scale)
            assert (frame.photo.length or 0) / frames.across >= LEAST / 100 - NEAR


def test_others_stay_at_least_half_as_large_as_by_themselves() -> None:
    own, kept = measured(10, 0.6, whole=False), measured(10, 0.36)
    alone, beside = frame_at_one_scale([own]), frame_at_one_scale([own, kept])
    assert alone and beside
    assert beside.across <= 2 * max(alone.across, alone.across * alone.height / 100) + NEAR


@pytest.mark.parametrize("size", PICTURES)
def test_sheets_and_spreads_show_it_whole(size: tuple[int, int]) -> None:
    room = Area(60, 60)
    for turn in TURNS:
        for length in (30.0, 2000.0):
            shots = [keep_whole(shoot("dragonfly", size, turn), length), shoot("bird in flight", size, turn)]
            pictures = printed(shots[0]) | printed(shots[1])
            side = draw_side(plates(*(shot.photo for shot in shots)), pictures, room, PLAIN, "adult")
            spread = draw_pictures([shot.photo for shot in shots], pictures, room, PLAIN, words("en"), caption=4.0)
            kept, plate = side.faces[0], spread.faces[0]
            assert plate and (kept.at_scale or kept.uncut) and not side.apart
            assert kept.uncut or length < 100
            for svg, area in ((kept.picture, area_of(kept.picture)), (plate.drawing, Area(plate.box.width, plate.box.height))):
                (part,) = parts_on_paper(svg, area)
                assert is_whole(part), (turn, length, part)


def every_shot() -> Iterator[Shot]:
    return (keep_whole(shot) for shot in all_shots())


def test_lists_and_walks_show_it_whole() -> None:
    area = Area(40, 30)
    for shot in every_shot():
        html = small_picture_html(shot.photo, published(shot), root="").text
        x, y, wide, high = (float(side) for side in re.search(r'viewBox="([^"]+)"', html)[1].split())  # type: ignore[index]
        part = x / 100, y / 100 / shot.shape, (x + wide) / 100, (y + high) / 100 / shot.shape
        assert is_whole(part), shot.photo
        (part,) = parts_on_paper(draw_sought(shot.photo, printed(shot)[shot.photo.id], area), area)
        assert is_whole(part), shot.photo


def test_cards_show_it_whole_among_look_alikes_and_forms() -> None:
    card = next(card for card in card_views(make_published(read("tests/guides/estuary-waders"))) if len(card.look_alikes) > 1)
    for size in PICTURES:
        shots = [keep_whole(shoot(name, size, 30)) for name in ANIMALS][:3]
        own, *others = (shot.photo for shot in shots)
        alike = tuple(replace(other, photo=photo) for other, photo in zip(card.look_alikes, others, strict=False))
        pictures = {name: one for shot in shots for name, one in printed(shot).items()}
        with_them = replace(card, look_alikes=alike, forms=(own, *others))
        thumbs = draw_thumbs(with_them, pictures, 9, frozenset(), PLAIN)
        strip = draw_strip(with_them, pictures, Area(90, 15), 8, frozenset())
        assert thumbs and strip
        drawn = [one.picture for one in (*strip.pictures, *thumbs.by_name.values())]
        assert len(drawn) == len(shots) * 2 - 1
        for svg in drawn:
            assert all(is_whole(part) for part in parts_on_paper(svg, area_of(svg)))


def test_no_part_of_it_is_enlarged_on_its_plate() -> None:
    free = PhotoView("p", "", marks=(MarkView(1, "a small dot", (50, 50), wide=2.0),), measured=(45, 60, 55, 60))
    copies = {"p": PictureSet(1600, 1200, (Variant("webp", 1600, "photos/p.webp", 1200),))}
    picture = printed(Shot(Image.new("RGB", (1600, 1200)), free))["p"]
    box = Area(120, 90)
    for photo, enlarged in ((free, True), (replace(free, licence=NO_CHANGES), False)):
        plate = draw_plate(photo, copies)
        assert plate and plate.layout
        assert [pointer.close_up is not None for pointer in plate.layout.pointers] == [enlarged]
        face = draw_pictures([photo], {"p": picture}, box, PLAIN, words("en"), caption=4.0).faces[0]
        assert face and (face.drawing.count("<image") > 1) is enlarged


# --- In a whole guide ----------------------------------------------------------------------------------------------------------


def with_photo(guide: Guide, photo: str, **facts: object) -> Guide:
    return replace(guide, photos={**guide.photos, photo: replace(guide.photos[photo], licence="CC-BY-ND-4.0", **facts)})


def page_of(guide: Guide, path: str) -> str:
    page = next(page for page in site_pages(make_published(guide), TODAY) if page.path == path)
    pictures = {photo: PictureSet(720, 540, (Variant("webp", 720, f"photos/{photo}.webp", 540),)) for photo in guide.photos}
    return render_page(page, pictures, THEME).decode()


def figures_of(html: str, photo: str) -> list[str]:
    return re.findall(rf'<figure data-photo="{photo}".*?</figure>', html, re.DOTALL)


PAIR = "compare/hawthorn-shieldbug--juniper-shieldbug.html"
FAMILY = "families/acanthosomatidae.html"


@pytest.mark.parametrize("path", [PAIR, FAMILY])
def test_pages_of_look_alikes_and_families_cut_nothing_off_it(path: str) -> None:
    html = page_of(with_photo(read("sample_guide"), "juniper-adult"), path)
    figures = figures_of(html, "juniper-adult")
    assert figures
    cut = re.compile(r'<svg class="(?:true|enlarged)" x="[^"]+" y="[^"]+" width="([^"]+)" height="([^"]+)"><foreignObject ([^>]+)>')
    for figure in figures:
        for wide, high, whole in cut.findall(figure):
            assert whole == f'x="0.0" y="0.0" width="{wide}" height="{high}"'


@pytest.mark.parametrize("path", [PAIR, FAMILY])
def test_pages_say_why_a_wide_view_stands_apart(path: str) -> None:
    guide = read("sample_guide")
    small = (48.0, 50.0, 52.0, 50.0)
    html = page_of(with_photo(guide, "juniper-adult", measured=small), path)
    notice, apart = html.split(f'<p class="notice">{WHY}:</p>')
    assert figures_of(apart.split("</ul>")[0], "juniper-adult")
    assert "as no length is measured" not in notice
    assert WHY not in page_of(guide, path)


def test_sheet_says_why_a_wide_view_is_not_at_its_scale(tmp_path: Path) -> None:
    guide = with_photo(read("sample_guide"), "juniper-adult", measured=(48.0, 50.0, 52.0, 50.0))
    sheet = find_sheet(replace(guide, accounts={i: guide.accounts[i] for i in ("hawthorn-shieldbug", "juniper-shieldbug")}), "hawthorn")
    _, data = draw(sheet, tmp_path)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        text = " ".join(word["text"] for page in pdf.pages for word in page.extract_words())
    assert all(word in text for word in WHY.split())
    assert "measured" not in text
