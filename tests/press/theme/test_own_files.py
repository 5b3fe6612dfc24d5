"""Files of a guide's own theme that nothing uses, and words of its card.yaml that mean nothing, are told with what to write."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.press.theme.own_files import find_theme_faults
from tests.hostile.small_guide import write_small


def told(guide: Path, **files: str) -> list[str]:
    for path, text in files.items():
        (guide / "theme" / path).parent.mkdir(parents=True, exist_ok=True)
        (guide / "theme" / path).write_text(text, "utf-8")
    return [str(finding) for finding in find_theme_faults(guide)]


def test_a_guide_without_a_theme_has_no_faults_in_it(tmp_path: Path) -> None:
    assert told(tmp_path) == []


@pytest.mark.parametrize(
    ("path", "new"),
    [
        ("card/card.css", "cards/card.css"),
        ("card/card.yaml", "cards/card.yaml"),
        ("script/page.html", "scripts/page.html"),
        ("script/script.css", "scripts/script.css"),
        ("walk/pack.html", "walks/pack.html"),
        ("key/key.css", "cards/key.css"),
        ("compare/compare.html", "cards/compare.html"),
        ("site/acount.html", "site/account.html"),
        ("static/fonts/sign.svg", "static/sign.svg"),
    ],
)
def test_a_file_at_a_path_that_nothing_uses_is_told_with_the_path_to_move_it_to(tmp_path: Path, path: str, new: str) -> None:
    assert told(tmp_path, **{path: ""}) == [
        f"theme/{path}: warning: Nothing uses this file of the theme: there is no “{path}” to replace. Move it to theme/{new}."
    ]


def test_a_file_like_no_other_is_told_what_would_make_it_used(tmp_path: Path) -> None:
    (line,) = told(tmp_path, **{"zzz/qqq.xyz": ""})
    assert line.endswith("Give it the path of the file that it replaces, or name it in a template.")


def test_files_that_are_used_are_not_told(tmp_path: Path) -> None:
    used = {
        "site/home.html": '{% include "site/mine.html" %}',
        "site/mine.html": "",
        "static/own.js": "",
        "cards/card.css": "@font-face{src:url(own.woff2)}",
        "cards/own.woff2": "",
        ".hidden": "",
    }
    assert told(tmp_path, **used) == []


def test_words_of_card_yaml_that_mean_nothing_are_told_with_line_and_the_word_that_was_meant(tmp_path: Path) -> None:
    text = "confortable: 9\ntype: [9, 8]\nleft out first:\n  front: [authorty]\n  side: [habitat]\n  back: [habitat, bogus thing]\n"
    lines = told(tmp_path, **{"cards/card.yaml": text})
    assert {finding.code for finding in find_theme_faults(tmp_path)} == {"theme-word"}
    assert lines[0] == "theme/cards/card.yaml:1:1: warning: The file has no “confortable”. Write “comfortable”."
    assert lines[1] == "theme/cards/card.yaml:4:11: warning: “front” has no “authorty”. Write “authority”."
    assert lines[2].startswith("theme/cards/card.yaml:5:3: warning: “left out first” has no “side”. Write one of: front, back, leaflet")
    assert lines[3].startswith("theme/cards/card.yaml:6:19: warning: “back” has no “bogus thing”. Write one of: use of plants, ")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "- a\n",
        "type: [\n",
        "left out first: [front]\n",
        "left out first:\n  front: authority\n",
        "? [a]\n: b\n",
        "left out first:\n  front: [[a]]\n",
    ],
)
def test_a_card_yaml_of_another_shape_stops_no_check(tmp_path: Path, text: str) -> None:
    assert all("warning" in line for line in told(tmp_path, **{"cards/card.yaml": text}))


def test_a_check_and_a_make_tell_of_the_theme(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    guide = write_small(tmp_path / "guide")
    told(guide, **{"card/card.css": ""})
    exit_code(["check", str(guide)])
    assert "theme-unused" in (out := capsys.readouterr().out)
    assert "Move it to theme/cards/card.css." in " ".join(out.split())
    exit_code(["make", str(guide), "data"])
    assert "1 warning (guidebuild check)" in capsys.readouterr().out
