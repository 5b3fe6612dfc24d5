"""Plain values → YAML as an author would type it: in quotation marks only where the guide's reader needs them.

How a text may be written is asked of that reader itself, so that the two cannot disagree.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator

from guidebuild.reading.block import Plain
from guidebuild.reading.notes import Notes
from guidebuild.reading.yaml_text import read_block

_LONGEST_LIST = 100
"""Signs of a list that stands on one line; a longer one has an item a line."""
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}
STEP = 2
"""Columns by which what belongs to a key is indented."""


class ValueWriter:
    """Writes values for one file: what needs quotation marks in an account may not need them elsewhere."""

    def __init__(self, file: str, newline: str = "\n") -> None:
        """`newline` is how the file ends its lines."""
        self._file = file
        self._newline = newline

    def one_line(self, value: Plain, *, in_flow: bool = False, marks: str = "") -> str | None:
        """The value on one line, None where it is better told on several; `marks` are the quotation marks that stood there."""
        if value is None:
            return ""
        if isinstance(value, str):
            return self.text(value, in_flow=in_flow, marks=marks) if in_flow or "\n" not in value.rstrip("\n") else None
        if in_flow or value in ([], {}):
            return self._flow(value)
        if isinstance(value, list) and all(isinstance(item, str) and "\n" not in item for item in value):
            line = self._flow(value)
            return line if len(line) <= _LONGEST_LIST else None
        return None

    def _flow(self, value: Plain) -> str:
        if isinstance(value, list):
            return f"[{', '.join(map(self._flow, value))}]"
        if isinstance(value, dict):
            return f"{{{', '.join(f'{self.key(key, in_flow=True)}: {self._flow(inner)}' for key, inner in value.items())}}}"
        return "" if value is None else self.text(value, in_flow=True)

    def text(self, text: str, *, in_flow: bool = False, marks: str = "") -> str:
        """A text on one line, plain where the reader takes it so, else in quotation marks."""
        text = text.rstrip("\n")
        if not marks and self._reads_as(f"[{text}]" if in_flow else text, [text] if in_flow else text):
            return text
        if marks != '"' and "\n" not in text and ('"' in text or marks == "'"):
            inside = text.replace("'", "''")
            return f"'{inside}'"
        return '"' + "".join(_ESCAPES.get(sign, sign) for sign in text) + '"'

    def _reads_as(self, typed: str, meant: Plain) -> bool:
        """Whether the reader takes a value for what is meant, and has nothing to say to it."""
        if "\n" in typed or typed != typed.strip():
            return False
        notes = Notes()
        block = read_block(f"key: {typed}\n", self._file, notes)
        listed = read_block(f"key:\n  - {typed}\n", self._file, Notes()) if isinstance(meant, str) else None
        return bool(block) and not notes.findings and _said(block) == meant and (listed is None or _said(listed) == [meant])

    def key(self, key: str, *, in_flow: bool = False) -> str:
        """A key, in quotation marks where it needs them."""
        block = read_block(f"{{{key}: x}}\n" if in_flow else f"{key}: x\n", self._file, Notes())
        plain = "\n" not in key and block is not None and block.data == {key: "x"}
        return key if plain else '"' + "".join(_ESCAPES.get(sign, sign) for sign in key) + '"'

    def after_lead(self, value: Plain, column: int, *, remark: str = "", lists_at: int | None = None) -> str:
        """What follows a key's colon or an item's hyphen, up to the end of its last line.

        `column` is that of the key or hyphen; `lists_at` that of the hyphens below it, where it is a list.
        """
        line = self.one_line(value)
        if line is not None:
            return f"{' ' if line else ''}{line}{remark}{self._newline}"
        if isinstance(value, str):
            return self._texts_below(value, " " * (column + STEP), remark)
        indent = column + STEP if lists_at is None or not isinstance(value, list) else lists_at
        return f"{remark}{self._newline}{''.join(self.entries(value, indent))}"

    def entries(self, value: Plain, column: int) -> Iterator[str]:
        """A list or keys with values, an entry a line or more, from this column on."""
        indent = " " * column
        for item in value if isinstance(value, list) else ():
            yield f"{indent}-{self.item(item, column)}"
        for key, inner in value.items() if isinstance(value, dict) else ():
            yield f"{indent}{self.key(key)}:{self.after_lead(inner, column)}"

    def item(self, value: Plain, column: int, *, inner: int | None = None) -> str:
        """What follows the hyphen of an item: its keys begin on the same line, at the column `inner`."""
        if isinstance(value, dict) and value:
            at = column + STEP if inner is None else inner
            return " " * (at - column - 1) + "".join(self.entries(value, at))[at:]
        return self.after_lead(value, column)

    def _texts_below(self, text: str, indent: str, remark: str) -> str:
        lines = self.block_lines(text, "|", indent)
        if lines is None:
            return f" {self.text(text)}{remark}{self._newline}"
        return f" |{remark}{self._newline}{lines}"

    def block_lines(self, text: str, header: str, indent: str, width: int = 0) -> str | None:
        """The lines below a header such as `|` or `>-`, the last with its end; None where they would be read as another text."""
        lines = text.rstrip("\n").split("\n")
        if header.startswith(">"):
            lines = [part for line in lines for part in ("", *(_wrap(line, width) if width else [line]))][1:]
        typed = "".join(f"{indent}{line}\n" if line else "\n" for line in lines)
        block = read_block(f"key: {header}\n{typed}", self._file, Notes())
        said = _said(block) if block else None
        if not isinstance(said, str) or said.rstrip("\n") != text.rstrip("\n"):
            return None
        return typed.replace("\n", self._newline)


def _wrap(line: str, width: int) -> list[str]:
    return textwrap.wrap(line, width, break_long_words=False, break_on_hyphens=False, replace_whitespace=False)


def _said(block: object) -> Plain:
    data = getattr(block, "data", {})
    return data.get("key") if isinstance(data, dict) else None


def marks_of(typed: str) -> str:
    """The quotation marks round a value as typed, or nothing."""
    return typed[0] if re.fullmatch(r"\"[\s\S]*\"|'[\s\S]*'", typed) else ""
