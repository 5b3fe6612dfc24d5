"""Throws broken guides at the whole tool: `python -m tests.hostile.fuzz --minutes 10`.

Each round takes the small guide, damages some of its files (edits, cuts, random bytes, odd values, odd rows), reads and checks it,
and makes the views and pages of what is left. Only findings may come out: whatever is raised is a fault, and is printed with the
files that brought it about.
"""

from __future__ import annotations

import argparse
import datetime as dt
import random
import shutil
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from pathlib import Path

from guidebuild.fieldwork.calendar import Writing, walk_calendar
from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.walks import walk_pack
from guidebuild.press.data_tables import archive_file, as_csv
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.scripts.pages import index_row
from guidebuild.press.outputs.site.assets import site_assets
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.paper.formats import format_named
from guidebuild.session import CannotReadError, open_session
from guidebuild.shipped import on_disk, themes
from guidebuild.views.cards.card import card_views
from guidebuild.views.data.checklist_table import checklist_rows
from guidebuild.views.data.darwin_core import taxa_archive
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.outdoors.phenology_table import phenology_rows
from guidebuild.views.outdoors.walk import walk_pack_views
from guidebuild.views.posts.posts import post_views
from guidebuild.views.posts.week_plan import week_plan
from guidebuild.views.scripts.script import make_script_views
from tests.as_published import with_walk
from tests.hostile.small_guide import write_small
from tests.views.whole_site import site_pages

TODAY = dt.date(2026, 5, 2)
TEXTS = ("*.md", "*.yaml", "*.csv")
ODD_VALUES = (
    "", "none", "no", "~", "[]", "{}", "[[]]", "- ", "not applicable: x", "0", "-1", "1e400", "nan", "999999999999", "0 mm", "9–6 mm",
    "<c. 5 mm", "5*6*7 mm", "all year", "31 February", "December – January", "2026-02-30", "0001-01-01", "9999-12-31", "25:61", "24 h",
    "100, 100", "101, -5", "90, 180", "-90, -180", "Bufo", "× ×", "sp.", "Aus bus var. cus f. dus", "a" * 500, "ß", "İ", "ﬀ", "🦋", "é́",
    "ا", "{name}", "{size}", "{{ 7*7 }}", "[x](account:two-spot)", "[x](term:)", "![](photo:)", "![](photo:seven-adult)", "{greeting}",
    "[say x]", "[show]", "[pause 9999999 s]", "[show seven-adult 0 s]", "[^1]", "[^1]: x", "| a | b |\n|--|--|\n| 1 | 2 | 3 |",
    "> 5 mm", "1986. A year", "#tag", "<b>", "<div>", "</div>", "<!--", "```", "two-spot", "seven-spot", "seven-adult", "wall",
    "nettle", "adult", "larva", "spots", "Europe/London", "UTC", "UTC+1", "es", "pt-BR", "xx", "on", "<<", "\"\\u0000\"", "\"\\ud800\"",
    "\"\\u202e\"", "%s %d {0} {}", "{0}", "{}", "{", "}", "../x", "a/b", "CON", "https://", "https://[::1", "http://a:99999/",
    "extreme", "high",
)  # fmt: skip

Damage = Callable[[random.Random, bytes], bytes]


def edited(draw: random.Random, data: bytes) -> bytes:
    """One value of a line, or of a row, becomes another."""
    lines = data.decode("utf-8", "replace").split("\n")
    place = draw.randrange(len(lines))
    key, colon, _ = lines[place].partition(": ")
    value = draw.choice(ODD_VALUES)
    if "," in lines[place] and draw.random() < 0.4:
        cells = lines[place].split(",")
        cells[draw.randrange(len(cells))] = value
        lines[place] = ",".join(cells)
    else:
        lines[place] = f"{key}: {value}" if colon else value
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def moved(draw: random.Random, data: bytes) -> bytes:
    """Lines taken out, doubled, indented otherwise or put elsewhere."""
    lines = data.split(b"\n")
    for _ in range(draw.randrange(1, 4)):
        place = draw.randrange(len(lines))
        match draw.randrange(4):
            case 0 if len(lines) > 1:
                del lines[place]
            case 1:
                lines.insert(place, lines[draw.randrange(len(lines))])
            case 2:
                lines[place] = b" " * draw.randrange(5) + lines[place].lstrip()
            case _:
                lines.insert(draw.randrange(len(lines)), lines.pop(place))
    return b"\n".join(lines)


