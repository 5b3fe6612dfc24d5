"""The output `posts`: for each account its texts and its picture in every shape, a page of them all, and the plan of weeks."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from urllib.parse import urlsplit

from icalendar import Calendar, Event

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.engine.told_by_views import problem_of
from guidebuild.press.outputs.posts.pages import PlanWork, PostsWork, render_plan, render_posts
from guidebuild.press.outputs.posts.pictures import PostPictures, render_pictures
from guidebuild.press.photos.copies import Recipe
from guidebuild.press.photos.info import picture_info
from guidebuild.press.photos.jobs import PICTURE, recipe_for
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.working_pages import publish_beside
from guidebuild.views.pieces.cuts import cut_widest
from guidebuild.views.pieces.one_scale import Box
from guidebuild.views.posts.posts import Crop, PostView, post_views
from guidebuild.views.posts.week_plan import WeekPlanView, week_plan
from guidebuild.words import words

PAGE = Craft("page", "pages", cost=10.0)
WIDTH = 1080
"""Pixels across of a posted picture."""


@dataclass(frozen=True, slots=True)
class PictureShape:
    """One posted picture: its name, shape (None: the whole picture), what of it is shown (None: its middle), and its width in pixels."""

    name: str
    ratio: tuple[int, int] | None = None
    part: Box | None = None
    width: int = WIDTH


def publish_posts(  # noqa: PLR0913 - what it depends on, each by its name
    guide: Published,
    files: Files,
    maker: Maker,
    pictures: PictureMaker,
    problems: Problems,
    *,
    theme: tuple[Path, ...],
    today: dt.date,
) -> None:
    """Everything under posts/."""
    posts = tuple(post_views(guide))
    originals = pictures.find_originals([post.photo.id for post in posts if post.photo])
    pieces = {
        post.account: _piece(guide, maker, post, post.photo.id, originals[post.photo.id])
        for post in posts
        if post.photo and post.photo.id in originals
    }
    maker.make(pieces.values())
    for post in posts:
        for name, text in _texts(post).items():
            files.add(f"{post.account}/{name}", text.encode())
        problems.tell(*map(problem_of, post.findings))
    named = {account: tuple(PurePosixPath(path).name for path in piece.paths) for account, piece in pieces.items()}
    plan, settings = week_plan(guide, today), guide.settings
    told = PostsWork(settings.title, settings.language, posts, tuple(named.items()), theme)
    maker.make(
        [
            Piece(maker.job(PAGE, render_posts, told, where="page posts/index.html"), ("index.html",)),
            Piece(
                maker.job(PAGE, render_plan, PlanWork(settings.title, plan, settings.language, theme), where="page posts/plan.html"),
                ("plan.html",),
            ),
        ]
    )
    files.add("plan.ics", plan_calendar(plan, settings.address))
    publish_beside(guide, files, maker, theme=theme, names=("posts/posts.css",))


def _piece(guide: Published, maker: Maker, post: PostView, photo: str, path: Path) -> Piece:
    """A post's pictures, one a shape."""
    shapes = tuple(_shapes(post, path))
    work = PostPictures(path, tuple(_recipe(guide, photo, shape) for shape in shapes), guide.photos[photo].file)
    job = maker.job(PICTURE, render_pictures, work, where=f"post {post.account}")
    return Piece(job, tuple(f"{post.account}/{shape.name}.jpg" for shape in shapes))


def _shapes(post: PostView, path: Path) -> Iterator[PictureShape]:
    info = picture_info(path, str(path.name))
    if isinstance(info, Problem):
        return
    if not post.crops:
        yield PictureShape("whole")
        return
    for crop in post.crops:
        yield _shape(crop, (info.width, info.height), post)


def _shape(crop: Crop, size: tuple[int, int], post: PostView) -> PictureShape:
    """As much of the picture as holds all of the animal; the middle where nothing says where that is: its check tells a great loss."""
    # Whole multiples of the ratio give the exact shape in whole pixels: 1146 by 600 for 1.91 to 1.
    width = max(1, round(WIDTH / crop.ratio[0])) * crop.ratio[0]
    part = cut_widest(post.photo, size[1] / size[0], crop.ratio[0] / crop.ratio[1]) if post.photo else None
    return PictureShape(crop.name, crop.ratio, part, width)


def _recipe(guide: Published, photo_id: str, shape: PictureShape) -> Recipe:
    recipe = recipe_for(guide, guide.photos[photo_id], "post", ratio=shape.ratio)
    part = (shape.part.x, shape.part.y, shape.part.width) if shape.part else None
    return replace(recipe, widths=(shape.width,), part=part)


def _texts(post: PostView) -> Mapping[str, str]:
    texts = {f"{text.name}.txt": text.text + "\n" for text in (*post.texts, *post.versions, *post.corrections)}
    if post.photo:
        texts |= {"alt.txt": post.alt + "\n", "credit.txt": post.credit + "\n"}
    return texts


def plan_calendar(plan: WeekPlanView, address: str) -> bytes:
    """The plan as iCalendar (RFC 5545): one all-day event a week."""
    calendar = Calendar()
    say = words(plan.language)
    calendar.add("prodid", f"-//guidebuild//posting plan//{plan.language.upper()}")
    calendar.add("version", "2.0")
    stamp = dt.datetime.combine(plan.made, dt.time(), tzinfo=dt.UTC)
    for week in plan.weeks:
        event = Event()
        host = urlsplit(address).netloc or "guide.invalid"
        event.add("uid", f"{week.monday.isoformat()}-{week.account}@{host}")
        event.add("dtstamp", stamp)
        event.add("dtstart", max(week.monday, plan.made))
        event.add("summary", say("Post: {name}", name=week.name.short))
        event.add("description", "; ".join(week.why))
        calendar.add_component(event)
    return bytes(calendar.to_ical())
