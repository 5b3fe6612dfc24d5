"""The form of an account: every value of its file stands in a field that leads back to it, and findings stand beside theirs."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidebuild.desk.account_changes import read_typed
from guidebuild.desk.controls import Control, ControlMaker
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.change_text import change_text, read_values
from guidebuild.desk.editing.wanted import RefusedError, SetValue, value_at
from guidebuild.desk.parts.account import AccountView, locate_field, show_account
from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.block import Plain
from guidebuild.resident import Resident
from tests.conftest import NOT_COPIED, SAMPLE
from tests.guide_files import write_files

ACCOUNTS = sorted(path.stem for path in (SAMPLE / "accounts").glob("*.md") if "." not in path.stem)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    folder = tmp_path_factory.mktemp("desk") / "guide"
    shutil.copytree(SAMPLE, folder, ignore=NOT_COPIED)
    with Resident(folder) as resident:
        resident.follow(frozenset())
        yield Desk(folder, resident)


def view_of(desk: Desk, account: str) -> AccountView:
    view = show_account(desk, account, {})
    assert view is not None
    return view


def values_in(controls: Iterator[Control] | tuple[Control, ...]) -> Iterator[Control]:
    """The controls that hold a value, blank ones left out."""
    for control in controls:
        if control.inner or control.kind in ("list", "records", "keyed"):
            yield from values_in(control.inner)
        else:
            yield control


@pytest.mark.parametrize("account", ACCOUNTS)
def test_every_value_stands_in_a_field_that_leads_back_to_it(desk: Desk, account: str) -> None:
    view = view_of(desk, account)
    values = read_values(view.file, (desk.folder / view.file).read_bytes())
    told: dict[str, Plain] = {}
    for control in values_in((*view.fields, *view.more, *view.sections)):
        said = value_at(values, tuple(json.loads(control.path)))
        told[control.path] = said
        if control.kind == "typed":
            assert read_typed(control.value) == said, control.path
        elif control.kind == "commas" and isinstance(said, list):
            assert control.value == ", ".join(map(str, said)), control.path
        else:
            assert (control.value or None) == said, control.path
    assert leaves_of(values) <= {text for said in told.values() for text in leaves_of(said)}
    ids = [control.id for control in values_in((*view.fields, *view.more, *view.sections))]
    assert len(ids) == len(set(ids))


def leaves_of(value: Plain) -> set[str]:
    if isinstance(value, dict):
        return {text for inner in value.values() for text in leaves_of(inner)}
    if isinstance(value, list):
        return {text for inner in value for text in leaves_of(inner)}
    return {value} if value else set()


def test_every_declared_field_has_its_control(desk: Desk) -> None:
    view = view_of(desk, "parent-bug")
    assert sorted(control.label for control in (*view.fields, *view.more)) == sorted(field.key for field in ACCOUNT_FIELDS)
    assert all(control.help for control in (*view.fields, *view.more))
    size = next(control for control in view.fields if control.label == "size")
    told = "How large it is: a length or a range with its unit, and what is measured. Write a measurement with its unit, such as 6–9 mm."
    assert size.help == told
    assert size.example == "6–9 mm body length"


ODD: dict[str, tuple[str, str, list[str]]] = {
    "none": ("host plants: none", "records", ["none"]),
    "alone": ("host plants: oak", "records", ["oak"]),
    "a reason": ("host plants: {not applicable: It hunts.}", "typed", ["not applicable: It hunts."]),
    "a list of words": ("host plants: [oak, ash]", "records", ["oak", "ash"]),
    "not in a list": ("host plants: {plant: oak, part: leaves}", "records", ["oak", "leaves", ""]),
    "one for a list": ("photos: one", "list", ["one"]),
    "keys in a list": ("photos: [{a: b}]", "typed", ["- a: b"]),
    "a season by place": ("seasons: {adult: [{season: May, place: hedge}]}", "keyed", ["", "- season: May\n  place: hedge"]),
    "another stage": ("seasons: {adult: May, ghost: June}", "keyed", ["", "May", "June"]),
    "words for keys": ("seasons: May", "typed", ["May"]),
    "a list for a text": ("status: [a, b]", "typed", ["[a, b]"]),
    "how secret": ("sensitive: {category: high, reason: Theft.}", "record", ["high", "Theft.", ""]),
    "one word": ("sensitive: no", "line", ["no"]),
    "empty": ("reviewed:", "record", ["", ""]),
    "empty items": ("photos:\n  - one\n  -\n  - two", "list", ["one", "", "two"]),
}


@pytest.mark.parametrize("name", ODD)
def test_a_value_of_another_shape_can_be_seen_and_changed(name: str) -> None:
    typed, kind, shown = ODD[name]
    raw = f"---\nname: A b\n{typed}\n---\n".encode()
    values = read_values("accounts/a.md", raw)
    key = next(key for key in values if key != "name")
    field = next(field for field in ACCOUNT_FIELDS if field.key == key)
    guide = Guide(settings=None)  # type: ignore[arg-type]  # no setting is asked for
    maker = ControlMaker("accounts/a.md", guide, StageSet("bug", "Bugs", (("nymph", "nymph"), ("adult", "adult"))))
    control = maker.make_field(field, values[key])
    found = list(values_in((control,)))
    assert (control.kind, [one.value for one in found]) == (kind, shown)
    for one in found:
        path = tuple(json.loads(one.path))
        new: Plain = read_typed(one.value.replace("b", "c")) if one.kind == "typed" else "other"
        assert value_at(read_values("accounts/a.md", change_text("accounts/a.md", raw, [SetValue(path, new)])), path) == new
    if control.blank is not None:
        path = tuple(json.loads(control.blank.path))
        added: Plain = {"plant": "elm"} if control.kind == "records" else "elm"
        after = read_values("accounts/a.md", change_text("accounts/a.md", raw, [SetValue(path, added)]))[key]
        assert added in (after if isinstance(after, list) else [after])


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("a", "a"),
        ("[a, b]", ["a", "b"]),
        ("- a: b\n  c: d\n- e", [{"a": "b", "c": "d"}, "e"]),
        ("a: b", {"a": "b"}),
        ("|\n  a\n  b", "a\nb\n"),
        ("", None),
    ],
)
def test_what_is_typed_is_read_as_in_the_file(text: str, value: Plain) -> None:
    assert read_typed(text) == value


def test_what_cannot_be_read_is_refused_in_the_readers_words() -> None:
    with pytest.raises(RefusedError, match=r"The bracket opened in '\[a, b' is not closed"):
        read_typed("[a, b")


BROKEN = {
    "guide.yaml": "title: Waders\ngroup: bird\nhemisphere: north\n",
    "accounts/dunlin.md": "---\nname: Calidris alpina\nsize: big\n"
    "seasons:\n  adult: Juneish\nstatsu: rare\n---\nLost.\n\n## In brief\n\nA star.\n",
    "accounts/knot.md": "---\nname: Calidris canutus\nseasons: [May\n---\n",
}


def test_findings_stand_beside_their_fields_and_lead_to_them(tmp_path: Path) -> None:
    write_files(tmp_path, BROKEN)
    with Resident(tmp_path) as resident:
        resident.follow(frozenset())
        resident.find_notes()
        desk = Desk(tmp_path, resident)
        view = view_of(desk, "dunlin")
        found = {control.label: control.findings for control in (*view.fields, *view.more, *view.sections) if control.findings}
        assert {"size", "seasons"} <= found.keys()
        assert "There is no measurement in 'big'." in found["size"][0]
        assert "“Juneish”" in found["seasons"][0]
        assert "status" not in found
        assert (view.missing[0].question, view.missing[0].field) == ("What do people call it?", "field-vernacular")
        lines = {
            3: "dunlin#field-size",
            4: "dunlin#field-seasons",
            5: "dunlin#field-seasons-adult",
            8: "dunlin#field-words",
            10: "dunlin#field-in-brief",
        }
        assert {line: locate_field(desk, At("accounts/dunlin.md", line)) for line in lines} == lines
        assert locate_field(desk, At("accounts/dunlin.md", 1)) == "dunlin"
        assert [locate_field(desk, At(file, 3)) for file in ("plants.yaml", "accounts/a/b.md", "accounts/dunlin.es.md")] == [None] * 3
        broken = view_of(desk, "knot")
        assert "is not closed" in broken.broken
        assert broken.fields == ()
        assert locate_field(desk, At("accounts/knot.md", 3)) == "knot"
        assert [show_account(desk, name, {}) for name in ("none", "../guide", "dunlin/x", "a/b")] == [None] * 4


def test_a_guide_that_cannot_be_read_still_has_a_page(tmp_path: Path) -> None:
    write_files(tmp_path, {"guide.yaml": "title: [a\n"})
    with Resident(tmp_path) as resident:
        resident.follow(frozenset())
        assert show_account(Desk(tmp_path, resident), "", {}) == AccountView()