def cut(draw: random.Random, data: bytes) -> bytes:
    """Cut short, or a piece lost in the middle."""
    start = draw.randrange(len(data) + 1)
    return data[:start] if draw.random() < 0.5 else data[:start] + data[start + draw.randrange(200) :]


def strewn(draw: random.Random, data: bytes) -> bytes:
    """Some bytes become others."""
    held = bytearray(data)
    for _ in range(draw.randrange(1, 8)):
        if held:
            held[draw.randrange(len(held))] = (
                draw.choice(b"\x00\x07\x1b\"'*&!%@`[]{}:,-|>#?\t\n \x80\xff\xc3\xe2<=+") if draw.random() < 0.8 else draw.randrange(256)
            )
    return bytes(held)


def noise(draw: random.Random, data: bytes) -> bytes:
    """Nothing of the file is left."""
    return draw.randbytes(draw.randrange(300))


DAMAGES: tuple[tuple[Damage, int], ...] = ((edited, 12), (moved, 5), (cut, 2), (strewn, 4), (noise, 1))


def damage(folder: Path, draw: random.Random) -> list[str]:
    """Damage one to four files; what was done to which."""
    done = []
    files = sorted(path for pattern in TEXTS for path in folder.rglob(pattern))
    for _ in range(draw.randrange(1, 5)):
        file = draw.choice(files)
        (chosen,) = draw.choices([d for d, _ in DAMAGES], [weight for _, weight in DAMAGES])
        file.write_bytes(chosen(draw, file.read_bytes()))
        done.append(f"{file.relative_to(folder).as_posix()} {chosen.__name__}")
    if draw.random() < 0.1:
        photo = folder / "photos" / draw.choice(("seven-adult.jpg", "two-adult.png"))
        photo.write_bytes(cut(draw, photo.read_bytes()))
    return done


def use(folder: Path) -> None:
    """Read, check and lay out a guide, all but what takes long: no picture is copied and no PDF is set."""
    try:
        session = open_session(folder)
    except CannotReadError:
        return
    for finding in session.report.findings:
        assert str(finding)
        assert "Traceback" not in finding.message
    guide = session.publishable()
    shipped = (on_disk(themes().joinpath("plate")),)
    pages = tuple(site_pages(make_published(guide), TODAY))
    for page in pages:
        if page.kind != "page" or not page.path.startswith("seasons/"):
            render_page(page, {}, shipped)
    site_assets(pages, shipped, TODAY)
    card_views(make_published(guide))
    picture_pixels(format_named("a6"))
    for script in make_script_views(make_published(guide)):
        index_row(script)
    tuple(post_views(make_published(guide)))
    week_plan(make_published(guide), TODAY)
    tuple(walk_pack_views(make_published(guide)))
    for walk in guide.walks.values():
        walk_calendar(make_published(guide), walk_pack(*with_walk(guide, walk)), guide.settings.address, Writing(0, dt.date(2026, 1, 1)))
    as_csv(checklist_rows(make_published(guide)))
    as_csv(phenology_rows(make_published(guide)))
    archive_file(taxa_archive(make_published(guide)))
    archive_file(sightings_archive(make_published(guide)))


def one_round(seed: int, whole: Path, folder: Path) -> str | None:
    """The fault that a seed brings about, or nothing."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(whole, folder)
    done = damage(folder, random.Random(seed))
    try:
        use(folder)
    except Exception:
        return f"seed {seed}: {', '.join(done)}\n{traceback.format_exc()}"
    return None


def main() -> int:
    """Rounds until the time is up; 1 where anything was raised."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--minutes", type=float, default=1.0)
    options.add_argument("--seed", type=int, default=1, help="the first seed; each round takes the next")
    asked = options.parse_args()
    ends, seed, known = time.monotonic() + 60 * asked.minutes, asked.seed, set()
    faults = 0
    with tempfile.TemporaryDirectory() as place:
        whole = write_small(Path(place) / "whole")
        while time.monotonic() < ends:
            fault = one_round(seed, whole, Path(place) / "guide")
            seed += 1
            faults += fault is not None
            where = "\n".join(fault.strip().split("\n")[-3:]) if fault else ""
            if fault and where not in known:
                known.add(where)
                print(fault, flush=True)
    print(f"{seed - asked.seed} guides, {faults} faults of {len(known)} kinds")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
