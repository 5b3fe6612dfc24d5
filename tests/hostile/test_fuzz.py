"""A few rounds of `fuzz.py` in every test run; `python -m tests.hostile.fuzz --minutes 10` runs more."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.hostile.fuzz import one_round
from tests.hostile.small_guide import write_small


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seed=st.integers(0, 2**32))
def test_no_damage_to_its_files_brings_a_guide_to_raise(tmp_path: Path, seed: int) -> None:
    whole = tmp_path / "whole"
    if not whole.exists():
        write_small(whole)
    assert one_round(seed, whole, tmp_path / "guide") is None
