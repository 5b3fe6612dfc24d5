"""Modules that are imported when they are used: late, once, and as ordinary modules."""

from __future__ import annotations

import importlib
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

import guidebuild
from guidebuild.guide.field_declaration import OutputName
from guidebuild.later import imported_when_used
from guidebuild.press.table import OUTPUTS

HEAVY = ("weasyprint", "pikepdf", "pypdfium2", "pypdf")
ONLY_FOR_GUIDES = ("rich", "pydantic", "yaml", "babel", "markdown", "jinja2", "guidebuild.guide.records")


def imported_after(program: str, names: tuple[str, ...]) -> list[str]:
    """Those of the modules that a program has imported and run at its end; one that waits for its first use is of another type."""
    listed = f"print(*(name for name in {names} if type(sys.modules.get(name)).__name__ == 'module'))"
    done = subprocess.run([sys.executable, "-c", f"import sys\n{program}\n{listed}"], capture_output=True, text=True, check=True)
    return done.stdout.splitlines()[-1].split()


def heavy_after(program: str) -> list[str]:
    """Heavy libraries that a program has imported at its end."""
    return imported_after(program, HEAVY)


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("guide")
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: Invented\n", "utf-8")
    return folder


def test_a_check_imports_no_pdf_library(guide: Path) -> None:
    assert heavy_after(f"from guidebuild.cli import exit_code; exit_code(['check', {str(guide)!r}])") == []


def test_a_check_imports_what_keeps_secrets_and_what_plans_keys_only_where_a_guide_asks_for_it(guide: Path) -> None:
    names = ("pyproj", "guidebuild.fieldwork.name_finder", "guidebuild.fieldwork.decisions", "guidebuild.identify.planner")
    program = f"from guidebuild.cli import exit_code; exit_code(['check', {str(guide)!r}])"
    assert imported_after(program, names) == []
    (guide / "places.yaml").write_text("fen:\n  name: Invented Fen\n  sensitive: high\n", "utf-8")
    assert imported_after(program, names) == ["guidebuild.fieldwork.name_finder"]
    (guide / "places.yaml").unlink()


def test_a_check_of_plain_texts_and_known_names_imports_no_library_for_others(guide: Path) -> None:
    (guide / "accounts" / "red-bug.md").write_text("---\nname: Ruber ruber\nvernacular: Red Bug\n---\n## In brief\nIt is red.\n", "utf-8")
    (guide / "sightings").mkdir()
    (guide / "sightings" / "a.csv").write_text("scientificName,eventDate\nRuber ruber,2025-06-01\n", "utf-8")
    program = f"from guidebuild.cli import exit_code; exit_code(['check', {str(guide)!r}])"
    assert imported_after(program, ("markdown", "rapidfuzz")) == []
    (guide / "sightings" / "a.csv").write_text("scientificName,eventDate\nRubor rubor,2025-06-01\n", "utf-8")
    with (guide / "accounts" / "red-bug.md").open("a", encoding="utf-8") as account:
        account.write("See [another][1].\n\n[1]: https://example.org\n")
    assert imported_after(program, ("markdown", "rapidfuzz")) == ["markdown", "rapidfuzz"]


def test_a_check_of_positions_on_the_usual_datum_imports_no_library_for_others(guide: Path) -> None:
    (guide / "sightings").mkdir(exist_ok=True)
    rows = guide / "sightings" / "positions.csv"
    head = "scientificName,eventDate,decimalLatitude,decimalLongitude,geodeticDatum\n"
    program = f"from guidebuild.cli import exit_code; exit_code(['check', {str(guide)!r}])"
    rows.write_text(f"{head}Ruber ruber,2025-06-01,51.5,-1.2,WGS84\n", "utf-8")
    assert imported_after(program, ("pyproj",)) == []
    rows.write_text(f"{head}Ruber ruber,2025-06-01,51.5,-1.2,OSGB36\n", "utf-8")
    assert imported_after(program, ("pyproj",)) == ["pyproj"]
    rows.unlink()


