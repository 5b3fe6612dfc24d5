"""A post's pictures: one original cut to every shape."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.copies import Recipe, prepare_each


@dataclass(frozen=True, slots=True)
class PostPictures:
    """One original and the recipe of each of its posted pictures."""

    path: Path
    recipes: tuple[Recipe, ...]
    where: str


def render_pictures(work: PostPictures) -> Made:
    """One picture a recipe."""
    each = prepare_each(work.path.read_bytes(), work.recipes, work.where)
    if isinstance(each, Problem):
        return Made((), (each,))
    parts = tuple(copy.data for copies in each for copy in copies.copies)
    return Made(parts, tuple(dict.fromkeys(problem for copies in each for problem in copies.problems)))
