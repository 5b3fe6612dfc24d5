"""Levels, silenced rules, completeness and the forms in which a report is given."""

from __future__ import annotations

import io
import json
from dataclasses import replace

from rich.console import Console

from guidebuild.checks import complete, life, photos, references, scripts
from guidebuild.checks.complete import measure_completeness
from guidebuild.checks.registry import Report, check_guide
from guidebuild.checks.sarif import as_sarif
from guidebuild.guide.accounts import Silenced, StageText
from guidebuild.guide.findings import Code, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.text.inline import Inline
from guidebuild.terminal.findings import as_json, print_by_account, print_by_rule, print_rules, print_total
from tests.checks.invented import at, guide, with_account

OWN = (*complete.RULES, *references.RULES, *photos.RULES, *life.RULES, *scripts.RULES)


def check(changed: Guide) -> Report:
    return check_guide(changed, rules=OWN)


def listed() -> list[Code]:
    return [Code(r.code, r.title, r.level, r.why, r.mend) for r in OWN]


def no_size(**changes: object) -> Guide:
    return with_account(guide(), "red-bug", size=None, **changes)


def test_a_guide_sets_the_level_of_a_rule_or_switches_it_off() -> None:
    louder = replace(no_size(), settings=replace(guide().settings, rules=(("no-size", Level.ERROR),)))
    silent = replace(no_size(), settings=replace(guide().settings, rules=(("no-size", None),)))
    assert [f.level for f in check(louder).findings] == [Level.ERROR]
    assert check(louder).blocked() == {"red-bug"}
    assert check(silent).findings == ()


def test_a_silenced_rule_is_counted_with_its_reason() -> None:
    report = check(no_size(silenced=(Silenced("no-size", "never measured", at("red-bug", 33)),)))
    assert report.findings == ()
    assert [(f.code, reason) for f, reason in report.silenced] == [("no-size", "never measured")]


def test_a_silence_that_finds_nothing_is_told() -> None:
    report = check(with_account(guide(), "red-bug", silenced=(Silenced("no-size", "x", at("red-bug", 33)),)))
    assert [f"{f.code} {f}" for f in report.findings] == [
        "idle-silence accounts/red-bug.md:33: note: The rule “no-size” is silenced here but finds nothing. Take the entry out."
    ]


def test_a_season_needs_its_stage_described() -> None:
    report = check(with_account(guide(), "red-bug", stages=(StageText("adult", Inline("Large."), at("red-bug", 25)),)))
    assert "The stage “egg” has a season but is not described under `life stages:`." in [f.message for f in report.findings]


def test_completeness_counts_parts_and_names_the_level_reached() -> None:
    whole = measure_completeness(guide(), guide().accounts["red-bug"])
    assert (whole.said, whole.asked, whole.level, whole.missing) == (20, 20, "publishable", ())
    part = measure_completeness(no_size(), no_size().accounts["red-bug"])
    assert (part.said, part.level, part.missing) == (19, "sketch", ("size",))


def printed(report: Report, *, by: str) -> str:
    out = io.StringIO()
    console = Console(file=out, width=100)
    if by == "account":
        print_by_account(console, report, {"red-bug": "Red Bug", "pale-bug": "Pale Bug"})
    else:
        print_by_rule(console, report, {"no-size": "Every account gives size"})
    print_total(console, report)
    return out.getvalue()


def test_a_piped_report_is_plain_lines_with_file_and_line() -> None:
    text = printed(check(no_size()), by="account")
    assert "\x1b" not in text
    assert "accounts/red-bug.md:1: warning: Red Bug does not give size" in text
    assert "wants size" in text
    assert text.rstrip().endswith("0 errors, 1 warning, 0 notes.")


def test_a_report_by_rule_names_the_rule_once() -> None:
    text = printed(check(no_size()), by="rule")
    assert "no-size  Every account gives size (1)" in text


def test_the_rules_are_listed_with_their_reasons() -> None:
    out = io.StringIO()
    print_rules(Console(file=out, width=200), listed())
    assert all(rule.code in out.getvalue() and rule.why[:40] in out.getvalue() for rule in OWN)


def test_json_carries_the_same_list() -> None:
    data = json.loads(json.dumps(as_json(check(no_size()))))
    assert [(f["code"], f["file"], f["line"]) for f in data["findings"]] == [("no-size", "accounts/red-bug.md", 1)]
    assert data["totals"] == {"error": 0, "warning": 1, "note": 0}
    assert data["accounts"][0]["missing"] == ["size"]


def test_sarif_has_the_rule_the_place_and_the_suppression() -> None:
    broken = no_size(silenced=(Silenced("no-size", "never measured", at("red-bug", 33)),), family="")
    log = as_sarif(check(broken), listed())
    found, silenced = log["runs"][0]["results"]
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    assert rules[found["ruleIndex"]]["id"] == found["ruleId"] == "no-family"
    assert found["locations"][0]["physicalLocation"] == {
        "artifactLocation": {"uri": "accounts/red-bug.md"},
        "region": {"startLine": 1},
    }
    assert silenced["suppressions"] == [{"kind": "external", "justification": "never measured"}]


def test_a_value_that_cannot_be_read_is_not_also_called_missing() -> None:
    unreadable = Finding("missing-unit", Level.ERROR, "“6–9” has no unit.", at("red-bug", 6), "Write mm.", "red-bug")
    broken = no_size(positions={"size": at("red-bug", 6)})
    assert [f.code for f in check_guide(broken, [unreadable], rules=OWN).findings] == ["missing-unit"]
    assert [f.code for f in check_guide(broken, rules=OWN).findings] == ["no-size"]


def test_a_large_guide_counts_what_is_complete_and_shows_what_is_not() -> None:
    whole, part = measure_completeness(guide(), guide().accounts["red-bug"]), measure_completeness(no_size(), no_size().accounts["red-bug"])
    many = tuple((f"bug-{n}", part if n == 7 else whole) for n in range(61))
    out = io.StringIO()
    print_by_account(Console(file=out, width=100), replace(check(guide()), completeness=many), {})
    assert [line.split()[0] for line in out.getvalue().splitlines() if line.strip()] == ["bug-7", "60"]
    assert "60 of 61 accounts say all that is asked of them." in out.getvalue()
