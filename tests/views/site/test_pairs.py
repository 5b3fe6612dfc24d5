"""Pairs of many look-alikes stand on one page that shows any two, and are told as a page of their own tells them. All is invented."""

from __future__ import annotations

import datetime as dt
import json
import subprocess
import sys
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import FieldMark, SimilarSpecies, Stated
from guidebuild.guide.records import Photo
from guidebuild.guide.text.inline import Inline
from guidebuild.identify.look_alikes import other_pairs, own_pairs, similar_sets
from guidebuild.press.leak_scan import file_leaks
from guidebuild.press.outputs.site.page import PIECE_ROOT, find_main, render_page
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.field import field_parts
from guidebuild.views.site.page import PIECE, PageView, note_page
from guidebuild.views.telling.compare import Comparer, compare_path, find_compared
from tests.fieldwork.invented import account, guide
from tests.views.whole_site import site_pages

THEME = (Path(__file__).parents[3] / "themes" / "plate",)
NAMED = SimilarSpecies("bug-01", note=Inline("The other one is *smaller*."))


def make_mutual(
    number: int, *, named: bool = False, alone: int = 0, languages: tuple[str, ...] = ("en",), photos: tuple[Photo, ...] = ()
) -> Published:
    """So many accounts, each of which lists all the others (of the first two the author says something), and some that stand alone.

    A photo has one mark, in the middle of it.
    """
    shown = {photo.account: photo for photo in photos}
    ids = [f"bug-{n:02}" for n in range(number)]
    made = []
    for ident in ids:
        listed = [SimilarSpecies(other) for other in ids if other != ident]
        if named and ident == ids[0]:
            listed[0] = NAMED
        family = "Pentatomidae" if ident < "bug-03" else "Coreidae"
        similar = Stated(tuple(listed), said=True)
        of_photo = _marked(shown[ident]) if ident in shown else {}
        made.append(
            account(
                ident, f"Inventus species{ident[-2:]}", f"Bug {ident[-2:]}", {"adult": "June"}, family=family, similar=similar, **of_photo
            )
        )
    made += [account(f"alone-{n}", f"Solus n{n}", f"Alone {n}", {"adult": "May"}, family="Coreidae") for n in range(alone)]
    whole = guide(*made, photos={photo.id: photo for photo in photos})
    return make_published(replace(whole, settings=replace(whole.settings, languages=languages)))


def _marked(photo: Photo) -> dict[str, object]:
    return {"photos": (photo.id,), "diagnostics": (FieldMark(Inline(f"the mark of {photo.id}"), photo=photo.id, point=(50, 50)),)}


def list_pages(public: Published) -> dict[str, PageView]:
    return {page.path: page for page in site_pages(public, dt.date(2026, 11, 28))}


def test_each_of_few_look_alikes_has_a_page_of_its_own() -> None:
    public = make_mutual(13)  # twelve look-alikes each
    assert len(own_pairs(public)) == 78 and not other_pairs(public)
    assert find_compared(public, ("bug-02", "bug-01")) == "compare/bug-01--bug-02.html"
    assert "compare/two.html" not in list_pages(public)


def test_of_many_only_those_that_an_author_names_have_one() -> None:
    pages = list_pages(make_mutual(15, named=True))
    own = [path for path in pages if path.startswith("compare/bug-")]
    assert own == ["compare/bug-00--bug-01.html", compare_path([f"bug-{n:02}" for n in range(15)])]
    links = [similar.compare.path for similar in pages["accounts/bug-00.html"].data.similar]  # type: ignore[attr-defined]
    assert links[:2] == ["compare/bug-00--bug-01.html", "compare/two.html#bug-00--bug-02"]
    hub = pages["compare/index.html"].data
    assert "compare/two.html" in [link.path for link in hub.helps]  # type: ignore[attr-defined]
    assert [link.path for link in hub.pairs] == ["compare/bug-00--bug-01.html"]  # type: ignore[attr-defined]


def read_piece(page: PageView) -> dict[str, str]:
    path, found = json.loads(f"[{render_page(page, {}, THEME).decode().removeprefix('guidePiece(').rstrip()[:-1]}]")
    assert path == page.path
    return dict(found)


@pytest.mark.parametrize("language", ["en", "es"])
def test_pieces_say_of_each_pair_what_a_page_of_its_own_says(language: str) -> None:
    public = make_mutual(15, languages=("en", "es"))
    pages, base = list_pages(public), "" if language == "en" else "es/"
    shown: dict[str, str] = {}
    for path, page in pages.items():
        if path.startswith(f"{base}compare/of/"):
            held = read_piece(page)
            assert not shown.keys() & held.keys()
            shown |= held
    assert shown.keys() == {f"{a}--{b}" for a, b in combinations([f"bug-{n:02}" for n in range(15)], 2)}
    make = make_pieces(public, language)
    of_set = next(page for page in pages.values() if page.template == "compare.html" and page.language == language)
    for ids in [("bug-00", "bug-01"), ("bug-03", "bug-09"), ("bug-13", "bug-14")]:
        own = replace(of_set, path=f"{base}{compare_path(ids)}", title="", data=Comparer(make).show(ids))
        said = find_main(render_page(own, {}, THEME).decode())
        assert said.count("<h1") == 1
        assert shown["--".join(ids)].replace(PIECE_ROOT, own.root) == said


