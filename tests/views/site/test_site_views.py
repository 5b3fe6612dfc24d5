"""What the site's pages show of a guide."""

from __future__ import annotations

import datetime as dt
import pickle
import re
from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import SimilarSpecies, Stated
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Source
from guidebuild.guide.text.footnotes import with_their_notes
from guidebuild.press.theme.prose import prose_html
from guidebuild.views.pieces.common import FactRow, LinkView, ProseView
from guidebuild.views.site import home as site_home
from guidebuild.views.site import likeliest as site_likeliest
from guidebuild.views.site import practice as site_practice
from guidebuild.views.site.page import PageView, note_page
from tests.views.invented_site import BIRCH, GUIDE, PARENT, TODAY
from tests.views.whole_site import site_pages


@pytest.fixture(scope="module")
def pages() -> dict[str, PageView]:
    return {page.path: page for page in site_pages(make_published(GUIDE), TODAY)}


def links(facts: tuple[FactRow, ...], key: str) -> list[LinkView]:
    return [part.link for row in facts if row.key == key for part in row.parts if part.link]


def test_every_page_has_a_path_of_its_own() -> None:
    paths = [page.path for page in site_pages(make_published(GUIDE), TODAY)]
    assert len(paths) == len(set(paths))
    assert {"index.html", "accounts/parent-bug.html", "es/accounts/parent-bug.html", "seasons/06-2.html", "key.html"} <= set(paths)


def test_root_leads_back_up(pages: dict[str, PageView]) -> None:
    assert pages["index.html"].root == ""
    assert pages["es/accounts/parent-bug.html"].root == "../../"


def test_secret_place_is_named_nowhere(pages: dict[str, PageView]) -> None:
    for page in pages.values():
        assert "Hidden Ride" not in repr(page)
        assert "51.1" not in repr(page)
        assert "secret-ride" not in repr(page)


def test_wider_area_is_said_instead_of_a_secret_place(pages: dict[str, PageView]) -> None:
    places = links(pages["accounts/parent-bug.html"].data.facts, "places")
    assert [(place.text, bool(place.path)) for place in places] == [("The Long Hedge", True), ("north of the vale", False)]


def test_secret_species_names_only_areas_and_is_on_no_place_page(pages: dict[str, PageView]) -> None:
    data = pages["accounts/birch-bug.html"].data
    assert [place.text for place in links(data.facts, "places")] == ["Example Vale"]
    assert [part.text for row in data.facts if row.key == "sensitive" for part in row.parts] == ["Collected for sale."]
    on_place = [entry.link.text for entry in pages["places/long-hedge.html"].data.entries]
    assert on_place == ["Parent Bug"]
    met = [entry.link.text for stop in pages["walks/june.html"].data.stops for entry in stop.entries]
    assert met == ["Parent Bug"]


def test_plate_is_the_first_picture_that_a_mark_points_at(pages: dict[str, PageView]) -> None:
    data = pages["accounts/parent-bug.html"].data
    assert data.plate.id == "parent-adult"
    assert [mark.number for mark in data.plate.marks] == [1, 2]
    assert [mark.number for mark in data.marks] == [1, 2, 3]


def test_each_picture_is_shown_once_and_every_pointed_one_is_a_plate(pages: dict[str, PageView]) -> None:
    data = pages["accounts/parent-bug.html"].data
    assert [stage.photo for stage in data.stages] == [None, None, None]  # the nymph's stands in the prose
    assert data.gallery == ()
    mark = replace(PARENT.diagnostics[0], photo="parent-nymph")
    account = replace(PARENT, diagnostics=(*PARENT.diagnostics, mark), photos=("parent-adult",))
    page = next(p for p in site_pages(make_published(replace(GUIDE, accounts={"parent-bug": account})), TODAY) if p.kind == "account")
    assert [(p.id, [m.number for m in p.marks]) for p in page.data.gallery] == [("parent-nymph", [4])]


