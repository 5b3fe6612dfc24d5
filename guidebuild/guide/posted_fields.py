"""The keys of a file that the command `posted` writes, each declared once."""

from __future__ import annotations

from guidebuild.guide.field_declaration import Field

F = Field

NOTED_FIELDS = (
    F(
        "posts",
        "What was posted of the species.",
        "\n  - {day: 2026-06-03, says: [{fact: size, words: 6–9 mm}]}",
        effect="Held against its account.",
    ),
)
NOTED_POST_FIELDS = (
    F("day", "The day on which it was posted.", "2026-06-03", effect="Said in the correction."),
    F("correction", "Whether it put right what had been posted before.", "yes", effect="What it says stands for what was posted before."),
    F("says", "The facts that it said.", "[{fact: size, words: 6–9 mm}]", effect="Held against the account."),
)
NOTED_FACT_FIELDS = (
    F("fact", "Which fact, by the name of its slot.", "size", stored_as="slot", effect="Which fact is looked at."),
    F("words", "What it was then.", "6–9 mm", effect="Where it is another now, a correction is written."),
)
