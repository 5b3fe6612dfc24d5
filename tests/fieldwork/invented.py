"""An invented guide small enough to reason about: three bugs, three places (one kept secret), one walk."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import Account, HostUse, SimilarSpecies, StageSeason, Stated
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Caution, Guide, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import Photo, Place, Plant, Position, Sensitivity, Stop, Walk
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.guide.sighting_records import CARRIED, SightingRecord
from guidebuild.guide.sightings import Tally
from guidebuild.guide.text.inline import Inline


def season(text: str) -> Season:
    """A season that can be read."""
    found = parse_season(text, "north")
    assert isinstance(found, Season), found
    return found


def account(id_: str, name: str, vernacular: str, seasons: Mapping[str, str], **more: object) -> Account:
    """An account with region-wide seasons."""
    file = f"accounts/{id_}.md"
    genus, epithet = name.split()
    stated = tuple(StageSeason(stage, season(text), at=At(file, 10 + n)) for n, (stage, text) in enumerate(seasons.items()))
    return replace(Account(id_, ScientificName(name, genus, epithet), vernacular, At(file, 1), seasons=stated), **more)  # type: ignore[arg-type]


def tally(account_id: str, stage: str, place: str, days: Mapping[str, int], **more: object) -> Tally:
    """A tally from ISO days; rows are numbered from 2."""
    dates = sorted((dt.date.fromisoformat(day).toordinal(), rows) for day, rows in days.items())
    made = Tally(account_id, stage, place, tuple(d for d, _ in dates), tuple(n for _, n in dates),
                 first_rows=tuple(range(2, 2 + len(dates))), files=("sightings/all.csv",) * len(dates))  # fmt: skip
    return replace(made, **more)  # type: ignore[arg-type]


def record(account_id: str, day: str, place: str = "", stage: str = "adult", **more: object) -> SightingRecord:
    """A row of one day; more are its fields, or cells by their term."""
    cells = tuple(str(more.pop(term, "")) for term in CARRIED)
    made = SightingRecord(account_id, stage, place, "sightings/all.csv", day, dt.date.fromisoformat(day).toordinal(), cells)
    return replace(made, **more)  # type: ignore[arg-type]


def records_of(made: Guide) -> tuple[SightingRecord, ...]:
    """A row for each day of each tally, with as many individuals as rows were counted."""
    return tuple(
        record(seen.account, dt.date.fromordinal(day).isoformat(), seen.place, seen.stage, individualCount=rows)
        for seen in made.sightings
        for day, rows in zip(seen.days, seen.counts, strict=True)
    )


STAGES = StageSet(
    "true-bug", "True bugs", (("egg", "egg"), ("nymph", "nymph"), ("adult", "adult")), ("nymph", "adult"), kingdom="Animalia", pots=True
)
PARENT = account(
    "parent-bug", "Elasmucha grisea", "Parent Bug", {"nymph": "mid June – August", "adult": "all year; most seen May–June"},
    synonyms=(ScientificName("Elasmucha betulae", "Elasmucha", "betulae"),),
    habitat=(Inline("woodland edge"),), places=("north-hedge",), host_plants=Stated((HostUse("birch", Inline("catkins")),), said=True),
    similar=Stated((SimilarSpecies("birch-bug", note=Inline("The Birch Bug is longer.")),), said=True), photos=("parent-adult",),
)  # fmt: skip
BIRCH = account(
    "birch-bug", "Elasmostethus interstinctus", "Birch Bug", {"nymph": "July – August", "adult": "April – October"},
    habitat=(Inline("woodland edge"),), host_plants=Stated((HostUse("birch"),), said=True), hazards=Stated(("stain",), said=True),
)  # fmt: skip
RARE = account(
    "rare-bug", "Inventus rarus", "Rare Bug", {"adult": "June – July", "egg": "none"},
    places=("weir-pool",), absent_from=("north-hedge",), sensitivity=Sensitivity(2, "collecting", dt.date(2028, 1, 1)),
)  # fmt: skip
PLACES = {
    "north-hedge": Place("north-hedge", "North Hedge", "Larkfold Vale", (Inline("woodland edge"),), Position(51.1034, -1.3121, 100),
                         plants=("birch",), hazards=("ticks",)),
    "meadow": Place("meadow", "Long Meadow", "Larkfold Vale", (Inline("meadow"),), Position(51.1112, -1.3311, 100)),
    "weir-pool": Place("weir-pool", "Weir Pool", "Upper Larkfold", (Inline("marsh"),), Position(51.1278, -1.2846, 50),
                       sensitivity=Sensitivity(3, "nesting")),
}  # fmt: skip
CAUTIONS = {
    "ticks": Caution("ticks", "Ticks", "Check your skin and clothes after the walk."),
    "stain": Caution("stain", "Staining defence", "It stains and smells; wash your hands."),
    "road": Caution("road", "Road walking", "Face the traffic."),
}
WALK = Walk(
    "june-walk", "A June evening on the hedge", dt.date(2026, 6, 20), dt.time(18, 30), "Europe/London", "the lay-by",
    stops=(Stop("north-hedge", 30, 0), Stop("meadow", 20, 400)), leader="A. Leader", minutes=90, bring=("notebook",), hazards=("road",),
    at=At("walks/june-walk.yaml", 1),
)  # fmt: skip
SETTINGS = Settings(
    "Bugs of the Vale", region="Larkfold Vale", group="true-bug", hemisphere="north", zone="Europe/London",
    address="https://larkfold.example/guide", region_box=(51.0, -1.5, 51.2, -1.2), date_order="",
)  # fmt: skip


PHOTO = Photo("parent-adult", "photos/p.jpg", account="parent-bug", stage="adult", credit="Bo Example", licence="CC0-1.0")


def guide(*accounts: Account, **more: object) -> Guide:
    """The invented guide; other accounts or fields where given."""
    held = accounts or (PARENT, BIRCH, RARE)
    made = Guide(
        SETTINGS, accounts={a.id: a for a in held}, plants={"birch": Plant("birch", "Silver Birch", hazards=())}, places=PLACES,
        walks={"june-walk": WALK}, stage_sets={"true-bug": STAGES}, cautions=CAUTIONS,
        photos={"parent-adult": PHOTO},
        as_of=dt.date(2026, 6, 20),
    )  # fmt: skip
    given = replace(made, **more)  # type: ignore[arg-type]
    return given if given.records else replace(given, records=records_of(given))


def published(*accounts: Account, **more: object) -> Published:
    """The invented guide as its readers get it."""
    return make_published(guide(*accounts, **more))
