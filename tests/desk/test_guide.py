"""The guide itself on the desk: begun in an empty folder, its settings changed, records added to its lists."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from guidebuild.cli import exit_code
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import RefusedError
from guidebuild.desk.many_accounts import list_fields, set_accounts
from guidebuild.desk.new_records import FIRST_FIELDS, LISTS, add_record, begin_guide
from guidebuild.desk.parts.account import show_account
from guidebuild.desk.parts.guide import locate_value, show_guide
from guidebuild.desk.parts.sightings import show_sightings
from guidebuild.guide.findings import At
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.settings_shape import SettingsShape
from guidebuild.reading.whole import read_guide
from guidebuild.resident import Resident
from tests.desk.opened import open_desk
from tests.guide_files import write_files

FILES = {
    "guide.yaml": "title: Waders  # of the harbour\ngroup: bird\nhemisphere: north\nlevel: sketch\n",
    "accounts/dunlin.md": "---\nname: Calidris alpina\nvernacular: Dunlin\n---\n",
    "accounts/knot.md": "---\nname: Calidris canutus\nvernacular: Knot\nstatus: winter   # by the count\n---\n",
    "sources.yaml": "counts:\n  cite: Harbour counts\n",
}


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    folder = write_files(tmp_path / "waders", FILES)
    with Resident(folder) as resident:
        resident.follow(frozenset())
        yield Desk(folder, resident)


def text_of(desk: Desk, file: str) -> str:
    return (desk.folder / file).read_text("utf-8")


def test_an_empty_folder_is_opened_on_the_page_that_begins_a_guide(tmp_path: Path) -> None:
    with open_desk(tmp_path, entered=False) as opened:
        split = opened.address.removeprefix(opened.origin)
        opened.cookie = opened.ask(split).headers["set-cookie"].partition(";")[0]
        assert opened.look("/-desk/").headers["location"] == "/-desk/guide/"
        page = opened.look("/-desk/guide/").body.decode()
        assert "There is no guide here yet" in page and 'name="title"' in page


def test_a_folder_with_other_things_is_no_place_for_a_desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "letters.txt").write_text("Dear")
    assert exit_code(["desk", str(tmp_path), "--no-browser"]) == 2
    assert "There is no guide.yaml" in capsys.readouterr().err


def test_a_guide_is_begun_with_what_was_filled_in(tmp_path: Path) -> None:
    with Resident(tmp_path) as resident:
        resident.follow(frozenset())
        desk = Desk(tmp_path, resident)
        with pytest.raises(RefusedError, match=r"^Give the guide a title\.$"):
            begin_guide(desk, {"values": {"region": "Saltgrave"}})
        with pytest.raises(RefusedError, match="sketch"):
            begin_guide(desk, {"values": {"title": "Waders", "level": "splendid"}})
        assert not (tmp_path / "guide.yaml").exists()
        begin_guide(desk, {"values": {"title": "Waders: a beginning", "languages": "en, es", "group": "bird", "dates": "day first"}})
    guide = read_guide(tmp_path).guide
    assert guide is not None
    assert (guide.settings.title, guide.settings.languages, guide.settings.group) == ("Waders: a beginning", ("en", "es"), "bird")


@pytest.mark.parametrize(
    ("name", "values", "told"),
    [
        ("places", {"name": "Sea wall", "habitat": "mudflat, saltmarsh", "position": "52.1, 1.3"},
         "sea-wall:\n  name: Sea wall\n  habitat: [mudflat, saltmarsh]\n  position: 52.1, 1.3\n"),
        ("sources", {"cite": "Harbour notes", "year": "2025"}, "counts\nharbour-notes:\n  cite: Harbour notes\n  year: 2025\n"),
        ("characters", {"label": "bill", "states": "long\n\nshort, thick\n"},
         "bill:\n  label: bill\n  states:\n    long: long\n    short-thick: short, thick\n"),
        ("terms", {"word": "Primary", "meaning": "An outer feather: of the wing."}, 'meaning: "An outer feather: of the wing."'),
        ("plants", {"vernacular": "Eelgrass", "name": "Zostera marina"}, "eelgrass:\n  vernacular: Eelgrass\n  name: Zostera marina\n"),
    ],
)  # fmt: skip
def test_a_record_is_added_under_an_id_of_what_it_is_called(desk: Desk, name: str, values: dict[str, str], told: str) -> None:
    add_record(desk, {"list": name, "values": values})
    assert told in text_of(desk, LISTS[name].file)
    assert not [f for f in read_guide(desk.folder).findings if f.level.value == "error"]


def test_a_second_record_of_one_name_gets_a_number_and_a_fault_is_refused(desk: Desk) -> None:
    for _ in range(2):
        add_record(desk, {"list": "places", "values": {"name": "Sea wall"}})
    assert list(desk.writer.read("places.yaml").values) == ["sea-wall", "sea-wall-2"]
    before = text_of(desk, "places.yaml")
    with pytest.raises(RefusedError, match="position"):
        add_record(desk, {"list": "places", "values": {"name": "Nowhere", "position": "north of here"}})
    with pytest.raises(RefusedError, match="Fill in “name”"):
        add_record(desk, {"list": "places", "values": {"note": "Wet."}})
    assert text_of(desk, "places.yaml") == before


def test_what_is_shown_first_is_declared_and_each_list_has_a_page(desk: Desk) -> None:
    assert set(FIRST_FIELDS["guide.yaml"]) <= {field.key for field in SettingsShape.declared}
    for name, listed in LISTS.items():
        assert set(FIRST_FIELDS[listed.file]) <= {field.key for field in listed.shape.declared}
        view = show_guide(desk, name, {})
        assert view is not None and view.blank[0].needed == (name != "plants")
    assert show_guide(desk, "letters", {}) is None


def test_a_line_of_guide_yaml_or_of_a_record_leads_to_its_field(desk: Desk) -> None:
    assert locate_value(desk, At("guide.yaml", 3)) == "#field-hemisphere"
    assert locate_value(desk, At("sources.yaml", 2)) == "sources#field-counts-cite"
    assert locate_value(desk, At("photos.yaml", 2)) is None


def test_something_is_said_of_many_accounts_and_taken_back_as_one(desk: Desk) -> None:
    before = {file: text_of(desk, file) for file in FILES}
    values = {
        "sources": "counts",
        "reviewed.by": "Ann Reed",
        "reviewed.on": "2026-11-20",
        "habitat": "mudflat, shingle",
        "host plants": "none",
    }
    assert set_accounts(desk, {"accounts": ["dunlin", "knot"], "values": values}) == {"accounts": 2}
    for account in ("dunlin", "knot"):
        said = desk.writer.read(f"accounts/{account}.md").values
        assert said["reviewed"] == {"by": "Ann Reed", "on": "2026-11-20"}
        assert (said["habitat"], said["host plants"], said["sources"]) == (["mudflat", "shingle"], "none", "counts")
    assert "status: winter   # by the count" in text_of(desk, "accounts/knot.md")
    assert len(desk.writer.list_undoable()) == 1
    written = desk.writer.undo()
    assert written is not None and written.files == 2
    assert {file: text_of(desk, file) for file in FILES} == before


@pytest.mark.parametrize(
    ("accounts", "values", "told"),
    [
        (["dunlin", "knot"], {"reviewed.on": "2026-11-20"}, "accounts/dunlin.md: "),
        (["dunlin", "sanderling"], {"status": "rare"}, "There is no account “sanderling” any more"),
        ([], {"status": "rare"}, "Choose accounts"),
        (["dunlin"], {"name": "Calidris alba"}, "The page sent what it did not show"),
    ],
)
def test_what_one_account_refuses_is_written_in_none(desk: Desk, accounts: list[str], values: dict[str, Any], told: str) -> None:
    before = {file: text_of(desk, file) for file in FILES}
    with pytest.raises(RefusedError, match=f"^{told}"):
        set_accounts(desk, {"accounts": accounts, "values": values})
    assert {file: text_of(desk, file) for file in FILES} == before
    assert desk.writer.list_undoable() == ()


def test_fields_for_many_are_those_that_the_group_asks(desk: Desk) -> None:
    assert desk.guide is not None
    hunted = StageSet("x", "X", ("adult",), food="hunted")
    labels = [control.label for control in list_fields(desk.guide, hunted)]
    assert "host plants" not in labels and labels[-2:] == ["by", "on"]


def test_what_is_secret_is_marked_wherever_it_is_chosen(tmp_path: Path) -> None:
    places = "roost:\n  name: Old Roost\n  sensitive: high\nwall:\n  name: Sea wall\n"
    ruff = "---\nname: Calidris pugnax\nvernacular: Ruff\nsensitive: {category: high, reason: Few are left.}\n---\n"
    table = "Date,Species,Site\n2025-05-03,Knot,the rost\n"
    folder = write_files(tmp_path / "secret", {**FILES, "places.yaml": places, "accounts/ruff.md": ruff, "sightings/a.csv": table})
    with Resident(folder) as resident:
        resident.follow(frozenset())
        desk = Desk(folder, resident)
        listed = show_guide(desk, "places", {})
        assert listed is not None and [(one.id, one.secret) for one in listed.records] == [("roost", True), ("wall", False)]
        chosen = {kind: {one.word: one.label for one in words} for kind, words in listed.choices}
        assert chosen["place"] == {"roost": "Old Roost (kept secret)", "wall": "Sea wall"}
        assert chosen["account"]["ruff"] == "Ruff (kept secret)" and chosen["account"]["knot"] == "Knot"
        account = show_account(desk, "ruff", {})
        every = show_account(desk, "", {})
        assert account is not None and account.secret
        assert every is not None and [one.id for one in every.accounts if one.secret] == ["ruff"]
        sightings = show_sightings(desk, "", {})
        assert sightings is not None
        assert dict(next(kind.meanings for kind in sightings.kinds if kind.kind == "place"))["roost"] == "Old Roost (kept secret)"


def test_examples_and_views_are_those_of_the_group(desk: Desk) -> None:
    account = show_account(desk, "knot", {})
    assert account is not None
    examples = {control.label: control.example for control in (*account.fields, *account.more)}
    assert examples["size"] == "24–27 cm length" and examples["vernacular"] == "Redshank"
    views = [one.word for one in dict(account.choices)["view"]]
    assert views[:3] == ["side", "in flight", "face"] and "upperside" in views
