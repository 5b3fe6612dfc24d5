"""Digests depend on values and on nothing else."""

import os
import subprocess
import sys
from collections import UserDict
from dataclasses import dataclass, field
from datetime import date
from enum import Enum
from pathlib import Path, PurePosixPath
from types import MappingProxyType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.press.engine import toolchain
from guidebuild.press.engine.digest import Digester, KnownFile, digest, digest_bytes, digest_file, digest_folder
from guidebuild.press.engine.toolchain import digest_toolchain


@dataclass(frozen=True, slots=True)
class Mark:
    text: str
    at: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Spot:
    text: str
    at: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Nothing:
    pass


class Stage(Enum):
    EGG = "egg"
    ADULT = "adult"


def test_equal_values_give_equal_digests_whatever_is_shared_or_ordered() -> None:
    shared = Mark("dark spot", (52, 38))
    assert digest(shared, shared) == digest(Mark("dark spot", (52, 38)), Mark("dark spot", (52, 38)))
    assert digest({"a": 1, "b": 2}) == digest({"b": 2, "a": 1}) == digest(MappingProxyType({"a": 1, "b": 2})) == digest(UserDict(a=1, b=2))
    assert digest({"egg", "nymph", "adult"}) == digest(frozenset(("adult", "nymph", "egg")))


DIFFERENT = (
    "1",
    1,
    1.5,
    True,
    None,
    "",
    (),
    ("1",),
    Mark("1"),
    Spot("1"),
    Mark("1", (1,)),
    Nothing(),
    date(2026, 5, 2),
    "2026-05-02",
    Stage.EGG,
    Stage.ADULT,
    "EGG",
    b"1",
    frozenset({"1"}),
    PurePosixPath("1"),
    {"1": 1},
    ("Mark", "1", ()),
    ("Mark", ("1", ())),
)


def test_different_values_give_different_digests() -> None:
    assert len({digest(value) for value in DIFFERENT}) == len(DIFFERENT)
    assert digest("a", "b") != digest("ab") != digest(("a", "b"))


def test_what_has_no_stable_form_is_refused() -> None:
    with pytest.raises(TypeError, match="object has no stable form"):
        digest(object())


def test_digest_is_the_same_in_a_process_with_another_hash_seed() -> None:
    program = "from guidebuild.press.engine.digest import digest; print(digest({'egg','nymph','é'}, {'b': (1, 2.5), 'a': None}))"
    environment = {**os.environ, "PYTHONHASHSEED": "77", "LC_ALL": "C"}
    told = subprocess.run([sys.executable, "-c", program], env=environment, capture_output=True, text=True, check=True).stdout.strip()
    assert told == digest({"egg", "nymph", "é"}, {"b": (1, 2.5), "a": None})


@settings(max_examples=50)
@given(st.recursive(st.none() | st.booleans() | st.integers() | st.text(), lambda inner: st.tuples(inner, inner) | st.tuples(inner)))
def test_any_text_and_nesting_can_be_digested(value: object) -> None:
    assert digest(value) == digest(value) != digest((value, value))


def test_files_and_folders_are_digested_by_name_and_content(tmp_path: Path) -> None:
    (tmp_path / "card").mkdir()
    (tmp_path / "card" / "page.html").write_bytes(b"x")
    first = digest_folder(tmp_path)
    assert digest_file(tmp_path / "card" / "page.html") == digest_bytes(b"x")
    os.utime(tmp_path / "card" / "page.html", (1, 1))
    assert digest_folder(tmp_path) == first
    (tmp_path / "card" / "page.html").rename(tmp_path / "card" / "other.html")
    assert digest_folder(tmp_path) != first


def test_a_value_that_is_marked_counts_by_its_mark() -> None:
    assert digest(KnownFile(Path("a"), "1")) == digest(KnownFile(Path("b"), "1")) != digest(KnownFile(Path("a"), "2"))


def test_paths_inside_a_payload_count_by_what_is_read_of_them() -> None:
    content = {Path("a"): "one", Path("b"): "one", Path("c"): "two"}
    by_content = Digester(content.__getitem__).digest
    assert by_content({"picture": (Path("a"),)}) == by_content({"picture": (Path("b"),)}) != by_content({"picture": (Path("c"),)})
    assert by_content(frozenset((Path("a"),))) == by_content(frozenset((Path("b"),))) != by_content(frozenset((Path("c"),)))


def test_the_toolchain_counts_the_packages_and_the_day_that_is_set(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(toolchain, "_installed", toolchain._installed.__wrapped__)
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    marks = [digest_toolchain()]
    assert digest_toolchain() == marks[0]
    monkeypatch.syspath_prepend(str(tmp_path))
    (tmp_path / "pikepdf-99.dist-info").mkdir()
    marks.append(digest_toolchain())
    (tmp_path / "pikepdf-99.dist-info").rename(tmp_path / "pikepdf-100.dist-info")
    marks.append(digest_toolchain())
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    marks.append(digest_toolchain())
    assert len(set(marks)) == len(marks)


@dataclass(frozen=True)
class Typed:
    number: float
    digits: str = field(default="", compare=False)
    line: int = field(default=0, compare=False)


def test_what_does_not_count_in_comparing_can_count_all_the_same() -> None:
    full = Digester(Path.as_posix, all_but=frozenset(("line",)))
    assert digest(Typed(1.0, "1.0")) == digest(Typed(1.0, "1.00"))
    assert full.digest(Typed(1.0, "1.0")) != full.digest(Typed(1.0, "1.00"))
    assert full.digest(Typed(1.0, "1.0", 3)) == full.digest(Typed(1.0, "1.0", 4))
    assert full.digest(Typed(1.0)) != full.digest(Typed(2.0))
