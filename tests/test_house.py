"""The house: rooms import one way, files and functions stay small, nothing private is named."""

from __future__ import annotations

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "guidebuild"

MAY_IMPORT = {
    "guide": {"later"},  # how modules are imported, and nothing of what is in them
    "reading": {"guide", "speech"},  # captions are read by who writes them, and hard texts judged as they are read
    "identify": {"guide"},
    "fieldwork": {"guide"},
    "speech": {"guide"},
    "checks": {"guide", "identify", "fieldwork", "speech"},
    "views": {"guide", "identify", "fieldwork", "speech"},
    "press": {"guide", "fieldwork", "speech", "views"},
    "bringing": {"guide", "reading", "speech", "press", "authoring", "changes", "former_texts"},
    "handbook": {"guide", "reading", "press", "rules"},
    "terminal": {"guide", "checks", "fieldwork", "identify", "speech", "views", "press", "renaming", "mending", "bringing", "handbook"},
    "desk": {"guide", "reading", "checks", "identify", "fieldwork", "speech", "views", "press", "bringing"}
    | {"resident", "session", "clock", "authoring", "changes", "former_texts", "mending", "renaming", "rename_wish"},
}
"""What a room may import of ours besides itself and the tool's shared modules."""

_MACHINERY = {"engine", "theme", "photos", "media"}
_WHOLE = {"working_pages", "calendars", "data_files", "printed_cards"}
PRESS_MAY_IMPORT = {
    "engine": set(),
    "theme": {"engine"},
    "photos": {"engine"},
    "media": {"engine", "photos"},
    "paper": _MACHINERY,
    "preview": {"engine"},
    "outputs": {*_MACHINERY, "paper", *_WHOLE},
}
"""What a room of the press may import of the press besides itself; an output never imports another output."""

VIEWS_MAY_IMPORT = {
    "pieces": set(),
    "telling": {"pieces"},
    "outdoors": {"pieces"},
    "cards": {"pieces"},
    "booklet": {"pieces", "telling", "cards"},
    "scripts": {"pieces"},
    "posts": {"pieces"},
    "slides": {"pieces", "telling", "outdoors", "posts"},
    "data": {"pieces"},
    "site": {"pieces", "telling", "outdoors", "data", "scripts"},
}
"""What a room of the views may import of the views besides itself."""

SHARED = {"shipped", "words", "counting", "errors", "later"}
"""Modules beside the rooms that any room but `guide` may use: where shipped files are, the tool's words, numbers with their nouns, its
error, late imports."""

READS_SHIPPED = {"reading", "identify", "speech", "press", "views", "fieldwork", "checks", "terminal", "bringing", "desk", "handbook"}


def modules(room: str) -> list[Path]:
    return sorted((PACKAGE / room).rglob("*.py"))


def imported(path: Path) -> set[str]:
    """First names below `guidebuild` that a module imports, anywhere in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names = [f"{node.module}.{alias.name}" for alias in node.names] if node.module == "guidebuild" else [node.module]
        else:
            continue
        found |= {name.split(".")[1] for name in names if name.startswith("guidebuild.")}
    return found - {"__version__"}


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_what_it_may(room: str) -> None:
    allowed = MAY_IMPORT[room] | {room} | (SHARED if room in READS_SHIPPED else set())
    wrong = {path.name: extra for path in modules(room) if (extra := imported(path) - allowed)}
    assert wrong == {}


def rooms_of(path: Path, house: str) -> set[str]:
    """Names of the rooms of `press` or `views` that a module imports from; of outputs, the output as well."""
    names = [
        node.module.split(".")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module
    ]
    return {".".join(name[2:4]) if name[2] == "outputs" else name[2] for name in names if name[:2] == ["guidebuild", house] and name[2:]}


@pytest.mark.parametrize(("house", "table"), [("press", PRESS_MAY_IMPORT), ("views", VIEWS_MAY_IMPORT)])
def test_a_room_inside_press_and_views_imports_only_what_it_may(house: str, table: dict[str, set[str]]) -> None:
    seen = 0
    wrong = {}
    for room, allowed in table.items():
        for path in modules(f"{house}/{room}"):
            own = f"outputs.{path.relative_to(PACKAGE / house / room).parts[0]}" if room == "outputs" else room
            imported_rooms = rooms_of(path, house)
            seen += len(imported_rooms)
            if extra := imported_rooms - allowed - {own}:
                wrong[path.relative_to(PACKAGE).as_posix()] = extra
    assert wrong == {}
    assert seen > 20


FOR_THE_AUTHOR = {"views/outdoors/field_list.py", "views/outdoors/season_page.py"}
"""Views of the author's terminal, which may name secret places."""

