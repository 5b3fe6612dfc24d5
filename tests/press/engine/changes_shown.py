"""Changes to the small guide, each with the published files that show it."""

from __future__ import annotations

import io
import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageDraw

from guidebuild.shipped import on_disk, themes
from tests.hostile.small_guide import change

PROFILE = "press.icc"
_PHOTO_SIZE = 20_000


def draw(file: Path, ink: str) -> None:
    """A photo of so many bytes whatever it shows, and of the same time."""
    picture = Image.new("RGB", (420, 320), "#b8d8a0")
    ImageDraw.Draw(picture).ellipse((90, 40, 330, 280), fill=ink, outline="#301008", width=6)
    written = io.BytesIO()
    picture.save(written, "JPEG")
    room = _PHOTO_SIZE - len(written.getvalue()) - 4  # of a comment: its mark and its length take four bytes
    picture.save(file, "JPEG", comment=b" " * room)
    assert file.stat().st_size == _PHOTO_SIZE
    os.utime(file, (1_700_000_000, 1_700_000_000))


@dataclass(frozen=True)
class Change:
    """One change to a guide, and the published files that show it, as patterns that must each match some."""

    what: str
    apply: Callable[[Path], None]
    shown: tuple[str, ...] = ()


def edit(file: str, old: str, new: str) -> Callable[[Path], None]:
    return lambda guide: change(guide, file, old, new)


def own(path: str, more: str) -> Callable[[Path], None]:
    """A theme file of the guide's own: the shipped one and a little more."""

    def write(guide: Path) -> None:
        file = guide / "theme" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text((on_disk(themes()) / "plate" / path).read_text("utf-8") + more, "utf-8")

    return write


def replace_photo(guide: Path) -> None:
    draw(guide / "photos" / "seven-adult.jpg", "#2030c0")


def replace_profile(guide: Path) -> None:
    file = guide / PROFILE
    state, data = file.stat(), file.read_bytes()
    file.write_bytes(data.replace(b"No copyright, use freely", b"No copyright: use freely"))
    os.utime(file, ns=(state.st_atime_ns, state.st_mtime_ns))


def own_theme(guide: Path) -> None:
    """A style or template of every output, all at once: what each of them shows is known."""
    rule, mark = "\nh1{color:#123456}\n", "\n<!-- mine -->\n"
    for path in ("cards/card.css", "cards/key.css", "cards/compare.css", "scripts/script.css", "posts/posts.css", "walks/pack.css"):
        own(path, rule)(guide)
    for path in ("scripts/prompter.html", "posts/plan.html"):
        own(path, mark)(guide)
    own("static/guide.css", rule)(guide)


def own_card_rules(guide: Path) -> None:
    (guide / "theme" / "cards" / "card.yaml").write_text("type: [9, 8, 7]\n", "utf-8")


ON_SITE = "site/cards/*-spot.pdf"
TWO_CARDS = (
    *("cards/*-spot.pdf", "cards/deck.pdf", "cards/print-shop/*-spot.pdf", "cards/print-shop/deck.pdf"),
    *("cards/sheets-a4.pdf", "cards/walk-round-the-yard-a4.pdf", ON_SITE),
)
TWO_SCRIPTS = ("scripts/seven-short*", "scripts/two-spot-short*")
SHARED_UNDER_SEVEN = (
    "site/cautions.html",
    "site/checklist.html",
    "site/field.html",
    "site/find.html",
    "site/finder.html",
    "site/glossary.html",
    "site/key.html",
    "site/places/*.html",
    "site/plants/*.html",
    "site/practice.html",
    *(f"site/seasons/{month}-{third}.html" for month in ("01", "02", "03", "10", "11", "12") for third in "123"),
    *(f"site/seasons/{part}.html" for part in ("04-3", "05-1", "05-2", "index")),
    "site/walks/index.html",
)
"""Pages that say the words of one photo where they are shared: it is the first they show, or they show none and it is the guide's first."""


def give_outline(guide: Path) -> None:
    (guide / "region.geojson").write_text(
        '{"type": "Polygon", "coordinates": [[[-1.6, 51.4], [-1.4, 51.4], [-1.4, 51.6], [-1.6, 51.6], [-1.6, 51.4]]]}', "utf-8"
    )
    change(guide, "guide.yaml", "level:", "map: region.geojson\nlevel:")


