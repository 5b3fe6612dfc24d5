"""The fields of an account, each declared once, in the order in which drafts ask for them and pages show them."""

from __future__ import annotations

from guidebuild.guide.field_declaration import Ask, FactRow, Field, OutputName

CARDS, SITE, SCRIPTS, POSTS, SLIDES, WALKS, DATA = OutputName
EVERYWHERE = tuple(OutputName)

LAW_EXAMPLE = "\n  text: It may not be caught or sold.\n  as of: 2026-03-01\n  address: https://example.org/law"
"""A note on the law, as accounts, places and guide.yaml write it."""

_NAMES = (
    Field(
        "name",
        "The scientific name, with or without its authority.",
        "Elasmucha grisea",
        outputs=EVERYWHERE,
        slot="scientific name",
    ),
    Field(
        "authority",
        "Who described the species, and when; in brackets where it was put into another genus since.",
        "(Linnaeus, 1758)",
        stored_as="name",
        question="Who described it, and when?",
        outputs=EVERYWHERE,
        slot="authority",
    ),
    Field(
        "vernacular",
        "What people call it.",
        "Parent Bug",
        question="What do people call it?",
        asks=(Ask("no-vernacular", "sketch", "vernacular name"),),
        outputs=EVERYWHERE,
        slot="name",
    ),
    Field(
        "also called",
        "Other names that people call it by.",
        "[Mothering Bug]",
        stored_as="other_vernaculars",
        outputs=(SITE, DATA),
        row=FactRow("Also called", (SITE,), after_others=True),
    ),
    Field(
        "synonyms",
        "Scientific names that it goes by elsewhere, older or newer.",
        "[Cimex griseus]",
        outputs=(SITE, DATA),
        row=FactRow("Also named", (SITE,), after_others=True),
    ),
    Field(
        "formerly",
        "Names that this account's file had before, so that old addresses still lead here.",
        "[mothering-bug]",
        outputs=(SITE,),
    ),
    Field(
        "say",
        "How the scientific name is said aloud, the stressed syllable in capitals.",
        "el-az-MOO-ka GRIZ-ee-a",
        outputs=(SITE, SCRIPTS),
        slot="say",
        row=FactRow("Say it", (SITE,), after_others=True),
    ),
    Field(
        "family",
        "The family it belongs to.",
        "Acanthosomatidae",
        question="Which family is it in?",
        asks=(Ask("no-family", "sketch", "family"),),
        outputs=(SITE, CARDS, SCRIPTS, DATA),
        slot="family",
    ),
    Field(
        "group",
        "The set of life stages it goes through, where it is not the guide's.",
        "true-bug",
        unshown="It chooses the words for the stages; the words themselves are shown.",
    ),
)

_TELLING = (
    Field(
        "size",
        "How large it is: a length or a range with its unit, and what is measured.",
        "6–9 mm body length",
        question="How large is it, and what is measured?",
        asks=(Ask("no-size", "fieldable", "size"),),
        outputs=(SITE, CARDS, SCRIPTS, POSTS, DATA),
        slot="size",
    ),
    Field(
        "diagnostics",
        "The field marks that decide, the most useful first.",
        "\n  - mark: dark spot on the scutellum\n    stage: adult\n    view: upperside\n    photo: parent-adult\n    at: 50.2, 50.4",
        question="Which marks decide, most useful first?",
        asks=(
            Ask("no-field-mark", "fieldable", "field marks"),
            Ask("no-pointer", "publishable", "a pointer on a photo", "Where on the photo is the first mark? Give `photo:` and `at:`."),
        ),
        outputs=EVERYWHERE,
    ),
    Field(
        "characters",
        "Its state, or its range, for each character of characters.yaml; for comparisons and the key.",
        "\n  body length: 6–9 mm\n  scutellum mark: dark-spot\n  body edge: banded\n  hair: bare\n  antennae: greenish-or-dark",
        stored_as="scores",
        question="What are its states for the guide's characters?",
        asks=(Ask("no-scores", "publishable", "characters"),),
        outputs=(SITE, CARDS, SCRIPTS, POSTS, SLIDES),
        names="character",
    ),
    Field(
        "similar",
        "The species it is taken for, and what tells them apart; `none` where there are none.",
        "\n  - account: birch-shieldbug\n    tell by: [scutellum-mark, body-edge]\n"
        "    note: The Birch Shieldbug has a plain green scutellum and a plain edge to the body.\n"
        "  - account: hairy-shieldbug\n    tell by: [hair, antennae]\n    note: The Hairy Shieldbug is plainly hairy.",
        question="What is it taken for? Write `none` if nothing.",
        blank="none",
        asks=(Ask("no-similar", "fieldable", "similar species"),),
        outputs=(SITE, CARDS, SCRIPTS, POSTS, SLIDES, WALKS),
        slot="similar species",
    ),
)

