"""What one piece of work gives. It has a module of its own, so that what a worker makes does not depend on how it is stored."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.press.engine.problems import Problem


@dataclass(frozen=True, slots=True)
class Made:
    """What one piece of work gave: files in an agreed order, and what the author should know about them."""

    parts: tuple[bytes, ...]
    problems: tuple[Problem, ...] = ()
