"""The printed key and the comparison sheets: what stands on paper, in which order, and that it passes as PDF/UA."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import outloud
import pdfplumber
import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.identify.look_alikes import similar_pairs
from guidebuild.press.outputs.cards.comparison import CompareWork, render_sheet, sheet_area
from guidebuild.press.outputs.cards.key import KeyWork, render_key
from guidebuild.press.paper.formats import paper_named
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.telling.compare_sheet import WIDEST, compare_sheets
from guidebuild.views.telling.key_sheet import key_sheet
from tests.identify.invented import account, length, like, measure, shows, states
from tests.identify.invented import guide as invented_guide

THEME = (on_disk(themes().joinpath("plate")),)
A4, LETTER = paper_named("a4").size, paper_named("letter").size
SAMPLE = Path(__file__).parents[4] / "sample_guide"
RUNNING_FOOT = "PAG-001"
"""The title at the foot of each page."""
NARROW = 1.2
"""Points between two words in the smallest type."""


@cache
def sample() -> Guide:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    return guide


@cache
def printed_key() -> bytes:
    made = render_key(KeyWork(key_sheet(make_published(sample())), A4, THEME))
    assert made.problems == ()
    return made.parts[0]


@cache
def printed_sheet() -> bytes:
    """The sheet of three look-alikes, without pictures: plates have tests of their own."""
    sheet = next(s for s in compare_sheets(make_published(sample())) if s.id == "bronze-shieldbug--forest-bug--spiked-shieldbug")
    made = render_sheet(CompareWork(sheet, (), sheet_area(sheet, A4), THEME))
    assert made.problems == ()
    return made.parts[0]


def judged(data: bytes, folder: Path) -> list[str]:
    (folder / "judged.pdf").write_bytes(data)
    result = outloud.check(str(folder / "judged.pdf"))
    assert result.error is None
    assert result.stats["tagged"]
    return [f"{f.rule}: {f.message}" for f in result.findings if f.rule != RUNNING_FOOT]


def text_of(data: bytes) -> str:
    """The text as it reads, each page's left column before its right one where there are two."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return "\n".join(page.extract_text(x_tolerance=NARROW) for page in pdf.pages)


def columns_of(data: bytes) -> str:
    """The first page's two columns, one after the other."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        page = pdf.pages[0]
        halves = ((0, page.width / 2), (page.width / 2, page.width))
        return "\n".join(page.crop((left, 0, right, page.height)).extract_text(x_tolerance=NARROW) for left, right in halves)


def test_the_key_passes_as_pdf_ua(tmp_path: Path) -> None:
    assert judged(printed_key(), tmp_path) == []


def test_a_comparison_passes_as_pdf_ua(tmp_path: Path) -> None:
    assert judged(printed_sheet(), tmp_path) == []


def test_couplets_stand_in_order_with_what_they_were_come_from() -> None:
    text = columns_of(printed_key())
    starts = [(int(n), back) for n, back in re.findall(r"^(\d+) (?:\((\d+[ab])\) )?[A-Z]", text, re.MULTILINE)]
    assert [number for number, _ in starts] == list(range(1, len(starts) + 1))
    assert len(starts) >= 8
    came_from = {row.number: row.came_from for row in key_sheet(make_published(sample())).key.bracketed}
    assert [(n, f"{b[0]}{b[1]}" if (b := came_from[n]) else "") for n, _ in starts] == starts


def test_a_lead_and_where_it_leads_never_part() -> None:
    """Couplets keep together: every lead's letter, words and goal are on one page and in one column."""
    sheet = key_sheet(make_published(sample()))
    with pdfplumber.open(io.BytesIO(printed_key())) as pdf:
        pages = [page.crop((left, 0, left + page.width / 2, page.height)) for page in pdf.pages[:2] for left in (0, page.width / 2)]
        columns = ["\n".join(line for line in (part.extract_text(x_tolerance=NARROW) or "").splitlines()) for part in pages]
    for row in sheet.key.bracketed:
        first_words = re.escape(" ".join(row.says.split()[:2]))
        goal = str(row.to) if row.to else row.ends[0].text
        lead = re.compile(rf"^{row.letter} {first_words}.*?{re.escape(goal)}", re.MULTILINE | re.DOTALL)
        assert any(lead.search(column) for column in columns), (row.number, row.letter)


def test_every_species_is_listed_with_the_leads_that_end_at_it() -> None:
    sheet = key_sheet(make_published(sample()))
    text = text_of(printed_key())
    assert {out.link.text for out in sheet.where_out} == {a.vernacular for a in sample().accounts.values()}
    for out in sheet.where_out:
        leads = ", ".join(f"{number}{letter}" for number, letter in out.leads)
        assert re.search(rf"{out.link.text} {re.escape(out.link.name.plain if out.link.name else '')} {leads}\b", text)


