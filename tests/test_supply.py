"""What is installed is listed: versions, digests, licences, parts."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path

import pytest
from license_expression import get_spdx_licensing

from tests.supply import BUNDLED, LISTS, ROOT, licence_of, licence_table, pinned

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
FORBIDDEN = re.compile(r"^(A?GPL)-[\d.]+(-only|-or-later)?$")


def names(requirements: list[str]) -> set[str]:
    return {re.split(r"[\[<>=~! ;]", one)[0].replace("_", "-").lower() for one in requirements}


@pytest.mark.parametrize(
    ("lock", "wanted"),
    [("guide", ["build"]), ("test", ["build", "test", "lint"]), ("bench", ["build", "test", "lint", "bench"])],
)
def test_all_that_is_asked_for_is_listed(lock: str, wanted: list[str]) -> None:
    groups = [one for group in wanted for one in PROJECT["dependency-groups"][group]]
    assert names([*PROJECT["project"]["dependencies"], *groups]) <= set(pinned(ROOT / f".ci/{lock}.lock"))


def test_the_lists_agree() -> None:
    guide, test, bench = (pinned(ROOT / f".ci/{name}.lock") for name in ("guide", "test", "bench"))
    assert {name: test.get(name) for name in guide} == guide
    assert {name: bench.get(name) for name in test} == test


@pytest.mark.parametrize("lock", LISTS, ids=lambda path: path.stem)
def test_every_package_has_a_version_and_digests_and_no_address(lock: Path) -> None:
    text = lock.read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line for line in text.splitlines() if line.strip()]
    assert len(lines) == len(pinned(lock)) > 40
    assert all(re.search(r"--hash=sha256:[0-9a-f]{64}", line) for line in lines)
    assert "://" not in text


def test_what_is_installed_is_what_is_listed() -> None:
    """Or these tests say nothing of the lists."""
    listed = pinned(ROOT / ".ci/test.lock")
    assert {name: version(name) for name in ("weasyprint", "pillow", "jinja2", "pikepdf")} == {
        name: listed[name] for name in ("weasyprint", "pillow", "jinja2", "pikepdf")
    }


def test_the_table_of_licences_is_the_packages_own() -> None:
    assert licence_table() in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), "python -m tests.supply prints it"


def test_no_part_is_under_a_licence_that_binds_the_whole() -> None:
    parse = get_spdx_licensing().parse
    for name in pinned(ROOT / ".ci/guide.lock"):
        licence = licence_of(name)
        if licence is not None:
            choices = str(parse(licence, validate=True)).split(" OR ")
            assert not all(FORBIDDEN.match(choice) for choice in choices), f"{name}: {licence}"
    assert not any("GPL-" in what.replace("LGPL-", "") for what in BUNDLED.values())


def test_the_list_of_parts_is_valid_and_whole(tmp_path: Path) -> None:
    """CycloneDX: the maker of the list holds it against the standard's own schema as it writes it."""
    out = tmp_path / "parts.json"
    command = [sys.executable, "-m", "cyclonedx_py", "environment", "--pyproject", str(ROOT / "pyproject.toml"), "--validate"]
    subprocess.run([*command, "--output-reproducible", "--of", "JSON", "-o", str(out), sys.executable], check=True, capture_output=True)
    told = json.loads(out.read_text(encoding="utf-8"))
    assert told["bomFormat"] == "CycloneDX" and told["metadata"]["component"]["name"] == "guidebuild"
    parts = {part["name"].lower().replace("_", "-"): part for part in told["components"]}
    assert {name for name in pinned(ROOT / ".ci/guide.lock") if licence_of(name) is not None} <= set(parts)
    assert parts["weasyprint"]["licenses"]
