"""A slip costs a line, never a species: what was published before stays where it cannot be made anew. Animals and places are invented."""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from tests.hostile.small_guide import change, write_small

MANIFEST = ".guidebuild-manifest.json"
SEVEN, TWO = "accounts/seven-spot.md", "accounts/two-spot.md"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    guide = write_small(tmp_path_factory.mktemp("kept") / "guide")
    assert make(guide) == 0
    return guide


@pytest.fixture
def guide(made: Path, tmp_path: Path) -> Path:
    """A guide that was published without an error."""
    return Path(shutil.copytree(made, tmp_path / "guide"))


def make(guide: Path, *more: str) -> int:
    return exit_code(["make", str(guide), "site", "scripts", "data", "--workers", "1", *more])


def files(guide: Path) -> set[str]:
    place = guide / "published"
    return {path.relative_to(place).as_posix() for path in place.rglob("*") if path.is_file()}


def read(guide: Path, path: str) -> str:
    return (guide / "published" / path).read_text(encoding="utf-8")


def dangling(guide: Path) -> set[str]:
    """Links between pages that lead to no file."""
    site = guide / "published/site"
    found = set()
    for page in site.rglob("*.html"):
        for target in re.findall(r'href="([^"#?:]+\.html)', page.read_text(encoding="utf-8")):
            # What a host shows for pages that are not there stands at any depth, and leads to the site's address.
            home = site if target.startswith("/guide/") and page.name == "404.html" else page.parent
            if not (home / target.removeprefix("/guide/")).resolve().is_file():
                found.add(target)
    return found


def kept_in_list(guide: Path) -> list[str]:
    return list(json.loads(read(guide, MANIFEST)).get("kept", {}))


def write(guide: Path, file: str, data: bytes) -> None:
    (guide / file).write_bytes(data)


