"""What is wished of a run that publishes, and what it gave."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.guide.field_declaration import OutputName
from guidebuild.guide.findings import Level
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.staging import Outcome
from guidebuild.views.posts.codes import POST_CODES
from guidebuild.views.slides.codes import SLIDE_CODES

MILD = frozenset(code.code for code in (*PROBLEM_CODES, *POST_CODES, *SLIDE_CODES) if code.level is not Level.ERROR)
"""Problems that are told but do not fail a run: everything asked for was made."""


@dataclass(frozen=True, slots=True)
class Publication:
    """What a run gave. `outcome` is None where nothing was put in place, because of a leak."""

    outcome: Outcome | None
    problems: tuple[Problem, ...]
    leaks: tuple[Problem, ...] = ()

    @property
    def failed(self) -> bool:
        """Whether anything asked for could not be made, or would have given a secret away."""
        return bool(self.leaks) or any(problem.what not in MILD for problem in self.problems)


@dataclass(frozen=True, slots=True)
class Wishes:
    """How to publish: which outputs (none named: all), how many worker processes, cards for bright sun, and into which folder."""

    outputs: tuple[str, ...] = ()
    workers: int | None = None
    high_contrast: bool = False
    place: Path | None = None
    begun: int | None = None
    """When the guide began to be read, in nanoseconds since 1970; what a run that knows it made can be known again."""
    anyway: bool = False
    """Whether what is no longer made is taken away though the run has errors."""
    anew: bool = False
    """Whether everything is made again, and nothing that was stored is trusted."""

    def name_outputs(self) -> tuple[OutputName, ...]:
        """The outputs that are asked for, in the order in which they are made."""
        return tuple(name for name in OutputName if not self.outputs or name in self.outputs)
