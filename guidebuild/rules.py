"""Every rule in one list: of reading, of the checks, of scripts and takes, of posts, and of publishing."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.registry import RULES
from guidebuild.guide.findings import Code
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.theme.codes import THEME_CODES
from guidebuild.reading.codes import CODES
from guidebuild.reading.sighting_codes import SIGHTING_CODES
from guidebuild.speech.codes import SPEECH_CODES
from guidebuild.views.posts.codes import POST_CODES
from guidebuild.views.slides.codes import SLIDE_CODES


def gather_rules() -> tuple[Code, ...]:
    """Every rule once, those of reading first. What two rooms can find by the same rule, such as an unknown character, is listed once."""
    listed: dict[str, Code] = {}
    for code in _listed():
        listed.setdefault(code.code, code)
    return tuple(listed.values())


def _listed() -> Iterator[Code]:
    yield from (*CODES, *SIGHTING_CODES)
    yield from (Code(rule.code, rule.title, rule.level, rule.why, rule.mend) for rule in RULES)
    yield from (*SPEECH_CODES, *POST_CODES, *SLIDE_CODES, *THEME_CODES, *PROBLEM_CODES)
