"""Every word of the interface, found in the code and in the templates, for the test that no catalogue lacks one."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import yaml
from jinja2 import Environment
from jinja2.ext import extract_from_ast

from guidebuild.desk.parts.table import PARTS
from guidebuild.fieldwork.out import BY_HABITAT, IN_SEASON, MOST_SEEN, SEEN, UNCERTAIN, Chance
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.characters import Ease
from guidebuild.guide.sounds import KINDS
from guidebuild.identify.readings import SEXES
from guidebuild.press.outputs.site.page import SCRIPT_WORDS
from guidebuild.reading.sighting_totals import LEFT_OUT, REMARKS
from guidebuild.views.pieces.chances import PROMISE

ROOT = Path(__file__).parents[3]
ASKING = ("_", "w", "say", "words", "count", "Reason")
NOT_MESSAGES = ("en", "views", "parts")
HEADINGS = tuple(section.key for section in SECTIONS)


def interface_words() -> set[str]:
    """All messages, singular and plural."""
    found = set(HEADINGS) | set(SCRIPT_WORDS) | set(SEXES) | {ease.words for ease in Ease}
    found |= {field.row.label for field in ACCOUNT_FIELDS if field.row}
    found |= {*IN_SEASON, *MOST_SEEN, *UNCERTAIN, BY_HABITAT, PROMISE, *(message for pair in SEEN for message in pair)}
    found |= {part.title for part in PARTS} | set(KINDS)
    found |= {text for chance in Chance for text in (chance.words, chance.meaning(at_place=True), chance.meaning(at_place=False))}
    found |= {*LEFT_OUT.values(), *REMARKS.values()}
    for file in sorted((ROOT / "guidebuild").rglob("*.py")):
        found.update(_in_code(ast.parse(file.read_text(encoding="utf-8"))))
    for file in sorted((ROOT / "themes").rglob("*.html")):
        found.update(_in_template(file.read_text(encoding="utf-8")))
    return {word for word in found | set(_shipped()) if word.strip()}


def _in_code(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call) or _name(node.func) not in ASKING:
            continue
        given = [choice for a in node.args for choice in ((a.body, a.orelse) if isinstance(a, ast.IfExp) else (a,))]
        texts = [a.value for a in given if isinstance(a, ast.Constant) and isinstance(a.value, str)]
        # `text.count("|")` and `words("en")` ask for something else.
        if texts and texts[0] not in NOT_MESSAGES and (_name(node.func) != "count" or len(texts) > 1):
            yield from texts


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else function.id if isinstance(function, ast.Name) else ""


def _in_template(source: str) -> Iterator[str]:
    for _line, _function, message in extract_from_ast(Environment().parse(source), ASKING):
        yield from [message] if isinstance(message, str) else [m for m in message or () if m]


def _shipped() -> Iterator[str]:
    """Words of the shipped lists that pages show."""
    content = ROOT / "content"
    for caution in yaml.safe_load((content / "cautions.yaml").read_text(encoding="utf-8")).values():
        yield from (caution["title"], caution["text"], caution.get("local", ""), caution["short"])
    for stages in yaml.safe_load((content / "life_stages.yaml").read_text(encoding="utf-8")).values():
        yield from (word["word"] if isinstance(word, dict) else str(word) for word in stages["stages"].values())
        yield from (heading for heading in (stages.get("food heading", ""), "Grows on or with") if heading)
    yield from map(str, yaml.safe_load((content / "views.yaml").read_text(encoding="utf-8")))
    yield from (licence["title"] for licence in yaml.safe_load((content / "licences.yaml").read_text(encoding="utf-8")).values())