def test_the_page_for_two_names_all_and_its_script_finds_each_pair() -> None:
    pages = list_pages(make_mutual(60, named=True))
    entries = pages["compare/two.html"].data.entries  # type: ignore[attr-defined]
    assert [entry.link.text for entry in entries] == [f"Bug {n:02}" for n in range(60)]
    told = json.loads(pages["compare/pairs.js"].data.json)  # type: ignore[attr-defined]
    ids = [ident for ident, _ in told["names"]]
    assert [[ids[a], ids[b]] for a, b in told["own"]] == [["bug-00", "bug-01"]]
    assert len(told["shown"]) == 60 * 59 // 2 - 1
    for a, b, piece in told["shown"]:
        held = dict(pages[f"compare/of/{ids[a]}/{piece}.js"].data.pages)  # type: ignore[attr-defined]
        assert held[f"{ids[a]}--{ids[b]}"].kind == PIECE
    assert "compare/of/bug-00/2.js" in pages  # at most forty to a piece
    # Sixty side by side are more than anyone reads: they are looked at two by two.
    assert not [page for page in pages.values() if page.kind == "compare" and len(page.data.taxa) > 2]  # type: ignore[attr-defined]
    assert pages["accounts/bug-05.html"].data.compare.path == "compare/two.html#bug-05"  # type: ignore[attr-defined]
    assert len(pages["accounts/bug-05.html"].data.similar) == 24  # type: ignore[attr-defined]


@pytest.mark.parametrize("told", ["the Weir Pool", "the Weir\nPool", "We<b>ir P</b>ool", "Weir&nbsp;Pool", 'the "Weir" Pool'])
def test_a_secret_place_in_a_piece_would_be_found_before_it_is_published(told: str) -> None:
    page = next(page for path, page in list_pages(make_mutual(14)).items() if path == "compare/of/bug-00/1.js")
    piece = render_page(page, {}, THEME)
    secrets = secrets_of(guide())
    assert not list(file_leaks("site/compare/of/bug-00/1.js", piece, secrets))
    spoilt = piece.replace(b"Bug 01", json.dumps(told)[1:-1].encode(), 1)
    assert list(file_leaks("site/compare/of/bug-00/1.js", spoilt, secrets))


def test_pairs_of_a_part_are_kept_with_it() -> None:
    notes = [note_page(page) for page in list_pages(make_mutual(15)).values()]
    part = field_parts(notes)["families/pentatomidae.html"]
    assert {"compare/two.html", "compare/pairs.js"} <= {note.page.path for note in part.tools}
    assert {f"compare/of/bug-0{n}/1.js" for n in range(3)} <= {note.page.path for note in part.own}


def test_sets_are_all_that_are_joined_however_they_are_listed() -> None:
    rings = {"a": "b", "b": "c", "d": "e", "f": "c", "e": "d", "h": "g", "i": "h", "g": "i"}
    listed = {one: Stated((SimilarSpecies(other),), said=True) for one, other in rings.items()}
    made = [account(one, "Inventus primus", one, {"adult": "June"}, similar=similar) for one, similar in listed.items()]
    made.append(account("c", "Inventus primus", "c", {"adult": "June"}))
    assert similar_sets(guide(*made)) == (("a", "b", "c", "f"), ("g", "h", "i"))


FIVE_THOUSAND = """
import datetime as dt
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import FieldMark, SimilarSpecies, Stated
from guidebuild.views.site.pages import SitePages
from tests.fieldwork.invented import account, guide
ids = [f"bug-{n:04}" for n in range(5001)]
listed = {ids[0]: ids[1:]}
similar = {one: Stated(tuple(map(SimilarSpecies, listed.get(one, ids[:1]))), said=True) for one in ids}
made = [account(one, f"Inventus n{one[-4:]}", f"Bug {one}", {"adult": "June"}, family="Coreidae", similar=similar[one]) for one in ids]
pages = list(SitePages(make_published(guide(*made)), dt.date(2026, 11, 28)).list_all())
for path in ("accounts/bug-0000.html", "compare/two.html", "compare/pairs.js", "compare/of/bug-0000/125.js", "practice.html", "key.html"):
    for page in pages:
        if page.path == path:
            page.make()
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM:"))
print(len(pages), int(peak.split()[1]) // 1024)
"""
"""Its peak is read from Linux's own account of this process (man 5 proc): `ru_maxrss` also counts the one that started it."""


@pytest.mark.slow
def test_five_thousand_look_alikes_of_one_species_need_little_memory() -> None:
    told = subprocess.run([sys.executable, "-c", FIVE_THOUSAND], capture_output=True, text=True, check=True)
    pages, megabytes = map(int, told.stdout.split())
    assert pages < 5_600  # 125 pieces, not 5,000 pages
    assert megabytes < 300
