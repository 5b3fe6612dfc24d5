"""Posted pictures hold what they must, in the exact shape; the plan of weeks is a calendar that others can read."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from icalendar import Calendar
from PIL import Image, ImageDraw

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide, Licence
from guidebuild.guide.posted import NotedPost, PostedFact, PostNotes
from guidebuild.guide.records import Place, Sensitivity
from guidebuild.press.engine.progress import Silence
from guidebuild.press.outputs.posts.output import plan_calendar
from guidebuild.press.photos.copies import TONE
from guidebuild.press.publication import Publication, Wishes
from guidebuild.press.publish import publish
from guidebuild.views.pieces.common import MarkView, PhotoView
from guidebuild.views.pieces.cuts import cut_widest
from guidebuild.views.posts.week_plan import week_plan
from tests.checks.invented import guide, with_account

SHAPES = {"square": (1, 1), "portrait": (4, 5), "tall": (9, 16), "wide": (191, 100)}
TODAY = dt.date(2026, 6, 1)


def picture(folder: Path, name: str, size: tuple[int, int], dot: tuple[float, float]) -> None:
    """A green picture with a red dot, in per cent across and down."""
    (folder / "photos").mkdir(exist_ok=True)
    drawn = Image.new("RGB", size, (60, 120, 60))
    x, y = size[0] * dot[0] / 100, size[1] * dot[1] / 100
    radius = min(size) / 60
    ImageDraw.Draw(drawn).ellipse((x - radius, y - radius, x + radius, y + radius), fill=(230, 20, 20))
    drawn.save(folder / "photos" / name, quality=90)


def one_account(**photo: object) -> Guide:
    """The invented guide's red bug with a changed photo; its mark points where `point` says."""
    base = guide()
    changed = replace(base.photos["red-bug-adult"], **photo)  # type: ignore[arg-type]
    base = replace(base, accounts={"red-bug": base.accounts["red-bug"]}, photos={changed.id: changed})
    return replace(base, photo_files=frozenset({"photos/red-bug-adult.jpg"}))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One guide folder for all tests here, so that the typefaces are made once; each test publishes into a place of its own."""
    return tmp_path_factory.mktemp("posts")


def posted(folder: Path, base: Guide, place: Path) -> Publication:
    return publish(folder, base, today=TODAY, progress=Silence(), wishes=Wishes(outputs=("posts",), workers=1, place=place / "published"))


def red_share(data: bytes) -> float:
    """The share of pixels that belong to the red dot."""
    with Image.open(io.BytesIO(data)) as opened:
        small = opened.convert("RGB").resize((120, round(120 * opened.height / opened.width)))
    colours = small.getcolors(small.width * small.height) or []
    return sum(count for count, (r, g, b) in colours if r > 150 and g < 90 and b < 90) / (small.width * small.height)


@pytest.mark.parametrize("pointed", ["focus", "mark"])
def test_a_dot_near_the_edge_is_in_every_shape_and_every_shape_is_exact(folder: Path, tmp_path: Path, pointed: str) -> None:
    picture(folder, "red-bug-adult.jpg", (3000, 4000), (50, 12))
    base = one_account(focus=(50, 12) if pointed == "focus" else None)
    mark = base.accounts["red-bug"].diagnostics[0]
    marks = (replace(mark, point=(50, 12)),) if pointed == "mark" else ()
    made = posted(folder, with_account(base, "red-bug", diagnostics=marks), tmp_path)
    assert made.problems == ()
    out = tmp_path / "published/posts/red-bug"
    assert sorted(p.stem for p in out.glob("*.jpg")) == sorted(SHAPES)
    for name, (across, down) in SHAPES.items():
        data = (out / f"{name}.jpg").read_bytes()
        with Image.open(io.BytesIO(data)) as cut:
            assert cut.width * down == cut.height * across, name
            assert cut.width >= 1000
        # The dot is a circle of a sixtieth of the width: whole, it is some 0.1 % of any of these cuts.
        assert red_share(data) > 0.0005, name


def test_without_focus_or_marks_the_middle_is_cut_and_a_great_loss_is_told(folder: Path, tmp_path: Path) -> None:
    picture(folder, "red-bug-adult.jpg", (1500, 2000), (50, 12))
    made = posted(folder, with_account(one_account(), "red-bug", diagnostics=()), tmp_path)
    told = [problem for problem in made.problems if problem.what == "crop"]
    assert told
    assert all("focus" in problem.message for problem in told)
    assert not made.failed


def test_what_no_cut_can_hold_stands_on_tone_in_the_exact_shape(folder: Path, tmp_path: Path) -> None:
    picture(folder, "red-bug-adult.jpg", (900, 1200), (50, 10))
    base = one_account()
    mark = base.accounts["red-bug"].diagnostics[0]
    base = with_account(base, "red-bug", diagnostics=(replace(mark, point=(50, 10)), replace(mark, point=(50, 90))))
    assert posted(folder, base, tmp_path).problems == ()
    for name, (across, down) in SHAPES.items():
        data = (tmp_path / f"published/posts/red-bug/{name}.jpg").read_bytes()
        assert red_share(data) > 0.0002, name
        with Image.open(io.BytesIO(data)) as cut:
            assert cut.width * down == cut.height * across, name
            pixels = cut.convert("RGB")
        corner, middle = pixels.getpixel((3, pixels.height // 2)), pixels.getpixel((pixels.width // 2, pixels.height // 2))
        # What is wanted is taller than a square is wide: the tone of plates stands beside the picture.
        assert (max(abs(a - b) for a, b in zip(corner, TONE, strict=True)) <= 3) == (name in {"square", "wide"}), name  # type: ignore[arg-type]
        assert middle[1] > middle[0] + 40, name  # type: ignore[index, operator]


def test_antennae_and_legs_are_kept_where_the_body_was_measured(folder: Path, tmp_path: Path) -> None:
    # The dot stands 42 % of the body's length ahead of it, where a shieldbug's antenna ends.
    picture(folder, "red-bug-adult.jpg", (1200, 900), (50, 13.2))
    base = one_account(measured=(50, 30, 50, 70))
    assert posted(folder, with_account(base, "red-bug", diagnostics=()), tmp_path).problems == ()
    for name in SHAPES:
        assert red_share((tmp_path / f"published/posts/red-bug/{name}.jpg").read_bytes()) > 0.0004, name


def test_a_picture_under_no_derivatives_is_posted_whole_and_a_note_says_so(folder: Path, tmp_path: Path) -> None:
    picture(folder, "red-bug-adult.jpg", (1200, 900), (50, 40))
    licence = Licence("CC-BY-ND-4.0", "CC BY-ND 4.0", derivatives=False)
    base = replace(one_account(licence=licence.id), licences={licence.id: licence})
    made = posted(folder, base, tmp_path)
    assert [(problem.what, problem.where) for problem in made.problems] == [("photo-not-cut", "photos.yaml")]
    assert not made.failed
    out = tmp_path / "published/posts/red-bug"
    assert [p.name for p in out.glob("*.jpg")] == ["whole.jpg"]
    with Image.open(out / "whole.jpg") as whole:
        assert whole.width * 3 == whole.height * 4
    assert "The picture is posted whole" in (tmp_path / "published/posts/index.html").read_text(encoding="utf-8")


def test_texts_alt_and_credit_stand_beside_the_pictures(folder: Path, tmp_path: Path) -> None:
    picture(folder, "red-bug-adult.jpg", (400, 300), (50, 40))
    posted(folder, one_account(), tmp_path)
    out = tmp_path / "published/posts/red-bug"
    texts = ["alt", "credit", "long", "medium", "plain-words", "reply-with-sources", "short", "to-be-heard"]
    assert sorted(p.stem for p in out.glob("*.txt")) == texts
    assert (out / "alt.txt").read_text(encoding="utf-8") == "Seen from above: a dark spot in the middle of a pale back.\n"
    assert (out / "credit.txt").read_text(encoding="utf-8") == "Photo by A. Maker, CC BY 4.0; cut to size.\n"
    page = (tmp_path / "published/posts/index.html").read_text(encoding="utf-8")
    assert "style=" not in page
    assert "<script" not in page


POINTS = st.tuples(st.floats(0, 100), st.floats(0, 100))


# As high as its subject, but for rounding.
@example(3.8183521681376646, (191, 100), [], (0.0, 85.7398353882542), ((45.0, 45.0), (45.0, 60.23781740233526)))
@given(
    st.floats(0.2, 5),
    st.sampled_from(list(SHAPES.values())),
    st.lists(POINTS, max_size=4),
    st.none() | POINTS,
    st.none() | st.tuples(POINTS, POINTS).filter(lambda ends: ends[0] != ends[1]),
)
def test_a_cut_holds_every_point_of_the_picture_that_matters(
    shape: float,
    ratio: tuple[int, int],
    points: list[tuple[float, float]],
    focus: tuple[float, float] | None,
    line: tuple[tuple[float, float], tuple[float, float]] | None,
) -> None:
    marks = tuple(MarkView(number, "mark", point) for number, point in enumerate(points, 1))
    photo = PhotoView("p", "", marks=marks, focus=focus, length=10 if line else None, measured=(*line[0], *line[1]) if line else None)
    cut = cut_widest(photo, shape, ratio[0] / ratio[1])
    kept = [*points, *([focus] if focus else []), *(line or ())]
    assert (cut is None) == (not kept)
    if cut:
        assert cut.width / cut.height == pytest.approx(ratio[0] / ratio[1])
        for across, down in kept:
            assert cut.x - 1e-6 <= across <= cut.x + cut.width + 1e-6
            assert cut.y - 1e-6 <= down * shape <= cut.y + cut.height + 1e-6


# RFC 5545: content lines end in CRLF and are folded at 75 octets (3.1); VCALENDAR has PRODID and VERSION (3.6);
# VEVENT has UID and DTSTAMP, the latter in UTC (3.6.1, 3.8.7.2).
def test_the_plan_of_weeks_is_a_calendar_by_rfc_5545() -> None:
    plan = week_plan(make_published(guide()), TODAY, weeks=4)
    data = plan_calendar(plan, "https://larkfold.example/guide")
    assert len(plan.weeks) == 4
    lines = data.split(b"\r\n")
    assert b"\n" not in b"".join(lines)
    assert max(len(line) for line in lines) <= 75
    read = Calendar.from_ical(data)
    assert (read["version"], read["prodid"]) == ("2.0", "-//guidebuild//posting plan//EN")
    events = list(read.walk("VEVENT"))
    assert [event.decoded("dtstart") for event in events] == [week.monday for week in plan.weeks]
    assert len({str(event["uid"]) for event in events}) == len(events)
    assert all(str(event["uid"]).endswith("@larkfold.example") for event in events)
    assert {event.decoded("dtstamp") for event in events} == {dt.datetime(2026, 6, 1, tzinfo=dt.UTC)}
    assert [str(event["summary"]) for event in events] == ["Post: Pale Bug", "Post: Red Bug", "Post: Pale Bug", "Post: Red Bug"]
    assert read.errors == []


def test_the_plan_of_the_same_day_is_the_same_file() -> None:
    assert plan_calendar(week_plan(make_published(guide()), TODAY), "") == plan_calendar(week_plan(make_published(guide()), TODAY), "")


def test_one_picture_filed_under_two_names_is_posted_for_both_accounts(folder: Path, tmp_path: Path) -> None:
    for name in ("red-bug-adult.jpg", "pale-bug-adult.jpg"):
        picture(folder, name, (400, 300), (50, 40))
    assert posted(folder, guide(), tmp_path).problems == ()
    for account in ("red-bug", "pale-bug"):
        names = {p.stem for p in (tmp_path / "published/posts" / account).glob("*.jpg")}
        assert names == set(SHAPES)


def test_corrections_lead_the_page_and_what_became_secret_is_in_none(folder: Path, tmp_path: Path) -> None:
    picture(folder, "red-bug-adult.jpg", (300, 400), (50, 12))
    secret = Place("weir", "Old Weir Pool", sensitivity=Sensitivity(1, "few are left"))
    says = (PostedFact("size", "2–3 mm"), PostedFact("places", "Old Weir Pool"))
    base = replace(one_account(), posted={"red-bug": PostNotes("red-bug", (NotedPost(dt.date(2026, 5, 4), says=says),))})
    made = posted(folder, replace(base, places={**base.places, "weir": secret}), tmp_path)
    assert [problem.message for problem in made.problems if "secret" in problem.message] == []
    out = tmp_path / "published/posts"
    page = (out / "index.html").read_text("utf-8")
    assert page.index('id="corrections"') < page.index('id="red-bug"')
    texts = {path.stem: path.read_text("utf-8") for path in out.glob("red-bug/correction-*.txt")}
    assert sorted(texts) == ["correction-long", "correction-medium", "correction-short"]
    assert all("On 4 May 2026 we wrote “Size: 2–3 mm”. It is “" in text for text in texts.values())
    assert not any(b"Weir" in path.read_bytes() for path in out.rglob("*") if path.is_file())
    # While the place is open, the same is corrected.
    posted(folder, replace(base, places={**base.places, "weir": replace(secret, sensitivity=Sensitivity())}), tmp_path)
    assert "we wrote “Places: Old Weir Pool”" in (out / "red-bug/correction-long.txt").read_text("utf-8")
