"""Every setting of a guide, every file of the theme and every photo in turn: what shows it is made anew, and nothing else.

Work is only asked for here and not done again: what the first make gave stands for it. So that all settings can be tried, one by one.
"""

from __future__ import annotations

import datetime as dt
import shutil
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
import yaml

from guidebuild.guide.settings_fields import SETTINGS_FIELDS
from guidebuild.press import publish as publishing
from guidebuild.press.engine import store
from guidebuild.press.engine.digest import digest_bytes, digest_folder
from guidebuild.press.engine.jobs import AnyJob, Result, run_jobs
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.trees import MANIFEST
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.paper.output_profile import srgb_output
from guidebuild.press.paper.theme import read_theme
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from guidebuild.press.theme import fonts
from guidebuild.press.theme.sandbox import forget_templates
from guidebuild.session import open_session
from guidebuild.shipped import on_disk, themes
from tests.hostile.small_guide import write_small

TODAY = dt.date(2026, 6, 1)


class Desk:
    """Publishes a guide, doing each piece of work once; of later ones it is only told that they were asked for."""

    def __init__(self) -> None:
        self._made: dict[str, Made] = {}
        self._seen: Counter[str] = Counter()
        self.asked: set[str] = set()

    def do(self, bench: Workbench, jobs: Iterable[AnyJob]) -> Iterator[Result]:
        """Takes the place of `Workbench.do`."""
        for job in jobs:
            work = f"{job.function.__name__} {job.where}"
            self._seen[work] += 1
            name = f"{work} {self._seen[work]}"  # one photo is copied for several purposes
            if bench.store.has(job.key):
                yield from run_jobs([job], bench.store, bench._crew)
                continue
            self.asked.add(job.function.__name__)
            if name in self._made:
                yield Result(job, self._made[name])
                continue
            for result in run_jobs([job], bench.store, bench._crew):
                self._made[name] = result.made
                yield result

    def publish(self, guide: Path) -> dict[str, str]:
        """The digests of what is published of a guide, and in `asked` the work that had to be done for it."""
        self.asked = set()
        self._seen.clear()
        forget_templates()
        read_theme.cache_clear()
        made = publish(guide, open_session(guide).publishable(), today=TODAY, progress=Silence(), wishes=Wishes(workers=1))
        assert made.outcome
        published = guide / "published"
        files = (path for path in published.rglob("*") if path.is_file() and path.name != MANIFEST)
        return {path.relative_to(published).as_posix(): digest_bytes(path.read_bytes()) for path in files}


@pytest.fixture(scope="module")
def desk() -> Iterator[Desk]:
    desk = Desk()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Workbench, "do", lambda bench, jobs: desk.do(bench, jobs))  # noqa: PLW0108 -- a method would not be told whose it is
        patch.setattr(store, "_TOO_FRESH_NS", -1)
        patch.setattr(publishing, "find_leaks", lambda *given: ())
        patch.setattr(fonts, "subset_font", lambda face, signs: f"{face}{signs}".encode())
        yield desk


@pytest.fixture(scope="module")
def standing(desk: Desk, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, str]]:
    """The small guide as it was published, and the digests of its files."""
    guide = write_small(tmp_path_factory.mktemp("once") / "guide")
    (guide / "shop.icc").write_bytes(srgb_output().data)
    return guide, desk.publish(guide)


def find_changed(desk: Desk, before: dict[str, str], guide: Path) -> tuple[set[str], set[str]]:
    """The work that is asked for, and the outputs of which files changed without any."""
    after = desk.publish(guide)
    return desk.asked, {path.split("/")[0] for path in before.keys() | after.keys() if before.get(path) != after.get(path)}


