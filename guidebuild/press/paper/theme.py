"""A theme's templates, stylesheet and fitting rules for printed matter, found first in the guide's own theme."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from jinja2 import Environment, pass_context
from jinja2.runtime import Context
from markupsafe import Markup, escape

from guidebuild.guide.account_fields import rows_of
from guidebuild.guide.field_declaration import OutputName
from guidebuild.press.engine.trees import find_inside
from guidebuild.press.paper.drawing import SIGNS, draw_sign
from guidebuild.press.theme.prose import Html, write_words
from guidebuild.press.theme.sandbox import ThemeError, make_environment
from guidebuild.views.pieces.common import Wording
from guidebuild.words import WRITTEN_IN, words

FOLDER, FACTS = "cards", "facts"
_SIGNED = re.compile("([" + "".join(SIGNS) + "])")
_SCHEME = re.compile(r"^https?://(?:www\.)?")


@dataclass(frozen=True, slots=True)
class Theme:
    """What a theme lays down for cards; made once a process for a list of folders."""

    folders: tuple[Path, ...]
    sizes: tuple[float, ...]
    """Type sizes in points, largest first."""
    comfortable: float
    """Points below which single sentences go before type gets smaller."""
    left_out: Mapping[str, tuple[str, ...]]
    """By side, what is left out first."""
    environment: Environment

    def sizes_within(self, least: float, largest: float) -> tuple[float, ...]:
        """The type sizes that a format allows, largest first; raises `ThemeError` where there is none."""
        within = tuple(size for size in self.sizes if least <= size <= largest)
        if not within:
            raise ThemeError(f"theme/{FOLDER}/card.yaml: `type:` has no size from {least:g} to {largest:g} points; add one")
        return within

    def css(self, name: str) -> str:
        """A stylesheet of the theme."""
        return (self._file(name)).read_text(encoding="utf-8")

    def page(self, template: str, **values: object) -> str:
        """A filled-in template."""
        return self.environment.get_template(template).render(**values)

    def _file(self, name: str) -> Path:
        return _first(self.folders, name)


@cache
def read_theme(folders: tuple[Path, ...]) -> Theme:
    """As `make_theme`, once a process."""
    return make_theme(folders)


def make_theme(folders: tuple[Path, ...]) -> Theme:
    """The theme in these folders, the guide's own first; each holds a `cards` folder or nothing for cards.

    A guide's own `card.yaml` need only say what it changes; raises `ThemeError` where it cannot be understood.
    """
    places = tuple(folder / FOLDER for folder in folders if (folder / FOLDER).is_dir())
    templates = make_environment((*places, *folders), (("signs", draw_signs), ("bare", bare_address)))
    try:
        rules = _rules(places)
        left_out = {side: _spell_out(pieces) for side, pieces in rules["left out first"].items()}
        sizes = tuple(sorted((float(size) for size in rules["type"]), reverse=True))
        return Theme(places, sizes, float(rules["comfortable"]), left_out, templates)
    except (yaml.YAMLError, KeyError, TypeError, ValueError, AttributeError) as error:
        raise ThemeError(f"theme/{FOLDER}/card.yaml cannot be understood ({error}); compare it with the shipped one") from error


def _spell_out(pieces: Sequence[str]) -> tuple[str, ...]:
    """The ranked pieces, with every line of facts that may give way in place of “facts”: those not ranked by themselves, the last first."""
    facts = [field.key for field, row in reversed(rows_of(OutputName.CARDS)) if row.may_give_way and field.key not in pieces]
    return tuple(named for piece in pieces for named in (facts if piece == FACTS else [piece]))


def _rules(folders: Sequence[Path]) -> Mapping[str, Any]:
    """Every folder's rules, the guide's own laid over the shipped ones."""
    rules: dict[str, Any] = {}
    for folder in reversed(folders):
        file = find_inside(folder, "card.yaml")
        if file is not None and file.is_file():
            rules = _laid_over(rules, yaml.safe_load(file.read_text(encoding="utf-8")) or {})
    return rules


def _laid_over(under: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """Both together; where both say something, `over` wins, and groups of rules are laid over one another in turn."""
    both = {name: _laid_over(under[name], said) if _are_groups(under.get(name), said) else said for name, said in over.items()}
    return {**under, **both}


def _are_groups(*values: object) -> bool:
    return all(isinstance(value, Mapping) for value in values)


@pass_context
def draw_signs(context: Context, text: str | Wording) -> Markup:
    """Text for print: ♂ and ♀ drawn and called by their names in the page's `language`, italics kept."""
    return with_signs(text, str(context.get("language") or WRITTEN_IN))


def with_signs(text: str | Wording, language: str) -> Markup:
    """The same, outside templates."""
    say = words(language)
    pieces = _SIGNED.split(write_words(text))
    return Markup("").join(draw_sign(piece, say(SIGNS[piece][0])) if piece in SIGNS else escape(Html(piece)) for piece in pieces)


def bare_address(address: str) -> Markup:
    """A web address as people read it, and type it: without where on the page it leads."""
    return escape(_SCHEME.sub("", address).partition("#")[0])


def _first(folders: Sequence[Path], name: str) -> Path:
    for folder in folders:
        file = find_inside(folder, name)
        if file is not None and file.is_file():
            return file
    raise ThemeError(f"no theme folder has {FOLDER}/{name}")
