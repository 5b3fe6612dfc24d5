"""How a take was fitted, and what was found in it, on a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table

from guidebuild.guide.findings import Finding, Level
from guidebuild.speech.pace import PaceFit


def print_fit(out: Console, fit: PaceFit) -> None:
    """What was learnt, a line for each value."""
    table = Table(box=None, show_header=False, pad_edge=False)
    for label, value in fit.describe().items():
        shown = ", ".join(f"{k} {v}" for k, v in value.items()) if isinstance(value, dict) else value
        table.add_row(label, ", ".join(map(str, shown)) if isinstance(shown, list) else str(shown))
    out.print(table)


def print_findings(out: Console, findings: Iterable[Finding]) -> bool:
    """Each in a line; whether one is an error."""
    listed = list(findings)
    for finding in listed:
        out.print(str(finding), highlight=False, soft_wrap=True)
    return any(finding.level is Level.ERROR for finding in listed)