CHAINS = (
    (
        Change("a map", give_outline, ("site/accounts/*.html", "site/offline/*", "site/places/wall.html")),
        Change(
            "maps on cards",
            edit("guide.yaml", "map: region.geojson", "map: {outline: region.geojson, on cards: yes}"),
            (*TWO_CARDS, "site/accounts/*.html", "site/offline/*"),  # pages say how large the card is
        ),
    ),
    (
        Change(
            "a photo of the same size and time",
            replace_photo,
            (
                *TWO_CARDS,  # the other card shows it too, as a look-alike
                "cards/compare-*.pdf",
                "posts/seven-spot/*.jpg",
                "scripts/pictures/seven-adult-240.jpg",
                "scripts/seven-short.pdf",
                "scripts/two-spot-short.pdf",
                "site/accounts/seven-spot.html",
                "site/practice.html",
                "site/offline/*",
                "site/photos/seven-adult-*",
                "site/share/accounts-seven-spot.jpg",
                "site/share/of-seven-adult.jpg",
                *("slides/*/portrait-3.jpg", "slides/*/portrait.pdf"),
            ),
        ),
        Change("a colour profile of the same size and time", replace_profile, ("cards/print-shop/*.pdf",)),
        Change(
            "an episode",
            edit("episodes/seven-short.md", "This is the", "Here is the"),
            ("scripts/seven-short*",),
        ),
        Change("a term", edit("glossary.yaml", "hard forewings", "hard fore wings"), ("site/glossary.html", "site/offline/*")),
        Change("a plant", edit("plants.yaml", "By the wall", "Along the wall"), ("site/plants/nettle.html", "site/offline/*")),
        Change(
            "a character",
            edit("characters.yaml", "How many spots?", "How many spots are there?"),
            ("cards/key.pdf", "site/finder.html", "site/key.html", "site/offline/*"),
        ),
        Change(
            "hashtags",
            edit("guide.yaml", "hashtags: [beetles]", "hashtags: [ladybirds]"),
            ("posts/index.html", "posts/*-spot/long.txt", "posts/*-spot/medium.txt", "posts/*-spot/short.txt"),
        ),
    ),
    (
        Change(
            "an account",
            edit("accounts/two-spot.md", "Smaller than the other.", "Far smaller than the other."),
            (
                "*data/taxa.zip",
                "posts/index.html",
                "posts/two-spot/*.txt",
                "scripts/index.html",
                "scripts/two-spot-short*",
                "site/accounts/two-spot.html",
                "site/data.html",
                "site/offline/*",
            ),
        ),
        Change(
            "a walk",
            edit("walks/round-the-yard.yaml", "Look under leaves", "Look beneath leaves"),
            ("cards/walk-round-the-yard-checklist.pdf", "site/walks/*.html", "site/offline/*", "walks/round-the-yard.pdf"),
        ),
        Change(
            "a source",
            edit("sources.yaml", "cite: Yard notes", "cite: Notes of the yard"),
            (
                *("*data/taxa.zip", "posts/index.html", "posts/*-spot/reply-with-sources.txt"),
                *("site/accounts/*-spot.html", "site/data.html", "site/offline/*", "site/sources.html"),
            ),
        ),
        Change(
            "over which edge sheets turn",
            edit("guide.yaml", "level:", "flip: short edge\nlevel:"),
            ("cards/sheets-a4.pdf", "cards/walk-*-a4.pdf"),
        ),
        Change(
            "a sighting",
            edit("sightings/yard.csv", "2025-05-03", "2025-06-23"),
            (
                "*data/seen-*.csv",
                "*data/sightings.zip",
                "site/data.html",
                "site/index.html",
                "site/now/places/wall.js",
                "site/seasons/*.html",
                "site/walks/*.html",
                "site/offline/*",
                "walks/*.pdf",
            ),
        ),
        Change("a greeting", edit("guide.yaml", "Hello from", "Welcome to"), TWO_SCRIPTS),
        Change("crop marks", edit("guide.yaml", "level:", "crop marks: no\nlevel:"), ("cards/print-shop/*.pdf",)),
        Change("bleed", edit("guide.yaml", "level:", "bleed: 2 mm\nlevel:"), TWO_CARDS),
    ),
    (
        Change(
            "words of a photo",
            edit("photos.yaml", "A round red", "A rather round red"),
            (
                "cards/compare-*.pdf",
                "cards/deck.pdf",
                "cards/*-spot.pdf",
                *("cards/print-shop/*-spot.pdf", "cards/print-shop/deck.pdf"),
                ON_SITE,
                "*data/taxa.zip",
                "posts/index.html",
                "posts/seven-spot/alt.txt",
                "scripts/*-short.html",
                "scripts/*-short.pdf",
                "site/accounts/*-spot.html",
                "site/compare/*.html",
                "site/data.html",
                "site/families/coccinellidae.html",
                "site/offline/*",
                "site/sources.html",
                *("slides/*/portrait.pdf", "slides/*/portrait.txt", "slides/index.html"),
                *SHARED_UNDER_SEVEN,
            ),
        ),
        Change(
            "a place",
            edit("places.yaml", "name: The Wall", "name: The Old Wall"),
            (
                "*data/seen-by-place.csv",
                "site/data.html",
                "cards/walk-round-the-yard-checklist.pdf",
                "site/find.html",
                "site/finder.html",  # it asks where one is
                *("site/index.html", "site/seen-places.js", "site/tallies/round-the-yard.html"),
                "site/offline/*",
                "site/p*/*.html",
                "site/walks/*.html",
                "walks/round-the-yard.pdf",
            ),
        ),
        Change(
            "paper",
            edit("guide.yaml", "level:", "paper: letter\nlevel:"),
            ("cards/compare-*.pdf", "cards/key.pdf", "cards/sheets-*.pdf", "cards/walk-*-a4.pdf", "cards/walk-*-letter.pdf", "walks/*.pdf"),
        ),
        Change(
            "the theme",
            own_theme,
            (
                "cards/compare-*.pdf",
                "cards/key.pdf",
                "cards/walk-round-the-yard-checklist.pdf",
                # A theme that nobody has said yes to: each page gets the rule that no script of its templates runs.
                "posts/*.html",
                "posts/posts.css",
                "scripts/*.html",
                "scripts/*-short.pdf",
                "scripts/script.css",
                "site/*.html",
                "site/assets/guide.css",
                "site/offline/*",
                "slides/index.html",
                "walks/round-the-yard.pdf",
            ),
        ),
        Change(
            "rules of cards",
            own_card_rules,
            (
                *(*TWO_CARDS[:4], ON_SITE, "cards/sheets-letter.pdf", "cards/walk-*-letter.pdf", "cards/walk-*-checklist.pdf"),
                *("site/accounts/seven-spot.html", "site/offline/*"),  # its page says how large the card is
            ),
        ),
    ),
)
