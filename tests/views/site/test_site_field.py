"""Parts that can be kept for the field: a family or a walk with what its pages lead to."""

from __future__ import annotations

from guidebuild.fieldwork.published import make_published
from guidebuild.views.site.field import field_parts
from guidebuild.views.site.page import note_page
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages


def test_parts_hold_their_accounts_comparisons_and_what_always_helps() -> None:
    notes = [note_page(page) for page in site_pages(make_published(GUIDE), TODAY)]
    parts = {part: {note.page.path for note in gathered} for part, gathered in field_parts(notes).items()}
    assert set(parts) == {f"{base}{path}" for base in ("", "es/") for path in ("families/acanthosomatidae.html", "walks/june.html")}
    walk = parts["walks/june.html"]
    assert {"walks/june.html", "accounts/parent-bug.html", "glossary.html", "cautions.html", "find.html"} <= walk
    assert "compare/birch-bug--parent-bug.html" in walk
    assert not any(path.startswith("es/") for path in walk)
    assert all(path.startswith("es/") for path in parts["es/walks/june.html"])
    family = parts["families/acanthosomatidae.html"]
    assert {"accounts/parent-bug.html", "accounts/birch-bug.html"} <= family
    assert "seasons/06-2.html" not in family
