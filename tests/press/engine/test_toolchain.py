"""What is made is made anew when a package or a module that it is made with changes, and not when another one does."""

from __future__ import annotations

import ast
import re
import shutil
import sys
from collections.abc import Callable, Iterator
from importlib.metadata import PackageNotFoundError, distribution, packages_distributions
from pathlib import Path

import pytest

import guidebuild
from guidebuild.press.engine import imports, toolchain
from guidebuild.press.engine.digest import digest_file
from guidebuild.press.engine.imports import find_imports
from guidebuild.press.engine.libraries import PACKAGES, name_packages
from guidebuild.press.engine.toolchain import digest_tools
from guidebuild.press.outputs.cards.jobs import join_deck, make_card
from guidebuild.press.outputs.cards.output import publish_cards
from guidebuild.press.outputs.posts.pictures import render_pictures
from guidebuild.press.outputs.scripts.pages import render_script
from guidebuild.press.outputs.site.page import make_page
from guidebuild.press.outputs.site.share_picture import draw_share
from guidebuild.press.outputs.walks.pack import render_pack
from guidebuild.press.photos.copying import make_copies
from guidebuild.press.theme.font_cutting import make_font
from tests.press.engine.pieces_of_work import double

HOME = Path(guidebuild.__file__).parent
WORK: dict[str, Callable[..., object]] = {
    "copies": make_copies,
    "posted": render_pictures,
    "page": make_page,
    "share": draw_share,
    "font": make_font,
    "card": make_card,
    "deck": join_deck,
    "sheets": publish_cards,
    "script": render_script,
    "pack": render_pack,
}
PICTURES, PRINTS = {"copies", "posted"}, {"card", "deck", "sheets"}
PAPER = PRINTS | {"script", "pack"}
TEXT = PAPER | {"page"}
"""What is drawn of views: all but pictures and typefaces."""
DRAWN = [
    ("pillow", set(WORK) - {"page", "font"}),
    ("pi_heif", PICTURES | PAPER),
    ("weasyprint", PAPER),
    ("pydyf", PAPER),
    ("tinycss2", PAPER),
    ("pikepdf", PRINTS),
    ("pypdf", {"sheets"}),
    ("fonttools", PAPER | {"font", "share"}),
    ("brotli", PAPER | {"font", "share"}),
    ("font_source_serif_pro", PAPER | {"font", "share"}),
    ("segno", PRINTS),
    ("jinja2", PAPER | {"page"}),
    ("markupsafe", PAPER | {"page"}),
    ("markdown", TEXT),
    ("nh3", PRINTS | {"page", "pack"}),
    ("babel", TEXT),
    ("rich", set()),
    ("click", {"page"}),  # it knows the folder of settings, where trusted themes are noted
    ("pydantic", set()),
    ("watchfiles", set()),
    ("pytest", set()),
    ("some_package_of_yours", set()),
]
"""Packages, and the kinds of work that a new version of each makes anew."""
MODULES = [
    ("press/photos/colour.py", PICTURES | PAPER),
    ("press/photos/jobs.py", {"sheets"}),
    ("press/theme/prose.py", PRINTS | {"page", "pack"}),
    ("press/paper/pdf.py", PAPER),
    ("press/outputs/cards/leaflet.py", PRINTS),
    ("press/outputs/site/plate.py", {"page"}),
    ("press/outputs/site/share_size.py", {"page", "share"}),
    ("views/site/told.py", {"page"}),
    ("speech/captions.py", {"script", "page"}),  # pages say when a mark is spoken of in a film
    ("__init__.py", set(WORK)),
    ("press/engine/made.py", set(WORK)),
    ("press/engine/store.py", {"sheets"}),
    ("press/publish.py", set()),
    ("press/leak_scan.py", set()),
    ("checks/life.py", set()),
    ("reading/scores.py", set()),
    ("cli/telling.py", set()),
    ("press/preview/server.py", set()),
]
"""Modules of ours, and the kinds of work that a change of each makes anew."""