PAGE, CARD, SHEETS, SCRIPT, PACK = {"make_page"}, {"make_card"}, {"render_key", "render_sheet"}, {"render_script"}, {"render_pack"}
LIST, COPIES, ROWS, POSTS = {"make_checklist"}, {"make_copies"}, {"render_index"}, {"render_posts"}
SLIDES = {"render_slides", "render_slides_page"}
NOTHING: set[str] = set()
ALL = PAGE | CARD | SHEETS | SCRIPT | PACK | LIST | ROWS | POSTS | SLIDES | {"draw_share", "render_plan"}
OUTLINE = '{"type": "Polygon", "coordinates": [[[-2, 51], [-1, 51], [-1, 52], [-2, 52], [-2, 51]]]}'
SETTINGS: dict[str, tuple[str, set[str], set[str]]] = {
    "title": ("Beetles of a front yard", ALL, {"cards", "data", "site"}),
    "region": ("the street", PAGE | {"render_key"}, {"data", "site"}),
    "country": ("GB", PAGE, NOTHING),  # each page names its language with a territory; no rows are read one by one here
    "description": ("Two beetles.", PAGE, {"data", "site"}),
    "languages": ("[en, es]", PAGE, {"site"}),
    "address": ("https://street.example", PAGE | CARD | SHEETS | POSTS | SLIDES, {"data", "posts", "site", "walks"}),
    "publisher": ("The Street Group", PAGE | CARD | SLIDES, {"data", "site", "walks"}),
    "contact": ("street@street.example", PAGE, {"data", "site"}),
    "licence": ("CC0-1.0", PAGE, {"data", "site"}),
    "photo credit": ("The Street Group", NOTHING, NOTHING),
    "photo licence": ("CC0-1.0", NOTHING, NOTHING),
    "group": ("butterfly", PAGE | CARD | SCRIPT | PACK | LIST | POSTS | SLIDES | {"render_plan"}, {"data", "posts", "site"}),
    "level": ("fieldable", NOTHING, NOTHING),
    "hemisphere": ("south", NOTHING, NOTHING),
    "year starts": ("July", PAGE | CARD | {"render_sheet", "render_slides"}, NOTHING),
    "time zone": ("America/New_York", NOTHING, NOTHING),
    # What stands in for the cards here has the former size, and sheets refuse it: those that were not reached are on no page.
    "card": ("a7", CARD | COPIES | PAGE, NOTHING),
    "paper": ("letter", SHEETS | PACK | COPIES, {"cards"}),
    "flip": ("short edge", NOTHING, {"cards"}),
    "bleed": ("3 mm", CARD, {"cards"}),
    "crop marks": ("no", NOTHING, NOTHING),  # no file for a shop is asked for there
    "paper thickness": ("0.12 mm", NOTHING, NOTHING),  # no booklet is asked for there
    "size beside": ("hand", CARD | {"render_sheet"}, NOTHING),
    "prints": ("[leaflet-a4]", COPIES | {"make_leaflet"}, {"cards"}),
    "ink limit": ("300 %", NOTHING, NOTHING),
    "print profile": ("shop.icc", NOTHING, NOTHING),
    "sold": ("[booklet]", NOTHING, NOTHING),
    "greeting": ("Welcome.", SCRIPT | ROWS, NOTHING),
    "sign off": ("Sleep well.", SCRIPT | ROWS, NOTHING),
    "hashtags": ("[ladybirds]", POSTS, {"posts"}),
    "posts": ("[{name: tiny, characters: 90}]", POSTS, {"posts"}),
    "slides": ("[all]", SLIDES, {"slides"}),
    "slide shapes": ("[square]", SLIDES, {"slides"}),
    "episodes": ("[{name: short, length: 20–30 s}]", SCRIPT | ROWS, NOTHING),
    "pace": ("{syllables: 5}", SCRIPT | ROWS, NOTHING),
    "region box": ("51.1, -1.9, 51.9, -1.1", PAGE, {"data", "site"}),
    "map": ("region.geojson", PAGE, NOTHING),  # its walk has one place
    "public positions": ('["51.2, -1.3"]', NOTHING, NOTHING),
    "dates": ("month first", NOTHING, NOTHING),
    "review after": ("1 month", NOTHING, NOTHING),
    "rules": ("{hard-sentence: off}", NOTHING, NOTHING),
    "life stages": ("{gall: {title: Galls, stages: {young: young, ripe: ripe}}}", NOTHING, NOTHING),
    "cautions": ("{bull: {title: Bulls, text: Keep away.}}", NOTHING, NOTHING),
    "law": ("{text: Leave them there., as of: 2026-03-01}", PAGE | CARD | PACK | LIST | SLIDES, NOTHING),
}
"""Another value for each setting, the work that shows it, and the outputs with files that change though no job makes them.

What `bring` writes (`photo credit`, `photo licence`),
sets for other guides (`rules`, `life stages`, `cautions`), what only the checks and the last look ask, and `sold` where nothing is to be
sold, show nowhere;
nor do `dates` and `hemisphere` in a guide that gives its dates in full and its seasons by months.
"""


