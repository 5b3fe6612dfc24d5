"""The keys of films.yaml, each declared once."""

from __future__ import annotations

from guidebuild.guide.field_declaration import Field

F = Field

FILM_FIELDS = (
    F(
        "title",
        "What the film is called.",
        "The Parent Bug in five minutes",
        effect="The head of its page, and its name wherever it is linked.",
    ),
    F(
        "address",
        "Where it stands on the web.",
        "https://films.example/parent-bug",
        effect="A link that opens there; nothing of that host is loaded before.",
    ),
    F(
        "file",
        "Its file in films/, ending in .mp4 or .webm, where the guide shall hold it itself.",
        "films/parent-bug.mp4",
        effect="It plays on its page and on its accounts' pages, with captions and chapters.",
    ),
    F("day", "The day it came out.", "2026-06-12", effect="Beside its title; films stand in the order of their days, and in the feed."),
    F("length", "How long it lasts.", '"5:20"', effect="Beside its title."),
    F(
        "kind",
        "What kind of episode it is, by the name of its length in guide.yaml.",
        "full",
        effect="Held against the lengths of `episodes:`.",
    ),
    F(
        "language",
        "The language that is spoken in it, where that is not the guide's.",
        "en",
        effect="Its captions and transcript are marked so.",
    ),
    F("accounts", "The species it shows.", "[parent-bug]", names="account", effect="It stands on their pages."),
    F(
        "script",
        "The script that is spoken in it, by its id: an episode's file name without .md, or the id of a drafted one.",
        "parent-bug-full",
        effect="Chapters and the times of marks come from it, in the times of the captions where there are some.",
    ),
    F(
        "captions",
        "The file of its captions in films/ or takes/ (WebVTT or SubRip).",
        "films/parent-bug.vtt",
        effect="Captions in the player, the transcript on its page, and the times of chapters and marks.",
    ),
    F(
        "chapters",
        "Its chapters, each with the time it begins and its title, where they do not come from the script.",
        '\n  - "0:00 Opening"\n  - "0:42 The dark spot"',
        effect="Chapters to jump to.",
    ),
    F("still", "The photo of photos.yaml that stands for it.", "parent-adult", names="photo", effect="The picture beside its title."),
    F("credit", "Who made it.", "Larkfold Hedge Group", effect="Below it; without one its file stays unpublished."),
    F("licence", "The licence it is under.", "CC-BY-4.0", effect="Beside the credit; without one its file stays unpublished."),
    F("note", "What it shows, in a sentence or two.", "She guards her eggs against an earwig.", effect="Below its title, and in the feed."),
    F(
        "card",
        "Whether the code on the cards of its species leads to it.",
        "yes",
        effect="The code on their cards opens their page at the film.",
    ),
)

SAID_FIELDS = (
    F("noted", "The day on which it was noted.", "2026-06-12", effect="Nothing published."),
    F(
        "says",
        "The facts that the film says.",
        '\n  - {account: parent-bug, fact: size, words: 6–9 mm, at: "0:28"}',
        effect="Held against the accounts.",
    ),
)
"""What a film said on its day, in a file beside it that the command `film` writes."""
SAID_FACT_FIELDS = (
    F("account", "Of which species.", "parent-bug", names="account", effect="Whose facts are looked at."),
    F("fact", "Which fact, by the name of its slot.", "size", stored_as="slot", effect="Which fact is looked at."),
    F("words", "What it was then.", "6–9 mm", effect="A check tells where it is another now."),
    F("at", "When the film says it.", '"0:28"', stored_as="second", effect="Named in the finding."),
)
