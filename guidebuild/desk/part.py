"""What a part of the desk is: a page, what can be changed on it, and how a place in a file is found on it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from guidebuild.desk.desk import Desk
from guidebuild.guide.findings import At

Show = Callable[[Desk, str, Mapping[str, str]], object | None]
"""The view of a page: for the words after the part's own address (an account's id, or ""), and for what stands after `?`.

None where there is no such page.
"""
Change = Callable[[Desk, Mapping[str, Any]], Mapping[str, Any]]
"""What a page asks to be changed → what it is answered. Raises `SaidInOneLineError` where it is refused: the message says what to write."""
Locate = Callable[[Desk, At], str | None]
"""Where on the part's pages a line of a file is seen to, as `parent-bug#field-size`; None where it is not."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part. Its template is `desk/<name>.html`, its script `desk/<name>.js` where there is one."""

    name: str
    """One word, also its address: `/-desk/<name>/`."""
    title: str
    """In English, as the catalogue has it."""
    show: Show
    changes: Mapping[str, Change] = field(default_factory=lambda: MappingProxyType({}))
    """By the last word of their address: `POST /-desk/<name>/<word>`."""
    locate: Locate | None = None