KNOWS_SECRETS = {"press/publish.py", "press/leak_check.py", "press/leak_scan.py"}
"""What gets the whole guide in order to make the published one of it, and to look through what was made."""

AUTHORS_RECORDS = {"Guide", "Account", "Place", "Photo", "Walk", "Stop", "Tally", "Sensitivity"}
DECIDING = {"secrecy", "leaks", "unsaid", "decisions", "public_accounts"}


def secrets_imported(path: Path) -> set[str]:
    """Records of the author's guide, and modules that decide about secrets, that a module imports."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("guidebuild."):
            names = {alias.name for alias in node.names}
            found |= (names & AUTHORS_RECORDS) | ({*names, node.module.split(".")[-1]} & DECIDING if "fieldwork" in node.module else set())
    return found


def test_views_and_press_know_only_what_is_published() -> None:
    looked_at = {path.relative_to(PACKAGE).as_posix(): secrets_imported(path) for room in ("views", "press") for path in modules(room)}
    open_to_all = looked_at.keys() - FOR_THE_AUTHOR - KNOWS_SECRETS
    assert len(open_to_all) > 100
    assert {path: looked_at[path] for path in open_to_all if looked_at[path]} == {}
    # The same eyes do see what the others import.
    assert all("Guide" in looked_at[path] for path in FOR_THE_AUTHOR)
    assert {"Guide", "leaks"} <= looked_at["press/leak_check.py"]


def test_no_view_decides_what_is_secret() -> None:
    words = re.compile("sensitiv", re.IGNORECASE)
    telling = [path for room in ("views", "press") for path in modules(room) if words.search(path.read_text(encoding="utf-8"))]
    # A key of the facts block is called so, and the last look is told anew where what is secret has changed.
    assert {path.relative_to(PACKAGE).as_posix() for path in telling} <= {"views/site/account_facts.py", "press/leak_check.py"}


def test_every_folder_of_press_and_views_is_a_room_that_the_house_knows() -> None:
    for house, table in (("press", PRESS_MAY_IMPORT), ("views", VIEWS_MAY_IMPORT)):
        assert {path.name for path in (PACKAGE / house).iterdir() if (path / "__init__.py").is_file()} == set(table)


def test_the_imports_are_really_seen() -> None:
    assert sum(len(imported(path)) for room in MAY_IMPORT for path in modules(room)) > 100
    assert {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").is_file()} == {*MAY_IMPORT, "cli"}


def sources() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def test_nothing_is_imported_inside_a_function() -> None:
    inside = [
        f"{path.name}:{node.lineno}"
        for path in sources()
        for function in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    assert inside == []


def test_files_and_functions_stay_small() -> None:
    long_files = {path.name: n for path in sources() if (n := path.read_text(encoding="utf-8").count("\n")) > 400}
    long_functions = [
        f"{path.name}:{node.lineno} {node.name}"
        for path in sources()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and (node.end_lineno or 0) - node.lineno > 60
    ]
    assert (long_files, long_functions) == ({}, [])


def tracked() -> list[str]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a git checkout")
    return listed.stdout.splitlines()


def test_no_committed_text_names_a_machine_or_a_registry() -> None:
    pattern = re.compile("|".join(["/wo" + "rk/", "/ro" + "ot/", "pypi" + r"\.org", "registry" + r"\.npmjs", "deb" + r"\.debian\.org"]))
    wrong = []
    for name in tracked():
        path = ROOT / name
        if path.suffix in {".jpg", ".png", ".woff2", ".pdf", ".mo"} or not path.is_file():
            continue
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
        wrong += [f"{name}:{number}" for number, line in enumerate(lines, 1) if pattern.search(line)]
    assert wrong == []


def test_the_top_level_stays_as_it_is() -> None:
    top = {name.split("/")[0] for name in tracked()}
    assert {name for name in top if not name.startswith(".")} <= {
        "pyproject.toml",
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "guidebuild",
        "content",
        "themes",
        "tests",
        "sample_guide",
        "Makefile",
        "LICENSE",
    }
