"""Every finding that slides can give, with its level, why it matters and how to mend it."""

from __future__ import annotations

from guidebuild.guide.findings import Code, Level

SLIDES_UNKNOWN = Code("slides-unknown", "Sets of slides are of what is in the guide", Level.WARNING,
    "The set is not made.",
    "Write due, all, the id of an account or a walk, or two accounts with -- between them.")  # fmt: skip
SLIDE_TOO_FULL = Code("slide-too-full", "All words of a slide go onto it", Level.WARNING,
    "Words are set too close, or are missing at its foot.",
    "Shorten the words that it shows, or leave that shape out of `slide shapes:` in guide.yaml.")  # fmt: skip

SLIDE_CODES = (SLIDES_UNKNOWN, SLIDE_TOO_FULL)
