"""Faults put in by hand are noticed, and every mutant that is said to change nothing is still one that can be made."""

from __future__ import annotations

import ast
import subprocess
import sys

import pytest

from tests.mutants.__main__ import read_equivalent
from tests.mutants.faults import Fault, read_faults
from tests.mutants.operators import ROOT, list_mutants
from tests.mutants.patching import swap_functions


def test_the_table_is_long_and_says_why() -> None:
    faults = read_faults()
    assert len(faults) >= 40
    assert len({(f.file, f.replace, f.by) for f in faults}) == len(faults)
    assert [str(f) for f in faults if len(f.why) < 20 or not f.tests] == []


@pytest.mark.parametrize("fault", read_faults(), ids=lambda fault: fault.file.rsplit("/", 1)[-1])
def test_what_a_fault_replaces_still_stands_in_the_file(fault: Fault) -> None:
    assert ast.dump(ast.parse(fault.put_in())) != ast.dump(ast.parse((ROOT / fault.file).read_text(encoding="utf-8")))


def test_a_test_notices_every_fault() -> None:
    """In a process of its own, since faults are put into running modules of forked copies of it."""
    ran = subprocess.run([sys.executable, "-m", "tests.mutants.faults"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, f"No test notices these faults:\n{ran.stdout}\n{ran.stderr}"


def test_mutants_that_change_nothing_can_still_be_made_and_say_why() -> None:
    known = read_equivalent()
    made = {(m.file, m.within, m.change) for file in {key[0] for key in known} for m in list_mutants(file)}
    assert sorted(known.keys() - made) == []
    assert [key for key, why in known.items() if len(why) < 20] == []


def test_a_fault_that_no_test_can_see_is_told() -> None:
    """The runner itself bites: a test file that looks at nothing lets a fault through."""
    ran = subprocess.run([sys.executable, "-c", _BLIND], cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.stdout.splitlines()[-1] == "['not noticed']", ran.stdout + ran.stderr


_BLIND = """
from tests.mutants.faults import Fault, list_unnoticed
seasons = "guidebuild/guide/seasons.py"
blind = Fault(seasons, "last = (last + 1) % DEKADS", "last = last + 1", "not noticed", ("tests/guide/test_months.py",))
seen = Fault(seasons, "DEKADS = 36", "DEKADS = 35", "noticed", ("tests/guide/test_seasons.py",))
swapped = Fault(seasons, "(last + 1) % DEKADS in", "last + 1 in", "noticed", ("tests/guide/test_seasons.py",))
print([fault.why for fault in list_unnoticed([blind, seen, swapped])])
"""


def test_what_runs_in_workers_only_is_reached_and_changed_there() -> None:
    ran = subprocess.run([sys.executable, "-m", "tests.mutants.try_worker"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.stdout.strip() == "reached, as it is: passes, changed: caught", ran.stdout + ran.stderr


def test_a_running_function_gets_its_changed_code_and_nothing_else_does() -> None:
    file = "tests/mutants/operators.py"
    text = (ROOT / file).read_text(encoding="utf-8")
    assert not swap_functions(file, ast.parse(text.replace('"min": "max"', '"min": "min"')))
    assert not swap_functions("guidebuild/never_imported.py", ast.parse(""))


def test_mutants_are_small_slips() -> None:
    changes = {m.change for m in list_mutants("guidebuild/guide/seasons.py")}
    assert {"d - 1 -> d + 1", "dekad_of(day) in self.dekads -> dekad_of(day) not in self.dekads"} <= changes
    assert {"min((day.day - 1) // 10, 2) -> max((day.day - 1) // 10, 2)", "36 -> 37", "36 -> 35"} <= changes
    assert "if d in self.dekads and (d - 1) % DEKADS not in self.dekads -> (no condition)" in changes
    for mutant in list_mutants("guidebuild/guide/seasons.py"):
        compile(mutant.build(), mutant.file, "exec")
