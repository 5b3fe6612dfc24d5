"""`rename`: all that names a record is changed with it and not a byte more, all or nothing; what cannot be done is said in a line."""

from __future__ import annotations

import difflib
import shutil
from pathlib import Path

import pytest

from guidebuild.changes import CannotChangeError, make_changes, undo_broken_change
from guidebuild.cli import exit_code
from guidebuild.cli.options import FINE, UNREADABLE
from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.account_parts import HOST_FIELDS, MARK_FIELDS, SIMILAR_FIELDS
from guidebuild.guide.record_fields import PHOTO_FIELDS, PLACE_FIELDS, TERM_FIELDS
from guidebuild.guide.walk_fields import STOP_FIELDS
from guidebuild.rename_wish import read_wish
from guidebuild.renaming import plan_renaming
from guidebuild.session import open_session
from tests.guide_files import text_files

SAMPLE = Path(__file__).resolve().parent.parent / "sample_guide"
ACCOUNT = "---\n{facts}---\n\n## In brief\n\nInvented.\n"


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    """A copy of the sample, all of whose facts are read and none of whose pictures are looked at."""
    folder = tmp_path / "guide"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing", "theme"))
    return folder


def changed_lines(before: bytes, after: bytes) -> list[str]:
    if before == after:  # also what is no text, such as a film
        return []
    lines = difflib.unified_diff(before.decode().splitlines(), after.decode().splitlines(), lineterm="", n=0)
    return [line for line in lines if line[:1] in "+-" and line[:3] not in ("+++", "---")]


def found(folder: Path) -> list[str]:
    return [str(f) for f in open_session(folder).report.findings]


def rename(folder: Path, *words: str) -> int:
    return exit_code(["rename", *words, "--in", str(folder)])


def small(folder: Path, facts: str, *, raw: bytes | None = None) -> Path:
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: Invented\n", "utf-8")
    (folder / "accounts" / "red-bug.md").write_bytes(raw if raw is not None else ACCOUNT.format(facts=facts).encode())
    return folder


def test_an_account_is_renamed_with_all_that_names_it_and_nothing_else_changes(sample: Path) -> None:
    before = text_files(sample)
    assert rename(sample, "parent-bug", "mothering-bug") == FINE
    after = text_files(sample)
    moved = {"accounts/parent-bug.md": "accounts/mothering-bug.md", "accounts/parent-bug.es.md": "accounts/mothering-bug.es.md"}
    assert after.keys() == {moved.get(file, file) for file in before}
    lines = {file: changed_lines(before[file], after[moved.get(file, file)]) for file in before}
    assert {file: made for file, made in lines.items() if made} == {
        "accounts/parent-bug.md": ["+formerly: [parent-bug]"],
        "accounts/birch-shieldbug.md": [
            "-  - account: parent-bug",
            "+  - account: mothering-bug",
            "-[Parent Bug](account:parent-bug), which shares the same trees.",
            "+[Parent Bug](account:mothering-bug), which shares the same trees.",
        ],
        "accounts/hairy-shieldbug.md": [
            "-  - account: parent-bug",
            "+  - account: mothering-bug",
            "-The edge of the body is banded, as in the [Parent Bug](account:parent-bug), but that one is small and bare.",
            "+The edge of the body is banded, as in the [Parent Bug](account:mothering-bug), but that one is small and bare.",
        ],
        "episodes/parent-bug-full.md": ["-account: parent-bug", "+account: mothering-bug"],
        "films.yaml": [
            "-  accounts: [parent-bug]",
            "-  script: parent-bug-short",
            "+  accounts: [mothering-bug]",
            "+  script: mothering-bug-short",
            "-  accounts: [birch-shieldbug, parent-bug]",
            "+  accounts: [birch-shieldbug, mothering-bug]",
        ],
        "photos.yaml": ["-  account: parent-bug", "+  account: mothering-bug"] * 4,
        "sounds.yaml": ["-  accounts: [parent-bug]", "+  accounts: [mothering-bug]"],
    }
    assert found(sample) == []
    kept = sample / ".guidebuild" / "stood-before" / "1"
    assert text_files(kept) == {file: before[file] for file, made in lines.items() if made or file in moved}