NARROW = {
    "copies": "photos/colour photos/copies photos/encoding photos/likeness photos/copying photos/credit photos/info",
    "posted": "photos/colour photos/copies photos/encoding photos/likeness photos/credit photos/info outputs/posts/pictures",
    "font": "theme/font_cutting theme/fonts",
    "share": "theme/fonts outputs/site/share_picture outputs/site/share_size engine/digest",
}
"""What takes longest of all to make anew, and every module of the press that it depends on beside those of results and problems."""
NEVER = ("checks", "reading", "cli", "terminal", "press/preview", "press/table.py", "press/publish.py", "press/leak_check.py", "session.py")
"""Rooms that draw nothing."""


def tools_of_all() -> dict[str, str]:
    return {name: digest_tools(work.__module__) for name, work in WORK.items()}


def changed_by(before: dict[str, str]) -> set[str]:
    return {name for name, mark in tools_of_all().items() if mark != before[name]}


@pytest.fixture
def looked_at_anew(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nothing is remembered of the packages and files, neither before nor after."""
    monkeypatch.setattr(toolchain, "_installed", toolchain._installed.__wrapped__)
    monkeypatch.setattr(toolchain, "_tools_of", toolchain._tools_of.__wrapped__)
    monkeypatch.setattr(toolchain, "_digest_own", toolchain._digest_own.__wrapped__)
    yield
    for remembered in (find_imports, imports._find_file, imports._read_names):
        remembered.cache_clear()


@pytest.mark.usefixtures("looked_at_anew")
@pytest.mark.parametrize(("package", "anew"), DRAWN, ids=lambda value: value if isinstance(value, str) else "")
def test_a_new_version_makes_anew_what_the_package_draws_and_nothing_else(
    package: str, anew: set[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = tools_of_all()
    (tmp_path / f"{package}-999.1.dist-info").mkdir()
    monkeypatch.syspath_prepend(str(tmp_path))
    assert changed_by(before) == anew


@pytest.mark.usefixtures("looked_at_anew")
@pytest.mark.parametrize(("module", "anew"), MODULES, ids=lambda value: value if isinstance(value, str) else "")
def test_a_changed_module_makes_anew_what_imports_it_and_nothing_else(
    module: str, anew: set[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = tools_of_all()
    shutil.copytree(HOME, tmp_path / "guidebuild", ignore=shutil.ignore_patterns("__pycache__"))
    file = tmp_path / "guidebuild" / module
    file.write_text(file.read_text("utf-8") + "\n# changed\n", "utf-8")
    monkeypatch.setattr(imports, "_HOME", tmp_path / "guidebuild")
    monkeypatch.setattr(toolchain, "_HOME", tmp_path / "guidebuild")
    for remembered in (find_imports, imports._find_file, imports._read_names):
        remembered.cache_clear()
    assert changed_by(before) == anew


def modules_of(work: str) -> set[str]:
    """The modules that a kind of work depends on, without those that only say what a package is."""
    found = find_imports(WORK[work].__module__)
    assert found is not None
    return {str(file.relative_to(HOME)) for file in found.files if file.name != "__init__.py"}


@pytest.mark.parametrize("work", NARROW)
def test_pictures_and_typefaces_depend_on_what_makes_them_alone(work: str) -> None:
    assert modules_of(work) == {"errors.py", *(f"press/{name}.py" for name in f"engine/made engine/problems {NARROW[work]}".split())}


@pytest.mark.parametrize("work", WORK)
def test_nothing_depends_on_rooms_that_draw_nothing(work: str) -> None:
    assert [module for module in modules_of(work) if module.startswith(NEVER)] == []


@pytest.mark.usefixtures("looked_at_anew")
def test_what_the_tool_brings_counts_for_what_reads_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tools_of_all()
    monkeypatch.setattr(toolchain, "_shipped", lambda: [("cautions.yaml", "of tomorrow")])
    assert changed_by(before) == TEXT


@pytest.mark.usefixtures("looked_at_anew")
def test_another_library_of_the_machine_makes_prints_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    before = tools_of_all()
    monkeypatch.setattr(toolchain, "_setters", lambda: [1, 2])
    assert changed_by(before) == PAPER


@pytest.mark.usefixtures("looked_at_anew")
def test_the_set_day_and_another_python_make_all_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    before = tools_of_all()
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    assert changed_by(before) == set(WORK)
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    monkeypatch.setattr(sys, "version", "4")
    assert changed_by(before) == set(WORK)


@pytest.mark.parametrize(
    ("entry", "name"),
    [
        ("pydantic_core-2.41.5.dist-info", "pydantic-core"),
        ("zope.interface-7.0.dist-info", "zope-interface"),
        ("ruamel.yaml.egg-info", "ruamel-yaml"),  # without its version: installed in place
        ("PyYAML-6.0.2.egg-info", "pyyaml"),
    ],
)
def test_a_package_is_known_by_its_name_as_packages_are_compared(entry: str, name: str) -> None:
    # Names are compared in small letters, with one hyphen for any run of hyphens, underscores and dots (PEP 503).
    assert toolchain._package_name(entry) == name


@pytest.mark.usefixtures("looked_at_anew")
def test_what_is_not_ours_depends_on_every_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = digest_tools(double.__module__)
    (tmp_path / "anything-1.dist-info").mkdir()
    monkeypatch.syspath_prepend(str(tmp_path))
    assert digest_tools(double.__module__) != before
    assert name_packages(["PIL", "a_library_of_tomorrow"]) is None


def parsed_imports(file: Path) -> set[str]:
    """The imports of a file as Python itself reads them."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{file} imports by dots, which are not followed"
            found |= {node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)}
    return found