def test_the_tree_has_a_line_a_lead_in_the_order_of_the_indented_layout() -> None:
    text = text_of(printed_key())
    lines = re.findall(r"^(\d+[ab])(?: \(\d+[ab]\))? [^?\n]*: ", text[text.index("The same as a tree") :], re.MULTILINE)
    assert lines == [f"{row.number}{row.letter}" for row in key_sheet(make_published(sample())).key.indented]


def test_the_length_of_the_key_is_told() -> None:
    text = " ".join(text_of(printed_key()).split())
    assert "Species: 18. Couplets: 17. A name takes 4.3 steps on average, 6 at most;" in text


@pytest.mark.parametrize("data", [printed_key, printed_sheet])
def test_no_type_is_under_nine_points(data) -> None:
    with pdfplumber.open(io.BytesIO(data())) as pdf:
        assert min(round(char["size"], 2) for page in pdf.pages for char in page.chars if char["text"].strip()) >= 9


def test_paper_is_the_guides() -> None:
    with pdfplumber.open(io.BytesIO(render_key(KeyWork(key_sheet(make_published(sample())), LETTER, THEME)).parts[0])) as pdf:
        assert (float(pdf.pages[0].width), float(pdf.pages[0].height)) == pytest.approx((612, 792), abs=0.1)


def test_a_group_is_named_with_its_reasons_and_no_page_number() -> None:
    size, colour = length(), states("colour", red="red", blue="blue")
    pair = [account(name, shows(size, measure(low, high)), shows(colour, "red")) for name, low, high in (("P", 10, 13), ("Q", 12, 15))]
    made = invented_guide((size, colour), *pair, account("S", shows(size, measure(20, 30)), shows(colour, "blue")))
    text = text_of(render_key(KeyWork(key_sheet(make_published(made)), A4, THEME)).parts[0])
    assert "Not parted by this key" in text
    assert "group 1: P and Q" in text
    assert "The P and the Q overlap at 12–13 mm (body length)." in text
    assert re.search(r"red\b.*group 1", text)


def test_a_sheet_says_what_separates_before_what_is_shared() -> None:
    text = text_of(printed_sheet())
    told = [
        "Bronze Shieldbug, Forest Bug and Spiked Shieldbug",
        "What tells them apart",
        "stout, clearly thicker",
        "What does not tell them apart",
        "outline",
    ]
    places = [text.find(words) for words in told]
    assert -1 not in places
    assert places == sorted(places)


def test_every_similar_pair_is_on_a_sheet_and_none_is_wider_than_the_paper() -> None:
    sheets = compare_sheets(make_published(sample()))
    shown = [{taxon.id for taxon in sheet.compared.taxa} for sheet in sheets]
    assert all(any({a, b} <= ids for ids in shown) for a, b in similar_pairs(sample()))
    assert len({sheet.id for sheet in sheets}) == len(sheets)


def test_a_set_too_wide_for_one_sheet_is_printed_pair_by_pair() -> None:
    size = length()
    names = [f"n{n}" for n in range(WIDEST + 1)]
    chain = [account(n, shows(size, measure(i, i + 0.5)), similar=(like(o),)) for i, (n, o) in enumerate(pairwise(names))]
    sheets = compare_sheets(make_published(invented_guide((size,), *chain, account(names[-1], shows(size, measure(90, 91))))))
    assert [sheet.id for sheet in sheets] == [f"n{n}--n{n + 1}" for n in range(WIDEST)]


def test_four_turn_the_paper_on_its_side() -> None:
    by_count = {len(sheet.compared.taxa): sheet for sheet in compare_sheets(make_published(sample()))}
    assert sheet_area(by_count[2], A4) == A4
    assert sheet_area(by_count[5], A4) == A4.turned


def test_the_address_of_a_comparison_is_not_broken_at_a_hyphen() -> None:
    """Names of several species make it long; who types it from paper must see whether a hyphen is part of it."""
    flowers = read_guide(SAMPLE.parent / "tests/guides/spring-flowers").guide
    assert flowers is not None
    for sheet in compare_sheets(make_published(flowers)):
        made = render_sheet(CompareWork(sheet, (), sheet_area(sheet, A4), THEME))
        with pdfplumber.open(io.BytesIO(made.parts[0])) as pdf:
            lines = [line for page in pdf.pages for line in page.extract_text().splitlines()]
        assert [line for line in lines if sheet.address in line], sheet.address
