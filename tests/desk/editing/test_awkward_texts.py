"""Texts as people write them by hand: odd spaces, remarks, quotation marks, line ends. What is not changed stays to the byte."""

from __future__ import annotations

import codecs
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.desk.editing.change_text import change_text, read_values
from guidebuild.desk.editing.wanted import AddItem, MoveItem, RefusedError, SetValue, change_data, say_plainly
from guidebuild.reading.block import Plain

CASES: dict[str, tuple[str, SetValue | AddItem | MoveItem, str]] = {
    "aligned": (
        "name:      A b\nstatus:    rare   # a remark\n",
        SetValue(("status",), "common"),
        "name:      A b\nstatus:    common   # a remark\n",
    ),
    "double marks kept": ('status: "so: rare"\n', SetValue(("status",), "common"), 'status: "common"\n'),
    "single marks kept": ("status: 'so: rare' # x\n", SetValue(("status",), "it's"), "status: 'it''s' # x\n"),
    "nothing yet": ("status:   # how common?\nsay: x\n", SetValue(("status",), "rare"), "status: rare   # how common?\nsay: x\n"),
    "nothing, spaces": ("status:  \nsay: x\n", SetValue(("status",), "rare"), "status: rare  \nsay: x\n"),
    "two lines": ("status: rare and\n  local\nsay: x\n", SetValue(("status",), "common"), "status: common\nsay: x\n"),
    "kept lines": (
        "note: |\n    One.\n    Two.\n\nsay: x\n",
        SetValue(("note",), "Three.\n\n  Four."),
        "note: |\n    Three.\n\n      Four.\n\nsay: x\n",
    ),
    "folded": ("note: >-\n  One two\n  three.\n# x\nsay: y\n", SetValue(("note",), "Four."), "note: >-\n  Four.\n# x\nsay: y\n"),
    "text to lines": ("note: One. # x\nsay: y\n", SetValue(("note",), "One.\nTwo."), "note: | # x\n  One.\n  Two.\nsay: y\n"),
    "lines to list": ("photos: |\n  a\n\nsay: y\n", SetValue(("photos",), ["a", "b"]), "photos: [a, b]\n\nsay: y\n"),
    "text to list of keys": (
        "similar: a # x\nsay: y\n",
        SetValue(("similar",), [{"account": "a", "note": "N"}]),
        "similar: # x\n  - account: a\n    note: N\nsay: y\n",
    ),
    "list of keys to text": (
        "similar:\n  # which\n  - account: a\n    note: N\nsay: y\n",
        SetValue(("similar",), "none"),
        "similar: none\n  # which\nsay: y\n",
    ),
    "bracket item": ("photos: [ a,  b ]  # x\n", SetValue(("photos", 1), "c, d"), 'photos: [ a,  "c, d" ]  # x\n'),
    "bracket add": ("photos: [ a,  b ]  # x\n", AddItem(("photos",), "c"), "photos: [ a,  b, c ]  # x\n"),
    "bracket add first": ("photos: [a]\n", AddItem(("photos",), "c", 0), "photos: [c, a]\n"),
    "bracket over lines": ("photos: [a,\n    b]  # x\n", AddItem(("photos",), "c"), "photos: [a,\n    b, c]  # x\n"),
    "bracket gone": ("photos: [a, b, c]\n", SetValue(("photos", 1), None), "photos: [a, c]\n"),
    "last of brackets": ("photos: [a]\nsay: x\n", SetValue(("photos", 0), None), "say: x\n"),
    "keys in braces": (
        "reviewed: { by: A,on: 2026-01-02 }\n",
        SetValue(("reviewed", "on"), "2026-02-03"),
        "reviewed: { by: A,on: 2026-02-03 }\n",
    ),
    "flush hyphens": ("photos:\n- a\n# two\n- b\nsay: x\n", AddItem(("photos",), "c"), "photos:\n- a\n# two\n- b\n- c\nsay: x\n"),
    "flush gone": ("photos:\n- a\n# two\n- b\nsay: x\n", SetValue(("photos", 0), None), "photos:\n# two\n- b\nsay: x\n"),
    "wide hyphens": (
        "similar:\n  -   account: a\n      note: N\n",
        AddItem(("similar",), {"account": "b", "note": "M"}),
        "similar:\n  -   account: a\n      note: N\n  -   account: b\n      note: M\n",
    ),
    "first key gone": ("similar:\n  - note: N # n\n    account: a\n", SetValue(("similar", 0, "note"), None), "similar:\n  - account: a\n"),
    "first key gone, remark": (
        "similar:\n  - note: N\n    # x\n    account: a\n",
        SetValue(("similar", 0, "note"), None),
        "similar:\n  - # x\n    account: a\n",
    ),
    "alone to two": ("photos: a\n", AddItem(("photos",), "b"), "photos: [a, b]\n"),
    "made on the way": ("say: x\n", SetValue(("reviewed", "by"), "A"), "say: x\nreviewed:\n  by: A\n"),
    "no end": ("say: x", SetValue(("status",), "rare"), "say: x\nstatus: rare"),
    "no end, same": ("say: x", SetValue(("say",), "y"), "say: y"),
    "nothing at all": ("", SetValue(("a", "word"), "x"), "a:\n  word: x\n"),
    "remarks alone": ("# x\n", SetValue(("a",), "x"), "# x\na: x\n"),
    "records apart": (
        "a:\n  word: x\n\nb:\n  word: y\n",
        SetValue(("c",), {"word": "z"}),
        "a:\n  word: x\n\nb:\n  word: y\n\nc:\n  word: z\n",
    ),
    "moved down": ("photos:\n  - a # 1\n  - b # 2\n  - c\n", MoveItem(("photos", 0), 2), "photos:\n  - b # 2\n  - c\n  - a # 1\n"),
    "moved up": ("a:\n  word: x\nb:\n  word: y # z\n", MoveItem(("b",), 0), "b:\n  word: y # z\na:\n  word: x\n"),
    "moved in brackets": ("photos: [a, b, c]\n", MoveItem(("photos", 2), 0), "photos: [c, a, b]\n"),
    "long list": (
        "say: x\n",
        SetValue(("photos",), [f"photo-number-{n}" for n in range(9)]),
        "say: x\nphotos:\n" + "".join(f"  - photo-number-{n}\n" for n in range(9)),
    ),
    "odd key": ("say: x\n", SetValue(("marks", "a: b #"), "x"), 'say: x\nmarks:\n  "a: b #": x\n'),
}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", codecs.BOM_UTF8])
def test_only_what_must_changes(name: str, newline: str, mark: bytes) -> None:
    old, change, new = (part.replace("\n", newline) if isinstance(part, str) else part for part in CASES[name])
    assert isinstance(old, str)
    assert isinstance(new, str)
    assert isinstance(change, SetValue | AddItem | MoveItem)
    if "\n" not in old:
        new = new.replace(newline, "\n")  # nothing says how the file ends its lines
    assert change_text("plants.yaml", mark + old.encode(), [change]) == mark + new.encode()