_LIVING = (
    Field(
        "host plants",
        "The plants it lives on, which part of them and for what; `none` where it has none.",
        "\n  - plant: silver-birch\n    part: catkins and leaves\n    use: food of nymph and adult",
        question="What does it feed on? Write `none` and give `prey:` for a hunter.",
        blank="none",
        asks=(Ask("no-food", "fieldable", "host plants or prey"),),
        outputs=EVERYWHERE,
        slot="host plants",
        row=FactRow("Host plants", (SITE,)),
    ),
    Field(
        "prey",
        "What it hunts or eats, where that is not a plant.",
        "caterpillars and the larvae of leaf beetles",
        question="What does it hunt or eat, if not plants?",
        outputs=(SITE, CARDS, SCRIPTS, DATA),
        inline=True,
        slot="prey",
        row=FactRow("Prey", (SITE, CARDS)),
    ),
    Field(
        "voice",
        "What it sounds like: a call, a song, a buzz.",
        "a thin, high hiss when it is held",
        question="What does it sound like, if one can hear it?",
        outputs=(SITE, CARDS, SCRIPTS),
        inline=True,
        slot="voice",
        row=FactRow("Voice", (SITE, CARDS), may_give_way=True),
    ),
    Field(
        "habitat",
        "The kinds of place where one looks for it.",
        "[woodland edge, park]",
        question="In what kind of place does one look?",
        asks=(Ask("no-habitat", "fieldable", "habitat"),),
        outputs=(SITE, CARDS, SCRIPTS, SLIDES, DATA),
        slot="habitat",
        row=FactRow("Habitat", (SITE,)),
        names="place",
    ),
    Field(
        "places",
        "Places of places.yaml where it is found.",
        "[birch-clump]",
        outputs=(SITE, SCRIPTS, WALKS, DATA),
        slot="places",
        row=FactRow("Places", (SITE,)),
        names="place",
    ),
    Field(
        "absent from",
        "Places where it was looked for and not found.",
        "[gorse-bank]",
        outputs=(SITE, POSTS, SLIDES, WALKS, DATA),
        row=FactRow("Not found at", (SITE,)),
        names="place",
    ),
    Field(
        "sensitive",
        "Whether its places must be kept secret: `no`, or how strictly, why, and when to look at it again.",
        "no",
        stored_as="sensitivity",
        outputs=EVERYWHERE,
        row=FactRow("Kept private", (SITE,)),
    ),
    Field(
        "status",
        "How common it is, in a word or two.",
        "common",
        question="How common is it here?",
        outputs=(SITE, CARDS, SCRIPTS, DATA),
        inline=True,
        slot="status",
        row=FactRow("Status", (SITE,)),
    ),
    Field(
        "recent",
        "Since when it has been here, for a species that arrived lately.",
        "first seen in the region in 2019",
        outputs=(SITE, SCRIPTS),
        inline=True,
    ),
    Field(
        "seasons",
        "When each stage is about; after a semicolon, when it is seen most.",
        "\n  egg: late May – June\n  nymph: mid June – August\n  adult: all year; most seen May–June, August–September",
        question="When is each stage about?",
        asks=(Ask("no-season", "fieldable", "seasons"),),
        outputs=EVERYWHERE,
    ),
    Field(
        "life stages",
        "What each stage looks like and does, in a sentence or two.",
        "\n  egg: A batch under a leaf, guarded by the female.\n  nymph: Yellowish, in a tight group.\n"
        "  adult: Grey-brown, with a dark spot in the middle of the scutellum.",
        stored_as="stages",
        question="What does each stage look like?",
        asks=(Ask("no-life-stages", "publishable", "life stages"),),
        outputs=(SITE, CARDS, SCRIPTS),
    ),
)

