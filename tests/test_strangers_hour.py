"""A stranger's hour: the wheel in an empty environment and an empty home, and nothing read but the handbook's first chapter.

Every line typed here is one of that chapter, in its order, by a real shell; at its end there is a card to print, and a site that is
served from a folder below an address.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import threading
import venv
from functools import partial
from html.parser import HTMLParser
from http.server import ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit
from urllib.request import urlopen

import pikepdf
import pytest
from PIL import Image

from guidebuild.handbook.chapters import list_chapters
from tests.bringing.harbour import write_list
from tests.built_wheel import build_wheel, lend_libraries
from tests.conftest import ROOT
from tests.handbook.test_examples import EXAMPLES, FENCE, put_in
from tests.press.test_online import Host

pytestmark = pytest.mark.slow
HOUR = [example for example in EXAMPLES if example.chapter == "first-hour"]
COMPUTERS = next(chapter.text for chapter in list_chapters() if chapter.id == "computers")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_wheel(tmp_path_factory.mktemp("built"))


@pytest.fixture(scope="module")
def home(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty home with one picture, beside an environment that holds the wheel; other libraries are lent to it, our checkout is not."""
    home = tmp_path_factory.mktemp("home")
    venv.create(home / ".tool", with_pip=False)
    install = [sys.executable, "-m", "pip", "--python", str(home / ".tool/bin/python"), "install", "--quiet", "--no-deps", "--no-index"]
    subprocess.run([*install, str(wheel)], check=True, capture_output=True)
    lend_libraries(next((home / ".tool/lib").glob("python*/site-packages")))
    (home / "Pictures").mkdir()
    Image.new("RGB", (1600, 1200), "#7a8").save(home / "Pictures/redshank.jpg")
    return home


def type_line(line: str, home: Path, folder: Path, shell: str = "bash") -> subprocess.CompletedProcess[str]:
    """Type a line into a shell of a machine that knows nothing of us."""
    surroundings = {"HOME": str(home), "PATH": f"{home}/.tool/bin:/usr/bin:/bin", "LANG": "C.UTF-8", "BROWSER": "true"}
    return subprocess.run([shell, "-c", line], cwd=folder, capture_output=True, text=True, env=surroundings, check=False)


@pytest.fixture(scope="module")
def followed(home: Path) -> Path:
    """The guide after the chapter was followed to its end."""
    here = home
    for example in HOUR:
        if example.form != "sh":
            put_in(here, example)
            continue
        for line in example.text.splitlines():
            if line.startswith("cd "):
                here = here / line[3:]
                continue
            told = type_line(line, home, here)
            assert told.returncode == 0, (line, told.stdout, told.stderr)
            assert "Traceback" not in told.stderr
    return here


def test_the_chapter_gives_the_lines_that_are_needed() -> None:
    lines = [line for example in HOUR if example.form == "sh" for line in example.text.splitlines()]
    words = {line.split()[1] for line in lines if line.startswith("guidebuild ")}
    assert {"start", "account", "bring", "check", "make"} <= words
    assert all(line.startswith(("guidebuild ", "cd ")) for line in lines)


def test_there_is_a_card_to_print_with_the_strangers_own_picture(followed: Path) -> None:
    with pikepdf.open(followed / "published/cards/redshank.pdf") as card:
        assert len(card.pages) == 2
        assert len(card.pages[0].get_images()) == 1
    assert (followed / "published/cards/deck.pdf").is_file()


def test_the_rest_is_made_of_it_without_an_error(followed: Path, home: Path) -> None:
    # The picture has no words for those who cannot see it yet: a warning of the checks, and nothing that stops a script.
    told = type_line("guidebuild make scripts posts", home, followed)
    assert (told.returncode, "error" in told.stderr) == (0, False), told.stderr
    assert list((followed / "published/scripts").glob("redshank-*.pdf"))


