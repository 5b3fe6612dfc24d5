"""A small invented guide built in code: two look-alikes, a plant, places (one secret), terms, a source, a walk."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.guide.accounts import Account, FieldMark, HostUse, Review, SimilarSpecies, StageSeason, StageText, Stated, Translation
from guidebuild.guide.characters import Character, CharacterKind, Ease, Score, State
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Caution, Guide, Licence, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import Photo, Place, Plant, Position, Section, Sensitivity, Source, Stop, Term, Walk
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import Inline

TODAY = dt.date(2026, 6, 15)


def season(first: int, last: int, *most: int) -> Season:
    """A season from dekad to dekad, both counted from 0."""
    return Season("", frozenset(d % 36 for d in range(first, last + 1)), frozenset(most))


SIZE = Measure("6–9 mm", 6, 9, what="body length")

PARENT = Account(
    id="parent-bug",
    name=ScientificName("Elasmucha grisea", "Elasmucha", "grisea", authority="(Linnaeus, 1758)"),
    vernacular="Parent Bug",
    at=At("accounts/parent-bug.md"),
    synonyms=(ScientificName("Cimex griseus", "Cimex", "griseus"),),
    formerly=("mothering-bug",),
    say="el-az-MOO-ka GRIZ-ee-a",
    family="Acanthosomatidae",
    group="true-bug",
    size=SIZE,
    status=Inline("common"),
    diagnostics=(
        FieldMark(Inline("dark spot on the scutellum"), stages=("adult",), view="upperside", photo="parent-adult", point=(52, 38)),
        FieldMark(Inline("banded connexivum"), stages=("adult",), view="upperside", photo="parent-adult", point=(30, 62)),
        FieldMark(Inline("guards its young"), stages=("adult",), sexes=("female",)),
    ),
    scores=(Score("scutellum", states=frozenset({"spotted"})), Score("body-length", measure=SIZE)),
    similar=Stated(
        (SimilarSpecies("birch-bug", ("scutellum", "body-length"), Inline("The Birch Bug is longer; its scutellum has no spot.")),),
        said=True,
    ),
    host_plants=Stated((HostUse("silver-birch", Inline("catkins and leaves"), Inline("food of nymph and adult")),), said=True),
    habitat=(Inline("woodland edge"), Inline("park")),
    places=("long-hedge", "secret-ride"),
    seasons=(
        StageSeason("egg", season(15, 17)),
        StageSeason("nymph", season(16, 23)),
        StageSeason("adult", season(0, 35, 13, 14, 15, 16)),
    ),
    stages=(
        StageText("egg", Inline("A batch under a leaf, guarded by the female.")),
        StageText("nymph", Inline("Stays with its mother at first.[^1]\n\n[^1]: Up to the second instar.")),
    ),
    photos=("parent-adult", "parent-nymph"),
    hazards=Stated(("stink",), said=True),
    sources=("handbook",),
    reviewed=Review("Ada Example", dt.date(2026, 5, 2)),
    posted=dt.date(2026, 5, 1),
    sections=(
        Section("In brief", "The female of this *bug* stands over her eggs[^1], <c. 5 mm across."),
        Section(
            "How to know it",
            "See the [scutellum](term:scutellum) and the [Birch Bug](account:birch-bug); not [that](account:nobody).\n\n[^1]: Seen often.",
        ),
        Section("In the field", "![The young](photo:parent-nymph)\n\nOn [birch](plant:silver-birch) at [the hedge](place:long-hedge)."),
    ),
    translations=(
        Translation(
            "es",
            vernacular="Chinche madre",
            marks=(Inline("mancha oscura en el escutelo"), Inline("conexivo con bandas"), Inline("cuida de sus crías")),
            similar_notes=(("birch-bug", Inline("Más larga; sin mancha.")),),
            sections=(Section("En breve", "La hembra cuida los huevos."),),
        ),
    ),
)

BIRCH = Account(
    id="birch-bug",
    name=ScientificName("Elasmostethus interstinctus", "Elasmostethus", "interstinctus", authority="(Linnaeus, 1758)"),
    vernacular="Birch Bug",
    at=At("accounts/birch-bug.md"),
    family="Acanthosomatidae",
    group="true-bug",
    size=Measure("8–11.5 mm", 8, 11.5),
    diagnostics=(FieldMark(Inline("no spot on the scutellum"), photo="birch-adult", point=(50, 40)),),
    scores=(Score("scutellum", states=frozenset({"plain"})), Score("body-length", measure=Measure("8–11.5 mm", 8, 11.5))),
    similar=Stated((SimilarSpecies("parent-bug", ("scutellum",), Inline("The Parent Bug is smaller and has a spot.")),), said=True),
    host_plants=Stated((HostUse("silver-birch", Inline("catkins")),), said=True),
    habitat=(Inline("woodland edge"),),
    seasons=(StageSeason("adult", season(9, 30, 13)),),
    photos=("birch-adult",),
    sensitivity=Sensitivity(2, "Collected for sale."),
    places=("long-hedge",),
    posted=dt.date(2026, 4, 1),
)


def _photo(photo_id: str, account: str, stage: str, **more: object) -> Photo:
    photo = Photo(
        photo_id,
        f"photos/{photo_id}.jpg",
        account=account,
        stage=stage,
        credit="Bo Example",
        licence="CC-BY-4.0",
        alt=Inline(f"A {stage} on a birch leaf"),
    )
    return replace(photo, **more)  # type: ignore[arg-type]


GUIDE = Guide(
    settings=Settings(
        title="Bugs of Example Hedge",
        region="Example Vale",
        description="An invented guide for tests.",
        languages=("en", "es"),
        address="https://bugs.example/guide",
        publisher="Example Group",
        licence="CC-BY-4.0",
        group="true-bug",
    ),
    accounts={a.id: a for a in (PARENT, BIRCH)},
    plants={
        "silver-birch": Plant(
            "silver-birch",
            "Silver Birch",
            ScientificName("Betula pendula", "Betula", "pendula"),
            note=Inline("A pale tree."),
            hazards=("pollen",),
        )
    },
    places={
        "long-hedge": Place(
            "long-hedge", "The Long Hedge", "Example Vale", (Inline("hedge"),), access=Inline("Public path."), plants=("silver-birch",)
        ),
        "secret-ride": Place(
            "secret-ride", "Hidden Ride", "north of the vale", position=Position(51.1, -1.3), sensitivity=Sensitivity(2, "rare")
        ),
    },
    characters={
        "scutellum": Character(
            "scutellum",
            "scutellum",
            CharacterKind.STATES,
            (State("spotted", "a dark spot on it"), State("plain", "no spot")),
            question="Is there a spot?",
        ),
        "body-length": Character("body-length", "body length", CharacterKind.RANGE, unit="mm", margin=0.5, ease=Ease.IN_THE_HAND),
    },
    terms={"scutellum": Term("scutellum", "scutellum", Inline("The triangle between the wings."), also=("shield",))},
    sources={
        "handbook": Source(
            "handbook", "Example, A. (1959) Handbook.", address="https://library.example/handbook", accessed=dt.date(2026, 1, 2)
        )
    },
    photos={
        "parent-adult": _photo("parent-adult", "parent-bug", "adult", length=Measure("8 mm", 8, 8), measured=(50.0, 10.0, 50.0, 90.0)),
        "parent-nymph": _photo("parent-nymph", "parent-bug", "nymph"),
        "birch-adult": _photo("birch-adult", "birch-bug", "adult"),
    },
    walks={
        "june": Walk(
            "june",
            "A June walk",
            dt.date(2026, 6, 20),
            dt.time(14, 0),
            "Europe/London",
            "The gate",
            stops=(Stop("long-hedge", 20, 100, Inline("Look at *leaves*.")), Stop("secret-ride")),
        )
    },
    stage_sets={
        "true-bug": StageSet("true-bug", "True bugs", (("egg", "egg"), ("nymph", "nymph"), ("adult", "adult")), ("nymph", "adult"))
    },
    cautions={
        "stink": Caution("stink", "Smell", "It can squirt a smelly fluid.", "Look, do not handle."),
        "pollen": Caution("pollen", "Pollen", "May bring on hay fever."),
    },
    licences={"CC-BY-4.0": Licence("CC-BY-4.0", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/")},
)