def test_what_is_read_as_nothing_is_replaced() -> None:
    raw = b"---\nname: A b\nstatus: ?\nsay: x\n---\n"
    assert change_text("accounts/a.md", raw, [SetValue(("status",), "rare")]) == raw.replace(b"?", b"rare")


@pytest.mark.parametrize(
    ("typed", "path", "value"),
    [
        ("? say\n: x\nstatus: y\n", ("say",), None),
        ("hashtags: [#a, b, c]\n", ("hashtags", 0), "d"),
        ("hashtags: [#a, b, c]\n", ("hashtags", 1), "d"),
        ("a: {<<: {b: c}, d: e}\n", ("a", "b"), "f"),
    ],
)
def test_what_would_harm_other_values_is_refused(typed: str, path: tuple[str | int, ...], value: str | None) -> None:
    with pytest.raises(RefusedError, match=r"Change it in the file itself\."):
        change_text("guide.yaml", typed.encode(), [SetValue(path, value)])


DRAFT = """---
name: Calidris alba
# vernacular:        # What is it called?
# seasons:           # When is each stage out?
#   adult:
#   chick:
family: Scolopacidae
---

## In brief

<!-- What is it? -->
"""


def test_answers_of_a_draft_stand_below_their_questions() -> None:
    raw = change_text("accounts/a.md", DRAFT.encode(), [SetValue(("seasons",), {"adult": "May"}), SetValue(("vernacular",), "Sanderling")])
    head = "---\nname: Calidris alba\n# vernacular:        # What is it called?\nvernacular: Sanderling\n# seasons:"
    assert raw.decode().startswith(head)
    assert "#   chick:\nseasons:\n  adult: May\nfamily:" in raw.decode()


