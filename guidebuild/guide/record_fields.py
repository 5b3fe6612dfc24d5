"""The keys of the smaller records, each declared once: what stands inside an account's fields, and the files beside the accounts."""

from __future__ import annotations

from guidebuild.guide.account_fields import INLINE_FIELDS, LAW_EXAMPLE
from guidebuild.guide.field_declaration import Field

F = Field
_STAGE = F("stage", "The life stage it shows.", "adult")
_SEX = F("sex", "The sex or caste it shows, where that matters.", "female")
_VIEW = F("view", "From which side one looks.", "upperside")
_PHOTO = F("photo", "A photo of photos.yaml that shows it.", "parent-adult", names="photo")
_HAZARDS = F("hazards", "How it can hurt people; `none` where it cannot.", "[spines-and-thorns]")
_CAUTION = F("caution", "A warning in your own words; it is never shortened.", "The thorns are stiff. Look first, then reach.")

LAW_FIELDS = (
    F("text", "What the law says, in your own words.", "It may not be caught or sold."),
    F("as of", "The day on which you looked it up; readers are told it, and to check the current law.", "2026-03-01"),
    F("address", "Where the law can be read.", "https://example.org/law"),
)
MARK_FIELDS = (
    F("mark", "The field mark, in a few words.", "dark spot on the scutellum"),
    F("stage", "The life stage that shows it, or several; without it, all do.", "adult", stored_as="stages"),
    F("sex", "The sex or caste that shows it, where the other does not; or several.", "female", stored_as="sexes"),
    _VIEW,
    F("photo", "The photo on which a pointer shows it.", "parent-adult", names="photo"),
    F("at", "Where the pointer ends.", "50.2, 50.4", stored_as="point"),
    F("wide", "Per cent of the photo's width that the mark takes: the ring goes round all of it, and a small one is shown enlarged.", "6"),
)
SIMILAR_FIELDS = (
    F("account", "The account it is taken for.", "birch-shieldbug", names="account"),
    F(
        "tell by",
        "The characters that tell the two apart; without them the tool works them out.",
        "[scutellum-mark, body-edge]",
        names="character",
    ),
    F("note", "What tells the two apart, in a sentence.", "The Birch Shieldbug has a plain green scutellum."),
)
HOST_FIELDS = (
    F("plant", "A plant of plants.yaml.", "silver-birch", names="plant"),
    F("part", "Which part of the plant.", "catkins and leaves"),
    F("use", "For what, and for which stage.", "food of nymph and adult"),
)
SEASON_FIELDS = (
    F("season", "When it is about.", "mid June – August; most seen in July"),
    F("place", "The place where that is so, if not in the whole region.", "birch-clump", names="place"),
)
SILENCE_FIELDS = (
    F("rule", "The rule, by the word in square brackets at the end of its finding.", "hard-sentence", stored_as="code"),
    F("reason", "Why it does not count here.", "The sentence is quoted from its author."),
)
REVIEW_FIELDS = (
    F("by", "Who checked the facts.", "Larkfold Hedge Group"),
    F("on", "The day they were checked.", "2026-02-14"),
)
SCORE_FIELDS = (
    F("value", "The state, or the states where several occur, or a range.", "spotted"),
    F("usually", "The state most specimens show.", "banded"),
    F("rarely", "A state that few specimens show.", "plain"),
    F("stage", "The stages for which it holds.", "adult"),
    F("sex", "The sex or caste for which it holds.", "female"),
)
SECRECY_FIELDS = (
    F("category", "How strictly its places are kept secret.", "high"),
    F("reason", "Why; this is published.", "Collected for sale."),
    F("review", "The day to look at it again.", "2028-03-01"),
)
TRANSLATION_FIELDS = (
    F("vernacular", "What people call it in this language.", "Chinche madre"),
    F(
        "marks",
        "The field marks in this language, each behind the account's own words; or a list in the account's order.",
        "\n  dark spot on the scutellum: mancha oscura en el escutelo",
    ),
    F("life stages", "What each stage looks like, in this language.", "\n  egg: Un grupo de huevos bajo una hoja de abedul."),
    F(
        "similar",
        "What tells each look-alike apart, in this language.",
        "\n  birch-shieldbug: Tiene el escutelo verde y liso.",
        names="account",
    ),
    F("law", "What the law says, in this language, in the account's order.", "[No se puede capturar ni vender.]"),
    F(
        "compared with",
        "What `check` calls the account's words when lists in its order were compared with it; once they change, it tells.",
        "4f2a9c",
    ),
    *(F(field.key, f"In this language: {field.meaning[:1].lower()}{field.meaning[1:]}", field.example) for field in INLINE_FIELDS),
)
EPISODE_FIELDS = (
    F("title", "What the episode is called.", "The bug that stays"),
    F("account", "The account it is about.", "parent-bug", names="account"),
    F("kind", "Which kind of episode of guide.yaml it is.", "full"),
    F("length", "How long it is to be, where that differs from its kind.", "4:30–5:30"),
    F("posted", "The day it went out, or is to go out.", "2026-06-12"),
)

