"""A post's pictures: one original cut to every shape."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.copies import Recipe
from guidebuild.press.photos.copying import PhotoWork, copies_of, make_copies


@dataclass(frozen=True, slots=True)
class PostPictures:
    """One original and the recipe of each of its posted pictures."""

    path: Path
    recipes: tuple[Recipe, ...]
    where: str


def render_pictures(work: PostPictures) -> Made:
    """One picture a recipe."""
    parts: list[bytes] = []
    problems: list[Problem] = []
    for recipe in work.recipes:
        made = make_copies(PhotoWork(work.path, recipe, work.where))
        parts += [copy.data for copy in copies_of(made)]
        problems += made.problems
    return Made(tuple(parts), tuple(dict.fromkeys(problems)))