def test_every_import_is_seen() -> None:
    files = [file for file in HOME.rglob("*.py") if "_shipped" not in file.parts]
    assert len(files) > 250
    for file in files:
        assert parsed_imports(file) - set(imports._read_names(file)) == set(), file


def canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def needs_of(package: str, seen: set[str]) -> set[str]:
    """A package and all that it needs, as the packages say themselves."""
    try:
        required = distribution(package).requires or []
    except PackageNotFoundError:
        return seen
    if canonical(package) not in seen:
        seen.add(canonical(package))
        for line in required:
            if "extra ==" not in line and (name := re.match(r"[\w.-]+", line)):
                needs_of(name[0], seen)
    return seen


def test_the_table_of_libraries_holds_all_that_is_imported_with_all_that_they_need() -> None:
    imported = {name.partition(".")[0] for file in HOME.rglob("*.py") for name in parsed_imports(file)}
    imported -= {*sys.stdlib_module_names, "guidebuild"}
    assert len(imported) > 20
    assert imported <= set(PACKAGES)
    packages = packages_distributions()
    for library in imported & set(packages):
        needed: set[str] = set()
        for package in packages[library]:
            needs_of(package, needed)
        assert needed - PACKAGES[library] == set(), library


def test_every_kind_of_work_is_known_to_the_last_library() -> None:
    for name, work in WORK.items():
        found = find_imports(work.__module__)
        assert found is not None, name
        assert name_packages(found.libraries) is not None, name
        assert len(found.files) > 8, name


def test_packages_are_known_by_the_folders_of_their_descriptions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("toad-1.0.dist-info", "newt-2.0.egg-info", "toad", "notes.txt"):
        (tmp_path / name).mkdir()
    monkeypatch.setattr(sys, "path", [str(tmp_path), str(tmp_path / "gone"), str(tmp_path)])
    assert sorted(toolchain._packages()) == ["newt-2.0.egg-info", "toad-1.0.dist-info"]


def test_files_that_the_tool_brings_count_by_name_and_content(tmp_path: Path) -> None:
    (tmp_path / "words" / "__pycache__").mkdir(parents=True)
    for name in ("words/en.yaml", "a.yaml", "words/__pycache__/old.pyc"):
        (tmp_path / name).write_text(name)
    assert toolchain._files(tmp_path) == [(name, digest_file(tmp_path / name)) for name in ("a.yaml", "words/en.yaml")]
