"""A poacher with every make of two years: what each way to reckon gains over the cell that is told. All worlds are invented.

Each attack guesses where the rare species lives. It is measured on what is published now, and on what would be told by exact days,
the place's own uncertainty and counts, so that the attack is known to bite. `python -m tests.fieldwork.test_attacker` prints the table.
"""

from __future__ import annotations

import datetime as dt
import math
import random
import statistics
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.secrecy import step_metres
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Position, Sensitivity
from guidebuild.guide.sightings import Tally
from guidebuild.press.data_tables import archive_file
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.outdoors.phenology_table import phenology_rows
from tests.fieldwork.invented import PARENT, RARE, guide, records_of, tally

Spot = tuple[float, float]
CENTRE = (51.1, -1.3)
WORLDS = 60
RARE_BUG = replace(RARE, places=("hidden",), absent_from=())


@dataclass(frozen=True)
class Row:
    """A row as a reader has it, `day` as exactly as it is told."""

    ident: str
    species: str
    day: str
    spot: Spot
    metres: float
    remark: str


@dataclass(frozen=True)
class World:
    """A cell of 0.1° with places that all know, one that is secret, and two years of walks that take in several of them."""

    guide: Guide
    hidden: Position
    names: dict[str, Spot]
    extents: dict[Spot, float]


def make_world(seed: int) -> World:
    dice = random.Random(seed)

    def spot() -> Spot:
        return CENTRE[0] + dice.uniform(-0.049, 0.049), CENTRE[1] + dice.uniform(-0.049, 0.049)

    names = {f"open-{n}": spot() for n in range(8)}
    extents = {spot(): dice.uniform(20, 1000) for _ in range(40)}  # what a gazetteer knows
    hidden = Position(*dice.choice(list(extents)), uncertainty=None)
    hidden = replace(hidden, uncertainty=extents[hidden.latitude, hidden.longitude])
    places = {key: Place(key, key.title(), "Larkfold Vale", position=Position(*at, 50)) for key, at in names.items()}
    secret = Place("hidden", "Otter Holt", "Larkfold Vale", position=hidden, sensitivity=Sensitivity(2))
    seen = list(_walks(dice, names, (hidden.latitude, hidden.longitude)))
    made = guide(PARENT, RARE_BUG, places={**places, "hidden": secret}, sightings=_tallies(seen), walks={})
    return World(made, hidden, names, extents)


def _walks(dice: random.Random, names: dict[str, Spot], hidden: Spot) -> Iterator[tuple[str, str, dt.date]]:
    """Each walk goes to the two open places that are nearest to where it begins; one in six begins at the secret place."""
    for day in range(0, 730, 7):
        when = dt.date(2024, 1, 3) + dt.timedelta(days=day)
        secret = dice.random() < 1 / 6
        start = hidden if secret else dice.choice(list(names.values()))
        for place in sorted(names, key=lambda key: distance(names[key], start))[:2]:
            yield "parent-bug", place, when
        if secret:
            yield "rare-bug", "hidden", when


def _tallies(seen: list[tuple[str, str, dt.date]]) -> tuple[Tally, ...]:
    """A walk's count is that of its party's records: the same at each place, and seldom the same on another day."""
    keys = sorted({(species, place) for species, place, _ in seen})
    counts = {key: {day.isoformat(): 1 + day.toordinal() % 41 for *on, day in seen if tuple(on) == key} for key in keys}
    return tuple(tally(species, "adult", place, counts[species, place]) for species, place in keys)


def distance(one: Spot, other: Spot) -> float:
    north, east = one[0] - other[0], (one[1] - other[1]) * math.cos(math.radians(CENTRE[0]))
    return math.hypot(north, east) * 111.2


def published_rows(world: World) -> list[Row]:
    core = sightings_archive(make_published(replace(world.guide, records=records_of(world.guide)))).core
    wanted = (
        "occurrenceID",
        "taxonID",
        "eventDate",
        "decimalLatitude",
        "decimalLongitude",
        "coordinateUncertaintyInMeters",
        "individualCount",
    )
    at = [core.columns.index(name) for name in wanted]
    cells = [[row[n] for n in at] for row in core.rows]
    return [
        Row(i, species, day, (float(lat), float(lon)), float(metres or 0), remark) for i, species, day, lat, lon, metres, remark in cells
    ]


