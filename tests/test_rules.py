"""Every finding that anything can give is a rule of the list, and every rule of the list is given somewhere and has a case."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import guidebuild.checks.registry as registry
from guidebuild.checks import complete
from guidebuild.guide.findings import Level
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.rules import gather_rules

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "guidebuild"
CODE_ROOMS = ("reading", "checks", "fieldwork", "identify", "speech", "views")
KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)+")
OTHER_WORDS = {
    "utf-8",
    "utf-16",
    "utf-16-le",
    "utf-16-be",
    "utf-8-sig",
    "latin-1",
    "stand-alone",
    "medium-sized",
    "all-year",
    "close-up",
    "guidebuild-letters",
    "flight-period",
    "plain-words",
    "to-be-heard",
    "reply-with-sources",
}
"""Words with a hyphen that are no rule: encodings, words of CLDR, of measurements and of views, a name of ours."""
LISTS = {"codes.py", "sighting_codes.py", "problem_codes.py"}
KNOWN = {rule.code for rule in gather_rules()}


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def texts(path: Path) -> Iterator[str]:
    return (n.value for n in ast.walk(parsed(path)) if isinstance(n, ast.Constant) and isinstance(n.value, str))


def calls(path: Path, *names: str) -> Iterator[ast.Call]:
    return (n for n in ast.walk(parsed(path)) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id in names)


def sources() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def test_findings_are_made_from_rules_alone() -> None:
    makers = {path.relative_to(PACKAGE).as_posix() for path in sources() if any(calls(path, "Finding"))}
    assert makers == {"guide/findings.py", "checks/rule.py"}


def test_every_rule_that_is_written_down_is_listed() -> None:
    written = {
        call.args[0].value
        for path in sources()
        for call in calls(path, "Code", "Rule")
        if call.args and isinstance(call.args[0], ast.Constant)
    }
    assert len(written) > 100
    assert written - KNOWN == set()


def test_every_code_that_is_given_by_its_word_is_listed() -> None:
    given = {
        (path.name, text)
        for room in CODE_ROOMS
        for path in (PACKAGE / room).rglob("*.py")
        for text in texts(path)
        if KEBAB.fullmatch(text) and text not in OTHER_WORDS
    }
    # The room `guide` has other words of this shape: examples of fields.
    given |= {
        (path.name, text.value)
        for path in (PACKAGE / "guide").rglob("*.py")
        for call in calls(path, "Unreadable")
        for text in (*call.args[2:], *(keyword.value for keyword in call.keywords))
        if isinstance(text, ast.Constant) and KEBAB.fullmatch(str(text.value))
    }
    assert len(given) > 80
    assert {(file, code) for file, code in given if code not in KNOWN} == set()


def test_every_problem_of_publishing_is_listed() -> None:
    told: set[str] = set()
    for path in sources():
        for call in calls(path, "Problem"):
            what = call.args[0]
            if isinstance(what, ast.Constant):
                told.add(str(what.value))
            elif isinstance(what, ast.JoinedStr):  # missing-image, missing-font …
                assert any(code.startswith(str(what.values[0].value)) for code in KNOWN), path.name  # type: ignore[attr-defined]
    assert len(told) > 20
    assert told - KNOWN == set()


def constants() -> dict[str, str]:
    """The name under which the source holds a rule, by the rule's code."""
    return {
        node.value.args[0].value: node.targets[0].id
        for path in sources()
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Assign)
        and isinstance(node.targets[0], ast.Name)
        and isinstance(node.value, ast.Call)
        and isinstance(node.value.func, ast.Name)
        and node.value.func.id in ("Code", "Rule")
        and isinstance(node.value.args[0], ast.Constant)
    }  # type: ignore[misc]


def used_names() -> set[str]:
    """Names that functions read; a name that only stands in a table of rules is not used."""
    return {
        node.id
        for path in sources()
        for top in parsed(path).body
        if isinstance(top, ast.FunctionDef | ast.ClassDef) or (isinstance(top, ast.Assign) and isinstance(top.value, ast.Call))
        for node in ast.walk(top)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)
    }


def test_every_rule_of_the_list_is_given_somewhere() -> None:
    words = {text for path in sources() if path.name not in LISTS for text in texts(path)}
    named, used = constants(), used_names()
    parts = {part.code for part in complete.PARTS}
    # Put together from parts, as missing-image is.
    made_up = {code for code in KNOWN if code.startswith("missing-") and code in {rule.code for rule in PROBLEM_CODES}}
    idle = {code for code in KNOWN - parts - made_up if code not in named and code not in words}
    assert idle == set()
    assert {code for code, name in named.items() if name not in used} == set()


def test_every_rule_of_the_list_has_a_case() -> None:
    files = [p for p in (ROOT / "tests").rglob("*") if p.suffix in (".py", ".yaml", ".txt") and "node_modules" not in p.parts]
    read = "\n".join(path.read_text(encoding="utf-8") for path in files if path != Path(__file__).resolve())
    named = constants()
    parts = {part.code for part in complete.PARTS}  # each has its case in tests/checks/test_rules.py, by the list itself
    without = {
        code
        for code in KNOWN - parts
        if not re.search(rf"(?<![\w-]){re.escape(code)}(?![\w-])", read) and not (code in named and re.search(rf"\.{named[code]}\b", read))
    }
    assert without == set()


def test_every_rule_says_what_must_hold_why_and_what_mends_it() -> None:
    for rule in gather_rules():
        assert KEBAB.fullmatch(rule.code) or rule.code.isalpha(), rule.code
        assert rule.title and not rule.title.endswith("."), rule.code
        assert rule.why.endswith((".", ":")), rule.code
        assert rule.mend.endswith((".", "?")), rule.code
        assert isinstance(rule.level, Level)


def test_each_rule_is_listed_once_and_the_checks_are_all_there() -> None:
    codes = [rule.code for rule in gather_rules()]
    assert len(codes) == len(set(codes))
    assert {rule.code for rule in registry.RULES} <= set(codes)
