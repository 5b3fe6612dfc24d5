"""What a guide says is collected from every kind of file, each sentence once an output, and was read by a person."""

from __future__ import annotations

from difflib import unified_diff
from pathlib import Path

import pytest

from tests.guide_files import write_files
from tests.guides.faults_of_words import FORBIDDEN, IN_PROSE, find_faults
from tests.guides.said_prints import list_prints, list_scripts, read_published
from tests.guides.said_words import ON_A_DAY, collect_words, join_files, list_words, say_guide
from tests.guides.whole_guides import HERE, NAMES

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
            "scripts/bluebell-short.prompter.html": "<p>Only the prompter says this.</p>",
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


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_a_guide_says_what_was_read_and_found_true(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A change of wording is meant: write the texts anew with `python -m tests.guides.said_words`, and read the diff."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", ON_A_DAY)
    said = say_guide(name, tmp_path)
    reviewed = (HERE / "said" / f"{name}.txt").read_text(encoding="utf-8")
    changed = list(unified_diff(reviewed.splitlines(), said.splitlines(), "as reviewed", "as said now", lineterm="", n=1))
    assert changed == [], "\n".join(changed[:60])


def test_every_text_that_was_reviewed_is_of_a_guide() -> None:
    assert sorted(path.stem for path in (HERE / "said").iterdir()) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_no_guide_says_what_may_never_be_said(name: str) -> None:
    assert list(find_faults((HERE / "said" / f"{name}.txt").read_text(encoding="utf-8"))) == []


def test_the_sample_does_not_either() -> None:
    guide = read_published(HERE.parents[1] / "sample_guide")
    prints = ((file, list_words(html)) for file, html in list_prints(guide))
    said = join_files((*list_scripts(guide), *prints))
    assert said.count("\n") > 1000
    assert list(find_faults(said)) == []
    assert not [line for _, lines in list_scripts(guide) for line in lines if "  " in line]


PLANTED = {
    "a chance and its reason in one breath": ("possible seen around this date in one year (2025)", "likely most seen now: adult"),
    "a month without its word": ("In flower: March to May; most seen April. In fruit: June.", "all year; most seen May"),
    "shared, though it only overlaps": ("What they share",),
    "a heading twice": ("Caution: Caution. Yew: Keep off.",),
    "an index called by what its things do": ("Grows on or with – Fungi of Cawder Wood",),
    "an adverb that limps behind": ("On beech it is the stumps and logs, rarely.",),
    "a state said as a thing": ("In the in flower, look for white bells.", "The in leaf. Two leaves."),
    "two articles": ("Look at the the flesh.", "Look for a a leaf of three folded hearts."),
    "a word twice": ("It is seen most most in May.", "spawn and and tadpole"),
    "the wrong article": ("Look for a orange base.", "Look for an row of warts."),
    "one of many": ("Stops and ways take 1 minutes longer than the walk.", "last posted 1 weeks before"),
    "nothing said": ("It feeds on none.", "The egg. none.", "Its host plants are none.", "Size None"),
    "a hole": ("It is {size} long.", "Take care: .", "Host plants: ;"),
    "two stops": ("It makes people ill..", "It is small.,", "What is it?."),
    "a space before a stop": ("It is small .", "It is small , and green."),
    "a clause after an article": ("the flesh has it does not change",),
    "a smell or a call that is looked at": ("Look first for a strong smell of garlic.", "Look at the call: one bonk."),
    "a plant as food of what eats none": ("Host plants: not applicable",),
    "help called twice": ("Wash hands; if any was eaten, call for help. If any was eaten, keep a piece to show.",),
    "a danger named twice": ("It is poisonous. Poisonous or burning sap.",),
    "a species warned of twice": (
        "It may be taken for Yew and Lords-and-Ladies, which are poisonous. Wash. May be taken for Lords-and-Ladies, which hurts.",
    ),
    "care called for twice at one place": ("Take care at Mill Pond. No rail. Take care at the Weir and Mill Pond. Keep back.",),
    "an age as a thing": ("In winter plumage and in the juvenile, look for a grey back.",),
    "one use of plants after another": ("Oak (roots, where it lives), Beech (roots, where it lives)",),
    "days that were not counted": ("in leaf for about 180 more days; never posted",),
    "a stage without its article": ("possible adult most seen now", "spawn and adult in season all year"),
    "a stage for those that a key is for": ("Key: breeding plumage", "Finder: in flower", "Only for: adult", "Key: fresh fruit body"),
    "what no picture shows": ("Look at: spread wing and length", "Look at: spread wing and call"),
    "what one does about the other, said of this one": ("May be taken for Panthercap, which is poisonous. It makes people ill.",),
    "one of several, called this one": ("Caution: Poisonous. Fly Agaric, Panthercap: This fungus makes people ill.",),
    "a likeness that reads as a fact of both": ("Panthercap (like Blusher): Do not eat it.",),
    "a verb twice": ("It is poisonous and is harmful to touch.", "which can sting and can bite"),
    "a thing to lift that is not named": ("Take care at Log Hollow. Lift away from you.",),
    "an animal that was not named": ("Step back and leave it a way out.", "Keep back from edges and children within reach."),
    "a chance that runs into its reason": ("possible most often seen in flower now", "worth a look its habitat is here: ditch"),
    "no article before a noun": ("It is scarce passage migrant.",),
    "a sentence that begins small": ("On the ground, look at the legs. orange-red legs.",),
}


def test_each_forbidden_phrase_is_found_where_it_is_planted() -> None:
    assert PLANTED.keys() == FORBIDDEN.keys() | IN_PROSE.keys()
    for wrong, lines in PLANTED.items():
        for line in lines:
            told = list(find_faults(f"== scripts/a, draft\nIt is green.\n{line}\n"))
            assert [fault for fault in told if f": {wrong} (" in fault], (wrong, line, told)


@pytest.mark.parametrize(
    "line",
    [
        "Had I known that that was it, I had had it named.",
        "It is 1.2 to 3 centimetres long, c. 5 mm, in 1 species of 3.",
        "Give it an hour; it is a unit of a European one-off.",
        "None of that matters: a tidy hedge foot has none.",
        "Look at the flesh: in the Panthercap, it does not change.",
        "Is it red? It is. Look!",
        "Take care at the Weir. No rail. There is more to mind at Mill Pond. Keep back. Take care at Old Dam.",
        "Each of Fly Agaric and Panthercap (looks like Blusher): This fungus makes people ill.",
        "May be taken for Yew, which is poisonous. Wash hands. May be taken for Lords-and-Ladies, which is harmful to touch.",
        "Look in the juvenile male for spots; most seen now: adult.",
        "Key: birds in winter plumage",
    ],
)
def test_plain_english_is_not_forbidden(line: str) -> None:
    assert list(find_faults(f"== posts/a/long.txt\n{line}\n")) == []
