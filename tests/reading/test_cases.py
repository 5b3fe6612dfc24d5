"""Every case file gives exactly the findings it names, at their places; every code of reading has a case."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.reading.codes import CODES
from guidebuild.reading.whole import read_guide
from tests.reading.case_files import FOLDER, Case, all_cases

CASES = all_cases()
# These need a disk that refuses, a link or no guide at all: see test_folder.py.
ON_DISK = {"file-not-readable", "file-too-large", "no-guide"}
TOO_LONG = {"map-simplified"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_case_gives_the_findings_it_names(case: Case, tmp_path: Path) -> None:
    case.write(tmp_path)
    findings = read_guide(tmp_path).findings
    assert sorted((f.code, str(f.at)) for f in findings) == sorted((w.code, w.at) for w in case.wanted)
    for wanted in case.wanted:
        told = next(f"{f.message} {f.mend}" for f in findings if (f.code, str(f.at)) == (wanted.code, wanted.at))
        for words in wanted.words:
            assert words in told


def test_every_file_of_the_folder_is_a_case() -> None:
    assert len(CASES) == len(list(FOLDER.iterdir())) > 60


def test_every_code_has_a_case() -> None:
    shown = {wanted.code for case in CASES for wanted in case.wanted}
    assert {code.code for code in CODES} - shown == ON_DISK | TOO_LONG


def test_codes_are_unique_and_say_how_to_mend() -> None:
    assert len({code.code for code in CODES}) == len(CODES)
    assert all(code.title and code.why and code.mend.endswith((".", "?")) for code in CODES)
