"""The keys of the files beside the accounts, each declared once."""

from __future__ import annotations

from guidebuild.guide.account_fields import LAW_EXAMPLE
from guidebuild.guide.account_parts import VIEW
from guidebuild.guide.field_declaration import Field

F = Field
_STAGE = F("stage", "The life stage it shows.", "adult", effect="It stands with this stage, and `fieldlist` asks for it no more.")
_SEX = F("sex", "The sex or caste it shows, where that matters.", "female", effect="Said under the picture.")
_PHOTO = F("photo", "A photo of photos.yaml that shows it.", "parent-adult", names="photo", effect="On its page.")
_HAZARDS = F(
    "hazards",
    "How it can hurt people; `none` where it cannot.",
    "[spines-and-thorns]",
    effect="A caution on its page, and in walks and with the species that are looked for there.",
)
_CAUTION = F(
    "caution",
    "A warning in your own words; it is never shortened.",
    "The thorns are stiff. Look first, then reach.",
    effect="A caution in your words at the same places.",
)

PLANT_FIELDS = (
    F("vernacular", "What people call the plant.", "Hawthorn", effect="The plant's name wherever it is named."),
    F("name", "Its scientific name.", "Crataegus monogyna", effect="Stands behind it in italics."),
    F(
        "note",
        "What to know about it, in a sentence or two.",
        "White blossom in May, red haws from late August.",
        effect="On the plant's page.",
    ),
    _PHOTO,
    _HAZARDS,
    _CAUTION,
)
PLACE_FIELDS = (
    F("name", "What the place is called.", "Birch Clump", effect="The place's name on its page, in walks and in data."),
    F(
        "area",
        "The wider area; it is said instead of the name where the place is kept secret.",
        "Larkfold",
        effect="Said in its stead where the place is kept secret.",
    ),
    F(
        "habitat",
        "What kinds of habitat are there.",
        "[woodland edge]",
        effect="On the place's page, and beside the species that live in such a habitat.",
    ),
    F(
        "position",
        "Where it is.",
        '"51.5061, -1.2012"',
        effect="On the place's page and in data; rounded or left out where the place is kept secret.",
    ),
    F(
        "uncertainty",
        "How far from that position the true spot may be.",
        "100 m",
        stored_as="position",
        effect="Beside the position in data.",
    ),
    F(
        "sensitive",
        "Whether it must be kept secret: `no`, or how strictly, why, and when to look at it again.",
        "no",
        stored_as="sensitivity",
        effect="The place's name, position and dates are held back in all that is published.",
    ),
    F(
        "public name",
        "Whether the name of a place that is kept secret may be known, as where another place is called after it.",
        "no",
        effect="The name alone may be said; position and dates stay held back.",
    ),
    F(
        "access",
        "How one gets there, and what is allowed.",
        "Soft ground after rain.",
        effect="On the place's page and in the packs of walks that stop there.",
    ),
    _HAZARDS,
    _CAUTION,
    F(
        "law",
        "What the law says of the place, with the day on which that was so; or several.",
        LAW_EXAMPLE,
        effect="With the cautions of the place.",
    ),
    F(
        "plants",
        "Plants of plants.yaml that grow there.",
        "[silver-birch, alder]",
        names="plant",
        effect="On the place's page, and host plants there are named in walks.",
    ),
    F("note", "What to know about it, in a sentence or two.", "Thirty birches and a wet corner of alder.", effect="On the place's page."),
    F("photo", "A photo of photos.yaml that shows the place.", "place-birch-clump", names="photo", effect="On the place's page."),
)
STATE_PICTURE_FIELDS = (
    F("photo", "The photo that shows the state.", "parent-adult", names="photo", effect="Beside its answer in the finder and the key."),
    F(
        "at",
        "Where on the photo it is: the picture is cut round that point.",
        "50.2, 50.4",
        stored_as="point",
        effect="The middle of the picture; without it, all of the subject is shown.",
    ),
    F(
        "sign",
        "A sign that is drawn instead of a photo: a colour, a pattern or a shape.",
        "spotted",
        effect="Drawn beside its answer in the finder and the key.",
    ),
)
CHARACTER_FIELDS = (
    F("label", "What the character is called.", "ground colour", effect="The heading of its row in comparisons."),
    F(
        "kind",
        "Whether it has states, states in an order, or a range of measurements.",
        "states",
        effect="States are told apart by their words, ranges by their figures.",
    ),
    F(
        "states",
        "Its states, each with the words that readers see.",
        "\n  green: green or yellow-green\n  brown: brown, bronze or straw",
        effect="The words of rows, leads and answers.",
    ),
    F(
        "question",
        "What the key and the finder ask.",
        "What colour is most of the back?",
        effect="The couplet in the key, the question in the finder.",
    ),
    F("part", "The part of the body one looks at.", "pronotum", effect="Pictures of this part stand beside the question."),
    VIEW,
    F("stage", "The stages that show it.", "adult", stored_as="stages", effect="Species are compared by it in this stage alone."),
    F("sex", "The sex or caste that shows it.", "female", stored_as="sexes", effect="Species are compared by it in this sex alone."),
    F(
        "ease",
        "From how near it is seen; easier ones are asked first.",
        "at a distance",
        effect="Easier characters come first in comparisons, key and finder.",
    ),
    F("unit", "The unit of a range.", "mm", effect="Stands behind the figures."),
    F(
        "margin",
        "How much two measurements must differ to tell species apart.",
        "0.5 mm",
        effect="Ranges that are nearer than this do not tell species apart.",
    ),
    F(
        "pictures",
        "Your own pictures of its states; for the others one is found by the marks of species that show them. `{}` shows none.",
        "\n  green: {sign: green}",
        effect="Beside the answers of the finder and the leads of the key.",
    ),
)
TERM_FIELDS = (
    F("word", "The word that is explained.", "scutellum", effect="An entry of the glossary; links to it show its meaning."),
    F(
        "meaning",
        "What it means.",
        "The triangle in the middle of the back, between the bases of the wings.",
        effect="Shown there, and in the key where the word stands in a lead.",
    ),
    F("also", "Other forms of the word.", "[scutella]", effect="These forms lead to the same entry."),
    F("photo", "A photo of photos.yaml that shows it.", "parent-scutellum", names="photo", effect="Beside the entry."),
)
SOURCE_FIELDS = (
    F("cite", "How it is cited in short.", "Southwood & Leston 1959", effect="How it stands on account pages."),
    F(
        "kind",
        "What it is, where it is no text: `data set`.",
        "data set",
        effect="A data set is cited as data sets are, and named in the data's own description.",
    ),
    F("author", "Who wrote or made it.", "T. R. E. Southwood and D. Leston", effect="In its full reference."),
    F("year", "When it appeared.", "1959", effect="In its full reference."),
    F(
        "title",
        "Its title, with publisher or journal.",
        "Land and Water Bugs of the British Isles. Frederick Warne, London",
        effect="In its full reference.",
    ),
    F("version", "Its version, as data sets have one.", "1.4", effect="In its full reference."),
    F("publisher", "Who published it, where that is not in its title.", "Larkfold Records Centre", effect="In its full reference."),
    F("doi", "Its DOI.", "10.5555/12345678", effect="In its full reference, as a link."),
    F(
        "licence",
        "The licence of a data set; it holds for rows of sightings that name none.",
        "CC-BY-4.0",
        effect="Rows of sightings that name no licence go out under it.",
    ),
    F(
        "rights holder",
        "Whose a data set is, where that is not its author.",
        "Larkfold Records Centre",
        effect="Named in rows of sightings from it.",
    ),
    F("address", "Where it is on the web.", "https://example.org/paper", effect="A link in its full reference."),
    F("accessed", "The day it was read or downloaded there.", "2026-01-20", effect="Beside the link."),
)
PHOTO_FIELDS = (
    F("file", "Its file, where that is not photos/ with its id.", "photos/parent-adult.jpg", effect="Which picture is shown."),
    F(
        "shows",
        "What it shows, as a note for the guide's makers.",
        "Adult from above on a birch leaf",
        effect="Nothing published; `fieldlist` and the desk say it.",
    ),
    F(
        "account",
        "The account it belongs to.",
        "parent-bug",
        names="account",
        effect="The picture may stand on this account's page and card.",
    ),
    _STAGE,
    _SEX,
    VIEW,
    F("part", "The part of the body it shows from near.", "scutellum", effect="It stands with the marks and questions of this part."),
    F(
        "parts",
        "Parts of the body that it shows, each with its point.",
        '\n  scutellum: "50, 48"',
        effect="A labelled diagram in the finder, and a small picture beside each question that names one of these parts.",
    ),
    F(
        "place",
        "The place of places.yaml where it was taken.",
        "birch-clump",
        names="place",
        effect="Said under the picture, but for places that are kept secret.",
    ),
    F(
        "taken",
        "The day it was taken.",
        "2025-05-11",
        effect="Said under the picture; month or year alone where the species is kept secret.",
    ),
    F(
        "credit",
        "Who made it.",
        "Larkfold Hedge Group",
        effect="Under the picture everywhere, and written into it; without one it stays unpublished.",
    ),
    F(
        "licence",
        "The licence it is under.",
        "CC-BY-4.0",
        effect="Beside the credit; without one the picture stays unpublished, and one that forbids changes is never cut.",
    ),
    F("title", "Its title, where its maker gave it one.", "Adult on birch", effect="In the credit, where the licence asks for it."),
    F("source", "Where it comes from.", "drawn for this sample", effect="In the credit."),
    F("changes", "What was changed of it; licences such as CC-BY ask that it is said.", "background darkened", effect="In the credit."),
    F(
        "permission",
        "Who allowed that it is sold, where its licence does not.",
        "in print, by letter of 2026-02-03",
        effect="The picture may be in prints that are sold.",
    ),
    F(
        "alt",
        "What is to be seen, for those who cannot see it.",
        "A small green bug from above, with a plain green triangle.",
        effect="Read aloud to those who cannot see it, on pages and in tagged PDFs.",
    ),
    F(
        "decorative",
        "Whether it only decorates, so that nothing needs to be said of it.",
        "no",
        effect="Readers who cannot see it are told nothing of it.",
    ),
    F("caption", "What stands below it.", "Adult on birch", effect="Under the picture."),
    F("focus", "Where its subject is, for cutting it to another shape.", "52, 40", effect="Cards, posts and thumbs are cut round it."),
    F("length", "How long the subject is in truth, for its scale.", "10 mm", effect="With `measured`: the scale bar, and life-size bars."),
    F(
        "measured",
        "The line in the picture that is as long as that.",
        '"47.1, 26 – 51.7, 84"',
        effect="With `length`: the scale bar under the plate; posts and prints keep this line whole.",
    ),
    F(
        "reach",
        "How far the subject goes beyond that line, in per cent of its length: past its ends, then to its sides."
        " Where nothing is said, 45 and 70 for what is posted or shared; lists and pictures at one scale are cut closer.",
        '"10, 240"',
        effect="No picture is cut closer, on pages or on paper: in lists, beside look-alikes, on cards, in posts, on slides.",
    ),
)
_BY_COLUMN = "A column, and the words of its cells; capitals do not count, and a word is the whole cell."
SIGHTING_WORD_FIELDS = (
    F(
        "places",
        "What tables of sightings call a place, and which place of places.yaml it is.",
        '{"Sea wall, Greyling": sea-wall}',
        effect="Rows count for the place.",
    ),
    F(
        "stages",
        "Words for a life stage, and the stage that each means, by its id.",
        "{imago: adult}",
        effect="Rows count for the stage: seasons, what is out.",
    ),
    F(
        "beside a stage",
        "Words that may stand beside a stage and change nothing of it.",
        "[3rd instar, female]",
        effect="Such words are passed over.",
    ),
    F("sexes", "Words for a sex, and what each means.", "{f: female}", effect="Rows tell the sex in data."),
    F(
        "absence",
        f"Rows that say it was looked for and not found. {_BY_COLUMN}",
        "{occurrenceRemarks: [no adults]}",
        effect="Such rows count as visits without a sighting.",
    ),
    F(
        "doubt",
        f"Rows whose identification is in doubt. {_BY_COLUMN}",
        "{identificationVerificationStatus: [plausible]}",
        effect="Such rows are not counted.",
    ),
    F(
        "no doubt",
        f"Words of these columns that mean no doubt. {_BY_COLUMN}",
        "{identificationVerificationStatus: [seen by two]}",
        effect="Such rows are counted.",
    ),
    F(
        "leave out",
        f"Rows to leave out, by any column. {_BY_COLUMN}",
        "{basisOfRecord: [MaterialCitation]}",
        effect="Such rows are neither counted nor published.",
    ),
    F(
        "data sets",
        "Which data set of sources.yaml a file of sightings comes from; its licence holds for rows that name none.",
        "{download.zip: larkfold-records}",
        effect="Rows are cited with the data set, and go out under its licence.",
    ),
    F(
        "sheets",
        "Which sheet of a workbook holds the sightings, where it is not the first.",
        "{survey.xlsx: Sightings 2026}",
        effect="Which rows are read.",
    ),
    F(
        "columns",
        "Words over the columns of your tables, and the Darwin Core term that each means; `none` for a column that is not to be read.",
        "{Seen on: eventDate, Weather: none}",
        effect="The rows below such headings are read, and counted.",
    ),
)
