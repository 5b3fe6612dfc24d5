"""A report of findings, by account or by rule, with completeness bars and a total."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from guidebuild.checks.complete import Completeness
from guidebuild.checks.registry import Report
from guidebuild.guide.findings import Code, Finding, Level
from guidebuild.guide.sightings import FileCount

_COLOURS = {Level.ERROR: "bold red", Level.WARNING: "yellow", Level.NOTE: "cyan"}
_BAR = 20
_MOST_BARS = 60
"""Accounts up to which each has its bar: about a screen."""


def print_by_account(console: Console, report: Report, titles: dict[str, str]) -> None:
    """Each account with its completeness bar and its findings, then the guide's own, then the total.

    In a large guide the accounts that say all that is asked are counted in one line, so that those that do not are seen.
    """
    bars = dict(report.completeness)
    whole = {account for account, complete in bars.items() if not complete.missing and len(bars) > _MOST_BARS}
    table = Table(box=None, pad_edge=False, show_header=False, padding=(0, 2, 0, 0))
    for column in range(4):
        table.add_column(justify="right" if column == 2 else "left", no_wrap=column != 3)
    for account, complete in bars.items():
        if account in whole:
            continue
        table.add_row(titles.get(account, account), _bar(complete), f"{complete.said}/{complete.asked}", _reach(complete))
    if table.rows:
        console.print(table)
    if whole:
        console.print(f"{len(whole)} of {len(bars)} accounts say all that is asked of them.", highlight=False)
    owners = sorted({f.account for f in report.findings}, key=lambda a: (not a, a))
    for account in owners:
        console.print()
        console.print(Text(titles.get(account, account) or "The guide as a whole", style="bold"))
        _print_findings(console, [f for f in report.findings if f.account == account])


def print_by_rule(console: Console, report: Report, rule_titles: dict[str, str]) -> None:
    """Findings under the rule that made them."""
    for code, found in groupby(sorted(report.findings, key=lambda f: f.code), key=lambda f: f.code):
        listed = list(found)
        console.print(Text.assemble((code, "bold"), f"  {rule_titles.get(code, '')} ({len(listed)})"))
        _print_findings(console, listed)
        console.print()


def print_more(console: Console, report: Report) -> None:
    """How more is learnt of the words in brackets: once, below all findings, with the gravest one's as the example."""
    if report.findings:
        gravest = max(report.findings, key=lambda finding: finding.level.weight)
        console.print(
            f"\nMore on any of these by the word in brackets: guidebuild explain {gravest.code}",
            style="dim",
            highlight=False,
            soft_wrap=True,
        )


def print_total(console: Console, report: Report) -> None:
    """The last line: `3 errors, 1 warning, 0 notes; 2 silenced with a reason`."""
    counts = [_counted(report.count(level), level.value) for level in Level]
    silenced = f"; {len(report.silenced)} silenced with a reason" if report.silenced else ""
    style = "bold red" if report.count(Level.ERROR) else "bold"
    console.print(Text(f"\n{', '.join(counts)}{silenced}.", style=style))


def print_counts(console: Console, counts: Sequence[FileCount]) -> None:
    """What became of the rows of each file of sightings, so that the numbers close."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("Sightings", overflow="fold")
    table.add_column("rows", justify="right", no_wrap=True)
    table.add_column("the first of them", style="dim", overflow="fold")
    for count in counts:
        table.add_row(Text(count.file, style="bold"), f"{count.rows:,}", "")
        table.add_row("  counted", f"{count.counted:,}", "")
        for group in count.left_out:
            table.add_row(Text(f"  left out: {group.words}"), f"{group.rows:,}", Text(f"row {group.first}: {group.example}"))
        for group in count.remarks:
            table.add_row(Text(f"  of the counted: {group.words}"), f"{group.rows:,}", Text(f"row {group.first}: {group.example}"))
    if counts:
        console.print()
        console.print(table, soft_wrap=not console.is_terminal)


def as_json(report: Report, counts: Sequence[FileCount] = ()) -> dict[str, Any]:
    """The same list for programs, with what became of the rows of sightings."""
    return {
        "findings": [_plain(f) for f in report.findings],
        "silenced": [_plain(f) | {"reason": reason} for f, reason in report.silenced],
        "accounts": [
            {"id": account, "said": c.said, "asked": c.asked, "level": c.level, "missing": list(c.missing)}
            for account, c in report.completeness
        ],
        "sightings": [_plain_count(count) for count in counts],
        "totals": {level.value: report.count(level) for level in Level},
    }


def json_text(data: Any) -> str:
    """Indented JSON as it is printed."""
    return json.dumps(data, ensure_ascii=False, indent=2)


def print_rules(console: Console, rules: Iterable[Code]) -> None:
    """Every rule: its code, level, what must hold, and why."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for heading in ("Rule", "Level", "What must hold, and why"):
        table.add_column(heading, no_wrap=heading != "What must hold, and why")
    for rule in rules:
        table.add_row(rule.code, Text(rule.level.value, style=_COLOURS[rule.level]), f"{rule.title}. {rule.why}")
    console.print(table)


def _bar(complete: Completeness) -> Text:
    filled = round(_BAR * complete.said / complete.asked) if complete.asked else _BAR
    return Text("█" * filled, style="green" if filled == _BAR else "yellow") + Text("░" * (_BAR - filled), style="dim")


def _reach(complete: Completeness) -> str:
    if complete.missing:
        shown = ", ".join(complete.missing[:4])
        more = len(complete.missing) - 4
        return f"wants {shown}" + (f" and {more} more" if more > 0 else "")
    return complete.level


def _print_findings(console: Console, findings: Sequence[Finding]) -> None:
    for finding in findings:
        head = Text.assemble((f"{finding.at}: ", "dim"), (f"{finding.level.value}: ", _COLOURS[finding.level]), finding.message)
        if finding.mend:
            head.append(f" {finding.mend}", style="italic" if console.is_terminal else "")
        head.append(f"  [{finding.code}]", style="dim")
        console.print(Padding(head, (0, 0, 0, 2)) if console.is_terminal else head, soft_wrap=not console.is_terminal)


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")


def _plain_count(count: FileCount) -> dict[str, Any]:
    groups = {"left out": count.left_out, "of the counted": count.remarks}
    told = {key: [group._asdict() for group in some] for key, some in groups.items()}
    return {"file": count.file, "rows": count.rows, "counted": count.counted, **told}


def _plain(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "level": finding.level.value,
        "file": finding.at.file,
        "line": finding.at.line,
        "column": finding.at.column,
        "account": finding.account,
        "message": finding.message,
        "mend": finding.mend,
    }
