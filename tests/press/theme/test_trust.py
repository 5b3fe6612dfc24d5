"""Scripts of a theme that came with a guide run only where the author has said so, once for each state of the theme."""

from pathlib import Path

import click
import pytest

from guidebuild.cli import exit_code
from guidebuild.press.theme import trust
from guidebuild.press.theme.trust import POLICY, close_page, is_trusted, may_be_put_out
from guidebuild.shipped import on_disk, themes
from tests.hostile.small_guide import write_small

BASE = '<head>\n<script>alert("theirs")</script>'
META = f'<!DOCTYPE html>\n<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{POLICY}">'


@pytest.fixture
def guide(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small guide with a theme that has scripts of every kind."""
    monkeypatch.setattr(click, "get_app_dir", lambda name: str(tmp_path / "home" / name))
    folder = write_small(tmp_path / "guide")
    plate = on_disk(themes().joinpath("plate"))
    for path, text in {
        "site/base.html": (plate / "site/base.html").read_text("utf-8").replace("<head>", BASE),
        "static/guide.js": "alert('theirs')",
        "static/more.js": "alert('theirs')",
        "static/sign.svg": '<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>',
        "static/extra.css": "p { color: red }",
        "scripts/prompter.js": "alert('theirs')",
    }.items():
        (folder / "theme" / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / "theme" / path).write_text(text, encoding="utf-8")
    return folder


def made(guide: Path, capsys: pytest.CaptureFixture[str], *options: str) -> str:
    """What a make of site and scripts says of scripts."""
    exit_code(["make", str(guide), "site", "scripts", *options])
    said = capsys.readouterr()
    text = " ".join(f"{said.out}\n{said.err}".split())
    return text if "is not trusted" in text else ""


def test_scripts_are_told_by_file_and_left_out_until_they_are_trusted_once(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = made(guide, capsys)
    for name in ("site/base.html", "static/guide.js", "static/more.js", "static/sign.svg", "scripts/prompter.js"):
        assert f"theme/{name}: " in told
    assert "extra.css" not in told
    site = guide / "published/site"
    assert "theirs" not in (site / "assets/guide.js").read_text() + (guide / "published/scripts/prompter.js").read_text()
    assert not (site / "assets/more.js").exists()
    assert "onload" not in (site / "assets/sign.svg").read_text()
    assert (site / "assets/extra.css").exists()
    pages = list((guide / "published").rglob("*.html"))
    assert len(pages) > 40
    assert all(page.read_text("utf-8").startswith(META) for page in pages)

    assert made(guide, capsys, "--trust-theme") == ""
    assert "theirs" in (site / "assets/more.js").read_text()
    assert not (site / "index.html").read_text("utf-8").startswith(META)
    assert made(guide, capsys) == ""
    assert (site / "assets/more.js").exists()

    (guide / "theme/static/more.js").write_text("alert('changed')")
    assert "theme/static/more.js: " in made(guide, capsys)
    assert not (site / "assets/more.js").exists()


def test_a_yes_that_came_with_the_guide_counts_for_nothing(guide: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    trust.trust_theme(guide)
    (state,) = (tmp_path / "home").rglob("trusted-themes")
    assert is_trusted(guide / "theme")
    for place in (guide / "trusted-themes", guide / ".guidebuild/trusted-themes", guide / "theme/trusted-themes"):
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(state.read_bytes())
    state.unlink()
    assert not is_trusted(guide / "theme")
    assert made(guide, capsys)


def test_a_theme_without_scripts_asks_nothing_of_its_author(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("site/base.html", "static/guide.js", "static/more.js", "static/sign.svg", "scripts/prompter.js"):
        (guide / "theme" / name).unlink()
    assert made(guide, capsys) == ""


@pytest.mark.parametrize(
    "page",
    [
        b"<p>x",
        b"<!DOCTYPE html>\n<p>",
        b"\xef\xbb\xbf \n<!doctype HTML public><p>",
        b"<script>1</script><!doctype html><p>",
        b"<!-- <!doctype html> --><p>",
    ],
)
def test_the_rule_stands_before_anything_of_the_template(page: bytes) -> None:
    assert close_page(page).startswith(META.encode())
    assert close_page(page).endswith(b"<p>") or close_page(page).endswith(b"<p>x")


@pytest.mark.parametrize(
    ("name", "data", "stays"),
    [
        ("a.css", b"p{}", True),
        ("a.svg", b"<svg/>", True),
        ("a.svg", b"<svg><script>1</script></svg>", False),
        ("a.svg", b"<svg ONLOAD = '1'/>", False),
        ("a.SVG", b"<svg><a href='javascript:1'/></svg>", False),
        ("a.svg", "<svg onload='1'/>".encode("utf-16"), False),
        ("a.svg", b"<svg><a href='&#106;avascript:1'/></svg>", False),
        ("a.JS", b"1", False),
        ("a.mjs", b"1", False),
        ("a.html", b"<p>", False),
        ("a.xml", b"<p/>", False),
    ],
)
def test_what_a_browser_would_run_is_known_by_name_or_by_content(tmp_path: Path, name: str, data: bytes, stays: bool) -> None:
    assert may_be_put_out(tmp_path, name, data) is stays
