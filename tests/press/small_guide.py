"""An invented guide made in code, small enough to know by heart, and drawn pictures for it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from PIL import Image, ImageDraw

from guidebuild.guide.accounts import Account, FieldMark, HostUse, Review, SimilarSpecies, StageSeason, StageText, Stated
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Caution, Guide, Licence, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import Photo, Plant, Section, Stop, Walk
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import Inline
from guidebuild.press.photos.print_copy import Picture
from guidebuild.shipped import on_disk, themes

THEME = (on_disk(themes()) / "plate",)
WALK = Walk(
    id="june",
    title="A walk in June",
    date=dt.date(2026, 6, 20),
    start=dt.time(18, 30),
    zone="Europe/London",
    meet="the stile",
    stops=(Stop("hedge", 20, 100, Inline("Look under the leaves.")),),
    leader="A. Leader",
    bring=("hand lens",),
    hazards=("ticks",),
)


def dekads(*spans: tuple[int, int]) -> frozenset[int]:
    return frozenset(d for first, last in spans for d in range(first, last + 1))


def account(ident: str, vernacular: str, genus: str, epithet: str, **changes: object) -> Account:
    """An account with everything that a card can show."""
    at = At(f"accounts/{ident}.md", 1)
    plain = Account(
        id=ident,
        name=ScientificName(f"{genus} {epithet}", genus, epithet, authority="(Linnaeus, 1758)"),
        vernacular=vernacular,
        at=at,
        family="Acanthosomatidae",
        size=Measure("6–9 mm", 6, 9, "mm", "body length"),
        status=Inline("common"),
        diagnostics=(
            FieldMark(Inline("dark spot on the scutellum"), stages=("adult",), photo="plate", point=(52, 38)),
            FieldMark(Inline("black and white chequered edge to the abdomen"), stages=("adult",), photo="plate", point=(74, 60)),
            FieldMark(Inline("shoulders rounded, not drawn out to a point"), stages=("adult",), photo="plate", point=(28, 27)),
        ),
        similar=Stated(
            (
                SimilarSpecies("birch", note=Inline("Longer, and its scutellum has no dark spot.")),
                SimilarSpecies("juniper", note=Inline("Green all over, with a red boomerang on each side.")),
            ),
            said=True,
        ),
        host_plants=Stated(
            (HostUse("silver-birch", Inline("catkins and leaves"), Inline("food")), HostUse("alder", Inline("leaves"), Inline("food"))),
            said=True,
        ),
        habitat=(Inline("woodland edge"), Inline("park"), Inline("old hedge")),
        seasons=(
            StageSeason("egg", Season("June", dekads((15, 17)), dekads((15, 16)))),
            StageSeason("nymph", Season("mid June – August", dekads((16, 23)), dekads((18, 21)))),
            StageSeason("adult", Season("all year", dekads((0, 35)), dekads((12, 17), (21, 26)))),
        ),
        stages=(
            StageText("egg", Inline("A batch of thirty to forty under a leaf, guarded by the female.")),
            StageText("nymph", Inline("Yellow and green, in a crowd with the female at first.")),
            StageText("adult", Inline("Reddish brown to olive; hibernates in leaf litter.")),
        ),
        photos=("plate",),
        hazards=Stated((), said=True),
        reviewed=Review("A. Reader", dt.date(2026, 5, 2)),
        sections=(Section("Where to look", "Turn birch leaves at eye level along the sunny side. Look for a female that does not run."),),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def guide(*accounts: Account, **settings: object) -> Guide:
    """A guide of the given accounts (by default three look-alikes)."""
    chosen = accounts or (
        account("parent", "Parent Bug", "Elasmucha", "grisea"),
        account("birch", "Birch Shieldbug", "Elasmostethus", "interstinctus", similar=Stated((SimilarSpecies("parent"),), said=True)),
        account("juniper", "Juniper Shieldbug", "Cyphostethus", "tristriatus", similar=Stated((SimilarSpecies("birch"),), said=True)),
    )
    at = At("photos.yaml", 1)
    photo = Photo(
        "plate",
        "photos/plate.jpg",
        account="parent",
        stage="adult",
        alt=Inline("An oval brown bug from above with a dark spot in its middle."),
        credit="Drawn by the tests",
        licence="CC0-1.0",
        length=Measure("8 mm", 8, 8),
        measured=(50, 12, 50, 88),
        at=at,
    )
    return Guide(
        settings=replace(
            Settings("Bugs of an Invented Hedge", group="true-bug", address="https://hedge.example/guide", publisher="Hedge Group"),
            **settings,  # type: ignore[arg-type]
        ),
        accounts={a.id: a for a in chosen},
        plants={
            "silver-birch": Plant("silver-birch", "Silver Birch", ScientificName("Betula pendula", "Betula", "pendula")),
            "alder": Plant("alder", "Alder", ScientificName("Alnus glutinosa", "Alnus", "glutinosa")),
        },
        photos={"plate": photo},
        stage_sets={"true-bug": StageSet("true-bug", "True bugs", (("egg", "egg"), ("nymph", "nymph"), ("adult", "adult")))},
        cautions={
            "ticks": Caution(
                "ticks",
                "Ticks",
                "Walk in the middle of the path and look yourself over at home.",
                "Follow the advice of your health service.",
            )
        },
        licences={"CC0-1.0": Licence("CC0-1.0", "CC0 1.0")},
    )


def drawn_picture(folder: Path, *, size: tuple[int, int] = (1200, 1000), name: str = "plate.jpg") -> Picture:
    """A bug of a kind, drawn large."""
    wide, high = size
    picture = Image.new("RGB", size, "#e4ebe1")
    draw = ImageDraw.Draw(picture)
    draw.ellipse((wide * 0.25, high * 0.12, wide * 0.75, high * 0.88), fill="#8a5a3c", outline="#4a2f1e", width=6)
    draw.ellipse((wide * 0.47, high * 0.33, wide * 0.57, high * 0.43), fill="#20150d")
    path = folder / name
    picture.save(path, quality=88)
    return Picture(path, wide, high)