SECTIONS = "---\nname: A b\n---\nBefore.\n\n## In brief\n\nOne.\n\n\n## Life story\n\n```\n## no heading\n```\n\n## In the field\n"


@pytest.mark.parametrize(
    ("heading", "text", "old", "new"),
    [
        ("## In brief", "Two.\n\nThree.\n", "One.", "Two.\n\nThree."),
        ("## In brief", "", "One.\n", ""),
        ("## In the field", "Go.", "## In the field\n", "## In the field\n\nGo.\n"),
        ("## Where to look", "Up.", "## Life story", "## Where to look\n\nUp.\n\n## Life story"),
        ("## Other", "Up.", "## In the field\n", "## In the field\n\n## Other\n\nUp.\n"),
        ("## Life story", "Code", "```\n## no heading\n```", "Code"),
        ("##", "First.", "Before.", "First."),
        ("## Life story", None, "## Life story\n\n```\n## no heading\n```\n\n", ""),
        ("##", "One ## two\n### Three", "Before.", "One ## two\n### Three"),
    ],
)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_section_changes_alone(heading: str, text: str | None, old: str, new: str, newline: str) -> None:
    raw = SECTIONS.replace("\n", newline).encode()
    wanted = SECTIONS.replace(old, new, 1).replace("\n", newline).encode()
    assert change_text("accounts/a.md", raw, [SetValue((heading,), text)]) == wanted


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_sections_come_below_facts_alone(newline: str) -> None:
    raw = "---\nname: A b\n---".replace("\n", newline).encode()
    wanted = "---\nname: A b\n---\n## In brief\n\nOne.\n\n## In the field\n\nTwo.\n".replace("\n", newline)
    changes = [SetValue(("## In the field",), "Two."), SetValue(("## In brief",), "One.")]
    assert change_text("accounts/a.md", raw, changes).decode() == wanted


def test_a_section_holds_no_other() -> None:
    with pytest.raises(RefusedError, match=r"begins with ## opens a section of its own\. Write ### for a heading inside"):
        change_text("accounts/a.md", SECTIONS.encode(), [SetValue(("## In brief",), "One.\n\n## Two\n\nThree.")])


WORDS = st.one_of(
    st.sampled_from(
        [
            "no",
            "12:30",
            "~",
            "a: b",
            "a #b",
            "#b",
            "- a",
            "[a",
            "a]",
            "{",
            "'",
            '"',
            "''",
            "?",
            "|",
            ">",
            "@a",
            "`",
            "%",
            "&a",
            "*a",
            "!a",
            "---",
            "...",
            "a:",
            ":",
            "a, b",
            "é",
            "6–9 mm",
            "\\",
            "a\nb",
            "a\n\nb",
            "  a",
            "a  b",
            "“a”",
            "n/a",
            "none",
            "a\n  b",
            "\ta",
            "- ",
            "? a",
            "<<",
        ]
    ),
    st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=12),
)
KEYS = st.sampled_from(["name", "status", "photos", "note", "a b", "x: y", "seasons"])
VALUES = st.recursive(
    WORDS, lambda inner: st.lists(inner, min_size=1, max_size=3) | st.dictionaries(KEYS, inner, min_size=1, max_size=3), max_leaves=6
)
TYPED = st.recursive(
    st.sampled_from(
        [
            "",
            " plain",
            " 'it''s'",
            ' "so"  # x',
            " |\n@  one\n@\n@  two",
            " >-\n@  one\n@  two",
            " [a, {b: c}, [d,\n@ e]]",
            " {a: b,\n@   c: }",
            "   rare  ",
            " two\n@  lines",
        ]
    ),
    lambda inner: (
        st.builds(
            lambda items, gap: "".join(f"\n@{gap}- x{n}:{item.replace('@', '@    ')}\n@{gap}  # r{n}" for n, item in enumerate(items)),
            st.lists(inner, min_size=1, max_size=3),
            st.sampled_from(["", "  "]),
        )
        | st.builds(
            lambda items: "".join(f"\n@  k{n}:{item.replace('@', '@  ')}\n" for n, item in enumerate(items)),
            st.lists(inner, min_size=1, max_size=3),
        )
    ),
    max_leaves=6,
)
"""What may stand after a key, `@` for its indent."""


