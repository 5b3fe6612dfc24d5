"""A slip in what is written of secrecy closes and never opens: the record is held back, the rest is published. All is invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.guide import Guide
from guidebuild.guide.record_fields import PLACE_FIELDS
from guidebuild.reading.secrecy_lines import find_doubts
from guidebuild.reading.whole import read_guide
from tests.hostile.small_guide import change, write_small

PLACE = """pool:
  name: Weir Pool
  area: Yard
  position: "51.4321, -1.4321"
  uncertainty: 50 m
"""
WALL_AT = '  position: "51.5, -1.5"\n  uncertainty: 150 m\n'
SLIPS = {
    "blank": "sensitive:\n",
    "nothing in quotes": "sensitive: ''\n",
    "only a remark after it": "sensitive: # high\n",
    "letters swapped": "sensitve: high\n",
    "another word": "secret: yes\n",
    "capital": "Sensitive: high\n",
    "a noun": "sensitivity: high\n",
    "hidden": "hidden: yes\n",
    "private": "private: true\n",
    "twice, open first": "sensitive: no\nsensitive: high\n",
    "twice, closed first": "sensitive: high\nsensitive: no\n",
    "unknown answer": "sensitive: maybe\n",
    "yes": "sensitive: yes\n",
    "a number": "sensitive: 7\n",
    "a list": "sensitive: [high]\n",
    "no keys": "sensitive: {}\n",
    "no category": "sensitive: {reason: nesting}\n",
    "key misspelt inside": "sensitive: {categry: high}\n",
    "category blank": "sensitive:\n  category:\n  reason: nesting\n",
    "unreadable day": "sensitive: {category: high, review: soon}\n",
    "no colon": "sensitive high\n",
    "no space": "sensitive:high\n",
    "equals": "sensitive = high\n",
    "brace left open": "sensitive: {category: high\n",
    "too deep": "  sensitive: high\n",
    "inside a text of lines": "note: |\n  A pool.\n  sensitive: high\n",
    "inside a folded text": "note: >\n  A pool.\n  sensitive: high\n",
    "below a list": "habitat:\n  - marsh\n  sensitive: high\n",
    "as an item": "- sensitive: high\n",
    "starred": "*sensitive*: high\n",
}


def write_place(folder: Path, lines: str, *, indent: str = "  ") -> Path:
    guide = write_small(folder / "guide")
    with (guide / "places.yaml").open("a", encoding="utf-8") as file:
        file.write(PLACE + "".join(f"{indent}{line}\n" for line in lines.splitlines()))
    return guide


def read(folder: Path) -> Guide:
    guide = read_guide(folder).guide
    assert guide is not None
    return guide


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_about_a_place_closes_it(slip: str, tmp_path: Path) -> None:
    place = read(write_place(tmp_path, SLIPS[slip])).places["pool"]
    assert place.sensitivity.category == 1
    assert place.name == "Weir Pool"  # so that it can be searched for
    assert place.position is not None


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_about_a_species_holds_its_account_back(slip: str, tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    change(guide, "accounts/two-spot.md", "hazards: []\n", f"hazards: []\n{SLIPS[slip]}")
    reading = read_guide(guide)
    assert reading.guide is not None
    account = reading.guide.accounts.get("two-spot")
    if account is None:
        assert reading.unread == ("two-spot",)
    else:
        assert account.sensitivity.category == 1
        assert any(found.account == "two-spot" and found.level.value == "error" for found in reading.findings)


def test_a_line_of_secrecy_below_the_facts_holds_the_account_back(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    change(guide, "accounts/two-spot.md", "Smaller than the other.", "sensitive: high\n\nSmaller than the other.")
    assert read(guide).accounts["two-spot"].sensitivity.category == 1
    change(guide, "accounts/two-spot.md", "sensitive: high\n", "Sensitive: it flies off at a shadow.\nPrivate: keep out.\n")
    assert not read(guide).accounts["two-spot"].sensitivity


def test_a_line_at_the_left_edge_closes_the_place_above_it(tmp_path: Path) -> None:
    guide = write_place(tmp_path, SLIPS["blank"].replace("sensitive:", "sensitive: high"), indent="")
    assert read(guide).places["pool"].sensitivity.category == 1
    assert "sensitive" not in read(guide).places


@pytest.mark.parametrize("line", ["sensitive: no", "sensitive: high", "? sensitive\n: high", "# sensitive: high", "note: Keep it secret."])
def test_what_is_plainly_said_stands(line: str, tmp_path: Path) -> None:
    guide = write_place(tmp_path, f"{line}\n")
    assert not [found for found in read_guide(guide).findings if found.code == "secrecy-unclear"]
    assert read(guide).places["pool"].sensitivity.category == (2 if "high" in line and "#" not in line else 0)


def test_no_key_of_a_guide_is_taken_for_a_word_of_secrecy() -> None:
    for keys, file in ((ACCOUNT_FIELDS, "accounts/a.md"), (PLACE_FIELDS, "places.yaml")):
        text = "".join(f"{field.key}: x\n" for field in keys if field.key != "sensitive")
        assert find_doubts(text, None, file) == ()


@pytest.mark.parametrize("fault", ["  uncertainty: lots\n", "  position: nowhere\n", "  colour: red\n", "  hazards: {a: b}\n"])
def test_any_error_in_a_place_closes_that_place_and_no_other(fault: str, tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    lines = PLACE.splitlines(keepends=True)
    kept = [line for line in lines if line.split(":")[0] != fault.split(":", maxsplit=1)[0]]
    with (guide / "places.yaml").open("a", encoding="utf-8") as file:
        file.write("".join(kept) + fault)
    places = read(guide).places
    assert places["pool"].sensitivity.category == 1
    assert not places["wall"].sensitivity


def test_a_place_with_an_id_that_is_none_is_closed(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    with (guide / "places.yaml").open("a", encoding="utf-8") as file:
        file.write(PLACE.replace("pool:", "Weir_Pool:"))
    assert {key: place.sensitivity.category for key, place in read(guide).places.items()} == {"wall": 0, "Weir_Pool": 1}


def test_a_place_given_twice_is_closed(tmp_path: Path) -> None:
    guide = write_place(tmp_path, "sensitive: no\n")
    with (guide / "places.yaml").open("a", encoding="utf-8") as file:
        file.write(PLACE + "  sensitive: high\n")
    assert read(guide).places["pool"].sensitivity.category == 1


@pytest.mark.parametrize("spoilt", [b"pool: [\n", b"\xff\xfe\x00", b"- a\n- b\n", b"&a *a: {{{\n", b"name: x\n" * 3])
def test_where_places_cannot_be_read_nothing_that_names_one_is_published(spoilt: bytes, tmp_path: Path) -> None:
    guide = write_place(tmp_path, "sensitive: no\n")
    change(guide, "places.yaml", WALL_AT, "")
    change(guide, "accounts/two-spot.md", "Smaller than the other.", "Smaller than the other.\n\nIt lives at Weir Pool, 51.4321, -1.4321.")
    (guide / "places.yaml").write_bytes((guide / "places.yaml").read_bytes() + spoilt)
    assert exit_code(["make", str(guide), "site", "scripts", "walks", "data", "--workers", "1", "--quiet"]) == 1
    assert_nothing_of_the_pool(guide)
    assert (guide / "published/site/accounts/seven-spot.html").is_file()


@pytest.mark.parametrize("slip", ["blank", "another word", "too deep", "twice, open first", "inside a text of lines"])
def test_what_is_held_back_is_in_no_file_and_the_rest_goes_on(slip: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    guide = write_place(tmp_path, SLIPS[slip])
    change(guide, "places.yaml", WALL_AT, "")
    change(guide, "accounts/two-spot.md", "Smaller than the other.", "Smaller than the other.\n\nIt lives at Weir Pool, 51.4321, -1.4321.")
    assert exit_code(["make", str(guide), "site", "scripts", "walks", "data", "--workers", "1"]) == 1
    assert_nothing_of_the_pool(guide)
    assert (guide / "published/site/accounts/seven-spot.html").is_file()
    capsys.readouterr()
    exit_code(["check", str(guide)])
    assert "secret" in " ".join(capsys.readouterr().out.split())


def assert_nothing_of_the_pool(guide: Path) -> None:
    for path in (guide / "published").rglob("*"):
        if path.is_file() and path.suffix in {".html", ".csv", ".txt", ".json", ".ics", ".srt", ".vtt", ".md", ".js", ".xml"}:
            text = path.read_text(encoding="utf-8").casefold()
            assert "weir pool" not in text, path
            assert "51.432" not in text, path


def test_a_species_left_out_for_an_error_is_kept_secret_in_the_texts_of_others(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    change(guide, "accounts/two-spot.md", "hazards: []\n", "hazards: [bitess]\nsensitive: high\n")
    change(guide, "places.yaml", "  access: By the gate.\n", "  access: By the gate.\n  note: The Two-spot winters under the coping.\n")
    assert exit_code(["make", str(guide), "site", "--workers", "1", "--quiet"]) == 1
    pages = [path.read_text(encoding="utf-8") for path in (guide / "published/site").rglob("*.html")]
    assert pages
    assert not [page for page in pages if "winters under the coping" in page]
