"""Parts that can be kept for the field: a family or a walk with what its pages lead to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Stated
from guidebuild.views.site import field
from guidebuild.views.site.field import field_parts
from guidebuild.views.site.page import note_page
from tests.views.invented_site import BIRCH, GUIDE, PARENT, TODAY
from tests.views.whole_site import site_pages


def test_parts_hold_their_accounts_comparisons_plants_and_places_and_the_tools() -> None:
    notes = [note_page(page) for page in site_pages(make_published(GUIDE), TODAY)]
    found = field_parts(notes)
    assert set(found) == {f"{base}{path}" for base in ("", "es/") for path in ("families/acanthosomatidae.html", "walks/june.html")}
    tools = {note.page.path for note in found["walks/june.html"].tools}
    assert {"glossary.html", "cautions.html", "find.html", "finder.html", "key.html", "practice.html", "field.html", "unkept.html"} <= tools
    assert {"seasons/index.html", "seasons/06-2.html", "compare/index.html", "index.html"} <= tools
    assert found["families/acanthosomatidae.html"].tools == found["walks/june.html"].tools
    own = {part: {note.page.path for note in of.own} for part, of in found.items()}
    walk = own["walks/june.html"]
    assert {"walks/june.html", "accounts/parent-bug.html", "compare/birch-bug--parent-bug.html"} <= walk
    assert any(path.startswith("plants/") for path in walk)
    assert any(path.startswith("places/") for path in walk)
    assert not any(path.startswith("es/") for path in walk | tools)
    spanish = found["es/walks/june.html"]
    assert all(note.page.path.startswith("es/") for note in (*spanish.tools, *spanish.own))
    assert {"accounts/parent-bug.html", "accounts/birch-bug.html"} <= own["families/acanthosomatidae.html"]


def test_tools_of_a_large_guide_bring_no_pictures_of_species_outside_the_part(monkeypatch: pytest.MonkeyPatch) -> None:
    parent, birch = (replace(account, similar=Stated((), said=True)) for account in (PARENT, BIRCH))
    accounts = {"parent-bug": parent, "birch-bug": replace(birch, family="Otheridae")}
    notes = [note_page(page) for page in site_pages(make_published(replace(GUIDE, accounts=accounts)), TODAY)]

    def pictures_of(part: str) -> set[str]:
        found = field_parts(notes)[part]
        return {photo for note in (*found.tools, *found.own) for photo in note.photos}

    assert {"parent-adult", "birch-adult"} <= pictures_of("families/otheridae.html")
    monkeypatch.setattr(field, "MOST_PICTURES", 1)
    assert {photo for photo in pictures_of("families/otheridae.html") if photo in ("parent-adult", "birch-adult")} == {"birch-adult"}
    assert "parent-adult" in pictures_of("families/acanthosomatidae.html")
