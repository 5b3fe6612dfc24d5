"""Tables whose rows the guide has already: nothing counts twice, and a number that was changed since is told. All invented."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from guidebuild.bringing.doing import do_bringing
from guidebuild.bringing.planning import Planned, plan_bringing
from guidebuild.session import open_session, read_for_draft
from tests.guide_files import write_files

ONE, TWO, THREE = (f"urn:uuid:0b0f3a6e-8f0e-4c39-9c55-00000000000{n}" for n in (1, 2, 3))
HEAD = ("occurrenceID", "eventDate", "scientificName", "lifeStage", "individualCount", "occurrenceStatus")
FILES = {
    "guide.yaml": "title: Bugs\nregion: The Vale\ngroup: true-bug\n",
    "accounts/open-bug.md": "---\nname: Apertus communis\n---\n## In brief\nCommon.\n",
}


def table(*rows: tuple[str, str], head: tuple[str, ...] = HEAD) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(
        [head, *((identity, "2026-05-01", "Apertus communis", "adult", n, "present" if int(n) else "absent") for identity, n in rows)]
    )
    return out.getvalue()


STANDING = table((ONE, "2"), (TWO, "5"))


def offer(folder: Path, *tables: str, standing: str = STANDING) -> tuple[Path, Planned]:
    guide = write_files(folder / "guide", {**FILES, "sightings/may.csv": standing})
    given = []
    for number, text in enumerate(tables):
        path = folder / f"seen-{number}.csv"
        path.write_text(text, encoding="utf-8")
        given.append(path)
    planned = plan_bringing(guide, read_for_draft(guide), given)
    do_bringing(guide, planned.plan)
    return guide, planned


def count_rows(guide: Path) -> int:
    return sum(sum(tally.counts) for tally in open_session(guide).guide.sightings)


def test_a_number_that_was_changed_since_is_told_and_counts_once(tmp_path: Path) -> None:
    guide, planned = offer(tmp_path, table((ONE, "3"), (TWO, "5"), (THREE, "1")))
    assert planned.plan.advice == (
        f"sightings/seen-0.csv: row 2 is row 2 of sightings/may.csv ({ONE}) with individualCount “3” instead of “2”. "
        "Only one of them counts: delete the row that is wrong.",
    )
    assert [(file.file, file.told) for file in planned.plan.files] == [("sightings/seen-0.csv", "3 sightings, of which 1 count")]
    assert count_rows(guide) == 3
    (guide / "sightings/may.csv").write_text(table((TWO, "5")), encoding="utf-8")  # as the author was told
    assert count_rows(guide) == 3


def test_a_count_that_became_a_nought_is_told(tmp_path: Path) -> None:
    _, planned = offer(tmp_path, table((ONE, "0")))
    assert "individualCount “0” instead of “2”, occurrenceStatus “absent” instead of “present”" in planned.plan.advice[0]


def test_rows_that_all_stand_as_they_are_are_not_brought_again(tmp_path: Path) -> None:
    guide, planned = offer(tmp_path, table((TWO, "5"), (ONE, "2")))
    assert planned.plan.files == ()
    assert [one.why for one in planned.plan.unused] == ["has only rows that stand in the guide already, as they are"]
    assert count_rows(guide) == 2


def test_of_two_tables_brought_together_the_later_is_told(tmp_path: Path) -> None:
    guide, planned = offer(tmp_path, table((THREE, "1")), table((THREE, "4")))
    assert [line.partition(" (")[0] for line in planned.plan.advice] == ["sightings/seen-1.csv: row 2 is row 2 of sightings/seen-0.csv"]
    assert count_rows(guide) == 3


@pytest.mark.parametrize(
    "text",
    [
        table(("1", "3"), ("2", "5")),  # each table numbers its own rows so
        table((THREE, "3")),
        STANDING.replace("occurrenceID", "note").replace("2026-05-01", "2026-05-02"),
        "nothing of the kind\n",
    ],
)
def test_of_other_rows_nothing_is_told(tmp_path: Path, text: str) -> None:
    assert offer(tmp_path, text)[1].plan.advice == ()


def test_many_changed_rows_make_few_lines(tmp_path: Path) -> None:
    several = [f"urn:uuid:0b0f3a6e-8f0e-4c39-9c55-0000000001{n:02}" for n in range(25)]
    _, planned = offer(tmp_path, table(*((one, "2") for one in several)), standing=table(*((one, "1") for one in several)))
    assert len(planned.plan.advice) == 11
    assert planned.plan.advice[-1] == "sightings/seen-0.csv: 15 further rows with an ID that stands already say something else."
