"""Windows, macOS and machines without Pango, by taking away what they lack. None of it was tried on the real systems."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from guidebuild.changes import CannotChangeError, Changes, make_changes
from guidebuild.cli.plain_signs import print_plainly
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.swap import say_of_windows, told_in_one_line
from guidebuild.press.paper import typesetter
from guidebuild.session import open_session
from guidebuild.starting import start_guide

HERE = Path(__file__).resolve().parent


def run(*words: str, folder: Path, without: str = "", encoding: str = "utf-8") -> subprocess.CompletedProcess[str]:
    """Run the tool in a process of its own, in which those things are not there."""
    environment = {**os.environ, "PYTHONPATH": str(HERE), "WITHOUT": without, "PYTHONIOENCODING": encoding, "PYTHONWARNINGS": "ignore"}
    command = [sys.executable, "-m", "guidebuild", *words]
    return subprocess.run(command, cwd=folder, capture_output=True, encoding=encoding, env=environment, check=False)


def files_below(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small guide made with all that this system has."""
    home = tmp_path_factory.mktemp("here")
    start_guide(home / "guide")
    told = run("make", "guide", folder=home)
    assert told.returncode == 0, told.stderr
    return home / "guide" / "published"


def test_without_calls_of_posix_everything_is_made_to_the_byte(made: Path, tmp_path: Path) -> None:
    start_guide(tmp_path / "guide")
    told = run("make", "guide", "--workers", "2", folder=tmp_path, without="windows")
    assert told.returncode == 0, told.stderr
    assert files_below(tmp_path / "guide/published") == files_below(made)
    # What stands is exchanged, read back, renamed and copied for the web without them as well.
    for words in (
        "rename common-frog grass-frog --in guide",
        "make guide data --to web",
        "make guide --verify",
        "check guide",
        "mend guide",
    ):
        told = run(*words.split(), folder=tmp_path, without="windows")
        assert told.returncode == 0, (words, told.stderr)


def test_without_pango_all_but_pdfs_is_made_and_one_line_says_how_to_get_it(made: Path, tmp_path: Path) -> None:
    start_guide(tmp_path / "guide")
    told = run("make", "guide", "--workers", "2", folder=tmp_path, without="pango")
    assert told.returncode == 1
    lines = [line for line in told.stderr.splitlines() if "Pango" in line]
    assert len(lines) == 1
    assert lines[0].startswith("PDFs and slides: error: not made: they need the library Pango, which is not found on this machine. Get ")
    assert "no-typesetter" in {code.code for code in PROBLEM_CODES}
    assert "WeasyPrint" not in told.stdout + told.stderr
    there, whole = files_below(tmp_path / "guide/published"), files_below(made)
    # Slides are pictures of pages.
    assert whole.keys() - there.keys() == {one for one in whole if one.endswith(".pdf") or one.startswith("slides/")}
    assert not [name for name, data in there.items() if name.startswith("scripts/") and b'.pdf"' in data]
    # Once it is there, the next run makes the rest: nothing stands as if all were done.
    assert run("make", "guide", folder=tmp_path).returncode == 0
    assert files_below(tmp_path / "guide/published") == whole


@pytest.mark.parametrize(
    ("system", "release", "words"),
    [
        ("linux", {"ID": "ubuntu", "ID_LIKE": "debian"}, "Get it with: apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"),
        ("linux", {"ID": "opensuse-leap", "ID_LIKE": "suse opensuse"}, "Get it with: zypper install libpango-1_0-0"),
        ("linux", {"ID": "rocky", "ID_LIKE": "rhel centos fedora"}, "Get it with: dnf install pango"),
        ("linux", {}, "Get the package called pango from your system"),
        ("darwin", {}, "Get it with: brew install pango"),
        ("win32", {}, "Get it with: pacman -S mingw-w64-x86_64-pango, in a window of MSYS2"),
    ],
)
def test_each_system_is_told_its_own_way(system: str, release: dict[str, str], words: str) -> None:
    assert words in typesetter.say_how_to_get(system, release)


