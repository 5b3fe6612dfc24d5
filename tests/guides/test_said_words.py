"""What a made guide says is collected from every kind of file, each sentence once an output."""

from __future__ import annotations

from pathlib import Path

from tests.guide_files import write_files
from tests.guides.said_words import collect_words

PAGE = """<!doctype html><html lang="en"><head><title>Wood</title><style>p {color: red}</style></head>
<body><nav aria-label="Guide"><a href="x">Find</a></nav><!-- not said --><h1>Bluebell</h1>
<p>It is <b>blue</b>.<br>Look in May.</p><img src="x.jpg" alt="A blue flower."><script>quiet()</script>
<template><i title="Later">Later</i></template></body></html>"""
PDF = (
    "%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
    "3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 300]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>>>>>endobj\n"
    "4 0 obj<</Length 66>>stream\nBT /F 12 Tf 20 200 Td (Size 30 cm.) Tj 0 -20 Td (It is blue.) Tj ET\nendstream endobj\n"
    "5 0 obj<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>endobj\ntrailer<</Root 1 0 R>>\n"
)


def test_every_kind_of_file_is_read_and_nothing_said_twice(tmp_path: Path) -> None:
    published = write_files(
        tmp_path,
        {
            "scripts/bluebell-short.md": "## Names\n\nThis is the Bluebell.\n",
            "scripts/bluebell-short-prompter.html": "<p>Only the prompter says this.</p>",
            "posts/bluebell/short.txt": "Look for: blue bells.\n\n#Bluebell\n",
            "posts/primrose/short.txt": "Look for: yellow plates.\n\n#Bluebell\n",
            "cards/bluebell.pdf": PDF,
            "cards/deck.pdf": PDF.replace("blue", "grey"),
            "walks/may.ics": "BEGIN:VEVENT\r\nSUMMARY:May in the \r\n wood\r\nDTSTAMP:20270501T090000Z\r\nEND:VEVENT\r\n",
            "data/checklist.csv": "family,name\nAsparagaceae,Hyacinthoides\n",
            "site/index.html": PAGE,
        },
    )
    assert collect_words(published) == (
        "== scripts/bluebell-short.md\n## Names\nThis is the Bluebell.\n\n"
        "== posts/bluebell/short.txt\nLook for: blue bells.\n#Bluebell\n\n"
        "== posts/primrose/short.txt\nLook for: yellow plates.\n\n"
        "== cards/bluebell.pdf\nSize 30 cm.\nIt is blue.\n\n"
        "== walks/may.ics\nSUMMARY:May in the wood\n\n"
        "== data/checklist.csv\nfamily,name\nAsparagaceae,Hyacinthoides\n\n"
        "== site/index.html\nWood\n[aria-label] Guide\nFind\nBluebell\nIt is blue.\nLook in May.\n[alt] A blue flower.\n"
    )
