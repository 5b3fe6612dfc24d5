"""Templates grown from a grammar, filled in inside the sandbox: each ends in a page or in one line, soon, and reaches nothing of Python.

python -m tests.hostile.template_fuzz --minutes 10 --seed 1
"""

# ruff: noqa: E501 - the grammar reads as a table
from __future__ import annotations

import argparse
import datetime as dt
import random
import re
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.bounds import OverdueError, bounded_time
from guidebuild.press.theme.sandbox import ThemeError, forget_templates, make_environment
from guidebuild.words import Words

PATIENCE = 20.0
REACHED = re.compile(r"<(?:class|module|built-in|frame|code|bound method|generator)\b|environ\(|\broot:x:")


@dataclass(frozen=True)
class View:
    """What a page shows, in small."""

    name: str = "Parent <Bug>"
    marks: tuple[str, ...] = ("dark spot", "{{ 7 * 7 }}")
    day: dt.date = dt.date(2026, 5, 1)


class Grower:
    """Grows templates; `draw` decides."""

    def __init__(self, draw: random.Random) -> None:
        self._draw = draw
        env = make_environment((Path(tempfile.gettempdir()),))
        self._filters = sorted(name for name in env.filters if " " not in name and name not in {"joined", "built"})
        self._tests = sorted(name for name in env.tests if name.isidentifier())
        self._methods = sorted(name for name in {*dir(str), *dir(dt.date), *dir(dict), *dir(list), *dir(int), *dir(tuple)})

    def template(self) -> str:
        """A few statements and the names that they use."""
        start = "{% set n = namespace(t='xx', l=['x'], k=7) %}{% macro m(a) %}" + self.text(2) + "{% endmacro %}"
        return start + "".join(self.statement(3) for _ in range(self._draw.randint(1, 5)))

    def text(self, depth: int) -> str:
        return "".join(self.statement(depth - 1) for _ in range(self._draw.randint(1, 2))) if depth else "{{ " + self.value(2) + " }}"

    def statement(self, depth: int) -> str:
        forms: list[Callable[[], str]] = [lambda: "{{ " + self.value(4) + " }}"] * 3
        if depth > 0:
            forms += [
                lambda: "{% for a in " + self.value(3) + " %}" + self.text(depth - 1) + "{% endfor %}",
                lambda: "{% for i in range(40) %}{% set n." + self._draw.choice("tlk") + " = " + self.value(3) + " %}{% endfor %}",
                lambda: "{% if " + self.value(3) + " %}" + self.text(depth - 1) + "{% endif %}",
                lambda: "{% set n." + self._draw.choice("tlk") + " %}" + self.text(depth - 1) + "{% endset %}",
                lambda: "{% filter " + self._draw.choice(self._filters) + " %}" + self.text(depth - 1) + "{% endfilter %}",
                lambda: "{% call m(" + self.value(2) + ") %}" + self.text(depth - 1) + "{% endcall %}",
            ]
        return self._draw.choice(forms)()

    def value(self, depth: int) -> str:
        """Mostly of types that go together, so that much of a template is filled in before anything is refused."""
        if self._draw.random() < 0.04:
            return f"({self.words(depth)}){self._anything(depth)}"
        return self._draw.choice([self.words, self.words, self.group, self.number])(depth)

    def _anything(self, depth: int) -> str:
        name, one = self._draw.choice(self._methods), self.words(depth - 1)
        kinds = [
            f".{name}",
            f".{name}({one})",
            f"['{name}']",
            f"|attr('{name}')",
            f"|{self._draw.choice(self._filters)}({one})",
            f"({one})",
        ]
        return self._draw.choice([*kinds, f" is {self._draw.choice(self._tests)}({one})"])

    def words(self, depth: int) -> str:
        """An expression that is mostly a text."""
        draw = self._draw
        if depth <= 0:
            return draw.choice(
                ["n.t", "n.t", "'x'", "'<b'", "'{0}{0}'", "'%s%s'", "'\\t'", "'\\n'", "''", "'www.a.org ('", "view.name", "self"]
            )
        one, two, many, number = self.words(depth - 1), self.words(depth - 2), self.group(depth - 2), self.number(depth - 2)
        plain = draw.choice(
            [
                "upper",
                "lower",
                "escape",
                "e",
                "forceescape",
                "string",
                "trim",
                "title",
                "capitalize",
                "striptags",
                "urlize",
                "tojson",
                "pprint",
                "urlencode",
            ]
        )
        forms = [
            f"({one} ~ {two})", f"({one} + {two})", f"({one})|{plain}", f"({one})|replace({two}, {one})", f"({one}).replace({two}, {one})",
            f"{many}|join({two})", f"({one}).join({many}|map('string'))", f"({one})|center({number}|int)", f"({one})|indent({number}|int)",
            f"({one})|wordwrap(({number})|abs + 1)", f"({one}).ljust({number}|int)", f"({one}).expandtabs({number}|int)", f"({many})|{plain}",
            f"'{{0}}{{0:>99}}'.format({one})", f"({one})|format({two})", f"({one}).format({two}, {one})", f"_('{{a}}{{a}}', a={one})", f"m({one})",
            f"({one}).zfill({number}|int)", f"view.day.strftime({one})", f"({one})|truncate({number}|int)", f"({one})|xmlattr", f"{many}|string",
        ]  # fmt: skip
        return draw.choice(forms)

    def group(self, depth: int) -> str:
        """An expression that is mostly a list."""
        draw = self._draw
        if depth <= 0:
            return draw.choice(["n.l", "n.l", "view.marks", "range(900)", "['x']", "[n.l, n.l]", "(n.l, n.l)"])
        one, two, words, number = self.group(depth - 1), self.group(depth - 2), self.words(depth - 2), self.number(depth - 2)
        forms = [
            f"[{one}, {two}]", f"({one}, {two})", f"({one}|list + {two}|list)", f"{one}|batch({number}|int, {two})|list", f"({words})|list",
            f"{one}|slice(({number}|int|abs) + 1)|list", f"{one}|unique|list", f"{one}|map('string')|list", f"{one}|reverse|list",
            f"dict(a={one}, b={two}).values()|list", f"{{'a': {one}, 'b': {two}}}|items|list", f"{one}|sort", f"{one}|groupby('real')|list",
            f"({words}).split({words})", f"{one}|select('string')|list", f"{one}|zip({two})", f"({words}).partition('x')", f"{one}|sum(start=[])",
        ]  # fmt: skip
        return draw.choice(forms)

    def number(self, depth: int) -> str:
        """An expression that is mostly a number."""
        draw = self._draw
        if depth <= 0:
            return draw.choice(["n.k", "n.k", "7", "-1", "1.5", "10**4", "9999", "99999999999"])
        one, two, many, words = self.number(depth - 1), self.number(depth - 2), self.group(depth - 2), self.words(depth - 2)
        forms = [
            f"({one} {draw.choice(['+', '-', '*', '/', '//', '%', '**'])} {two})", f"{many}|length", f"({words})|int(0, 16)", f"({words})|length",
            f"{many}|sum", f"({one})|round({two}|int)", f"({one})|abs", f"({one})|int", f"({words}).count({words})", f"({many} == {many})|int",
            f"({words})|wordcount", f"{many}|map('length')|sum", f"({many} in {many})|int",
        ]  # fmt: skip
        return draw.choice(forms)


