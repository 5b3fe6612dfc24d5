"""What templates are given leads nowhere: plain values, our own frozen records and functions, whatever public name is followed."""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from pathlib import Path
from types import FunctionType, MethodType
from typing import Any

import pytest
from jinja2 import Template
from markupsafe import Markup

from guidebuild.cli import exit_code
from guidebuild.words import Words
from tests.hostile.small_guide import write_small

PLAIN = (str, int, float, bool, type(None), dt.date, Fraction, Markup)
GROUPS = (tuple, list, set, frozenset)


def find_ways_out(name: str, value: object, seen: set[int]) -> Iterator[str]:
    """Public names by which a template could get from a value to something that is not plain and not ours."""
    if id(value) in seen or type(value) in PLAIN:
        return
    seen.add(id(value))
    if isinstance(value, Mapping):
        for key, one in value.items():
            yield from find_ways_out(f"{name}[{key!r}]", one, seen)
    elif isinstance(value, GROUPS):
        for number, one in enumerate(value):
            yield from find_ways_out(f"{name}[{number}]", one, seen)
    elif isinstance(value, FunctionType | MethodType):
        if not (value.__module__ or "").startswith("guidebuild."):
            yield f"{name}: a function of {value.__module__}"
    elif is_ours(value):
        public = {field.name for field in fields(value)} if is_dataclass(value) else set(vars(value))  # type: ignore[arg-type]
        for attribute in sorted(public | {n for n in dir(type(value)) if isinstance(getattr(type(value), n), property)}):
            if not attribute.startswith("_"):
                yield from find_ways_out(f"{name}.{attribute}", getattr(value, attribute), seen)
    else:
        yield f"{name}: {type(value).__module__}.{type(value).__qualname__}"


def is_ours(value: object) -> bool:
    """Whether this is a frozen record of ours, a word of a list of ours, or the words of a language."""
    frozen = is_dataclass(value) and not isinstance(value, type) and value.__dataclass_params__.frozen  # type: ignore[attr-defined]
    return type(value).__module__.startswith("guidebuild.") and (frozen or isinstance(value, Enum | Words))


@pytest.fixture(scope="module")
def given(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[object]]:
    """Everything that templates are given in a make of all outputs, by name."""
    found: dict[str, list[object]] = {}
    real: Callable[..., str] = Template.render

    def record(template: Template, *arguments: Any, **values: Any) -> str:
        for name, value in {**dict(*arguments), **values}.items():
            found.setdefault(f"{template.name}: {name}", []).append(value)
        return real(template, *arguments, **values)

    guide = write_small(Path(tmp_path_factory.mktemp("given")) / "guide")
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Template, "render", record)
        exit_code(["make", str(guide), "--quiet", "--workers", "1"])
    return found


def test_what_templates_are_given_leads_nowhere(given: dict[str, list[object]]) -> None:
    assert len(given) > 60
    seen: set[int] = set()
    ways = {way for name, values in given.items() for value in values for way in find_ways_out(name, value, seen)}
    assert sorted(ways) == []
