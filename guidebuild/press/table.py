"""What can be published: one line an output, with all that it is given."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.guide.field_declaration import OutputName
from guidebuild.later import imported_when_used
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Maker
from guidebuild.press.engine.problems import Problems
from guidebuild.press.photos.maker import PictureMaker

with imported_when_used():  # the PDF libraries alone take a second, and are not always needed
    from guidebuild.press.outputs.cards import output as cards
    from guidebuild.press.outputs.data import output as data
    from guidebuild.press.outputs.posts import output as posts
    from guidebuild.press.outputs.scripts import output as scripts
    from guidebuild.press.outputs.site import output as site
    from guidebuild.press.outputs.slides import output as slides
    from guidebuild.press.outputs.walks import output as walks


@dataclass(frozen=True, slots=True)
class Order:
    """All that an output may be given; the table says what each one is."""

    guide: Published
    asked: Published
    """The same guide, noting what it is asked."""
    folder: Path
    """The guide's own folder."""
    today: dt.date
    theme: tuple[Path, ...]
    """Where templates are looked for: the guide's own `theme/`, then the shipped one."""
    high_contrast: bool
    files: Files
    maker: Maker
    pictures: PictureMaker
    problems: Problems


@dataclass(frozen=True, slots=True)
class Output:
    """One thing that is published, under a folder of its name."""

    name: OutputName
    publish: Callable[[Order], None]
    share: float = 0.1
    """What it takes of a run's time, compared with the others: measured on the sample, in seconds of a processor for each account."""
    sets_type: bool = False
    """Whether pages are laid out for it, for which helpers get ready as they start."""

    @property
    def module(self) -> str:
        """Its module, for helpers that import it ahead."""
        return f"guidebuild.press.outputs.{self.name}.output"


OUTPUTS = (
    Output(
        OutputName.CARDS,
        lambda o: cards.publish_cards(
            cards.Printing(o.guide, o.files, o.maker, o.pictures, o.problems, o.theme, o.high_contrast, o.folder)
        ),
        1.2,
        sets_type=True,
    ),
    Output(
        OutputName.SITE,
        lambda o: site.publish_site(
            o.guide, o.asked, o.files, o.maker, o.pictures, folder=o.folder, problems=o.problems, theme=o.theme, today=o.today
        ),
        0.9,
    ),
    Output(
        OutputName.SCRIPTS,
        lambda o: scripts.publish_scripts(o.guide, o.files, o.maker, o.pictures, o.problems, theme=o.theme),
        0.55,
        sets_type=True,
    ),
    Output(
        OutputName.POSTS,
        lambda o: posts.publish_posts(o.guide, o.files, o.maker, o.pictures, o.problems, theme=o.theme, today=o.today),
        0.12,
    ),
    Output(
        OutputName.SLIDES,
        lambda o: slides.publish_slides(o.guide, o.files, o.maker, o.pictures, o.problems, theme=o.theme, today=o.today),
        0.1,
        sets_type=True,
    ),
    Output(
        OutputName.WALKS,
        lambda o: walks.publish_walks(o.guide, o.files, o.maker, o.problems, theme=o.theme, today=o.today),
        0.07,
        sets_type=True,
    ),
    Output(OutputName.DATA, lambda o: data.publish_data(o.asked, o.files, o.pictures), 0.01),
)
"""Every output, in the order in which they are made: the site takes the cards along."""
LAST_LOOK, TYPESETTING = "guidebuild.press.leak_scan", "guidebuild.press.paper.warming"
"""Modules that helpers import ahead: what looks through all files in the end, and what gets ready to set type."""
SHARE_OF_LAST_LOOK = 0.5
"""What the last look through all files takes, in the same measure."""