@pytest.mark.parametrize(
    ("old", "new", "files"),
    [
        ("plant:silver-birch", "birch-tree", {"accounts/birch-shieldbug.md", "accounts/parent-bug.md", "plants.yaml", "places.yaml"}),
        ("gorse-bank", "the-bank", {"places.yaml", "photos.yaml", "sightings/larkfold.csv", "walks/april-gorse.yaml"}),
        ("scutellum-mark", "spot", {"characters.yaml", "accounts/parent-bug.md"}),
        ("scutellum", "triangle", {"glossary.yaml", "accounts/parent-bug.md", "accounts/parent-bug.es.md"}),
        ("group-notes", "our-notes", {"sources.yaml", "accounts/parent-bug.md"}),
        ("parent-scutellum", "spot-seen-near", {"photos.yaml", "accounts/parent-bug.es.md", "episodes/parent-bug-full.md"}),
        ("parent-bug-at-birch-clump", "a-mother-bug", {"films.yaml", "films/a-mother-bug.said.yaml"}),
        ("dock-bug", "sorrel-bug", {"accounts/sorrel-bug.md", "posts/sorrel-bug.said.yaml"}),
        (
            "birch-shieldbug",
            "birch-bug",
            {"films.yaml", "accounts/birch-bug.md", "accounts/parent-bug.md", "accounts/parent-bug.es.md", "photos.yaml"},
        ),
    ],
)
def test_whatever_is_renamed_nothing_leads_nowhere_and_back_again_all_is_as_before(
    sample: Path, old: str, new: str, files: set[str]
) -> None:
    before, record = text_files(sample), old.rpartition(":")[2]
    pictures = {path.name for path in (sample / "photos").iterdir()}
    assert rename(sample, old, new) == FINE
    after = text_files(sample)
    assert files <= {file for file in after if after[file] != before.get(file)}
    assert found(sample) == []
    assert rename(sample, new, record) == FINE
    differing = {file for file, raw in text_files(sample).items() if raw != before[file]}
    assert differing == ({f"accounts/{record}.md"} if f"accounts/{record}.md" in before else set())  # it was called so formerly
    assert {path.name for path in (sample / "photos").iterdir()} == pictures


def test_a_photo_takes_its_file_along(sample: Path) -> None:
    assert rename(sample, "birch-adult", "birch-grown") == FINE
    assert (sample / "photos" / "birch-grown.jpg").read_bytes() == (SAMPLE / "photos" / "birch-adult.jpg").read_bytes()
    assert not (sample / "photos" / "birch-adult.jpg").exists()


def test_sightings_by_the_old_name_count_on(sample: Path) -> None:
    def tallied() -> int:
        return sum(t.rows for t in open_session(sample).guide.sightings if t.account == "parent-bug")

    counted = tallied()
    assert counted > 0
    assert rename(sample, "Parent Bug", "Elasmucha nova (Rook, 2026)") == FINE
    assert tallied() == counted
    assert changed_lines((SAMPLE / "accounts/parent-bug.md").read_bytes(), (sample / "accounts/parent-bug.md").read_bytes()) == [
        "-name: Elasmucha grisea",
        "-authority: (Linnaeus, 1758)",
        "+name: Elasmucha nova",
        "+authority: (Rook, 2026)",
        '+synonyms: ["Elasmucha grisea (Linnaeus, 1758)"]',
    ]


@pytest.mark.parametrize(
    ("facts", "wanted"),
    [
        ("name: Rufus primus\n", "name: Rufus primus\nformerly: [red-bug]\n"),
        ("name: Rufus primus  # so far\n\n# size:\n", "name: Rufus primus  # so far\nformerly: [red-bug]\n\n# size:\n"),
        ("name: Rufus primus\nformerly: [old-bug]  # 2025\n", "name: Rufus primus\nformerly: [old-bug, red-bug]  # 2025\n"),
        ("formerly: old-bug\nname: 'Rufus primus'\n", "formerly: [old-bug, red-bug]\nname: 'Rufus primus'\n"),
        ("name: Rufus primus\nformerly:\nfamily: X\n", "name: Rufus primus\nformerly: [red-bug]\nfamily: X\n"),
        ("name: Rufus primus\nformerly: []\n", "name: Rufus primus\nformerly: [red-bug]\n"),
        ("name: Rufus primus\nformerly:\n  - old-bug\n\n# x\n", "name: Rufus primus\nformerly:\n  - old-bug\n  - red-bug\n\n# x\n"),
        ("name: Rufus primus\nformerly:\n- old-bug\nfamily: X\n", "name: Rufus primus\nformerly:\n- old-bug\n- red-bug\nfamily: X\n"),
        ("name: Rufus primus\nformerly: [new-bug, b]\n", "name: Rufus primus\nformerly: [red-bug, b]\n"),
        (
            "name: Rufus primus\nsynonyms:\n  - Rufus a\n  - >\n    Rufus\n    b\nfamily: X\n",
            "name: Rufus primus\nsynonyms:\n  - Rufus a\n  - >\n    Rufus\n    b\nformerly: [red-bug]\nfamily: X\n",
        ),
        ("{name: Rufus primus, family: X}\n", "{name: Rufus primus, formerly: [red-bug], family: X}\n"),
    ],
)
def test_the_former_name_is_added_however_the_facts_are_written(tmp_path: Path, facts: str, wanted: str) -> None:
    small(tmp_path, facts)
    assert rename(tmp_path, "red-bug", "new-bug") == FINE
    assert (tmp_path / "accounts" / "new-bug.md").read_text("utf-8") == ACCOUNT.format(facts=wanted)


