"""`guidebuild explain` and `guidebuild handbook`, as one types them."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import COMMANDS, exit_code
from guidebuild.cli.helping import list_commands
from guidebuild.handbook.book import list_pages
from guidebuild.handbook.chapters import list_words
from guidebuild.handbook.explaining import explain_word
from guidebuild.handbook.keys import list_files
from guidebuild.rules import gather_rules


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    code = exit_code(["explain", *words])
    return code, capsys.readouterr().out


def test_a_key_is_told_with_its_form_its_example_and_what_it_changes(capsys: pytest.CaptureFixture[str]) -> None:
    code, said = told(capsys, "measured")
    assert code == 0
    assert "a key of photos.yaml" in said
    assert "Write both ends of a line" in said
    assert 'measured: "47.1, 26 – 51.7, 84"' in said
    assert "It changes:" in said


def test_a_rule_is_told_with_why_and_what_to_do(capsys: pytest.CaptureFixture[str]) -> None:
    code, said = told(capsys, "no-pointer")
    assert code == 0
    assert "a rule; usually" in said
    assert "photo:" in said
    (page,) = (page for page in list_pages(list_commands()) if any(rule.code == "no-pointer" for rule in page.rules))
    assert f"In the handbook: {page.title}" in said


def test_a_slip_gets_the_nearest_word_and_exit_code_1(capsys: pytest.CaptureFixture[str]) -> None:
    code, said = told(capsys, "mesured")
    assert code == 1
    assert "guidebuild explain measured" in said
    assert told(capsys, "qqqqqqqq")[0] == 1


@pytest.mark.parametrize("typed", ["diagnostics at", "diagnostics: at", "Diagnostics/AT", "account diagnostics at"])
def test_a_key_is_found_however_its_way_is_typed(typed: str) -> None:
    found = explain_word(typed, ())
    assert [key.path for _, key in found.keys] == [("diagnostics", "at")]


def test_a_key_that_several_have_is_told_for_each() -> None:
    assert {(file, key.path) for file, key in explain_word("at", ()).keys} == {
        (file.file, key.path) for file in list_files() for key in file.keys if key.path[-1] == "at"
    }


def test_every_key_rule_word_and_command_is_found_by_its_own_name() -> None:
    commands = list_commands()
    assert all(explain_word(f"{file.kind} {' '.join(key.path)}", ()).keys for file in list_files() for key in file.keys)
    assert all(explain_word(rule.code, ()).rules for rule in gather_rules())
    assert all(explain_word(used.word, ()).words for used in list_words())
    assert all(explain_word(name, commands).commands for name in COMMANDS)


def test_the_handbook_is_written_and_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    opened: list[str] = []
    monkeypatch.setattr("webbrowser.open", opened.append)
    assert exit_code(["handbook", "--to", str(tmp_path / "book")]) == 0
    assert opened == [(tmp_path / "book/index.html").as_uri()]
    assert str(tmp_path / "book/index.html") in capsys.readouterr().out
    assert {path.suffix for path in (tmp_path / "book").iterdir()} == {".html", ".css", ".js", ".woff2"}