_REST = (
    Field(
        "photos",
        "Photos of photos.yaml that show it, the best first.",
        "[parent-adult, parent-guarding, parent-nymph]",
        question="Which photo shows the whole of it?",
        blank="[]",
        asks=(Ask("no-plate", "fieldable", "a photo"),),
        outputs=(SITE, CARDS, SCRIPTS, POSTS, SLIDES, DATA),
        names="photo",
    ),
    Field(
        "hazards",
        "How it can hurt people; `none` where it cannot.",
        "[defensive-fluid]",
        question="Can it hurt? Write `none` if it cannot.",
        blank="none",
        asks=(Ask("no-hazard-word", "fieldable", "hazards"),),
        outputs=(SITE, CARDS, SCRIPTS, POSTS, SLIDES, WALKS),
        slot="hazards",
    ),
    Field(
        "caution",
        "A warning in your own words; it is never shortened.",
        "Do not turn the leaf over while the female guards her eggs.",
        outputs=(SITE, CARDS, SCRIPTS, POSTS, SLIDES, WALKS),
        inline=True,
    ),
    Field(
        "law",
        "What the law says of it, with the day on which that was so; or several such notes.",
        LAW_EXAMPLE,
        outputs=(SITE, CARDS, SLIDES, WALKS),
    ),
    Field(
        "sources",
        "Sources of sources.yaml that its facts come from.",
        "[group-notes]",
        question="Which book, paper or person says so?",
        blank="[]",
        asks=(Ask("no-source", "publishable", "sources"),),
        outputs=(SITE, POSTS, DATA),
        names="source",
    ),
    Field(
        "reviewed",
        "Who last checked its facts, and when.",
        "{by: Larkfold Hedge Group, on: 2026-02-14}",
        question="Who has checked these facts, and when?",
        blank="{by: , on: }",
        asks=(Ask("not-reviewed", "publishable", "a review"),),
        outputs=(SITE, CARDS, SLIDES, DATA),
    ),
    Field(
        "posted",
        "The day its post went out, or is to go out.",
        "2026-05-02",
        outputs=(SITE, POSTS, SLIDES),
    ),
    Field(
        "to post",
        "Any day of the week in which you want to post it; the plan works out all other weeks round it.",
        "2026-12-07",
        outputs=(POSTS, SLIDES),
    ),
    Field(
        "silence",
        "Rules that do not count for this account, each with the reason.",
        "\n  - rule: hard-sentence\n    reason: The sentence is quoted from its author.",
        stored_as="silenced",
        unshown="It is a word to the checks.",
    ),
)

ACCOUNT_FIELDS: tuple[Field, ...] = (*_NAMES, *_TELLING, *_LIVING, *_REST)
"""Every key of the facts block."""

SECTIONS: tuple[Field, ...] = (
    Field(
        "In brief",
        "What stands first on its page: why one would stop for it.",
        "A small brown shieldbug that looks after its young.",
        question="Why would someone stop for this one?",
        asks=(Ask("no-brief", "sketch", "In brief"),),
        outputs=(SITE, SCRIPTS, POSTS, DATA),
    ),
    Field(
        "How to know it",
        "How it is told, in words.",
        "One dark spot in the middle of the scutellum, and an edge to the body banded in black and yellow.",
        question="How is it told, in words?",
        asks=(Ask("no-how-to-know", "publishable", "How to know it"),),
        outputs=(SITE, SCRIPTS, POSTS, DATA),
    ),
    Field(
        "Where to look",
        "Where one stands, and what one looks at.",
        "Turn up the lower leaves of birches, one at a time and without picking them.",
        question="Where does one stand, and what does one look at?",
        asks=(Ask("no-where-to-look", "publishable", "Where to look"),),
        outputs=(SITE, CARDS, SCRIPTS, DATA),
    ),
    Field(
        "Life story",
        "What happens in its year.",
        "The female lays one batch of eggs and stays with them until they hatch.",
        question="What happens in its year?",
        asks=(Ask("no-life-story", "publishable", "Life story"),),
        outputs=(SITE, SCRIPTS, DATA),
    ),
    Field(
        "In the field",
        "How it is watched and photographed without harm.",
        "A female on eggs will not leave. Give her two minutes at most.",
        question="How is it watched and photographed without harm?",
        asks=(Ask("no-in-the-field", "publishable", "In the field"),),
        outputs=(SITE, SCRIPTS, SLIDES),
    ),
)
"""The headings that an account has below its facts block."""

INLINE_FIELDS = tuple(field for field in ACCOUNT_FIELDS if field.inline)
"""Texts in the author's words."""


def rows_of(output: OutputName) -> tuple[tuple[Field, FactRow], ...]:
    """The fields that an output shows as lines of facts, in their order."""
    found = [(field, field.row) for field in ACCOUNT_FIELDS if field.row and output in field.row.outputs]
    return tuple(sorted(found, key=lambda pair: pair[1].after_others))
