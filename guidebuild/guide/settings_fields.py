"""The keys of guide.yaml, and of the lists that the tool ships and a guide may add to, each declared once."""

from __future__ import annotations

from guidebuild.guide.account_fields import LAW_EXAMPLE
from guidebuild.guide.field_declaration import Field

F = Field

POST_FIELDS = (
    F("name", "What this length of text is called.", "short"),
    F("characters", "How many characters it may have.", "280"),
    F("link cost", "How many of them a link counts for.", "23"),
    F("hashtags", "How many hashtags it may have.", "3"),
)
EPISODE_KIND_FIELDS = (
    F("name", "What this kind of episode is called.", "short"),
    F("length", "How long it is, from the shortest to the longest.", "60–90 s", unstored="it is kept as its shortest and its longest"),
    F("captions", "Where its captions are read, which says how long their lines may be.", "vertical"),
)
PACE_FIELDS = (
    F("syllables", "How many syllables you say in a second.", "4.2"),
    F("comma", "Your pause at a comma, in seconds.", "0.3"),
    F("sentence", "Your pause after a sentence, in seconds.", "0.7"),
    F("paragraph", "Your pause after a paragraph, in seconds.", "1.2"),
)
STAGE_FIELDS = (
    F("word", "What the stage is called.", "nymph", unstored="the set keeps it with the stage"),
    F("sentence", "What a sentence calls it, where that is another word: “Look for it in seed”.", "in seed"),
    F("many", "What several of them are called.", "larvae"),
    F("mark", "How a sentence about a field mark of this stage begins.", "on the frond"),
)
STAGE_SET_FIELDS = (
    F("title", "The group that goes through these stages.", "True bugs"),
    F("stages", "The stages in order of life, each with the word for it.", "\n  egg: egg\n  nymph: nymph\n  adult: adult"),
    F("sought", "The stages one looks for in the field.", "[nymph, adult]"),
    F("key", "The stage that key and finder are for, where it is not the one with most characters.", "adult", stored_as="keyed"),
    F("like", "A group that the tool brings, from which all is taken that is not given here.", "bird"),
    F("living thing", "The word for one of them.", "plant"),
    F("kingdom", "The kingdom they belong to, for sightings and data.", "Plantae"),
    F("measured", "What a size means that does not say what was measured.", "height"),
    F(
        "food",
        "What it lives on: `eaten` (plants or prey), `hunted` (prey alone), `grown on` (plants), or `none`: not asked.",
        "grown on",
    ),
    F("food heading", "The heading over what it lives on.", "Grows on or with"),
    F("views", "The sides from which one looks at it, the usual one first.", "[whole plant, flower]"),
    F("questions", "What a draft asks, by key, instead of the usual question.", "{size: How tall is it?}"),
    F("such as", "An answer as it may be typed, by key.", "{size: 20–45 cm height}"),
    F("not asked", "Keys and headings of an account, or `pointer`, that neither drafts nor checks ask for.", "[voice, pointer]"),
    F("clear pots", "Whether one looks at it in a clear pot.", "no", stored_as="pots"),
)
CAUTION_FIELDS = (
    F("title", "The hazard.", "Ticks"),
    F("text", "What to do about it.", "Wear long trousers and look yourself over afterwards."),
    F("local", "The line that defers to those who know the place and the law.", "Ask a doctor about a rash."),
    F("short", "What to do, in one sentence, for the smallest cards.", "Look yourself over afterwards."),
    F("harm", "How the species itself hurts, so that its look-alikes warn of it; `none` where it does not.", "poisonous"),
    F("asked as", "Words in small letters by which the hazard is known.", "[venomous, snake]"),
)
LICENCE_FIELDS = (
    F("title", "What the licence is called.", "CC BY 4.0"),
    F("address", "Where it can be read.", "https://creativecommons.org/licenses/by/4.0/"),
    F("attribution", "Whether the maker must be named.", "yes"),
    F("derivatives", "Whether a picture may be changed, such as cut to shape.", "yes"),
    F("commercial", "Whether it may be sold.", "yes"),
)
SETTINGS_FIELDS = (
    F("title", "What the guide is called.", "Shieldbugs of Larkfold Hedge"),
    F("region", "The region it covers.", "Larkfold Vale"),
    F("country", "The country it lies in, by its two letters, for data; not for a region in several.", "GB"),
    F("description", "What it is, in a sentence or two.", "Eighteen shieldbugs along one community hedge."),
    F("languages", "Its languages, the one it is written in first.", "[en, es]"),
    F("address", "Where its site will stand on the web.", "https://larkfold.example/guide"),
    F("publisher", "Who publishes it.", "Larkfold Hedge Group"),
    F("contact", "How to reach its makers.", "hello@larkfold.example"),
    F("licence", "The licence of its texts.", "CC-BY-4.0"),
    F(
        "photo credit",
        "Whom `guidebuild bring` credits for pictures that do not say who made them: usually you.",
        "Larkfold Hedge Group",
    ),
    F("photo licence", "The licence that `guidebuild bring` writes for such pictures.", "CC-BY-4.0"),
    F("group", "The set of life stages that its species go through.", "true-bug"),
    F("level", "How complete its accounts must be.", "publishable"),
    F("hemisphere", "Which half of the Earth it is on, for words such as spring.", "north"),
    F("time zone", "Its time zone.", "Europe/London", stored_as="zone"),
    F("card", "The format of its cards.", "a6"),
    F("paper", "The paper that cards are printed on, several to a sheet.", "a4"),
    F("flip", "Over which edge your printer turns a sheet.", "long edge"),
    F("bleed", "How far the tone behind pictures is printed past the cut.", "3 mm"),
    F(
        "size beside",
        "The familiar thing beside which sizes are drawn that are too long for the paper: hand, card, person or none.",
        "hand",
    ),
    F("prints", "Further prints: formats, or `print shop` for files that a print shop takes.", "[leaflet-a4, booklet]"),
    F(
        "sold",
        "What is sold, of `prints:` or of cards, deck, walk cards, comparisons, checklists, key: without pictures that may not be sold.",
        "[booklet, walk cards]",
    ),
    F("print profile", "Your print shop's colour profile, a file of the guide.", "shop.icc"),
    F("greeting", "How scripts begin.", "Hello, and welcome to the hedge."),
    F("sign off", "How scripts end.", "See you by the hedge."),
    F("hashtags", "Hashtags of posts, without the #.", "[shieldbugs, hedgewatch]"),
    F(
        "posts",
        "The lengths of text that posts are written in.",
        "\n  - {name: short, characters: 280, link cost: 23, hashtags: 3}",
        stored_as="post_limits",
    ),
    F("episodes", "The kinds of episode that scripts are drafted for.", "\n  - {name: short, length: 60–90 s}", stored_as="slots"),
    F("pace", "How fast you talk; `guidebuild pace` measures it.", "{syllables: 4.2}"),
    F(
        "region box",
        "The region's edges, which no sighting lies beyond.",
        "51.45, -1.30, 51.56, -1.10",
    ),
    F(
        "public positions",
        "Positions that all may know, though no open place is there; needed only where something is kept secret.",
        '\n  - "51.5061, -1.2012"',
    ),
    F("dates", "Whether the day or the month comes first in dates of sightings such as 03/04/2026.", "day first", stored_as="date_order"),
    F("review after", "After how long the facts of an account should be checked again.", "36 months", stored_as="review_after_months"),
    F("rules", "How grave a rule of the checks is in this guide.", "\n  hard-sentence: off"),
    F(
        "life stages",
        "Sets of life stages that the tool does not bring.",
        "\n  gall: {title: Galls, stages: {young: young, ripe: ripe}}",
        unstored="the guide keeps them with the shipped ones",
    ),
    F(
        "cautions",
        "Hazards in your own words.",
        "\n  bull: {title: Bulls, text: Keep to the far side of the fence.}",
        unstored="the guide keeps them with the shipped ones",
    ),
    F("law", "What the law says of all that is in the guide, with the day on which that was so; or several.", LAW_EXAMPLE),
)
