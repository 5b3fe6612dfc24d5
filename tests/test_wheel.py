"""The wheel, installed by itself outside the repository, carries all that it needs."""

from __future__ import annotations

import os
import subprocess
import venv
import zipfile
from pathlib import Path

import pytest

from tests.built_wheel import build_wheel, lend_libraries
from tests.conftest import ROOT, SAMPLE

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_wheel(tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A fresh environment with the wheel; other libraries are lent by this one, our checkout is not."""
    home = tmp_path_factory.mktemp("environment")
    venv.create(home, with_pip=False)
    python = home / "bin/python"
    packages = Path(
        subprocess.run(
            [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"], capture_output=True, text=True, check=True
        ).stdout.strip()
    )
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(packages)
    lend_libraries(packages)
    return python


def run(python: Path, *words: str, folder: Path) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if k not in {"PYTHONPATH", "COVERAGE_PROCESS_START"}}
    return subprocess.run([python, "-m", "guidebuild", *words], cwd=folder, capture_output=True, text=True, env=environment, check=False)


def test_the_wheel_carries_content_and_themes(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("content", "themes"):
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and "__pycache__" not in path.parts:
                assert f"guidebuild/_shipped/{path.relative_to(ROOT).as_posix()}" in names
    assert any(name.endswith("licenses/LICENSE") for name in names)
    for path in SAMPLE.rglob("*"):
        if path.is_file() and not {"drawing", "published", ".guidebuild", ".schemas", "__pycache__"} & set(path.parts):
            assert f"guidebuild/_shipped/{path.relative_to(ROOT).as_posix()}" in names, "name it in pyproject.toml"
    assert not [name for name in names if name.startswith(("tests/", "sample_guide/")) or "/drawing/" in name]


def test_the_installed_wheel_is_the_one_that_runs(python: Path, tmp_path: Path) -> None:
    told = subprocess.run(
        [python, "-c", "import guidebuild; print(guidebuild.__file__)"], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert str(ROOT) not in told.stdout


def test_a_guide_is_started_and_made_from_the_wheel(python: Path, tmp_path: Path) -> None:
    started = run(python, "start", "pond", folder=tmp_path)
    assert (started.returncode, started.stderr) == (0, "")
    made = run(python, "make", "pond", folder=tmp_path)
    assert made.returncode == 0, made.stderr
    assert (tmp_path / "pond/published/cards/common-frog.pdf").is_file()


def test_the_sample_is_checked_and_made_from_the_wheel(python: Path, tmp_path: Path) -> None:
    assert run(python, "start", "sample", "--sample", folder=tmp_path).returncode == 0
    assert run(python, "handbook", "--no-browser", "--to", "book", folder=tmp_path).returncode == 0
    assert "0 errors, 0 warnings" in run(python, "check", "sample", folder=tmp_path).stdout
    made = run(python, "make", "sample", "walks", "data", folder=tmp_path)
    assert made.returncode == 0, made.stderr
    assert (tmp_path / "sample/published/walks/september-hedge.pdf").is_file()
