"""Where the fields of an account are declared to be shown is where they are: a value is changed, and what changes with it is compared."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.accounts import Account, FieldMark, Review, Silenced, SimilarSpecies, Stated
from guidebuild.guide.field_declaration import Field, OutputName
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import LawNote, Section, Sensitivity
from guidebuild.guide.text.inline import Inline
from guidebuild.press.table import OUTPUTS
from guidebuild.views.cards.card import card_views
from guidebuild.views.data.checklist_table import COLUMNS, checklist_rows
from guidebuild.views.data.darwin_core import taxa_archive
from guidebuild.views.data.media import MediaFile
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.outdoors.walk import walk_pack_views
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.views.posts.posts import post_views
from guidebuild.views.posts.week_plan import week_plan
from guidebuild.views.scripts.script import make_script_views
from guidebuild.views.slides.chosen import choose_sets
from tests.views.invented_site import GUIDE, PARENT, TODAY
from tests.views.whole_site import site_pages

BASE = replace(
    PARENT,
    diagnostics=tuple(replace(mark, photo="", point=None) for mark in PARENT.diagnostics),
    similar=Stated((SimilarSpecies("birch-bug"),), said=True),
    posted=dt.date(2026, 5, 10),
    sections=tuple(Section(field.key, f"What stands under {field.key}. Seen at The Long Hedge.") for field in SECTIONS),
)
"""An account of which no value hides another: no pointer that chooses the plate, no note that stands before what the characters say."""

CHANGED: dict[str, Any] = {
    "name": ScientificName("Inventa nova", "Inventa", "nova", authority="(Linnaeus, 1758)"),
    "authority": replace(PARENT.name, authority="Inventor, 1999"),
    "vernacular": "Mothering Bug",
    "also called": ("Broody Bug",),
    "synonyms": (),
    "formerly": ("broody-bug",),
    "say": "",
    "family": "Inventidae",
    "group": "",
    "size": Measure("16–19 mm", 16, 19),
    "diagnostics": (FieldMark(Inline("seven spots"), stages=("adult",)), *BASE.diagnostics),
    "characters": (),
    "similar": Stated((), said=True),
    "host plants": Stated((), said=True),
    "habitat": (Inline("marsh"),),
    "places": (),
    "absent from": ("long-hedge",),
    "sensitive": Sensitivity(1, "rare"),
    "seasons": PARENT.seasons[:2],
    "life stages": PARENT.stages[:1],
    "photos": ("parent-nymph",),
    "hazards": Stated((), said=True),
    "law": (LawNote(Inline("not to be caught"), dt.date(2026, 3, 1)),),
    "sources": (),
    "reviewed": Review("Bo Example", dt.date(2026, 5, 9)),
    "posted": None,
    "to post": dt.date(2026, 6, 24),
    "silence": (Silenced("no-size", "it shrinks"),),
}
"""Another value of each field that is not a text in the author's words."""


def changed(field: Field) -> Account:
    """The account with another value of one field."""
    if field in SECTIONS:
        return replace(BASE, sections=tuple(replace(s, text="Another text.") if s.heading == field.key else s for s in BASE.sections))
    value = Inline("another text") if field.inline else CHANGED[field.key]
    assert value != getattr(BASE, field.attribute)
    return replace(BASE, **{field.attribute: value})


SETS = ("due", "parent-bug", "birch-shieldbug--parent-bug")
NO_WALK = TODAY + dt.timedelta(weeks=1)
"""A day on which no walk is at hand, whose species would go before all others."""
FILES = {photo: MediaFile(f"photos/{photo}-720.jpg", "image/jpeg") for photo in GUIDE.photos}


def shown_of(account: Account) -> dict[OutputName, str]:
    """All that is shown, output by output, as one text each."""
    guide = make_published(replace(GUIDE, accounts={**GUIDE.accounts, "parent-bug": account}))
    return {
        OutputName.SITE: repr(list(site_pages(guide, TODAY))),
        OutputName.CARDS: repr(card_views(guide)),
        OutputName.SCRIPTS: repr((list(make_script_views(guide)), tell_facts(guide, guide.accounts["parent-bug"]))),
        OutputName.POSTS: repr((list(post_views(guide)), week_plan(guide, TODAY))),
        OutputName.SLIDES: repr(
            [choose_sets(replace(guide, settings=replace(guide.settings, slides=SETS)), day) for day in (TODAY, NO_WALK)]
        ),
        OutputName.WALKS: repr(walk_pack_views(guide)),
        OutputName.DATA: repr((list(checklist_rows(guide)), taxa_archive(guide, FILES), sightings_archive(guide))),
    }


def test_a_checklist_shows_words_without_italics_and_keeps_figures() -> None:
    told = Inline("*Aus niger* 2*3*4 mm")
    account = replace(GUIDE.accounts["parent-bug"], status=told, prey=told, habitat=(told,))
    rows = checklist_rows(make_published(replace(GUIDE, accounts={"parent-bug": account})))
    (row,) = (dict(zip(COLUMNS, cells, strict=True)) for cells in rows)
    assert [row[column] for column in ("status", "prey", "habitat")] == ["Aus niger 2*3*4 mm"] * 3


@cache
def shown_before() -> dict[OutputName, str]:
    return shown_of(BASE)


@pytest.mark.parametrize("field", (*ACCOUNT_FIELDS, *SECTIONS), ids=lambda field: field.key)
def test_a_field_changes_the_outputs_that_it_declares_and_no_others(field: Field) -> None:
    before, after = shown_before(), shown_of(changed(field))
    assert {output for output in before if before[output] != after[output]} == set(field.outputs)


def test_the_columns_of_the_checklist_are_fields_that_data_shows() -> None:
    by_key = {field.key: field for field in ACCOUNT_FIELDS}
    assert all(OutputName.DATA in by_key[key].outputs for key in COLUMNS.values())
    assert "voice" not in COLUMNS.values()


def test_fields_name_the_outputs_by_the_names_that_make_takes() -> None:
    assert [output.value for output in OutputName] == [output.name for output in OUTPUTS]