PLANT_FIELDS = (
    F("vernacular", "What people call the plant.", "Hawthorn"),
    F("name", "Its scientific name.", "Crataegus monogyna"),
    F("note", "What to know about it, in a sentence or two.", "White blossom in May, red haws from late August."),
    _PHOTO,
    _HAZARDS,
    _CAUTION,
)
PLACE_FIELDS = (
    F("name", "What the place is called.", "Birch Clump"),
    F("area", "The wider area; it is said instead of the name where the place is kept secret.", "Larkfold"),
    F("habitat", "What kinds of habitat are there.", "[woodland edge]"),
    F("position", "Where it is.", '"51.5061, -1.2012"'),
    F("uncertainty", "How far from that position the true spot may be.", "100 m", stored_as="position"),
    F(
        "sensitive",
        "Whether it must be kept secret: `no`, or how strictly, why, and when to look at it again.",
        "no",
        stored_as="sensitivity",
    ),
    F("public name", "Whether the name of a place that is kept secret may be known, as where another place is called after it.", "no"),
    F("access", "How one gets there, and what is allowed.", "Soft ground after rain."),
    _HAZARDS,
    _CAUTION,
    F("law", "What the law says of the place, with the day on which that was so; or several.", LAW_EXAMPLE),
    F("plants", "Plants of plants.yaml that grow there.", "[silver-birch, alder]", names="plant"),
    F("note", "What to know about it, in a sentence or two.", "Thirty birches and a wet corner of alder."),
    F("photo", "A photo of photos.yaml that shows the place.", "place-birch-clump", names="photo"),
)
CHARACTER_FIELDS = (
    F("label", "What the character is called.", "ground colour"),
    F("kind", "Whether it has states, states in an order, or a range of measurements.", "states"),
    F("states", "Its states, each with the words that readers see.", "\n  green: green or yellow-green\n  brown: brown, bronze or straw"),
    F("question", "What the key and the finder ask.", "What colour is most of the back?"),
    F("part", "The part of the body one looks at.", "pronotum"),
    _VIEW,
    F("stage", "The stages that show it.", "adult", stored_as="stages"),
    F("sex", "The sex or caste that shows it.", "female", stored_as="sexes"),
    F("ease", "From how near it is seen; easier ones are asked first.", "at a distance"),
    F("unit", "The unit of a range.", "mm"),
    F("margin", "How much two measurements must differ to tell species apart.", "0.5 mm"),
)
TERM_FIELDS = (
    F("word", "The word that is explained.", "scutellum"),
    F("meaning", "What it means.", "The triangle in the middle of the back, between the bases of the wings."),
    F("also", "Other forms of the word.", "[scutella]"),
    F("photo", "A photo of photos.yaml that shows it.", "parent-scutellum", names="photo"),
)
SOURCE_FIELDS = (
    F("cite", "How it is cited in short.", "Southwood & Leston 1959"),
    F("kind", "What it is, where it is no text: `data set`.", "data set"),
    F("author", "Who wrote or made it.", "T. R. E. Southwood and D. Leston"),
    F("year", "When it appeared.", "1959"),
    F("title", "Its title, with publisher or journal.", "Land and Water Bugs of the British Isles. Frederick Warne, London"),
    F("version", "Its version, as data sets have one.", "1.4"),
    F("publisher", "Who published it, where that is not in its title.", "Larkfold Records Centre"),
    F("doi", "Its DOI.", "10.5555/12345678"),
    F("licence", "The licence of a data set; it holds for rows of sightings that name none.", "CC-BY-4.0"),
    F("rights holder", "Whose a data set is, where that is not its author.", "Larkfold Records Centre"),
    F("address", "Where it is on the web.", "https://example.org/paper"),
    F("accessed", "The day it was read or downloaded there.", "2026-01-20"),
)
PHOTO_FIELDS = (
    F("file", "Its file, where that is not photos/ with its id.", "photos/parent-adult.jpg"),
    F("shows", "What it shows, as a note for the guide's makers.", "Adult from above on a birch leaf"),
    F("account", "The account it belongs to.", "parent-bug", names="account"),
    _STAGE,
    _SEX,
    _VIEW,
    F("part", "The part of the body it shows from near.", "scutellum"),
    F("place", "The place of places.yaml where it was taken.", "birch-clump", names="place"),
    F("taken", "The day it was taken.", "2025-05-11"),
    F("credit", "Who made it.", "Larkfold Hedge Group"),
    F("licence", "The licence it is under.", "CC-BY-4.0"),
    F("title", "Its title, where its maker gave it one.", "Adult on birch"),
    F("source", "Where it comes from.", "drawn for this sample"),
    F("changes", "What was changed of it; licences such as CC-BY ask that it is said.", "background darkened"),
    F(
        "permission",
        "Who allowed that it is sold, where its licence does not.",
        "in print, by letter of 2026-02-03",
    ),
    F("alt", "What is to be seen, for those who cannot see it.", "A small green bug from above, with a plain green triangle."),
    F("decorative", "Whether it only decorates, so that nothing needs to be said of it.", "no"),
    F("caption", "What stands below it.", "Adult on birch"),
    F("focus", "Where its subject is, for cutting it to another shape.", "52, 40"),
    F("length", "How long the subject is in truth, for its scale.", "10 mm"),
    F("measured", "The line in the picture that is as long as that.", '"47.1, 26 – 51.7, 84"'),
)
_BY_COLUMN = "A column, and the words of its cells; capitals do not count, and a word is the whole cell."
SIGHTING_WORD_FIELDS = (
    F("places", "What tables of sightings call a place, and which place of places.yaml it is.", '{"Sea wall, Greyling": sea-wall}'),
    F("stages", "Words for a life stage, and the stage that each means, by its id.", "{imago: adult}"),
    F("beside a stage", "Words that may stand beside a stage and change nothing of it.", "[3rd instar, female]"),
    F("sexes", "Words for a sex, and what each means.", "{f: female}"),
    F("absence", f"Rows that say it was looked for and not found. {_BY_COLUMN}", "{occurrenceRemarks: [no adults]}"),
    F("doubt", f"Rows whose identification is in doubt. {_BY_COLUMN}", "{identificationVerificationStatus: [plausible]}"),
    F("no doubt", f"Words of these columns that mean no doubt. {_BY_COLUMN}", "{identificationVerificationStatus: [seen by two]}"),
    F("leave out", f"Rows to leave out, by any column. {_BY_COLUMN}", "{basisOfRecord: [MaterialCitation]}"),
    F(
        "data sets",
        "Which data set of sources.yaml a file of sightings comes from; its licence holds for rows that name none.",
        "{download.zip: larkfold-records}",
    ),
    F("sheets", "Which sheet of a workbook holds the sightings, where it is not the first.", "{survey.xlsx: Sightings 2026}"),
)
STOP_FIELDS = (
    F("place", "A place of places.yaml.", "gorse-bank", names="place"),
    F("minutes", "How long one stays.", "45"),
    F("metres", "How far it is from the stop before.", "200"),
    F("note", "What to do and to look for there.", "Kneel, and wait for something to move."),
)
WALK_FIELDS = (
    F("title", "What the walk is called.", "First sun on the gorse"),
    F("date", "The day of the walk.", "2027-04-11"),
    F("start", "When it begins, by the clock of the place.", "11:00"),
    F("time zone", "Its time zone, where that is not the guide's.", "Europe/London", stored_as="zone"),
    F("meet", "Where one meets.", "The stile at the foot of Gorse Bank"),
    F("leader", "Who leads it.", "Tamsin Rook"),
    F("contact", "How to reach the leader.", "walks@larkfold.example"),
    F("audience", "For whom it is.", "Adults; a steep path"),
    F("minutes", "How long it takes in all.", "90"),
    F("length", "The same, as a length of time.", "90 min", stored_as="minutes"),
    F("stops", "Its stops, in order.", "\n  - place: gorse-bank\n    minutes: 45"),
    F("bring", "What to bring.", "[hand lens, kneeling mat]"),
    F("hazards", "What can hurt people on the way; `none` where nothing can.", "[spines-and-thorns, ticks]"),
    F("note", "What else its leader should know.", "Slippery chalk after rain."),
    F("card", "The format of its printed card.", "a6", stored_as="card_format"),
)