def test_footnote_called_in_another_section_comes_along(pages: dict[str, PageView]) -> None:
    brief = pages["accounts/parent-bug.html"].data.brief
    assert "[^1]: Seen often." in brief.text


def test_pieces_show_only_the_notes_they_call() -> None:
    pieces = ["a[^1]", "b\n\n[^1]: note\n    goes *on*\n[^2]: other", "c[^2] `[^1]`\n\n[^2]: own", "d[^2][^1]"]
    shown = [prose_html(ProseView(text)).text for text in with_their_notes(pieces)]
    notes = [re.findall(r"<p>([^<]*(?:<em>on</em>)?)&nbsp;", html) for html in shown]
    assert notes == [["note\ngoes <em>on</em>"], [], ["own"], ["other", "note\ngoes <em>on</em>"]]
    assert ["footnote" in html for html in shown] == [True, False, True, True]
    assert re.findall(r'href="#fn:(\d)">(\d)</a>', shown[3]) == [("2", "1"), ("1", "2")]  # numbered as they are called


def test_a_note_from_another_section_is_read_as_it_was_there() -> None:
    (called, _) = with_their_notes(["a[^1]", "b[^1]\n\n[^1]: 2*3*4 <c. 5, see [x](term:y)\n\n    <div>\n    more\n    </div>"])
    html = prose_html(ProseView(called)).text
    assert "2*3*4 &lt;c. 5, see <span>x</span>" in html
    assert "more" in html


def test_references_resolve_by_id_and_dangling_ones_do_not(pages: dict[str, PageView]) -> None:
    how = pages["accounts/parent-bug.html"].data.sections[0]
    assert {name: link.path for name, link in how.targets} == {
        "term:scutellum": "glossary.html#scutellum",
        "account:birch-bug": "accounts/birch-bug.html",
    }


def test_old_name_leads_to_the_account_it_stands_for_now() -> None:
    # Case A10: a look-alike and a link given by a synonym.
    birch = replace(BIRCH, similar=Stated((SimilarSpecies("Cimex griseus"),), said=True))
    guide = replace(GUIDE, accounts={a.id: a for a in (PARENT, birch)})
    page = next(p for p in site_pages(make_published(guide), TODAY) if p.path == "accounts/birch-bug.html")
    assert [s.link.path for s in page.data.similar] == ["accounts/parent-bug.html"]


def test_former_address_has_a_page_that_leads_on(pages: dict[str, PageView]) -> None:
    moved = pages["accounts/mothering-bug.html"]
    assert moved.kind == "moved"
    assert moved.data.to.path == "accounts/parent-bug.html"


def test_spanish_page_uses_the_accounts_own_words_and_says_where_they_end(pages: dict[str, PageView]) -> None:
    data = pages["es/accounts/parent-bug.html"].data
    assert (data.name.vernacular, data.name.language) == ("Chinche madre", "es")
    assert data.marks[0].words == "mancha oscura en el escutelo"
    assert data.brief.text == "La hembra cuida los huevos."
    assert data.brief.language == ""
    assert data.sections[0].language == "en"
    assert not data.untranslated
    assert pages["es/accounts/birch-bug.html"].data.untranslated


def test_language_switch_keeps_the_page(pages: dict[str, PageView]) -> None:
    assert pages["es/key.html"].alternates == (("en", "key.html"), ("es", "es/key.html"))


@pytest.mark.parametrize(("day", "out"), [(dt.date(2026, 6, 15), {"Parent Bug", "Birch Bug"}), (dt.date(2026, 12, 20), {"Parent Bug"})])
def test_home_shows_what_is_out(day: dt.date, out: set[str]) -> None:
    home = next(iter(site_pages(make_published(GUIDE), day)))
    assert {entry.link.text for _, entry in home.data.now.entries if entry.out} == out


