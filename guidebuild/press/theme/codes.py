"""Every finding that a guide's own theme can give, with its level, why it matters and how to mend it."""

from __future__ import annotations

from guidebuild.guide.findings import Code, Level

THEME_UNUSED = Code("theme-unused", "Every file of the guide's own theme is used", Level.WARNING,
    "Pages and cards look as if the file were not there.",
    "Give it the path of the file that it replaces, or name it in a template.")  # fmt: skip
THEME_WORD = Code("theme-word", "The guide's own card.yaml says only what the tool understands", Level.WARNING,
    "What is not understood changes nothing.",
    "Write one of the words that the shipped card.yaml has in that place.")  # fmt: skip

THEME_CODES = (THEME_UNUSED, THEME_WORD)