SLIPS = {
    "hazard": (lambda g: change(g, SEVEN, "hazards: []", "hazards: [bitess]"), ["seven-spot"]),
    "slot": (lambda g: change(g, "episodes/seven-short.md", "{name}", "{nmae}"), []),
    "yaml": (lambda g: change(g, SEVEN, "family:", "family: ["), ["seven-spot"]),
    "empty": (lambda g: write(g, SEVEN, b""), ["seven-spot"]),
    "not text": (lambda g: write(g, TWO, bytes(range(256)) * 9), ["two-spot"]),
    "no fence": (lambda g: change(g, TWO, "---\nname", "name"), ["two-spot"]),
    "photos": (lambda g: change(g, "photos.yaml", "seven-adult:", "seven-adult: ["), ["seven-spot", "two-spot"]),
    "one photo": (lambda g: change(g, "photos.yaml", "seven-adult:", "seven-adlut:"), ["seven-spot"]),
    "plants": (lambda g: change(g, "plants.yaml", "nettle:", "\tnettle:"), ["seven-spot", "two-spot"]),
    "gone": (lambda g: (change(g, SEVEN, "hazards: []", "hazards: [bitess]"), (g / TWO).unlink()), ["seven-spot", "two-spot"]),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_takes_nothing_off_what_stood(guide: Path, slip: str, capsys: pytest.CaptureFixture[str]) -> None:
    spoil, kept = SLIPS[slip]
    before = files(guide)
    spoil(guide)
    assert make(guide) == 1
    told = capsys.readouterr()
    assert before <= files(guide)
    assert sorted(kept_in_list(guide)) == kept
    assert ", 0 taken away" in told.out
    for account in kept:
        title = account.replace("seven", "Seven").replace("two", "Two")
        assert re.search(rf"{title} is kept from \d+ \w+ \d{{4}}: .*\w\.(md|yaml)", told.err), told.err
    for page in ("site/index.html", "data/checklist.csv"):
        assert "Seven-spot" in read(guide, page)
        assert "Two-spot" in read(guide, page)
    assert dangling(guide) == set()
    assert make(guide) == 1
    assert ", 0 taken away" in capsys.readouterr().out
    assert before <= files(guide)


def test_a_script_that_is_kept_or_left_out_is_told(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(guide, "episodes/seven-short.md", "{name}", "{nmae}")
    write(guide, "episodes/two-short.md", b"---\ntitle: T\naccount: two-spot\nkind: short\n---\n## Names\nThe {hight}.\n")
    assert make(guide) == 1
    told = capsys.readouterr().err
    assert re.search(r"episodes/seven-short\.md is kept from \d+ \w+ \d{4}: there is an error at episodes/seven-short\.md:\d+", told)
    assert "episodes/two-short.md is not published: there is an error at episodes/two-short.md:7:" in told
    assert make(guide) == 1
    assert "episodes/seven-short.md is kept from" in capsys.readouterr().err


def test_what_is_mended_is_made_again_and_no_longer_told(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(guide, SEVEN, "status: common", "status: rare here\nhazards_: []")
    change(guide, SEVEN, "hazards: []", "hazards: [bitess]")
    change(guide, TWO, "Smaller than the other.", "Much smaller.")
    assert make(guide) == 1
    assert "rare here" not in read(guide, "site/accounts/seven-spot.html")
    assert "Much smaller." in read(guide, "site/accounts/two-spot.html")
    change(guide, SEVEN, "hazards_: []\n", "")
    change(guide, SEVEN, "hazards: [bitess]", "hazards: []")
    capsys.readouterr()
    assert make(guide) == 0
    assert "kept" not in capsys.readouterr().err
    assert "rare here" in read(guide, "site/accounts/seven-spot.html")
    assert kept_in_list(guide) == []


def test_asked_for_anyway_it_goes_and_is_listed(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(guide, SEVEN, "hazards: []", "hazards: [bitess]")
    assert make(guide) == 1
    assert make(guide, "--anyway") == 1
    told = capsys.readouterr().out
    assert "taken away: site/accounts/seven-spot.html" in told
    assert not (guide / "published/site/accounts/seven-spot.html").exists()
    assert make(guide) == 1
    assert not (guide / "published/site/accounts/seven-spot.html").exists()


def test_without_an_error_what_was_taken_out_goes(guide: Path) -> None:
    (guide / TWO).unlink()
    change(guide, SEVEN, "similar:\n  - account: two-spot\n    tell by: [spots]\n    note: The Two-spot has two spots.", "similar: none")
    change(guide, SEVEN, "See also the [other one](account:two-spot).", "")
    change(guide, "photos.yaml", "  account: two-spot\n", "")
    assert make(guide) == 0
    assert "site/accounts/two-spot.html" not in files(guide)


def test_a_renamed_file_leaves_its_address_leading_to_it(guide: Path) -> None:
    (guide / TWO).rename(guide / "accounts/two-spot-ladybird.md")
    change(guide, SEVEN, "hazards: []", "hazards: [bitess]")
    for _ in range(2):
        assert make(guide) == 1
        assert kept_in_list(guide) == ["seven-spot"]
    assert {"site/accounts/two-spot.html", "site/accounts/two-spot-ladybird.html"} <= files(guide)
    assert "two-spot-ladybird.html" in read(guide, "site/accounts/two-spot.html")
    assert dangling(guide) == set()


def test_a_theme_that_cannot_be_used_takes_no_page_away(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = files(guide)
    (guide / "theme/site").mkdir(parents=True)
    (guide / "theme/site/page.html").write_text("{% if %}", encoding="utf-8")
    for template in Path("themes/plate/site").glob("*.html"):
        (guide / "theme/site" / template.name).write_text("{% if %}", encoding="utf-8")
    assert make(guide) == 1
    assert before <= files(guide)
    assert (
        "files that are no longer made stay as this run has errors; `guidebuild make --anyway` takes them away" in capsys.readouterr().err
    )


SECRET = "sensitive: {category: extreme, reason: collecting, review: 2031-01-01}"


@pytest.mark.parametrize("line", [SECRET, "sensitive: yess", "secret: yes", "sensitve: yes", "  sensitive: yes", "Sensitive: {category:"])
def test_an_account_that_may_have_become_secret_is_not_kept(guide: Path, line: str, capsys: pytest.CaptureFixture[str]) -> None:
    change(guide, SEVEN, "hazards: []", f"hazards: [bitess]\n{line}")
    assert make(guide) == 1
    assert not [path for path in files(guide) if "seven-spot" in path]
    assert "Seven-spot is not kept: it may have become secret." in capsys.readouterr().err
    assert "site/accounts/two-spot.html" in files(guide)


def test_a_place_that_became_secret_is_said_in_nothing_kept(guide: Path) -> None:
    change(guide, SEVEN, "On nettles.", "On nettles below the old pump house.")
    change(guide, SEVEN, "habitat: [garden]", "habitat: [garden]\nplaces: [pump]")
    pump = "pump:\n  name: Old Pump House\n  area: Yard\n"
    with (guide / "places.yaml").open("a", encoding="utf-8") as file:
        file.write(pump)
    assert make(guide) == 0
    assert "pump house" in read(guide, "site/accounts/seven-spot.html").casefold()
    with (guide / "places.yaml").open("a", encoding="utf-8") as file:
        file.write(f"  {SECRET}\n")
    change(guide, SEVEN, "hazards: []", "hazards: [bitess]")
    assert make(guide) == 1
    assert kept_in_list(guide) == ["seven-spot"]
    assert "site/accounts/seven-spot.html" in files(guide)
    for path in files(guide):
        assert b"pump house" not in (guide / "published" / path).read_bytes().lower(), path


def test_a_place_that_cannot_be_read_and_may_be_secret_now_is_held_secret(guide: Path) -> None:
    change(guide, "places.yaml", '  position: "51.5, -1.5"\n  uncertainty: 150 m\n', "")
    assert make(guide) == 0
    assert "The Wall" in read(guide, "site/find.html")
    change(guide, "places.yaml", "  area: Yard\n", f"  area: Yard\n  {SECRET}\n  [\n")
    assert make(guide) == 1
    assert "site/accounts/seven-spot.html" in files(guide)
    for path in files(guide):
        assert b"The Wall" not in (guide / "published" / path).read_bytes(), path


def zero(file: Path) -> None:
    """As a lost write leaves a file: its length and time, none of its bytes."""
    stat = file.stat()
    file.write_bytes(bytes(stat.st_size))
    os.utime(file, ns=(stat.st_atime_ns, stat.st_mtime_ns))


def test_every_byte_can_be_read_back_and_what_differs_made_anew(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {path: (guide / "published" / path).read_bytes() for path in files(guide)}
    assert make(guide, "--verify") == 0
    zero(guide / "published/site/find.html")
    zero(guide / "published/data/checklist.csv")
    (guide / "published/site/index.html").unlink()
    for entry in (guide / ".guidebuild/store").glob("??/*"):
        zero(entry)
    capsys.readouterr()
    assert make(guide, "--verify") == 1
    told = capsys.readouterr()
    assert told.err.count("has not the bytes that were published; `guidebuild make --anew` makes it again") == 2
    assert f"{guide}/published/site/index.html: error: is missing;" in told.err
    assert told.out == f"{len(before) - 1} files read back: {len(before) - 4} are as they were published.\n"
    assert exit_code(["make", str(guide), "data", "--workers", "1", "--anew"]) == 0
    assert make(guide, "--verify") == 1
    assert make(guide, "--anew") == 0
    assert make(guide, "--verify") == 0
    assert {path: (guide / "published" / path).read_bytes() for path in files(guide)} == before


def test_nothing_to_read_back_is_told_in_one_line(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (guide / "published" / MANIFEST).write_text("{", encoding="utf-8")
    assert make(guide, "--verify") == 1
    shutil.rmtree(guide / "published")
    assert make(guide, "--verify") == 1
    told = capsys.readouterr().err.splitlines()
    assert "is missing or damaged, nothing can be compared" in told[0]
    assert "nothing is published there" in told[1]
