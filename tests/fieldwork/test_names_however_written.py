"""Names of secret places are found however they are written. All names are invented."""

from __future__ import annotations

import time
from collections import Counter
from dataclasses import replace

import pytest

from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.fieldwork.name_finder import make_finder
from tests.fieldwork.invented import PLACES, guide
from tests.fieldwork.writings import write_name

NAMES = (
    "Withy Corner",
    "Weir Pool",
    "Sally’s Bank",
    "Otter Holt & Weir",
    "Hollin (north bank)",
    "Brackenwick – Old Quarry",
    "The “Long” Hedge",
    "Plot #7 Fallow Lea",
    "Drove [east]; Mill Lode",
    "Sant·Llorenç",
    "Müllers Große Wiese",
    "İncirli Dere",
    "Σπηλιά του Νίκος",
    "Ærø Østmose",
    "Étang de l’Île",
    "Łąka Źródlana",
    "Чёрный Пруд",
    "Brackenwick",
)
WITHOUT_BORDERS = ("สระน้ำเวียร์", "ບຶງນ້ຳໃສ", "បឹងទឹកថ្លា", "柳の角の池", "垂柳湾湿地", "버드나무 연못", "בריכת הסכר", "بركة السد", "नीम का तालाब")


def find_missed(name: str) -> tuple[list[str], int]:
    secrets = secrets_of(guide(places={"x": replace(PLACES["weir-pool"], id="x", name=name)}))
    ways = dict(write_name(name))
    return [how for how, written in ways.items() if not list(leaks_in(f"At {written} now", secrets))], len(ways)


def test_at_least_99_of_100_ways_to_write_a_name_are_found() -> None:
    missed: Counter[str] = Counter()
    tried = 0
    for name in NAMES + WITHOUT_BORDERS:
        not_found, ways = find_missed(name)
        missed.update(not_found)
        tried += ways
    print(tried, missed)
    assert tried > 3000
    assert missed.total() <= tried / 100, missed


@pytest.mark.parametrize("name", [name for name in NAMES if " " in name])
def test_each_name_is_written_in_two_hundred_ways_and_nearly_all_are_found(name: str) -> None:
    not_found, ways = find_missed(name)
    assert ways >= 200
    assert len(not_found) <= ways / 50, not_found


def test_fifty_names_are_looked_for_in_the_time_of_one() -> None:
    text = "<p>At the ford we met a hundred people, all of <b>them</b> with nets — and none with a boat.</p>\n" * 3000

    def seconds(names: int) -> float:
        finder = make_finder(
            tuple((n, f"{chr(97 + n % 26)}ithy{chr(97 + n // 26)} {['hollow', 'bank', 'mill', 'fen'][n % 4]}") for n in range(names))
        )
        taken = []
        for _ in range(7):
            start = time.process_time()
            assert not finder.search(text)
            taken.append(time.process_time() - start)
        return min(taken)

    assert seconds(50) <= 1.5 * seconds(1)  # 1.1 on a quiet machine


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("柳の角の池", "きのう柳の角の池で見た"),
        ("สระน้ำเวียร์", "เราพบที่สระน้ำเวียร์เมื่อวาน"),
        ("垂柳湾湿地", "我们在垂柳湾湿地看到"),
        ("Müllers Große Wiese", "Seen at Muellers Grosse Wiese in May"),
        ("Ærø Østmose", "Seen at Aeroe Oestmose in May"),
    ],
)
def test_a_name_in_the_middle_of_a_sentence_and_in_two_letters_for_one_is_found(name: str, text: str) -> None:
    secrets = secrets_of(guide(places={"x": replace(PLACES["weir-pool"], id="x", name=name)}))
    assert list(leaks_in(text, secrets))
