"""HTML to PDF: repeatable bytes, packaged fonts, troubles as problems."""

import io
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import quote

import pikepdf
import pytest

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.pdf import STANDARD, PdfSettings, html_to_pdf

PAGE = (
    '<html lang="en"><title>Card</title><style>@page{size:86mm 54mm}h1{font-family:"Guide Serif"}</style>'
    "<h1>Parent Bug <i>Elasmucha grisea</i></h1><p>A batch under a leaf.</p>"
)
PROGRAM = (
    "import hashlib,sys\n"
    "from guidebuild.press.paper.fetching import GuideFetcher\n"
    "from guidebuild.press.paper.pdf import html_to_pdf\n"
    "print(hashlib.sha256(html_to_pdf(sys.stdin.read(), fetcher=GuideFetcher(), where='x').data).hexdigest())"
)


def make(html: str, fetcher: GuideFetcher | None = None, settings: PdfSettings = STANDARD) -> tuple[bytes, dict[str, str]]:
    made = html_to_pdf(html, fetcher=fetcher or GuideFetcher(), where="card", settings=settings)
    return made.data, {problem.what: problem.message for problem in made.problems}


def test_bytes_do_not_depend_on_folder_hash_seed_zone_or_locale(tmp_path: Path) -> None:
    def digest(folder: Path, **changed: str) -> str:
        environment = {**os.environ, **changed}
        command = [sys.executable, "-c", PROGRAM]
        return subprocess.run(command, input=PAGE, text=True, cwd=folder, env=environment, check=True, capture_output=True).stdout

    other = tmp_path / "other"
    other.mkdir()
    assert digest(tmp_path, PYTHONHASHSEED="1", TZ="UTC") == digest(other, PYTHONHASHSEED="2", TZ="Asia/Tokyo", LC_ALL="C")


def test_date_comes_from_the_caller_or_the_epoch_variable_and_never_from_the_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    def created(data: bytes) -> str | None:
        with pikepdf.open(io.BytesIO(data)) as document:
            found = document.docinfo.get("/CreationDate")
            return None if found is None else str(found)

    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    assert created(make(PAGE)[0]) is None
    assert created(make(PAGE, settings=PdfSettings(made=datetime(2026, 5, 2, tzinfo=UTC)))[0]) == "D:20260502000000Z"
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    assert created(make(PAGE)[0]) == "D:19700102000000Z"


def test_only_packaged_faces_are_embedded_and_tags_are_written() -> None:
    data, problems = make(PAGE.replace("<p>", '<p style="font-family: Georgia, DejaVu Sans, sans-serif">'))
    assert problems == {}
    with pikepdf.open(io.BytesIO(data)) as document:
        assert "/StructTreeRoot" in document.Root
        names = {str(font.BaseFont).split("+")[1] for font in document.pages[0].Resources.Font.values()}
    assert names == {"Source-Serif-Pro-Bold", "Source-Serif-Pro-Bold-Italic", "Source-Sans-Pro"}


def test_sign_without_glyph_is_told_with_the_sign() -> None:
    assert make(PAGE.replace("batch", "♀"))[1]["missing-sign"] == (
        "no font of the theme has the sign “♀” (U+2640), an empty box is printed in its place; "
        "write it in words, or add a font that has it to the theme"
    )


@pytest.mark.parametrize("address", ["http://example.org/a.png", "file:///etc/hostname", "ftp://example.org/a", "//example.org/a.png"])
def test_addresses_outside_the_guide_are_refused(address: str) -> None:
    _, problems = make(f'{PAGE}<img src="{address}" alt="a">')
    assert "lies outside the guide" in problems["missing-image"]


@pytest.mark.parametrize("address", ["pictures/../secret.png", "pictures/%2e%2e/secret.png", "pictures/link.png", "pictures//etc/hostname"])
def test_paths_out_of_an_allowed_folder_are_refused(address: str, tmp_path: Path) -> None:
    folder = tmp_path / "pictures"
    folder.mkdir()
    (tmp_path / "secret.png").write_bytes(b"secret")
    (folder / "link.png").symlink_to(tmp_path / "secret.png")
    _, problems = make(f'{PAGE}<img src="{address}" alt="a">', GuideFetcher(folders={"pictures": folder}))
    assert "is not among the guide's prepared pictures" in problems["missing-image"]


def test_theme_files_and_folders_are_served(tmp_path: Path) -> None:
    (tmp_path / "plate.css").write_text('@font-face{font-family:Own;src:url("no.woff2")} h1{color:red;colour:blue}')
    fetcher = GuideFetcher(folders={"theme": tmp_path})
    _, problems = make(f'<link rel="stylesheet" href="theme/plate.css">{PAGE}', fetcher)
    assert problems["missing-font"] == "the font “Own” could not be loaded from the theme"
    assert "colour:blue" in problems["layout"]


def test_random_identifiers_are_refused() -> None:
    with pytest.raises(ValueError, match="random identifier"):
        make(PAGE, settings=PdfSettings(variant="pdf/x-4"))


SECRET = "a secret of this machine"
SVG = '<svg xmlns="http://www.w3.org/2000/svg"><image href="{there}" width="5" height="5"/></svg>'


@pytest.mark.parametrize(
    ("html", "what"),
    [
        ('<link rel="attachment" href="{there}">', "missing-attachment"),
        ('<a rel="attachment" href="{there}">a</a>', "missing-attachment"),
        ("<style>@import '{there}'</style>", "missing-stylesheet"),
        ('<link rel="stylesheet" href="{there}">', "missing-stylesheet"),
        ("<style>@font-face{{font-family:x;src:url('{there}')}}</style><p style='font-family:x'>a", "missing-font"),
        ("<style>@font-face{{font-family:x;src:local('DejaVu Sans')}}</style><p style='font-family:x'>a", "missing-font"),
        ('<object data="{there}"></object>', "missing-image"),
        ('<embed src="{there}">', "missing-image"),
        ("<p style=\"background:url('{there}')\">a", "missing-image"),
        ("<ul style=\"list-style-image:url('{there}')\"><li>a</ul>", "missing-image"),
        ("<style>p::before{{content:url('{there}')}}</style><p>a", "missing-image"),
        ('<base href="{there}/../"><img src="secret.txt" alt="a">', "missing-image"),
        (SVG, "missing-image"),
    ],
)
def test_no_way_of_naming_a_file_of_the_machine_reaches_it(html: str, what: str, tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_text(SECRET)
    data, problems = make(PAGE + html.format(there=(tmp_path / "secret.txt").as_uri()), settings=PdfSettings(compress=False))
    assert what in problems
    assert what == "missing-font" or "lies outside the guide" in problems[what]
    assert SECRET.encode() not in data


def test_entity_bomb_in_a_drawing_is_a_short_problem() -> None:
    entities = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
    bomb = f'<!DOCTYPE s [<!ENTITY a0 "aaaaaaaaaa">{entities}]><svg xmlns="http://www.w3.org/2000/svg"><text>&a9;</text></svg>'
    _, problems = make(f'{PAGE}<img alt="a" src="data:image/svg+xml,{quote(bomb)}">')
    assert len(problems["missing-image"]) < 400


def test_a_drawing_within_the_page_may_be_data() -> None:
    square = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>'
    assert make(f'{PAGE}<img alt="a" src="data:image/svg+xml,{quote(square)}">')[1] == {}
