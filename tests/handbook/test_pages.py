"""The handbook's pages: every link of theirs leads somewhere, and every rule, key, word and command has its place."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import unquote

import pytest
from bs4 import BeautifulSoup

from guidebuild.cli import COMMANDS
from guidebuild.cli.helping import list_commands
from guidebuild.handbook import book
from guidebuild.handbook.chapters import list_chapters
from guidebuild.handbook.keys import list_files
from guidebuild.rules import gather_rules


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, BeautifulSoup]:
    folder = tmp_path_factory.mktemp("handbook")
    first = book.write_book(folder, list_commands())
    assert first.name == "index.html"
    return {path.name: BeautifulSoup(path.read_text("utf-8"), "html.parser") for path in sorted(folder.glob("*.html"))}


def test_every_link_leads_to_a_place_that_is_there(pages: dict[str, BeautifulSoup]) -> None:
    seen = 0
    for name, page in pages.items():
        for link in page.select("a[href]"):
            target, _, anchor = unquote(str(link["href"])).partition("#")
            if "://" in target:
                continue
            there = pages.get(target or name)
            assert there is not None, f"{name} links to {target}"
            assert not anchor or there.find(id=anchor), f"{name} links to {target}#{anchor}"
            seen += 1
    assert seen > 500


def test_every_rule_key_and_command_has_its_place(pages: dict[str, BeautifulSoup]) -> None:
    assert all(pages["rules.html"].find(id=rule.code) for rule in gather_rules())
    assert all(pages["commands.html"].find(id=name) for name in COMMANDS)
    for file in list_files():
        assert all(pages[f"keys-{file.kind}.html"].find(id=key.address) for key in file.keys)


def test_ids_stand_once_on_a_page(pages: dict[str, BeautifulSoup]) -> None:
    for name, page in pages.items():
        ids = [str(tag["id"]) for tag in page.select("[id]")]
        assert len(ids) == len(set(ids)), name


def test_no_mark_of_markdown_is_left(pages: dict[str, BeautifulSoup]) -> None:
    for name, page in pages.items():
        for code in page.select("code, pre"):
            code.decompose()
        text = page.get_text(" ")
        assert "`" not in text, name
        assert "](" not in text, name


def test_a_link_to_nothing_is_refused() -> None:
    for kind, name in [("key", "photos/nothing"), ("rule", "nothing"), ("word", "nothing"), ("chapter", "nothing")]:
        with pytest.raises(book.UnknownLinkError, match="nothing"):
            book.find_address(kind, name)


def test_nothing_is_asked_of_another_host(tmp_path: Path) -> None:
    book.write_book(tmp_path, list_commands())
    for path in tmp_path.glob("handbook.*"):
        assert "//" not in path.read_text("utf-8").replace("// Looking up", "")
    for path in tmp_path.glob("*.html"):
        page = BeautifulSoup(path.read_text("utf-8"), "html.parser")
        assert not page.select("[src*='//'], link[href*='//'], style, script:not([src])")


def test_chapters_have_a_title_and_a_lede() -> None:
    assert len(list_chapters()) > 10
    assert all(chapter.title and chapter.lede.endswith(".") and chapter.text for chapter in list_chapters())
