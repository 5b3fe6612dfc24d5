"""Tries one change in a function that runs in workers only, for the test of the runner."""

import ast

from tests.mutants.operators import ROOT
from tests.mutants.runner import Bench, run_bench

CREW = "guidebuild/press/engine/crew.py"
TEST = "tests/press/engine/test_crew.py::test_a_worker_seldom_looks_for_cycles_and_leaves_ctrl_c_to_its_parent"


def try_worker(bench: Bench) -> None:
    """Print whether the line is reached, and whether its change is caught."""
    text = (ROOT / CREW).read_text(encoding="utf-8")
    line = text[: text.index("gc.freeze()")].count("\n") + 1
    tests = bench.tests_for(CREW, [line])
    same, changed = ast.parse(text), ast.parse(text.replace("gc.freeze()", "pass"))
    bench.refuse_unforkable()
    told = [("caught" if bench.is_caught(CREW, tree, [TEST], [line]) else "passes") for tree in (same, changed)]
    print(f"{'reached' if tests == [TEST] else 'not reached'}, as it is: {told[0]}, changed: {told[1]}")


if __name__ == "__main__":
    run_bench([CREW], [TEST], try_worker)