WITHIN = (("map", "{outline: region.geojson, on cards: yes}", PAGE | CARD, NOTHING),)
"""Other values of settings of which more is shown then."""
TRIED = (*((key, *change) for key, change in SETTINGS.items()), *WITHIN)


@pytest.mark.parametrize(("key", "value", "work", "outputs"), TRIED, ids=[f"{key} {value}" for key, value, *_ in TRIED])
def test_a_setting_makes_anew_what_shows_it_and_nothing_else(
    desk: Desk, standing: tuple[Path, dict[str, str]], tmp_path: Path, key: str, value: str, work: set[str], outputs: set[str]
) -> None:
    once, before = standing
    guide = tmp_path / "guide"
    shutil.copytree(once, guide)
    (guide / "region.geojson").write_text(OUTLINE, "utf-8")
    settings = yaml.load((guide / "guide.yaml").read_text("utf-8"), yaml.BaseLoader)
    settings[key] = yaml.load(value, yaml.BaseLoader)
    (guide / "guide.yaml").write_text(yaml.safe_dump(settings, allow_unicode=True, sort_keys=False), "utf-8")
    got = find_changed(desk, before, guide)
    assert got == (work, outputs)


def test_every_setting_is_tried() -> None:
    assert set(SETTINGS) == {field.key for field in SETTINGS_FIELDS}


def test_a_photo_makes_anew_what_shows_it_and_nothing_else(desk: Desk, standing: tuple[Path, dict[str, str]], tmp_path: Path) -> None:
    once, before = standing
    for photo in sorted((once / "photos").iterdir()):
        guide = tmp_path / photo.stem
        shutil.copytree(once, guide)
        with (guide / "photos" / photo.name).open("ab") as file:
            file.write(b"\0")
        got = find_changed(desk, before, guide)
        assert got == (COPIES | {"render_pictures"}, NOTHING)


def test_a_theme_of_its_own_makes_anew_what_is_drawn_by_it_and_nothing_else(
    desk: Desk, standing: tuple[Path, dict[str, str]], tmp_path: Path
) -> None:
    once, before = standing
    guide = tmp_path / "guide"
    shutil.copytree(once, guide)
    (guide / "theme" / "site").mkdir(parents=True)
    shipped = (on_disk(themes()) / "plate" / "site" / "place.html").read_text("utf-8")
    (guide / "theme" / "site" / "place.html").write_text(shipped + "<!-- mine -->", "utf-8")
    got = find_changed(desk, before, guide)
    # Pages of a theme that nobody has said yes to begin with the policy: what stands in for them here is put behind it too.
    assert got == (ALL - {"draw_share"}, {"posts", "scripts", "site", "slides"})


def test_every_file_of_the_theme_counts(tmp_path: Path) -> None:
    shipped = on_disk(themes()) / "plate"
    files = [file.relative_to(shipped) for file in sorted(shipped.rglob("*")) if file.is_file()]
    assert len(files) > 40
    own = tmp_path / "theme"
    marks = {digest_folder(shipped)}
    for file in files:
        shutil.rmtree(own, ignore_errors=True)
        shutil.copytree(shipped, own)
        (own / file).write_bytes((own / file).read_bytes()[:-1] + b" ")
        marks.add(digest_folder(own))
    assert len(marks) == len(files) + 1