@pytest.mark.parametrize("encoding", ["cp1252", "cp437", "ascii"])
def test_a_console_of_few_signs_is_written_to_and_ends_nothing(made: Path, encoding: str) -> None:
    told = run("check", str(made.parent), folder=made, encoding=encoding)
    assert told.returncode == 0
    assert "Common Frog  " in told.stdout
    assert "Traceback" not in told.stderr


def test_signs_become_the_nearest_that_there_are(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="ascii"))
    print_plainly()
    print("“Gründling” – 6…9 mm → ♀ ██░ ł", flush=True)
    assert raw.getvalue().decode() == '"Grundling" - 6...9 mm -> female ##. ?' + os.linesep


def refused(number: int, file: str, target: str | None = None) -> PermissionError:
    """What Windows raises, with a target where a file was to get another name; `winerror` says why."""
    error = PermissionError(13, "Permission denied", file, None, target)
    error.winerror = number  # type: ignore[attr-defined]
    return error


@pytest.mark.parametrize(
    ("number", "file", "words"),
    [
        (32, "published/cards/deck.pdf", "published/cards/deck.pdf is open in another program; close it there and run again"),
        (5, "published", "published is open in another program, or you may not write there; close it there and run again"),
        (206, "C:/" + "a" * 270, "has more than 259 signs, which Windows does not allow; move the guide nearer to the top of the disk"),
    ],
)
def test_what_windows_refuses_is_told_with_the_file(number: int, file: str, words: str) -> None:
    with pytest.raises(PressError) as told, told_in_one_line(Path("guide")):
        raise refused(number, file)
    assert words in str(told.value)
    with pytest.raises(PressError) as told, told_in_one_line(Path("guide")):
        raise PermissionError(13, "Permission denied", file)
    assert "check the folder's permissions" in str(told.value)


def test_of_two_names_the_one_that_stands_on_the_disk_is_told(tmp_path: Path) -> None:
    standing, coming = tmp_path / "guide.yaml", tmp_path / "guide.yaml.coming"
    standing.write_text("title: Pond\n", "utf-8")
    assert say_of_windows(refused(32, str(coming), str(standing))).startswith(f"{standing} is open")
    assert say_of_windows(refused(32, str(standing), str(coming))).startswith(f"{standing} is open")


def test_a_file_that_is_open_elsewhere_is_named_and_all_stands_as_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "guide.yaml").write_text("title: Pond\n", "utf-8")
    real = Path.replace

    def replace(coming: Path, target: Path) -> Path:
        if target.name == "guide.yaml":
            raise refused(32, str(coming), str(target))
        return real(coming, target)

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(
        CannotChangeError, match=r"guide\.yaml cannot be changed: \S*guide\.yaml is open in another program; close it there and run again"
    ):
        make_changes(tmp_path, Changes({"guide.yaml": b"title: Lake\n"}))
    assert (tmp_path / "guide.yaml").read_text("utf-8") == "title: Pond\n"


@pytest.mark.parametrize("name", ["toad: side.jpg", "toad?.jpg", "toad.", "aux.jpg", "nul", "a|b.png", "toad "])
def test_a_name_that_windows_does_not_have_is_told(tmp_path: Path, name: str) -> None:
    start_guide(tmp_path / "guide")
    (tmp_path / "guide/photos").mkdir(exist_ok=True)
    (tmp_path / "guide/photos" / name).write_bytes(b"")
    found = [str(one) for one in open_session(tmp_path / "guide").report.findings if one.code == "not-for-windows"]
    mend = 'Give it another name: on Windows none holds < > : " | ? *, ends in a space or full stop, or is called aux, con, nul or prn.'
    assert found == [f"photos/{name}: warning: “photos/{name}” is no name that a file can have on Windows. {mend}"]


def test_names_of_each_day_are_told_by_nobody(tmp_path: Path) -> None:
    start_guide(tmp_path / "guide")
    (tmp_path / "guide/photos").mkdir(exist_ok=True)
    for name in ("Kröte (2).jpg", "toad-1.JPG", "auxiliary.jpg", "com10.jpg", "IMG_0001 & 2.jpg"):
        (tmp_path / "guide/photos" / name).write_bytes(b"")
    assert "not-for-windows" not in {one.code for one in open_session(tmp_path / "guide").report.findings}