@pytest.mark.parametrize(
    ("facts", "wanted"),
    [
        ("name: Rufus primus\n", "name: Rufus novus\nsynonyms: [Rufus primus]\n"),
        ('name: "Rufus primus L."\n', 'name: "Rufus novus"\nsynonyms: [Rufus primus L.]\n'),
        ("name: Rufus primus\nsynonyms: [Rufus novus]\n", "name: Rufus novus\nsynonyms: [Rufus primus]\n"),
        ("name: Rufus primus\nsynonyms: [Rufus x, Rufus primus]\n", "name: Rufus novus\nsynonyms: [Rufus x, Rufus primus]\n"),
    ],
)
def test_the_old_name_becomes_a_synonym(tmp_path: Path, facts: str, wanted: str) -> None:
    small(tmp_path, facts)
    assert rename(tmp_path, "red-bug", "Rufus novus") == FINE
    assert (tmp_path / "accounts" / "red-bug.md").read_text("utf-8") == ACCOUNT.format(facts=wanted)


def test_line_ends_and_the_byte_order_mark_stay(tmp_path: Path) -> None:
    raw = (
        b"\xef\xbb\xbf---\r\nname: Rufus primus\r\nnote: x\r\n---\r\n## In brief\r\n\r\n[It](account:red-bug), `[x](account:red-bug)`.\r\n"
    )
    small(tmp_path, "", raw=raw)
    assert rename(tmp_path, "red-bug", "new-bug") == FINE
    assert (tmp_path / "accounts" / "new-bug.md").read_bytes() == raw.replace(
        b"primus\r\n", b"primus\r\nformerly: [red-bug]\r\n"
    ).replace(b"[It](account:red-bug)", b"[It](account:new-bug)")  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("[a](<account:red-bug>)", "[a](<account:new-bug>)"),
        ("[a][b]\n\n[b]: account:red-bug", "[a][b]\n\n[b]: account:new-bug"),
        ('[a](account:red-bug "The bug")', '[a](account:new-bug "The bug")'),
        ("[a](account:red-bug-two) [b](photo:red-bug)", "[a](account:red-bug-two) [b](photo:red-bug)"),
        ("```\n[a](account:red-bug)\n```", "```\n[a](account:red-bug)\n```"),
        ("{difference from red-bug}", "{difference from new-bug}"),
    ],
)
def test_links_are_found_however_they_are_written_and_code_stays(tmp_path: Path, typed: str, wanted: str) -> None:
    small(tmp_path, "name: Rufus primus\n")
    other = tmp_path / "accounts" / "other-bug.md"
    other.write_text(ACCOUNT.format(facts="name: Rufus alter\n").replace("Invented.", typed), "utf-8")
    assert rename(tmp_path, "red-bug", "new-bug") == FINE
    assert other.read_text("utf-8") == ACCOUNT.format(facts="name: Rufus alter\n").replace("Invented.", wanted)


