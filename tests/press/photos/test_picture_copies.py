"""What is cut away and how many pixels are left (cases A18 and A25 of the collected ones)."""

import io

import pikepdf
import pytest
from PIL import ImageDraw

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.pdf import html_to_pdf
from guidebuild.press.photos.copies import Focus, Recipe, crop_box, prepare_each, print_width
from guidebuild.press.photos.credit import Credit
from tests.press.photos.pieces_of_pictures import EVERY, copies, flat, noise, opened, problem, saved


def dotted() -> bytes:
    picture = flat((3000, 4000))
    ImageDraw.Draw(picture).ellipse((1450, 430, 1550, 530), fill=(255, 0, 0))
    return saved(picture, quality=90)


@pytest.mark.parametrize("ratio", [(16, 9), (1, 1), (3, 2), (40, 21), (86, 54), (9, 16)])
def test_every_crop_keeps_the_focus_and_has_the_exact_shape(ratio: tuple[int, int]) -> None:
    made = copies(dotted(), Recipe((700, 333), ("png",), ratio=ratio, focus=Focus(0.5, 0.12)))
    assert made.problems == ()
    for copy in made.copies:
        assert copy.width * ratio[1] == copy.height * ratio[0]
        red = [1 for _, (r, g, b) in opened(copy).getcolors(1 << 20) or () if r > 200 and g < 90 and b < 90]  # type: ignore[misc]
        assert red


def test_centre_crop_that_loses_much_is_told() -> None:
    made = copies(dotted(), Recipe((400,), ("jpeg",), ratio=(16, 9)))
    assert [one.what for one in made.problems] == ["crop"]
    assert "cutting the photo to 16:9 leaves out 58% of its height" in made.problems[0].message
    assert copies(dotted(), Recipe((400,), ("jpeg",), ratio=(1, 1))).problems == ()


def test_whole_photo_is_kept_without_a_shape() -> None:
    only = copies(dotted(), Recipe((300,), ("jpeg",))).copies[0]
    assert (only.width, only.height) == (300, 400)


def test_crop_box_reaches_the_edge_and_no_further() -> None:
    assert crop_box(3000, 4000, (16, 9), Focus(0.5, 0.12)) == (0, 0, 3000, 1687.5)
    assert crop_box(3000, 4000, (16, 9), Focus(0.5, 0.99)) == (0, 2312.5, 3000, 4000)
    assert crop_box(4000, 3000, (1, 1), None) == (500, 0, 3500, 3000)


def test_no_copy_is_larger_than_the_photo_and_none_is_made_twice() -> None:
    made = copies(saved(flat((500, 300))), Recipe((480, 800, 1600), ("webp", "jpeg"), jpeg_widths=(480,)))
    assert [(copy.encoding, copy.width, copy.height) for copy in made.copies] == [
        ("webp", 500, 300),
        ("webp", 480, 288),
        ("jpeg", 480, 288),
    ]


def test_same_photo_and_recipe_give_the_same_bytes() -> None:
    photo = saved(noise())
    recipe = Recipe((300, 100), EVERY, ratio=(3, 2), credit=Credit("A"))
    assert copies(photo, recipe) == copies(photo, recipe)


def test_stand_in_is_light_and_of_the_mean_colour() -> None:
    made = copies(saved(flat((400, 300), (16, 128, 64)), "PNG"), Recipe((100,), ("jpeg",)))
    assert made.colour == "#108040"
    assert len(made.placeholder) < 200


def test_print_needs_are_told_in_pixels() -> None:
    assert print_width(80) == 945


def test_large_photo_is_embedded_small_and_once() -> None:
    copy = copies(saved(noise((6000, 400))), Recipe((print_width(80),), ("print",))).copies[0]
    assert copy.width == 945
    head = '<html lang="en"><title>t</title><style>@page{size:86mm 54mm}section{break-after:page}</style>'
    page = head + '<section><img src="pictures/a.jpg" alt="a" style="width:80mm"></section>' * 5
    made = html_to_pdf(page, fetcher=GuideFetcher(files={"pictures/a.jpg": copy.data}), where="deck")
    assert made.problems == ()
    with pikepdf.open(io.BytesIO(made.data)) as document:
        images = [one for one in document.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"]
        assert [int(one.Width) for one in images] == [945]
    assert len(made.data) < len(copy.data) + 20_000


def test_several_recipes_of_one_photo_give_what_each_gives_alone() -> None:
    photo = dotted()
    recipes = tuple(
        Recipe((width,), ("jpeg",), ratio=ratio, sizes_only=True) for width, ratio in ((300, (1, 1)), (240, (4, 5)), (280, None))
    )
    together = prepare_each(photo, recipes, "toad.jpg")
    assert together == tuple(copies(photo, recipe) for recipe in recipes)
    assert prepare_each(photo[: len(photo) // 2], recipes, "toad.jpg") == problem(photo[: len(photo) // 2])
