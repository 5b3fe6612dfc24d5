"""What views found wrong, as problems of publishing: apart from `problems.py`, so that no picture hangs on what findings are."""

from __future__ import annotations

from guidebuild.guide.findings import Finding
from guidebuild.press.engine.problems import Problem


def problem_of(finding: Finding) -> Problem:
    """The problem that a finding is to those who publish."""
    return Problem(finding.code, finding.at.file, f"{finding.message} {finding.mend}".strip())
