"""The author's pages about posts: all of them, and the plan of weeks."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.theme.sandbox import fill_template
from guidebuild.views.posts.posts import PostView
from guidebuild.views.posts.week_plan import WeekPlanView
from guidebuild.words import words


@dataclass(frozen=True, slots=True)
class PostsWork:
    """What the page of all posts needs; `pictures` are the files of each account."""

    guide: str
    language: str
    posts: tuple[PostView, ...]
    pictures: tuple[tuple[str, tuple[str, ...]], ...]
    theme_folders: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class PlanWork:
    """What the page of the plan needs."""

    guide: str
    plan: WeekPlanView
    language: str
    theme_folders: tuple[Path, ...]


def render_posts(work: PostsWork) -> Made:
    """The page of all posts."""
    values = {"posts": work.posts, "pictures": dict(work.pictures), "guide": work.guide}
    return Made((fill_template(work.theme_folders, "posts/index.html", work.language, **values).encode(),))


def render_plan(work: PlanWork) -> Made:
    """The page of the plan of weeks."""
    values = {"plan": work.plan, "date": words(work.language).date, "guide": work.guide}
    return Made((fill_template(work.theme_folders, "posts/plan.html", work.language, **values).encode(),))
