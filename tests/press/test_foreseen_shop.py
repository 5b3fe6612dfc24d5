"""What a print shop would refuse is told by `check`, at its line, with the number; nothing is told where no shop is asked for."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.session import open_session

ACCOUNT = "---\nname: Elasmucha grisea\nvernacular: Parent Bug\nphotos: [bug]\n---\n"
PHOTO = "bug:\n  file: photos/bug.jpg\n  account: parent-bug\n  credit: X\n  licence: CC-BY-4.0\n"
CODES = {"few-pixels", "short-bleed", "near-trim"}


def told(folder: Path, settings: str, size: tuple[int, int]) -> list[str]:
    picture = io.BytesIO()
    Image.new("RGB", size).save(picture, "JPEG")
    for name, content in {
        "guide.yaml": f"title: X\nlevel: sketch\n{settings}".encode(),
        "accounts/parent-bug.md": ACCOUNT.encode(),
        "photos.yaml": PHOTO.encode(),
        "photos/bug.jpg": picture.getvalue(),
    }.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return [f"{f} [{f.code}]" for f in open_session(folder).report.findings if f.code in CODES]


def test_a_picture_too_coarse_for_the_largest_card_is_told_with_its_resolution(tmp_path: Path) -> None:
    """600 pixels on the 95 mm inside the margins of an A6 card are 160 an inch; 300 an inch are 1,122."""
    assert told(tmp_path, "prints: [print shop]\n", (600, 500)) == [
        "photos.yaml:1:1: warning: photos/bug.jpg has 600 pixels for up to 95 mm on the Pocket card A6: 160 ppi, where a print shop asks "
        "for 300 and sends back what is under 200. Give one 1122 pixels wide, or leave the picture to smaller cards. [few-pixels]"
    ]


@pytest.mark.parametrize(
    ("settings", "size", "said"),
    [
        ("prints: [print shop]\n", (760, 600), ""),  # 203 an inch
        ("prints: [print shop]\n", (740, 600), "198 ppi"),
        ("prints: [print shop]\ncard: a7\n", (600, 500), ""),  # 66 mm: 231 an inch
        ("prints: [print shop, large-print-card]\n", (900, 700), "134 mm on the Card in large print, A5: 171 ppi"),
        ("prints: [print shop]\n", (500, 1000), ""),  # as high as it may be, it is narrow
        ("prints: [booklet]\n", (100, 80), ""),
        ("", (100, 80), ""),
    ],
)
def test_only_what_a_shop_would_send_back_is_told(tmp_path: Path, settings: str, size: tuple[int, int], said: str) -> None:
    found = told(tmp_path, settings, size)
    assert [said in line for line in found] == ([True] if said else [])


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (
            "prints: [print shop]\nbleed: 2 mm\n",
            "guide.yaml:4:1: warning: A bleed of 2 mm is less than the 3 mm that print shops ask for. Write",
        ),
        ("prints: [print shop]\nbleed: 1/16 in\n", "A bleed of 1.5875 mm is less"),
        ("prints: [print shop]\nbleed: 1/8 in\n", ""),
        ("prints: [print shop]\nbleed: 3 mm\n", ""),
        ("prints: [print shop]\n", ""),  # 3 mm of itself
        ("prints: [print shop]\nbleed: 5 mm\n", ""),
        ("prints: [print shop, booklet-a6]\nbleed: 5 mm\n", ""),  # its pages have as much
        ("bleed: 2 mm\n", ""),
    ],
)
def test_a_bleed_that_is_too_small_is_told(tmp_path: Path, settings: str, said: str) -> None:
    found = told(tmp_path, settings, (2000, 1600))
    assert [said in line for line in found] == ([True] if said else [])


@pytest.mark.parametrize(
    ("style", "said"),
    [
        (
            "@page { margin: 1mm }",
            "theme/cards/card.css:1: warning: margin: 1mm lets type stand nearer to the edge that is cut than print",
        ),
        (
            "h1 { margin: 0 }\n@page front {\n  size: 105mm 148mm;\n  margin: 5mm 5mm 2mm;\n}",
            "theme/cards/card.css:4: warning: margin: 5mm 5mm",
        ),
        ("/* one\ntwo */ @page back{margin-left:0.1in}", "theme/cards/card.css:2: warning: margin-left:0.1in"),
        ("@page { margin: 0 }", "margin: 0 lets"),
        ("@page { margin: 8pt }", "margin: 8pt lets"),
        ("@page { margin: 3mm }", ""),
        ("@page { margin: 0.2in 9pt }", ""),
        ("@page { margin: 5% }", ""),  # of what is not known
        ("@page { background: #fff } h1 { margin: 1mm }", ""),
        ("/* @page { margin: 1mm } */", ""),
        ("@page { margin: 5mm; @bottom-left { margin: 1mm } }", ""),
    ],
)
def test_a_theme_whose_pages_have_narrow_margins_is_told(tmp_path: Path, style: str, said: str) -> None:
    (tmp_path / "theme" / "cards").mkdir(parents=True)
    (tmp_path / "theme" / "cards" / "card.css").write_text(style, "utf-8")
    found = told(tmp_path, "prints: [print shop]\n", (2000, 1600))
    assert [said in line for line in found] == ([True] if said else []), found
    assert told(tmp_path, "", (2000, 1600)) == []