def careless_rows(world: World) -> list[Row]:
    """The same rows with only the coordinates rounded: exact days, counts, the place's own uncertainty, ids of days, the order of walks."""
    told, made = [], []
    for seen in world.guide.sightings:
        for day, count in zip(seen.days, seen.counts, strict=True):
            made.append((dt.date.fromordinal(day).isoformat(), seen, count))
    for day, seen, count in sorted(made, key=lambda one: (one[0], one[1].place)):
        secret = seen.account == "rare-bug"
        spot = CENTRE if secret else world.names[seen.place]
        metres = step_metres(CENTRE[0], 0.1) + (world.hidden.uncertainty or 0) if secret else 50.0
        told.append(Row(f"{seen.account}:{day}", seen.account, day, spot, metres, f"{count} records"))
    return told


def mean(spots: list[Spot]) -> Spot:
    return (statistics.fmean(s[0] for s in spots), statistics.fmean(s[1] for s in spots)) if spots else CENTRE


def rare(rows: list[Row]) -> list[Row]:
    return [row for row in rows if row.species == "rare-bug"]


def by_subtraction(rows: list[Row], world: World) -> Spot:
    own = {row.metres - step_metres(CENTRE[0], 0.1) for row in rare(rows)}
    fitting = [spot for spot, extent in world.extents.items() if any(abs(extent - metres) < 1 for metres in own)]
    return mean(fitting)


def _beside(rows: list[Row], same: Callable[[Row, Row], bool]) -> Spot:
    return mean([row.spot for secret in rare(rows) for row in rows if row.species != "rare-bug" and same(secret, row)])


def by_day(rows: list[Row], world: World) -> Spot:
    return _beside(rows, lambda secret, row: bool(secret.day) and row.day.startswith(secret.day))


def by_observer(rows: list[Row], world: World) -> Spot:
    """One observer saw all: the walk goes on from the rows within a day, as far as days are told."""

    def near(secret: Row, row: Row) -> bool:
        if len(secret.day) < len(row.day):
            return bool(secret.day) and row.day.startswith(secret.day)
        return abs((dt.date.fromisoformat(secret.day) - dt.date.fromisoformat(row.day)).days) <= 1

    return _beside(rows, near)


def by_averaging(rows: list[Row], world: World) -> Spot:
    return mean([row.spot for row in rare(rows)])


def by_absence(rows: list[Row], world: World) -> Spot:
    """Away from every open place on whose days nothing rare was told."""
    days = {row.day for row in rare(rows)}
    left = [row.spot for row in rows if row.species != "rare-bug" and any(day and row.day.startswith(day) for day in days)]
    without = {row.spot for row in rows if row.species != "rare-bug"} - set(left)
    grid = [(CENTRE[0] + n / 200, CENTRE[1] + e / 200) for n in range(-9, 10) for e in range(-9, 10)]
    return mean([cell for cell in grid if all(distance(cell, spot) > 1.5 for spot in without)])


def by_square(rows: list[Row], world: World) -> Spot:
    """The middle of all squares that the rows are drawn in."""
    return mean(sorted({(round(row.spot[0], 1), round(row.spot[1], 1)) for row in rare(rows)}))


def by_count(rows: list[Row], world: World) -> Spot:
    return _beside(rows, lambda secret, row: bool(secret.remark) and secret.remark == row.remark)


def by_order(rows: list[Row], world: World) -> Spot:
    """What stands beside it in the file."""
    beside = [b if a.species == "rare-bug" else a for a, b in pairwise(rows) if (a.species == "rare-bug") != (b.species == "rare-bug")]
    return mean([row.spot for row in beside]) if len(beside) > 1 else CENTRE


def by_id(rows: list[Row], world: World) -> Spot:
    return _beside(rows, lambda secret, row: secret.ident.rpartition(":")[2] == row.ident.rpartition(":")[2])


ATTACKS = {
    "subtracting the cell from the uncertainty": by_subtraction,
    "linking by day": by_day,
    "linking by observer, days before and after": by_observer,
    "averaging over all makes": by_averaging,
    "absence: where nothing rare was told": by_absence,
    "map square": by_square,
    "linking by count": by_count,
    "order of rows": by_order,
    "ids of rows": by_id,
}


def by_open_rows(rows: list[Row]) -> Spot:
    """Without a word of the rare species: the middle of where one was seen to go."""
    return mean([row.spot for row in rows if row.species != "rare-bug"])