def test_only_trying_writes_nothing_and_says_all(sample: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = text_files(sample)
    assert rename(sample, "parent-bug", "mothering-bug", "Elasmucha nova", "--try") == FINE
    assert text_files(sample) == before
    assert not (sample / ".guidebuild").exists()
    told = capsys.readouterr().out
    assert "accounts/parent-bug.md -> accounts/mothering-bug.md\n" in told
    photos = (sample / "photos.yaml").read_text("utf-8").splitlines()
    lines = [str(number) for number, line in enumerate(photos, 1) if line.strip() == "account: parent-bug"]
    assert len(lines) == 4  # the four of her pictures
    assert f"photos.yaml: lines {', '.join(lines)}\n" in told
    assert "`say: el-az-MOO-ka GRIZ-ee-a` is how the old name is said." in told
    assert told.endswith("Nothing is written yet.\n")


def test_texts_that_still_say_the_old_name_are_listed_with_their_lines(tmp_path: Path) -> None:
    small(tmp_path, "name: Rufus primus\nvernacular: Fire Bug\nnote: x\n# see red-bug, the Red Bug\n")
    text = "Rufus\nprimus, R. primus, the red bug; not R. primusoides or a red-bug-like fly."
    (tmp_path / "accounts" / "b.md").write_text(ACCOUNT.format(facts="name: Rufus alter\n").replace("Invented.", text), "utf-8")
    guide = open_session(tmp_path).guide
    said = plan_renaming(tmp_path, guide, read_wish(guide, "red-bug", ["fire-bug", "Rufus novus"])).still_said
    assert sorted({(str(at), line) for at, line in said}) == [
        ("accounts/b.md:7", "Rufus"),
        ("accounts/b.md:8", "primus, R. primus, the red bug; not R. primusoides or a red-bug-like fly."),
        ("accounts/red-bug.md:7", "# see red-bug, the Red Bug"),
    ]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ["parent-bgu", "x"],
            "There is no account, plant, place, character, term, source, photo, film or sound “parent-bgu”. Did you mean “parent-bug”?",
        ),
        (["parent-bug", "dock-bug"], "accounts/dock-bug.md exists already. Choose another name."),
        (["gorse-bank", "birch-clump"], "The place “birch-clump” of places.yaml exists already. Choose another name."),
        (
            ["parent-bug", "Parent_Bug"],
            "“Parent_Bug” cannot be a file name or id: those have small letters, digits and hyphens. Write parent-bug.",
        ),
        (["parent-bug", "con"], "“con” cannot be a file name or id: those have small letters, digits and hyphens. Write con-1."),
        (["parent-bug", "parent-bug"], "“parent-bug” is called so already. Give another name."),
        (["parent-bug", "Elasmucha grisea"], "“Elasmucha grisea” is the name of accounts/parent-bug.md already."),
        (["parent-bug", "Coreus marginatus"], "accounts/dock-bug.md is the account of Coreus marginatus already."),
        (["parent-bug", "a", "b"], "Give one new file name, one new scientific name, or one of each."),
        (["gorse-bank", "Ulex europaeus"], "“gorse-bank” is a place: only accounts get a new scientific name here."),
        (["nothing", "dock-bug"], "There is no account “nothing”, and nothing names it. Is the first name spelt as it was?"),
    ],
)  # fmt: skip
def test_what_cannot_be_done_is_said_in_one_line(capsys: pytest.CaptureFixture[str], words: list[str], told: str) -> None:
    assert rename(SAMPLE, *words, "--try") == UNREADABLE
    assert capsys.readouterr().err == f"guidebuild: {told}\n"


def test_an_id_of_two_kinds_and_a_taken_address_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    small(tmp_path, "name: Rufus primus\n")
    (tmp_path / "accounts" / "b.md").write_text(ACCOUNT.format(facts="name: Rufus alter\nformerly: [old]\n"), "utf-8")
    (tmp_path / "plants.yaml").write_text("thorn:\n  vernacular: Thorn\n", "utf-8")
    (tmp_path / "glossary.yaml").write_text("thorn: {word: thorn, meaning: A point.}\n", "utf-8")
    assert rename(tmp_path, "thorn", "x") == rename(tmp_path, "red-bug", "old") == UNREADABLE
    told = capsys.readouterr().err
    assert "“thorn” is the id of more than one thing. Write plant:thorn or term:thorn." in told
    assert "“old” is a former name of accounts/b.md, whose old address it is." in told


