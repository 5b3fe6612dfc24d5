"""The command line: each command's work, its exit code, and one line for whatever stands in its way."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
import yaml

from guidebuild.cli import COMMANDS, exit_code, main
from guidebuild.session import open_session
from tests.conftest import SAMPLE


def test_every_command_has_help_with_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    for name in COMMANDS:
        assert exit_code([name, "--help"]) == 0
        assert f"Example:  guidebuild {name}" in capsys.readouterr().out


def test_help_lists_commands_in_the_order_of_a_week(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["--help"]) == 0
    text = capsys.readouterr().out
    assert [text.index(f"\n  {name} ") for name in COMMANDS] == sorted(text.index(f"\n  {name} ") for name in COMMANDS)


def test_an_unknown_option_stops(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["check", "--loud"]) == 2
    assert "--loud" in capsys.readouterr().err


def test_a_folder_without_a_guide_is_told_in_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["check", str(tmp_path)]) == 2
    assert capsys.readouterr().err == (
        f"guidebuild: There is no guide.yaml in {tmp_path}. Begin a guide with: guidebuild start {tmp_path}\n"
    )


def test_a_broken_guide_file_is_told_with_its_line(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (starter / "guide.yaml").write_text("title: [\n", encoding="utf-8")
    assert exit_code(["check", str(starter)]) == 2
    assert "guide.yaml:" in capsys.readouterr().err


def test_start_refuses_a_folder_that_is_not_empty(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["start", str(starter)]) == 2
    assert f"{starter} is not empty" in capsys.readouterr().err


def test_start_then_check_then_make_works_at_once(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["check", str(starter)]) == 0
    assert exit_code(["make", str(starter), "--workers", "1"]) == 0
    published = starter / "published"
    assert (published / "site/accounts/common-frog.html").is_file()
    assert (published / "cards/common-frog.pdf").read_bytes().startswith(b"%PDF")
    assert "Common Frog" in (published / "scripts/common-frog-short.md").read_text(encoding="utf-8")
    capsys.readouterr()
    assert exit_code(["make", str(starter), "--workers", "1"]) == 0
    assert "0 files written" in capsys.readouterr().out


def test_account_adds_a_draft_with_every_question(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["account", "Rana arvalis Nilsson, 1842", "--vernacular", "Moor Frog", "--in", str(starter)]) == 0
    text = (starter / "accounts/moor-frog.md").read_text(encoding="utf-8")
    for part in (
        "name: Rana arvalis",
        "authority: Nilsson, 1842",
        "family: Ranidae",
        "common-frog",
        "## Life story",
        "#   larva:  # tadpole",
    ):
        assert part in text
    assert exit_code(["check", str(starter)]) == 0
    assert "Moor Frog" in capsys.readouterr().out
    assert exit_code(["account", "Rana arvalis", "--in", str(starter)]) == 2
    assert "accounts/moor-frog.md is already the account of Rana arvalis" in capsys.readouterr().err


def test_a_name_that_cannot_be_read_is_refused(starter: Path) -> None:
    assert exit_code(["account", "12345", "--in", str(starter)]) == 2


def test_check_exits_with_1_from_the_asked_level_on(starter: Path) -> None:
    account = starter / "accounts/common-frog.md"
    account.write_text(account.read_text(encoding="utf-8").replace("family: Ranidae\n", ""), encoding="utf-8")
    assert exit_code(["check", str(starter)]) == 0
    assert exit_code(["check", str(starter), "--fail-on", "warning"]) == 1


@pytest.mark.parametrize("by", ["account", "rule"])
def test_check_says_once_how_more_is_learnt_of_what_it_found(starter: Path, capsys: pytest.CaptureFixture[str], by: str) -> None:
    exit_code(["check", str(starter), "--by", by])
    assert "More on any of these" not in capsys.readouterr().out, "nothing was found"
    account = starter / "accounts/common-frog.md"
    account.write_text(account.read_text(encoding="utf-8").replace("family: Ranidae\n", "familly: Ranidae\n"), encoding="utf-8")
    exit_code(["check", str(starter), "--by", by])
    said = capsys.readouterr().out
    assert "[no-family]" in said
    assert said.count("More on any of these by the word in brackets: guidebuild explain unknown-key\n") == 1
    assert exit_code(["explain", "unknown-key"]) == 0


def test_check_prints_json_and_sarif(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    account = starter / "accounts/common-frog.md"
    account.write_text(account.read_text(encoding="utf-8").replace("family: Ranidae\n", ""), encoding="utf-8")
    exit_code(["check", str(starter), "--format", "json"])
    assert [f["code"] for f in json.loads(capsys.readouterr().out)["findings"]] == ["no-family"]
    exit_code(["check", str(starter), "--format", "sarif"])
    log = json.loads(capsys.readouterr().out)
    assert log["version"] == "2.1.0"
    result = log["runs"][0]["results"][0]
    assert log["runs"][0]["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == "no-family"


def test_check_lists_every_rule_with_its_reason(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["check", "--rules"]) == 0
    text = capsys.readouterr().out
    for code in ("duplicate-key", "not-mutual", "tell-by-does-not-separate", "no-licence"):
        assert code in text


def test_the_account_schema_takes_the_sample_and_refuses_a_misspelt_key(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["schema", "account"]) == 0
    schema = json.loads(capsys.readouterr().out)
    facts = yaml.load((SAMPLE / "accounts/parent-bug.md").read_text(encoding="utf-8").split("---\n")[1], yaml.BaseLoader)
    jsonschema.validate(facts, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**facts, "statsu": "common"}, schema)


def test_compare_takes_any_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["compare", "Parent Bug", "Elasmostethus interstinctus", "--in", str(SAMPLE)]) == 0
    text = capsys.readouterr().out
    assert text.index("scutellum mark") < text.index("What does not tell them apart")
    assert "Look at the scutellum mark: the Parent Bug has a dark spot" in text
    assert exit_code(["compare", "Parnt Bug", "Dock Bug", "--in", str(SAMPLE)]) == 2
    assert "Did you mean “Parent Bug”?" in capsys.readouterr().err


@pytest.mark.parametrize("layout", ["indented", "bracketed"])
def test_the_key_runs_out_every_species(layout: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["key", "--layout", layout, "--in", str(SAMPLE)]) == 0
    text = capsys.readouterr().out
    for account in (SAMPLE / "accounts").glob("*.md"):
        if "." not in account.stem:
            vernacular = account.read_text(encoding="utf-8").split("vernacular: ")[1].splitlines()[0]
            assert f"→ {vernacular}" in text
    assert "Species: 18. Couplets: 17." in text


def test_a_key_says_for_which_stage_it_is_and_can_be_asked_for_another(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["key", "--in", str(SAMPLE)]) == 0
    assert capsys.readouterr().out.startswith("Only for: adults\n")
    assert exit_code(["key", "--stage", "Nymph", "--in", str(SAMPLE)]) == 0
    assert capsys.readouterr().out.startswith("Only for: nymphs\n")
    assert exit_code(["key", "--stage", "pupa", "--in", str(SAMPLE)]) == 2
    told = "There is no life stage “pupa”. The stages of this guide are: egg, nymph, adult."
    assert told in " ".join(capsys.readouterr().err.split())


def test_season_walk_and_field_list_answer_for_a_day(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["season", "--on", "2026-06-14", "--at", "Birch Clump", "--in", str(SAMPLE)]) == 0
    out = capsys.readouterr().out
    assert "likely" in out
    assert "Parent Bug" in out
    assert "Nothing is promised" in out
    assert exit_code(["walk", "september-hedge", "--in", str(SAMPLE)]) == 0
    assert "Sunrise" in capsys.readouterr().out
    assert exit_code(["fieldlist", "--on", "2026-06-14", "--in", str(SAMPLE)]) == 0
    capsys.readouterr()
    assert exit_code(["plan", "--on", "2026-06-15", "--weeks", "2", "--in", str(SAMPLE)]) == 0
    planned = capsys.readouterr().out
    assert [day in planned for day in ("15 June 2026", "22 June 2026", "29 June 2026")] == [True, True, False]
    assert "never posted" in planned
    assert exit_code(["plan", "--weeks", "0", "--in", str(SAMPLE)]) == 2
    assert exit_code(["season", "--at", "birch-clmup", "--in", str(SAMPLE)]) == 2
    assert "Did you mean “birch-clump”?" in capsys.readouterr().err


def test_make_names_an_unknown_output(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["make", str(starter), "postcards"]) == 2
    assert "“postcards” is not an output" in capsys.readouterr().err


def test_an_account_with_an_error_is_left_out_and_the_rest_published(starter: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = (starter / "accounts/common-frog.md").read_text(encoding="utf-8").replace("prey: slugs", "sources: [gone]\nprey: slugs")
    (starter / "accounts/broken-frog.md").write_text(
        broken.replace("Rana temporaria", "Rana fracta").replace("Common Frog", "Broken Frog"), encoding="utf-8"
    )
    assert exit_code(["make", str(starter), "site", "--workers", "1"]) == 1
    assert "Broken Frog is not published: it has errors" in capsys.readouterr().err
    assert (starter / "published/site/accounts/common-frog.html").is_file()
    assert not (starter / "published/site/accounts/broken-frog.html").exists()


def test_the_module_runs_as_the_command_does() -> None:
    done = subprocess.run([sys.executable, "-m", "guidebuild", "--version"], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("guidebuild, version ")


def test_commands_are_verbs_of_the_table() -> None:
    assert main.list_commands(None) == list(COMMANDS)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("vernacular", "file"), [("Łoś", "los"), ("Ørsted's Toad", "orsteds-toad"), ("Aux", "aux-1"), ("狐", "hu"), ("…", "rana-arvalis")]
)
def test_a_draft_gets_a_file_name_that_the_checks_accept(starter: Path, vernacular: str, file: str) -> None:
    assert exit_code(["account", "Rana arvalis", "--vernacular", vernacular, "--in", str(starter)]) == 0
    assert (starter / "accounts" / f"{file}.md").is_file()
    assert not [f for f in open_session(starter).report.findings if f.code in ("bad-file-name", "names-clash", "unexpected-file")]


def test_a_draft_account_reads_no_sightings(starter: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    (starter / "sightings").mkdir(exist_ok=True)
    (starter / "sightings" / "all.csv").write_text("scientificName,eventDate\nInventus rarus,2025-06-02\n", encoding="utf-8")
    read: list[object] = []
    monkeypatch.setattr("guidebuild.reading.sightings.open_table", lambda *args: read.append(args))
    assert exit_code(["account", "Inventus novus", "--in", str(starter)]) == 0
    assert (read, "Written:" in capsys.readouterr().out) == ([], True)
