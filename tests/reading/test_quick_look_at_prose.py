"""A text that a quick look lets pass holds none of the dangers that are looked for line by line."""

from __future__ import annotations

from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from guidebuild.guide.findings import At
from guidebuild.guide.records import Section
from guidebuild.reading import prose

PIECES = [
    "[a](b)",
    "[a](b c)",
    "[a]( b )",
    "](",
    ") ",
    "x y",
    "*g s*",
    "*g s *",
    "5*6*7",
    "<a",
    "<b>",
    "`",
    "```",
    "~~~",
    "|",
    "-|-",
    "1859. ",
    "12) ",
    "\n",
    " ",
]


@given(st.lists(st.sampled_from(PIECES), max_size=10).map("".join))
@example("See\n\n  1859. It was dry.")
@example("[a](b c)")
@example("~~~\nnever closed")
@settings(
    suppress_health_check=[HealthCheck.filter_too_much]
)  # most texts of such pieces can go wrong, and it is the others that are asked
def test_what_a_quick_look_lets_pass_has_no_danger(text: str) -> None:
    assume(not prose._can_go_wrong(text))
    assert list(prose.find_dangers(Section("", text, At("a.md", 3)))) == []
