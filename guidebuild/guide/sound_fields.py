"""The keys of sounds.yaml, each declared once."""

from __future__ import annotations

from guidebuild.guide.field_declaration import Field

F = Field

SOUND_FIELDS = (
    F("title", "What the sound is called.", "Song of a male", effect="Above it on its accounts' pages."),
    F(
        "file",
        "Its file in sounds/: WAV, FLAC, MP3, Ogg or M4A.",
        "sounds/parent-song.wav",
        effect="It plays on its accounts' pages, with its sonogram; all that the file tells of where and when is taken off.",
    ),
    F("address", "Where it stands on the web.", "https://sounds.example/parent-song", effect="A link that opens there; nothing is loaded."),
    F(
        "kind",
        "What kind of sound it is.",
        "song",
        effect="Beside its title.",
    ),
    F("accounts", "The species that are heard.", "[parent-bug]", names="account", effect="It stands on their pages."),
    F("stage", "The life stage that is heard.", "adult", effect="Beside its title."),
    F("sex", "The sex that is heard.", "male", effect="Beside its title."),
    F("recordist", "Who recorded it.", "Larkfold Hedge Group", effect="The credit below it; without one its file stays unpublished."),
    F("licence", "The licence it is under.", "CC-BY-4.0", effect="Beside the credit; without one its file stays unpublished."),
    F("day", "The day it was recorded.", "2026-05-14", effect="Below it; held back with the place where that or the species is secret."),
    F(
        "place",
        "The place of places.yaml where it was recorded.",
        "birch-clump",
        names="place",
        effect="Below it, but for places and species that are kept secret.",
    ),
    F("note", "What to listen for, in a sentence or two.", "Short pulses, four a second.", effect="Below it."),
    F(
        "card",
        "Whether the code on the cards of its species leads to it.",
        "yes",
        effect="The code on their cards opens their page at the sound; where a film asks for the code too, that has it.",
    ),
)
