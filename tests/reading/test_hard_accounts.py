"""Hard texts of accounts are told when the account is read, and kept with what was read of it. All names are invented."""

from pathlib import Path

import pytest

from guidebuild.reading.kept_readings import kept_readings
from guidebuild.reading.whole import read_guide
from guidebuild.speech import hard_texts
from tests.guide_files import write_files

HEAVY = "Identification necessitates examination. It is red."
ACCOUNT = f"---\nname: Aus ruber Bus, 1900\nvernacular: Red Bug\n---\n\n## In brief\n\n{HEAVY}\n"


def _folder(at: Path, settings: str = "title: Invented\n") -> Path:
    return write_files(at / "guide", {"guide.yaml": settings, "accounts/red-bug.md": ACCOUNT})


def _hard(folder: Path) -> list[tuple[str, str, str]]:
    return [(f.code, str(f.at), f.account) for f in read_guide(folder).findings if f.code.startswith("hard-")]


def test_a_hard_account_is_told_where_its_text_begins(tmp_path: Path) -> None:
    assert _hard(_folder(tmp_path)) == [("hard-text", "accounts/red-bug.md:8", "red-bug")]


@pytest.mark.parametrize("settings", ["title: Invented\nlanguages: [es]\n", "title: [\n", "region: nowhere\n"])
def test_nothing_is_told_in_another_language_or_beside_a_broken_guide_yaml(settings: str, tmp_path: Path) -> None:
    folder = _folder(tmp_path, settings)
    assert (_hard(folder) == []) is ("region" not in settings)


def test_what_was_read_is_not_measured_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = _folder(tmp_path)
    measured: list[str] = []
    real = hard_texts.measure_ease

    def measure(text: str, **given: object) -> object:
        measured.append(text)
        return real(text, **given)  # type: ignore[arg-type]

    monkeypatch.setattr(hard_texts, "measure_ease", measure)
    found = []
    for _ in range(2):
        with kept_readings(folder, folder / ".guidebuild", tmp_path / "own.key", "tool") as memory:
            found.append([f for f in read_guide(folder, memory=memory).findings if f.code == "hard-text"])
    assert found[0] == found[1] != []
    assert len(measured) == 1