@pytest.mark.parametrize("command", ["season", "fieldlist"])
def test_a_command_that_asks_nothing_of_the_checks_imports_none(guide: Path, command: str) -> None:
    program = f"from guidebuild.cli import exit_code; assert exit_code([{command!r}, '--in', {str(guide)!r}]) == 0"
    assert imported_after(program, ("guidebuild.reading.whole", "guidebuild.checks.complete")) == ["guidebuild.reading.whole"]


@pytest.mark.parametrize("words", [["--help"], ["check", "--help"], ["make", "--help"], ["season", "--help"], ["--version"]])
def test_a_page_of_help_imports_nothing_that_only_a_guide_needs(words: list[str]) -> None:
    assert imported_after(f"from guidebuild.cli import exit_code; exit_code({words})", ONLY_FOR_GUIDES) == []


def test_the_words_of_make_are_its_outputs_in_their_order() -> None:
    assert list(OutputName) == [output.name for output in OUTPUTS]


def test_a_make_that_needs_no_pdf_imports_only_what_looks_for_leaks(guide: Path) -> None:
    program = f"from guidebuild.cli import exit_code; exit_code(['make', {str(guide)!r}, 'data', '--quiet'])"
    assert "weasyprint" not in heavy_after(program)
    seen_unchanged = "import time; now = time.time_ns; time.time_ns = lambda: now() + 10**10\n"
    heavy_after(seen_unchanged + program)
    assert heavy_after(seen_unchanged + program) == []


PUBLISHING = (*HEAVY, "PIL", "pi_heif", "jinja2", "fontTools", "babel", "markdown", "nh3", "pydantic", "yaml", "regex", "segno")
OURS = ("guidebuild.reading.whole", "guidebuild.guide.guide", "guidebuild.fieldwork.published", "guidebuild.press.photos.maker")


def test_a_make_that_changes_nothing_imports_nothing_that_reads_or_draws(guide: Path) -> None:
    later = "import time; now = time.time_ns; time.time_ns = lambda: now() + 10**10\n"
    program = f"{later}from guidebuild.cli import exit_code; exit_code(['make', {str(guide)!r}, 'site', '--quiet'])"
    # What is asked for is seen where there is something to make, so that the names are those of today.
    assert set(imported_after(program, (*PUBLISHING, *OURS))) >= {"PIL", "jinja2", "yaml", "babel", *OURS}
    assert imported_after(program, (*PUBLISHING, *OURS)) == []


def test_the_heavy_libraries_are_really_seen() -> None:
    assert "weasyprint" in heavy_after("from guidebuild.press.outputs.cards import output; output.publish_cards")


def test_every_output_has_the_module_that_helpers_import_ahead() -> None:
    for output in OUTPUTS:
        assert callable(getattr(importlib.import_module(output.module), f"publish_{output.name}"))


_SLOW = """
import time
FIRST = 1
time.sleep(0.3)
LAST = 2
"""


def test_two_threads_that_first_use_a_module_together_both_get_all_of_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "slow_for_a_test.py").write_text(_SLOW, encoding="utf-8")
    monkeypatch.setattr(guidebuild, "__path__", [*guidebuild.__path__, str(tmp_path)])
    with imported_when_used():
        module = importlib.import_module("guidebuild.slow_for_a_test")
    try:
        with ThreadPoolExecutor(8) as threads:
            answers = list(threads.map(lambda _: (module.FIRST, module.LAST), range(8)))
    finally:
        del sys.modules["guidebuild.slow_for_a_test"]
    assert answers == [(1, 2)] * 8


def test_a_module_that_could_not_be_run_says_so_each_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "broken_for_a_test.py").write_text("HALF = 1\nraise ValueError('no')\n", encoding="utf-8")
    monkeypatch.setattr(guidebuild, "__path__", [*guidebuild.__path__, str(tmp_path)])
    with imported_when_used():
        module = importlib.import_module("guidebuild.broken_for_a_test")
    try:
        for _ in range(2):
            with pytest.raises(ValueError, match="no"):
                _ = module.HALF
    finally:
        del sys.modules["guidebuild.broken_for_a_test"]