@st.composite
def files(draw: st.DrawFn) -> bytes:
    text = draw(st.sampled_from(["", "\n", "# first\n\n"]))
    for n, item in enumerate(draw(st.lists(TYPED, min_size=1, max_size=4))):
        text += f"r{n}:{item.replace('@', '')}\n" + draw(st.sampled_from(["", "\n", "# between\n"]))
    mark = draw(st.sampled_from([b"", codecs.BOM_UTF8]))
    return mark + text.replace("\n", draw(st.sampled_from(["\n", "\r\n"]))).encode()


def paths_of(value: Plain, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    inner = list(value.items()) if isinstance(value, dict) else list(enumerate(value)) if isinstance(value, list) else []
    return [*([path] if path else []), *(found for step, below in inner for found in paths_of(below, (*path, step)))]


@settings(max_examples=300, deadline=None)
@given(raw=files(), data=st.data())
def test_whatever_is_typed_the_rest_stays(raw: bytes, data: st.DataObject) -> None:
    values = read_values("plants.yaml", raw)
    path = data.draw(st.sampled_from(paths_of(values)))
    change = data.draw(
        st.one_of(
            st.builds(SetValue, st.just(path), VALUES | st.none()),
            st.builds(SetValue, st.just((path[0], "new")), VALUES),
            st.builds(AddItem, st.just(path), VALUES),
        )
    )
    try:
        wanted = change_data(values, change)
        changed = change_text("plants.yaml", raw, [change])
    except RefusedError:
        return
    assert say_plainly(read_values("plants.yaml", changed)) == say_plainly(wanted)
    assert remarks_of(changed) == remarks_of(raw)
    assert changed.startswith(codecs.BOM_UTF8) == raw.startswith(codecs.BOM_UTF8)
    assert (b"\r\n" in changed) == (b"\r\n" in raw) or b"\n" not in changed
    others = {key: text for key, text in records_of(raw).items() if key != path[0]}
    assert {key: text for key, text in records_of(changed).items() if key in others} == others


def remarks_of(raw: bytes) -> list[bytes]:
    """The lines that are remarks; one may come to stand first, after the mark of UTF-8."""
    return [line for line in raw.removeprefix(codecs.BOM_UTF8).splitlines() if line.startswith((b"# first", b"# between"))]


def records_of(raw: bytes) -> dict[str, bytes]:
    """Each record's bytes from its key on, without what is blank after it."""
    pieces = re.split(rb"^(r\d):", raw.removeprefix(codecs.BOM_UTF8), flags=re.MULTILINE)
    return {
        key.decode(): re.sub(rb"\s+# r\d|\s+$", b"", re.split(rb"\n(?:# between|new:)", text)[0])
        for key, text in zip(pieces[1::2], pieces[2::2], strict=True)
    }


def test_most_shapes_are_not_refused() -> None:
    seen, refused = 0, []

    @settings(max_examples=300, deadline=None, database=None, derandomize=True)
    @given(raw=files(), data=st.data())
    def try_one(raw: bytes, data: st.DataObject) -> None:
        nonlocal seen
        values = read_values("plants.yaml", raw)
        path = data.draw(st.sampled_from(paths_of(values)))
        value = data.draw(VALUES | st.none())
        seen += 1
        try:
            change_data(values, SetValue(path, value))
            change_text("plants.yaml", raw, [SetValue(path, value)])
        except RefusedError as error:
            refused.append((raw, path, value, str(error)))

    try_one()
    assert len(refused) < seen / 50, refused[:8]
