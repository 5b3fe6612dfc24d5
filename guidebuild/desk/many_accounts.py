"""What is said of many accounts at once: who checked them, what they come from, a habitat that they share."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, get_origin

from guidebuild.desk.controls import Control, ControlMaker
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import Change, RefusedError, SetValue
from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.account_shape import AccountShape, ReviewShape
from guidebuild.reading.block import Plain
from guidebuild.reading.shaping import fields_of

_AT_ONCE = ("family", "status", "habitat", "places", "host plants", "prey", "hazards", "similar", "sources")
_NESTED: Mapping[str, tuple[str, ...]] = MappingProxyType({"reviewed": ("by", "on")})
"""Records of which each key is filled in by itself."""


def list_fields(guide: Guide, group: StageSet) -> Iterator[Control]:
    """The fields that can be filled in for many accounts; only those that the group asks."""
    maker = ControlMaker("accounts/new.md", guide, group)
    declared = {field.key: field for field in ACCOUNT_FIELDS}
    for key in _AT_ONCE:
        if group.asks(key):
            yield maker.make_field(declared[key], None)
    for key, inner in _NESTED.items():
        yield from (maker.make_field(field, None, ReviewShape, (key,)) for field in ReviewShape.declared if field.key in inner)


def set_accounts(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Values of many accounts: `{accounts, values}`, values by key. Answers `{accounts}`, the number changed.

    Each account is a file of its own. The first that refuses a value refuses it for all: none is written then.
    """
    guide, accounts, values = desk.guide, asked.get("accounts"), asked.get("values")
    if guide is None or not isinstance(accounts, list) or not accounts or not isinstance(values, dict) or not values:
        raise RefusedError("Choose accounts, and say something of them.")
    if unknown := [one for one in accounts if one not in guide.accounts]:
        raise RefusedError(f"There is no account “{unknown[0]}” any more. Load the page anew.")
    changes = [_read_change(path, text) for path, text in values.items()]
    files = [guide.accounts[one].at.file for one in accounts]
    desk.writer.change_many([(file, changes) for file in files], guide)
    return {"accounts": len(files)}


def _read_change(path: str, text: object) -> Change:
    key, _, inner = path.partition(".")
    if not isinstance(text, str) or not text.strip():
        raise RefusedError("The page sent something that is no text. Load the page anew.")
    if key in _NESTED and inner in _NESTED[key]:
        return SetValue((key, inner), text.strip())
    if key not in _AT_ONCE or inner:
        raise RefusedError("The page sent what it did not show. Load it anew.")
    return SetValue((key,), _read_value(key, text.strip()))


def _read_value(key: str, text: str) -> Plain:
    """Words between commas are a list where the field takes one; a single word stands alone, as `none` does."""
    items: list[Plain] = [item.strip() for item in text.split(",") if item.strip()]
    is_list = get_origin(fields_of(AccountShape)[key][0]) is tuple
    return items if is_list and len(items) > 1 else text