def test_a_file_that_cannot_be_read_stops_it_since_it_may_name_the_account(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    small(tmp_path, "name: Rufus primus\n")
    (tmp_path / "accounts" / "b.md").write_text("---\nname: Rufus alter\nsimilar: [red-bug\n---\n", "utf-8")
    assert rename(tmp_path, "red-bug", "new-bug") == UNREADABLE
    assert "accounts/b.md:3" in capsys.readouterr().err
    assert (tmp_path / "accounts" / "red-bug.md").exists()


def test_a_disk_that_refuses_leaves_all_as_it_was(sample: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before, done, replace = text_files(sample), [], Path.replace

    def refuse(self: Path, target: Path) -> Path:
        done.append(target)
        if len(done) == 3:
            raise OSError(28, "No space left on device", str(target))
        return replace(self, target)

    guide = open_session(sample).guide
    renaming = plan_renaming(sample, guide, read_wish(guide, "parent-bug", ["mothering-bug"]))
    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(CannotChangeError, match=r"No space left on device\. All stands as before\."):
        make_changes(sample, renaming.changes)
    assert text_files(sample) == before


@pytest.mark.parametrize("step", range(2, 11))  # the first puts the list in place
def test_what_a_kill_leaves_is_put_back(sample: Path, monkeypatch: pytest.MonkeyPatch, step: int) -> None:
    class Killed(BaseException):
        pass

    before, done = text_files(sample), []

    def after_some(name: str) -> None:
        real = getattr(Path, name)

        def act(self: Path, *given: object, **named: object) -> object:
            done.append(name)
            if len(done) == step:
                raise Killed
            return real(self, *given, **named)

        monkeypatch.setattr(Path, name, act)

    guide = open_session(sample).guide
    renaming = plan_renaming(sample, guide, read_wish(guide, "parent-bug", ["mothering-bug"]))
    for name in ("write_bytes", "unlink", "replace"):
        after_some(name)
    with pytest.raises(Killed):
        make_changes(sample, renaming.changes)
    monkeypatch.undo()
    assert undo_broken_change(sample)
    assert text_files(sample) == before
    assert not undo_broken_change(sample)


def test_a_file_renamed_by_hand_is_told_with_what_mends_it_and_mended(sample: Path) -> None:
    (sample / "accounts" / "parent-bug.md").rename(sample / "accounts" / "elasmucha-grisea.md")
    mend = "This mends all that names it: guidebuild rename parent-bug elasmucha-grisea"
    assert sum(mend in words for words in found(sample)) == 12
    assert rename(sample, "parent-bug", "elasmucha-grisea") == FINE
    assert found(sample) == []
    assert (sample / "accounts" / "elasmucha-grisea.es.md").is_file()
    assert "formerly: [parent-bug]\n" in (sample / "accounts" / "elasmucha-grisea.md").read_text("utf-8")


def test_a_slip_in_one_name_is_not_taken_for_a_renamed_file(sample: Path) -> None:
    photos = sample / "photos.yaml"
    photos.write_text(photos.read_text("utf-8").replace("account: parent-bug", "account: parent-bgu", 1), "utf-8")
    assert [words for words in found(sample) if "guidebuild rename" in words] == []


def test_fields_that_are_called_as_a_record_say_that_they_name_one() -> None:
    kinds = {"account": "account", "plant": "plant", "plants": "plant", "place": "place", "places": "place", "photo": "photo",
             "photos": "photo", "sources": "source", "characters": "character", "tell by": "character"}  # fmt: skip
    fields = (*ACCOUNT_FIELDS, *MARK_FIELDS, *SIMILAR_FIELDS, *HOST_FIELDS, *PHOTO_FIELDS, *PLACE_FIELDS, *TERM_FIELDS, *STOP_FIELDS)
    assert {(f.key, f.names) for f in fields if f.key in kinds} == set(kinds.items())


def test_a_place_is_renamed_in_every_table_and_in_the_words_for_them(sample: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (sample / "sightings.yaml").write_text('places: {"The old bank": gorse-bank, "Birches": birch-clump}\n', encoding="utf-8")
    tabs = 'scientificName\teventDate\tlocality\toccurrenceRemarks\nParent Bug\t2020-06-02\tgorse-bank\t5" tall\n'
    (sample / "sightings" / "site.txt").write_text(tabs, encoding="utf-8")
    foreign = "scientificName;eventDate;locality\nParent Bug;2020-06-03;gorse-bank\nParent Bug;2020-06-04;Höhle\n".encode("cp1252")
    (sample / "sightings" / "member.CSV").write_bytes(foreign)
    (sample / "sightings" / "download.zip").write_bytes(b"")
    assert rename(sample, "gorse-bank", "the-bank") == FINE
    assert '"The old bank": the-bank, "Birches": birch-clump' in (sample / "sightings.yaml").read_text(encoding="utf-8")
    assert (sample / "sightings" / "site.txt").read_text(encoding="utf-8") == tabs.replace("gorse-bank", "the-bank")
    assert (sample / "sightings" / "member.CSV").read_bytes() == foreign.replace(b"gorse-bank", b"the-bank")
    assert "Not changed: sightings/download.zip." in " ".join(capsys.readouterr().out.split())
