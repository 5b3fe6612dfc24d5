"""Every example of the handbook does what it says: files are read without a complaint, commands run."""

from __future__ import annotations

import re
import shlex
import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml
from PIL import Image

from guidebuild.cli import exit_code
from guidebuild.guide.findings import Level
from guidebuild.handbook.chapters import list_chapters
from guidebuild.session import open_session
from tests.conftest import NOT_COPIED, SAMPLE

FENCE = re.compile(
    r"^```(?:\{ \.(?P<form>\w+)(?: title=\"(?P<title>[^\"]+)\")? \}|(?P<plain>\w+))\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL
)


@dataclass(frozen=True)
class Example:
    chapter: str
    form: str
    title: str
    text: str

    def __str__(self) -> str:
        return f"{self.chapter}-{self.title or self.form}"


EXAMPLES = [
    Example(chapter.id, match["form"] or match["plain"], match["title"] or "", match["text"])
    for chapter in list_chapters()
    for match in FENCE.finditer(chapter.text)
]
FILES = [example for example in EXAMPLES if example.form in ("yaml", "markdown") and example.title]
COMMANDS = [example for example in EXAMPLES if example.form == "sh" and not example.title]


def test_every_fence_is_understood() -> None:
    fences = sum(line.startswith("```") for chapter in list_chapters() for line in chapter.text.splitlines()) / 2
    assert len(EXAMPLES) == fences
    assert len(FILES) > 15
    assert len(COMMANDS) > 10


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sample") / "guide"
    shutil.copytree(SAMPLE, folder, ignore=NOT_COPIED)
    (folder / "photos/redshank.jpg").write_bytes((folder / "photos/parent-adult.jpg").read_bytes())
    with (folder / "photos.yaml").open("a", encoding="utf-8") as out:
        out.write("redshank: {account: redshank, stage: adult, view: side, credit: Wren Aldous, licence: CC-BY-4.0, alt: A brown wader.}\n")
    (folder / "accounts/redshank.md").write_text(
        "---\nname: Tringa totanus\nvernacular: Redshank\ngroup: bird\n---\n## In brief\n", "utf-8"
    )
    return folder


def put_in(folder: Path, example: Example) -> None:
    """The example in the sample's file: its records or keys in the place of those of the same name, or the whole file."""
    file = folder / example.title
    file.parent.mkdir(parents=True, exist_ok=True)
    if example.form == "markdown":
        group = "group: bird\n" if example.title.startswith("accounts/redshank") else ""
        file.write_text(example.text.replace("---\n", f"---\n{group}", 1), "utf-8")
    elif example.title.startswith("accounts/"):
        head, facts, rest = file.read_text("utf-8").split("---\n", 2)
        file.write_text(f"{head}---\n{without(facts, example.text)}{example.text}---\n{rest}", "utf-8")
    else:
        old = file.read_text("utf-8") if file.exists() and not example.title.startswith("walks/") else ""
        file.write_text(without(old, example.text) + "\n" + example.text, "utf-8")


def without(text: str, other: str) -> str:
    """A file's text without the top-level keys that another has."""
    for key in yaml.safe_load(other):
        text = re.sub(rf"^{re.escape(str(key))}:.*\n(?:[ \t#].*\n|\n)*", "", text, flags=re.MULTILINE)
    return text


def found_in(folder: Path, file: str) -> set[str]:
    return {str(f) for f in open_session(folder).report.findings if f.at.file == file and f.level is not Level.NOTE}


@pytest.mark.parametrize("example", FILES, ids=str)
def test_a_file_of_the_handbook_is_read_without_a_complaint(example: Example, sample: Path) -> None:
    file = sample / example.title
    before = file.read_bytes() if file.exists() else None
    try:
        put_in(sample, example)
        complaints = {line for line in found_in(sample, example.title) if not is_of_a_draft(line)}
        assert complaints == set()
        if file.suffix == ".yaml":
            assert set(yaml.safe_load(example.text)) <= set(yaml.safe_load(file.read_text("utf-8")))
    finally:
        file.unlink() if before is None else file.write_bytes(before)


def is_of_a_draft(line: str) -> bool:
    """Whether a finding only asks for more than an example gives, or for words that agree with what it leaves out."""
    return any(words in line for words in ("does not give", "is not scored", "secret", "does not have", "no score"))


def test_a_slip_in_an_example_would_be_seen(sample: Path) -> None:
    file = sample / "photos.yaml"
    before = file.read_bytes()
    slip = Example("pictures", "yaml", "photos.yaml", "parent-adult:\n  acount: parent-bug\n  measured: far too long\n")
    try:
        put_in(sample, slip)
        assert len(found_in(sample, "photos.yaml")) >= 2
    finally:
        file.write_bytes(before)


@pytest.mark.parametrize("chapter", sorted({example.chapter for example in COMMANDS}))
def test_the_commands_of_a_chapter_run(chapter: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other, as somebody would who follows the chapter; in the first hour from an empty folder, else in the sample."""
    monkeypatch.setenv("HOME", str(tmp_path))
    pictures = tmp_path / "Pictures"
    (pictures / "DCIM").mkdir(parents=True)
    Image.new("RGB", (1600, 1200), "#7a8").save(pictures / "redshank.jpg")
    Image.new("RGB", (1600, 1200), "#8a7").save(pictures / "DCIM/IMG_1.jpg")
    (tmp_path / "walk.csv").write_text("eventDate,scientificName,locality\n2026-06-12,Elasmucha grisea,Birch Clump\n", "utf-8")
    if chapter != "first-hour":
        shutil.copytree(SAMPLE, tmp_path / "guide", ignore=NOT_COPIED)
        for example in FILES:
            if example.chapter == chapter and example.form == "yaml" and example.title.startswith("walks/"):
                put_in(tmp_path / "guide", example)
        monkeypatch.chdir(tmp_path / "guide")
    else:
        monkeypatch.chdir(tmp_path)
    for example in (example for example in EXAMPLES if example.chapter == chapter and not (example.form == "sh" and example.title)):
        if example.form == "sh":
            run_lines(example.text, tmp_path, monkeypatch)
        elif chapter == "first-hour":
            put_in(Path.cwd(), example)
    if chapter == "first-hour":
        assert list(Path("published/cards").rglob("redshank*.pdf"))


def run_lines(text: str, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for line in text.splitlines():
        words = shlex.split(line.replace("~", str(home)))
        if words[0] == "cd":
            monkeypatch.chdir(Path.cwd() / words[1])
            continue
        assert words[0] == "guidebuild", line
        if "--to" in words:  # the site of the sample takes a minute: of a guide with nothing but its settings
            for path in Path.cwd().iterdir():
                if path.is_dir() and path.name != "published":
                    shutil.rmtree(path)
                elif path.suffix == ".yaml" and path.name != "guide.yaml":
                    path.unlink()
        assert exit_code(words[1:]) in ((0, 1) if words[1] == "check" else (0,)), line