def fill_in(folder: Path, text: str) -> tuple[str, float]:
    """What became of a template (`page`, or why not in a word) and how long it took; raises whatever it should not have."""
    (folder / "site").mkdir(exist_ok=True)
    (folder / "site/page.html").write_text(text, encoding="utf-8")
    forget_templates()
    begun = time.process_time()
    try:
        with bounded_time(PATIENCE, in_a_worker=False):
            page = make_environment((folder,)).get_template("site/page.html").render(view=View(), _=Words("en"))
        end = "page"
        if found := REACHED.search(page):
            raise AssertionError(f"the page holds {found[0]!r}")
    except ThemeError as error:
        end = "late" if isinstance(error.__cause__, OverdueError) else "line"
        if "\n" in str(error) and len(str(error).splitlines()) > 3:
            raise
    return end, time.process_time() - begun


def main() -> None:
    """Grow and fill in until the time is over; tell what came of it."""
    options = argparse.ArgumentParser()
    options.add_argument("--minutes", type=float, default=10)
    options.add_argument("--seed", type=int, default=1)
    told = options.parse_args()
    ends: Counter[str] = Counter()
    until, slowest, number = time.monotonic() + 60 * told.minutes, (0.0, ""), told.seed * 10_000_000
    with tempfile.TemporaryDirectory() as place:
        while time.monotonic() < until:
            number += 1
            text = Grower(random.Random(number)).template()
            try:
                end, took = fill_in(Path(place), text)
            except Exception as error:
                end, took = f"fault {type(error).__name__}", 0.0
                print(number, repr(error)[:300], text, flush=True)
            ends[end] += 1
            if took > slowest[0]:
                slowest = took, text
                print(f"{number}: {took:.2f} s {text[:300]}", flush=True)
    print(dict(ends), f"slowest {slowest[0]:.2f} s")


if __name__ == "__main__":
    main()