def test_out_now_counts_only_the_stages_one_looks_for(pages: dict[str, PageView]) -> None:
    eggs_only = replace(PARENT, seasons=PARENT.seasons[:1])
    home = next(iter(site_pages(make_published(replace(GUIDE, accounts={"parent-bug": eggs_only})), TODAY)))
    assert home.data.now.entries == ()


def test_practice_does_not_give_the_name_away(pages: dict[str, PageView]) -> None:
    for question in pages["practice.html"].data.questions:
        right = next(choice for choice in question.choices if choice.right)
        assert right.link.text not in question.photo.alt
        assert question.photo.caption == ""
        assert question.photo.marks == ()


def test_find_knows_every_name_plant_and_mark(pages: dict[str, PageView]) -> None:
    words = {item.link.text: item.words for item in pages["find.html"].data.items}
    for wanted in ("Cimex griseus", "Chinche madre", "Betula pendula", "dark spot"):
        assert wanted in words["Parent Bug"]


def test_all_pictures_are_noted(pages: dict[str, PageView]) -> None:
    ids = {photo for page in pages.values() for photo in note_page(page).photos}
    assert sorted(ids) == ["birch-adult", "parent-adult", "parent-nymph"]


def test_sources_tell_author_year_and_title_as_far_as_they_are_given() -> None:
    whole = replace(GUIDE.sources["handbook"], author="A. Reader", year="1959", title="Bugs")
    bare = replace(whole, id="log", year="", title="")
    guide = make_published(replace(GUIDE, sources={"handbook": whole, "log": bare}))
    page = next(page for page in site_pages(guide, TODAY) if page.path == "sources.html")
    assert {source.id: source.reference for source in page.data.sources} == {"handbook": "A. Reader (1959). Bugs.", "log": "A. Reader."}


def test_a_data_set_is_credited_as_it_is_cited_in_the_reader_s_language() -> None:
    data_set = Source("fen", "Fen 2026", kind="data set", author="D. Fen", year="2026", title="Beetles", version="1.2",
                      publisher="Fen Office", doi="10.5555/fen", licence="CC-BY-4.0", accessed=dt.date(2026, 5, 2))  # fmt: skip
    guide = make_published(replace(GUIDE, sources={"fen": data_set}))
    shown = {page.path: page.data.sources[0] for page in site_pages(guide, TODAY) if page.path.endswith("sources.html")}
    assert shown["sources.html"].reference == "D. Fen (2026). Beetles. Version 1.2. Fen Office. Data set."
    assert shown["es/sources.html"].reference == "D. Fen (2026). Beetles. Versión 1.2. Fen Office. Conjunto de datos."
    assert {page.address for page in shown.values()} == {"https://doi.org/10.5555/fen"}
    assert shown["es/sources.html"].accessed == "2 de mayo de 2026"
    assert {page.licence.id for page in shown.values() if page.licence} == {"CC-BY-4.0"}


def test_pages_travel_to_other_processes(pages: dict[str, PageView]) -> None:
    page = pages["accounts/parent-bug.html"]
    assert pickle.loads(pickle.dumps(page)) == page


def test_guide_without_accounts_has_pages_all_the_same() -> None:
    empty = Guide(GUIDE.settings)
    assert {"index.html", "find.html", "seasons/index.html"} <= {page.path for page in site_pages(make_published(empty), TODAY)}


def test_a_large_guide_asks_no_more_than_one_sitting_and_shows_the_best_of_the_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(site_home, "WHOLE_YEAR_ON_HOME", 1)
    monkeypatch.setattr(site_likeliest, "MOST_RANKED", 1)
    monkeypatch.setattr(site_practice, "MOST_QUESTIONS", 1)
    pages = {page.path: page for page in site_pages(make_published(GUIDE), TODAY)}
    assert len(pages["practice.html"].data.questions) == 1
    data = pages["index.html"].data
    assert [entry.out for _, entry in data.now.entries] == [True]
    assert [numbers for numbers in data.now.ranked if numbers] == [data.now.ranked[data.dekad]] == [((0, 0),)]