class Addresses(HTMLParser):
    """All that a page leads to or loads."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value for key, value in attrs if key in ("href", "src") and value]


def test_the_site_is_served_from_a_folder_below_an_address(followed: Path, home: Path) -> None:
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Host, directory=str(home / "web")))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_port}/guide"
    try:
        told = type_line(f"guidebuild check --online {address}", home, followed)
        assert told.returncode == 0, told.stdout
        assert "all as they were made here" in told.stdout
        shown = Addresses()
        with urlopen(f"{address}/accounts/redshank.html") as answer:
            shown.feed(answer.read().decode())
        leads = {urljoin(f"{address}/accounts/redshank.html", one).partition("#")[0] for one in shown.found}
        own = {one for one in leads if one.startswith(f"{address}/")}
        assert len(own) > 10
        assert not [one for one in leads - own if urlsplit(one).netloc == urlsplit(address).netloc], "none leads above the folder"
        assert all((home / "web" / unquote(urlsplit(one).path).lstrip("/")).exists() for one in own)
    finally:
        server.shutdown()
        server.server_close()


def test_the_lines_of_the_readme_run_after_one_another(home: Path, tmp_path: Path) -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    block = re.search(r"## Your own guide\n\n```sh\n(.*?)```", readme, re.DOTALL)
    assert block is not None
    write_list(tmp_path / "list.xlsx")
    (home / "Pictures/card").mkdir()
    shutil.copy(home / "Pictures/redshank.jpg", home / "Pictures/card/one.jpg")
    here, run = tmp_path, []
    for line in block[1].splitlines():
        typed = line.partition("  #")[0].strip()
        if typed.startswith("cd "):
            here = here / typed[3:]
            shutil.copy(tmp_path / "list.xlsx", here / "list.xlsx")
        elif typed.startswith("guidebuild ") and typed.split()[1] not in ("preview", "make"):  # one has no end, the other is tried above
            told = type_line(typed, home, here)
            assert told.returncode in ((0, 1) if "check" in typed else (0,)), (typed, told.stdout, told.stderr)
            run.append(typed.split()[1])
    assert run == ["start", "handbook", "bring", "account", "check"]
    # Where it is not installed, the first line finds it in the checkout, in whatever folder one stands later.
    assert block[1].startswith('export PATH="$PWD/.venv/bin:$PATH"')


def test_the_names_that_install_it_are_those_of_the_wheel(wheel: Path) -> None:
    named = re.findall(r"(?:pipx install|uv tool install) (\S+)", COMPUTERS)
    assert named == [wheel.name] * 2


def test_it_runs_as_a_module_too(home: Path, tmp_path: Path) -> None:
    told = type_line("python -m guidebuild --version", home, tmp_path)
    assert told.stdout == type_line("guidebuild --version", home, tmp_path).stdout
    assert told.stdout.startswith("guidebuild, version ")


def test_the_lines_for_shells_complete(home: Path, tmp_path: Path) -> None:
    lines = {match["title"]: match["text"] for match in FENCE.finditer(COMPUTERS) if "_GUIDEBUILD_COMPLETE" in match["text"]}
    assert lines.keys() == {"~/.bashrc", "~/.zshrc", "~/.config/fish/config.fish"}
    asked = 'COMP_WORDS=(guidebuild men); COMP_CWORD=1; _guidebuild_completion guidebuild; echo "${COMPREPLY[@]}"'
    assert type_line(f"{lines['~/.bashrc']}\n{asked}", home, tmp_path).stdout.split() == ["mend"]
    # The scripts of the other two are there; these shells are not on every machine.
    for file, sign in (
        ("~/.zshrc", "compdef _guidebuild_completion guidebuild"),
        ("~/.config/fish/config.fish", "complete --no-files --command guidebuild"),
    ):
        call = re.search(r"_GUIDEBUILD_COMPLETE=\w+ guidebuild", lines[file])
        assert call is not None
        assert sign in type_line(call[0], home, tmp_path).stdout
