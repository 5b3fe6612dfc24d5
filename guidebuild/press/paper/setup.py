"""What stays the same while something is fitted to paper, and what comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN, Inks
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Format
from guidebuild.press.paper.theme import Theme, read_theme
from guidebuild.press.photos.print_copy import Pictures


@dataclass(frozen=True, slots=True)
class CardResult:
    """One printed thing as a PDF, and what went wrong; what does not fit has no `pdf`."""

    id: str
    pdf: bytes
    problems: tuple[Problem, ...]
    layouts: int = 1


@dataclass(frozen=True, slots=True)
class Setup:
    """Pictures, format, theme and inks of one printed thing."""

    pictures: Pictures
    format: Format
    theme: Theme
    contrast: bool

    @property
    def inks(self) -> Inks:
        """Colours, or black and white for the sun."""
        return HIGH_CONTRAST if self.contrast else PLAIN

    @property
    def sizes(self) -> tuple[float, ...]:
        """Type sizes that the format allows, largest first."""
        return self.theme.sizes_within(self.format.least_type, self.format.largest_type)

    @property
    def fetcher(self) -> GuideFetcher:
        """Serves these pictures and nothing else."""
        return GuideFetcher(pictures=self.pictures.values())


def make_setup(pictures: Pictures, printed: Format, theme_folders: Sequence[Path], *, contrast: bool = False) -> Setup:
    """The setup for a format in a theme, the guide's own folders first."""
    return Setup(pictures, printed, read_theme(tuple(theme_folders)), contrast)
