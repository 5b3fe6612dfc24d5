"""What a theme of one's own may set: the rules of cards, colours, lines and typefaces. A test holds their words to the shipped files."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import yaml

from guidebuild.handbook.keys import FileOfKeys, Key, list_files
from guidebuild.shipped import on_disk, themes

CARD, TOKENS = "cards/card.yaml", "static/tokens.css"
_PROPERTY = re.compile(r"(--[a-z-]+):\s*([^;]+);")
_COLOUR = "a colour of CSS, such as #1f5a3c; one for day, one for dark, one for high contrast"
_FACE = "families of typefaces in quotation marks, parted by commas; the guide's own families are Guide Serif and Guide Sans"

_CARD_WORDS = {
    ("comfortable",): (
        "Below this size sentences go before type gets smaller.",
        "a size in points",
        "Larger: less text in larger type.",
    ),
    ("type",): (
        "The sizes that cards are tried in.",
        "sizes in points in a list, the largest first",
        "A card takes the largest of them in which all fits, within what its format allows.",
    ),
    ("left out first",): (
        "What is left out first where nothing fits even in the smallest type; a list for each side, panel or page.",
        "the sides below, each with its list",
        "What a card that is too full does without. Names, first marks, sizes and cautions never go.",
    ),
    ("left out first", "front"): ("What leaves the front of a card.", "", "The front of each card."),
    ("left out first", "back"): ("What leaves the back of a card.", "", "The back of each card."),
    ("left out first", "leaflet"): ("What leaves a panel of the leaflet.", "", "The panels of a walk's leaflet."),
    ("left out first", "last panel"): ("What leaves the leaflet's last panel.", "", "The last panel of a walk's leaflet."),
    ("left out first", "plate"): (
        "What leaves a species plate.",
        "",
        "The one page of each species, for a wall or a folder.",
    ),
    ("left out first", "booklet"): ("What leaves a page of words in the booklet.", "", "The booklet's right page of each species."),
}
"""Of each key: what it says, how it is written, what it changes. Lists of pieces say by themselves how they are written."""
_TOKEN_WORDS = {
    "--page": ("What all stands on.", _COLOUR, "The ground of every page."),
    "--tone": ("A second ground, a little apart from the first.", _COLOUR, "Boxes, the head and every other row of tables."),
    "--text": ("What is read.", _COLOUR, "All words. Keep it at 7 to 1 against `--page` and `--tone`."),
    "--quiet": ("What is read second.", _COLOUR, "Captions, credits and remarks. Keep it at 7 to 1 as well."),
    "--leaf": ("What can be pressed.", _COLOUR, "Links, buttons, and bars of seasons."),
    "--haw": ("What is pointed out.", _COLOUR, "The numbers of marks, warnings in words, what is different."),
    "--rule": ("Lines that only part.", _COLOUR, "Lines between rows and sections."),
    "--edge": ("Edges of what can be used.", _COLOUR, "The frames of fields and buttons. Keep it at 3 to 1 against `--page`."),
    "--warn": ("The ground of cautions.", _COLOUR, "The boxes of cautions."),
    "--warn-text": ("The words of cautions.", _COLOUR, "The text in the boxes of cautions. Keep it at 7 to 1 against `--warn`."),
    "--casing": ("What lines on pictures are edged with.", _COLOUR, "Pointers and bars stay clear on any picture."),
    "--line": ("How thick lines are.", "a length of CSS, such as 1px", "Lines and frames."),
    "--leader": ("The lines that lead to marks.", _COLOUR, "Pointers on plates."),
    "--frame": ("A frame round pictures.", "0, or a border of CSS", "Pictures in high contrast."),
    "--serif": ("The typeface of names and headings.", _FACE, "Names, headings and scientific names."),
    "--sans": ("The typeface of all else.", _FACE, "Everything else that is read."),
}


@cache
def list_theme_files() -> tuple[FileOfKeys, ...]:
    """The files of settings of a theme, with all that the shipped ones hold."""
    return (
        FileOfKeys("theme-card", "card.yaml in theme/cards", listed=False, keys=tuple(_card_keys())),
        FileOfKeys("theme-tokens", "tokens.css in theme/static", listed=False, keys=tuple(_token_keys())),
    )


def list_all_files() -> tuple[FileOfKeys, ...]:
    """Every file that has keys: those of a guide, then those of its theme."""
    return (*list_files(), *list_theme_files())


def _card_keys() -> Iterator[Key]:
    rules = yaml.safe_load((on_disk(themes()) / "plate" / CARD).read_text(encoding="utf-8"))
    for key, value in rules.items():
        if isinstance(value, dict):
            yield _card_key((key,), "".join(f"\n  {side}: {_write(pieces)}" for side, pieces in value.items()))
            yield from (_card_key((key, side), f" {_write(pieces)}") for side, pieces in value.items())
        else:
            yield _card_key((key,), f" {_write(value)}")


def _write(value: object) -> str:
    return f"[{', '.join(map(str, value))}]" if isinstance(value, list) else str(value)


def _card_key(path: tuple[str, ...], shown: str) -> Key:
    meaning, form, effect = _CARD_WORDS[path]
    written = form or "the names of pieces in a list, what goes first first"
    return Key("theme-card", path, meaning, f"Write {written}.", f"{path[-1]}:{shown}", effect, "", needed=False)


def _token_keys() -> Iterator[Key]:
    css = (on_disk(themes()) / "plate" / TOKENS).read_text(encoding="utf-8")
    by_day = css.partition("@media")[0]
    for name, value in _PROPERTY.findall(by_day):
        meaning, form, effect = _TOKEN_WORDS[name]
        yield Key("theme-tokens", (name,), meaning, f"Write {form}.", f"{name}: {value};", effect, "", needed=False)