def measure(worlds: int = WORLDS) -> dict[str, tuple[float, float, float]]:
    """Mean error in kilometres by attack: on careless rows, on what is published, and without any row of the rare species.

    The last is the better of the middle of the cell and of the open rows: what a poacher has before reading of the rare species.
    """
    errors: dict[str, list[tuple[float, float, float, float]]] = {name: [] for name in ATTACKS}
    for seed in range(worlds):
        world = make_world(seed)
        told, careless = published_rows(world), careless_rows(world)
        true = (world.hidden.latitude, world.hidden.longitude)
        known = distance(CENTRE, true), distance(by_open_rows(told), true)
        for name, attack in ATTACKS.items():
            errors[name].append((distance(attack(careless, world), true), distance(attack(told, world), true), *known))
    means = {name: [statistics.fmean(column) for column in zip(*found, strict=True)] for name, found in errors.items()}
    return {name: (careless, now, min(cell, open_rows)) for name, (careless, now, cell, open_rows) in means.items()}


def test_no_attack_gains_over_the_cell() -> None:
    for name, (careless, now, before) in measure().items():
        assert now >= before * 0.98, name
        if name not in {"averaging over all makes", "map square"}:  # rounding alone stands against these
            assert careless < before * 0.98, f"{name} would not find it even by careless rows: it is no test"


def published_bytes(made: Guide) -> tuple[bytes, tuple[tuple[str, ...], ...]]:
    told = make_published(replace(made, records=records_of(made)))
    return archive_file(sightings_archive(told)), tuple(phenology_rows(told))


@given(
    st.floats(-0.0499, 0.0499), st.floats(-0.0499, 0.0499), st.one_of(st.none(), st.floats(1, 1500)),
    st.integers(1, 9), st.sampled_from(("aaa", "hidden", "zzz")), st.booleans(),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_whatever_the_hidden_place_is_the_same_bytes_are_published(
    north: float, east: float, metres: float | None, count: int, key: str, back: bool
) -> None:
    """Its spot in the cell, how far it reaches, its id and name, counts, and the order of the author's rows: none of it is told."""
    world = make_world(1)
    places = {**world.guide.places}
    secret = places.pop("hidden")
    moved = replace(secret, id=key, name=f"Place {key}", position=Position(CENTRE[0] + north, CENTRE[1] + east, metres))
    rows = [
        replace(one, place=key, counts=(count,) * len(one.counts)) if one.place == "hidden" else one
        for one in (reversed(world.guide.sightings) if back else world.guide.sightings)
    ]
    rows = [one for one in rows if one.place == key] + sorted((one for one in rows if one.place != key), key=lambda one: one.place)
    account = replace(RARE_BUG, places=(key,))
    other = replace(
        world.guide, places={key: moved, **places}, sightings=tuple(rows), accounts={**world.guide.accounts, "rare-bug": account}
    )
    assert published_bytes(other) == published_bytes(world.guide)


@given(st.sets(st.integers(0, 700), min_size=1, max_size=6), st.sets(st.integers(0, 700), max_size=12))
@settings(max_examples=60, deadline=None)
def test_days_at_open_places_are_never_told_with_the_secret_one(hidden: set[int], shown: set[int]) -> None:
    """Wherever the month or year is told, the same open places were looked at then as ever, or none."""
    world = make_world(2)

    def days(numbers: set[int]) -> dict[str, int]:
        return {(dt.date(2024, 1, 3) + dt.timedelta(days=n)).isoformat(): 1 for n in numbers}

    seen = [tally("rare-bug", "adult", "hidden", days(hidden))]
    by_place = {f"open-{n}": {day for day in shown if day % 3 == n} for n in range(3)}
    seen += [tally("parent-bug", "adult", place, days(numbers)) for place, numbers in by_place.items() if numbers]
    told = published_rows(replace(world, guide=replace(world.guide, sightings=tuple(seen))))
    always = {row.spot for row in told if row.species == "parent-bug"}
    for row in rare(told):
        then = {other.spot for other in told if other.species == "parent-bug" and other.day.startswith(row.day)}
        assert len(row.day) <= 7
        assert then in (set(), always)


def test_no_row_of_a_secret_place_tells_who_saw_it() -> None:
    core = sightings_archive(make_published(make_world(3).guide)).core
    for column in {"recordedBy", "identifiedBy", "individualCount", "recordNumber", "eventID"} & set(core.columns):
        at = core.columns.index(column)
        assert not [row for row in core.rows if row[1] == "rare-bug" and row[at]]


if __name__ == "__main__":
    print("| attack | rounded only | published | known without it |\n|---|--:|--:|--:|")
    for attack_name, (without, now_published, middle) in measure(300).items():
        print(f"| {attack_name} | {without:.2f} km | {now_published:.2f} km | {middle:.2f} km |")
