"""The keys of guide.yaml, and of the lists that the tool ships and a guide may add to, each declared once."""

from __future__ import annotations

from guidebuild.guide.account_fields import LAW_EXAMPLE
from guidebuild.guide.field_declaration import Field

F = Field

POST_FIELDS = (
    F("name", "What this length of text is called.", "short", effect="The file of the text."),
    F("characters", "How many characters it may have.", "280", effect="Texts are no longer than this."),
    F("link cost", "How many of them a link counts for.", "23", effect="The link is counted as so many."),
    F("hashtags", "How many hashtags it may have.", "3", effect="No more are written."),
    F(
        "counted",
        "How the place counts: `signs` (each sign that one sees is one), `wide signs` (emoji and signs of Chinese, Japanese and Korean"
        " are two) or `units` (as computers store text: most emoji are two or more).",
        "wide signs",
        effect="Texts keep to their length as that place counts it.",
    ),
)
MAP_FIELDS = (
    F(
        "outline",
        "The file with the region's outline: GeoJSON, or GPX or KML.",
        "region.geojson",
        effect="Maps on the pages of species, places and walks.",
    ),
    F(
        "lines",
        "Files with lines that help people find their way on the map: a coast, a stream, a road.",
        "[stream.geojson]",
        effect="Lines on the maps.",
    ),
    F(
        "squares",
        "How large the squares are that are filled where a species was seen; without it, as the size of the region asks for.",
        "1 km",
        unstored="the region's grid keeps it",
        effect="The squares of the maps.",
    ),
    F(
        "recent",
        "How long a sighting counts as a recent one; older ones are drawn as rings.",
        "10 years",
        effect="Which squares are filled and which are rings.",
    ),
    F(
        "on cards",
        "Whether the backs of cards have a map too: yes or no. A card that is full without it leaves it out.",
        "yes",
        effect="The map of each species on the back of its card, where there is room.",
    ),
)
EPISODE_KIND_FIELDS = (
    F("name", "What this kind of episode is called.", "short", effect="Episodes name it; drafts are called after it."),
    F(
        "length",
        "How long it is, from the shortest to the longest.",
        "60–90 s",
        unstored="it is kept as its shortest and its longest",
        effect="Drafts are made to fit, and `check` compares your own scripts with it.",
    ),
    F(
        "captions",
        "Where its captions are read, which says how long their lines may be.",
        "vertical",
        effect="How many letters a line of captions has.",
    ),
)
PACE_FIELDS = (
    F("syllables", "How many syllables you say in a second.", "4.2", effect="All times in scripts."),
    F("comma", "Your pause at a comma, in seconds.", "0.3", effect="All times in scripts."),
    F("sentence", "Your pause after a sentence, in seconds.", "0.7", effect="All times in scripts."),
    F("paragraph", "Your pause after a paragraph, in seconds.", "1.2", effect="All times in scripts."),
)
STAGE_FIELDS = (
    F("word", "What the stage is called.", "nymph", unstored="the set keeps it with the stage", effect="Wherever the stage is named."),
    F(
        "sentence",
        "What a sentence calls it, where that is another word: “Look for it in seed”.",
        "in seed",
        effect="In sentences of scripts, posts and pages.",
    ),
    F("many", "What several of them are called.", "larvae", effect="In sentences about several."),
    F("mark", "How a sentence about a field mark of this stage begins.", "on the frond", effect="In sentences about a mark."),
)
STAGE_SET_FIELDS = (
    F("title", "The group that goes through these stages.", "True bugs", effect="How the group is called."),
    F(
        "stages",
        "The stages in order of life, each with the word for it.",
        "\n  egg: egg\n  nymph: nymph\n  adult: adult",
        effect="The rows of seasons, the life story, what drafts ask for.",
    ),
    F(
        "sought",
        "The stages one looks for in the field.",
        "[nymph, adult]",
        effect="These stages count as out; walks and `fieldlist` ask for them.",
    ),
    F(
        "key",
        "The stage that key and finder are for, where it is not the one with most characters.",
        "adult",
        stored_as="keyed",
        effect="The key and the finder are for this stage.",
    ),
    F(
        "like",
        "A group that the tool brings, from which all is taken that is not given here.",
        "bird",
        effect="All else is as in that group.",
    ),
    F("living thing", "The word for one of them.", "plant", effect="In sentences: “this plant”."),
    F("kingdom", "The kingdom they belong to, for sightings and data.", "Plantae", effect="In data."),
    F("measured", "What a size means that does not say what was measured.", "height", effect="Said behind sizes: “20–45 cm height”."),
    F(
        "food",
        "What it lives on: `eaten` (plants or prey), `hunted` (prey alone), `grown on` (plants), or `none`: not asked.",
        "grown on",
        effect="Whether host plants, prey or neither are asked for.",
    ),
    F("food heading", "The heading over what it lives on.", "Grows on or with", effect="Over host plants on page and card."),
    F(
        "views",
        "The sides from which one looks at it, the usual one first.",
        "[whole plant, flower]",
        effect="Drafts, the desk and `fieldlist` ask for pictures of these sides.",
    ),
    F("questions", "What a draft asks, by key, instead of the usual question.", "{size: How tall is it?}", effect="In drafts."),
    F("such as", "An answer as it may be typed, by key.", "{size: 20–45 cm height}", effect="In drafts."),
    F(
        "not asked",
        "Keys and headings of an account, or `pointer`, that neither drafts nor checks ask for.",
        "[voice, pointer]",
        effect="Neither drafts nor completeness ask for it.",
    ),
    F(
        "clear pots",
        "Whether one looks at it in a clear pot.",
        "no",
        stored_as="pots",
        effect="Whether walks and scripts speak of clear pots.",
    ),
)
CAUTION_FIELDS = (
    F("title", "The hazard.", "Ticks", effect="The head of the caution."),
    F(
        "text",
        "What to do about it.",
        "Wear long trousers and look yourself over afterwards.",
        effect="The caution on page, card, walk and in scripts.",
    ),
    F("local", "The line that defers to those who know the place and the law.", "Ask a doctor about a rash.", effect="Below it."),
    F(
        "short",
        "What to do, in one sentence, for the smallest cards.",
        "Look yourself over afterwards.",
        effect="On the smallest cards, in its stead.",
    ),
    F(
        "harm",
        "How the species itself hurts, so that its look-alikes warn of it; `none` where it does not.",
        "poisonous",
        effect="Look-alikes warn of the species.",
    ),
    F(
        "asked as",
        "Words in small letters by which the hazard is known.",
        "[venomous, snake]",
        effect="`check` asks for the caution where your texts use these words.",
    ),
)
LICENCE_FIELDS = (
    F("title", "What the licence is called.", "CC BY 4.0", effect="In credits."),
    F("address", "Where it can be read.", "https://creativecommons.org/licenses/by/4.0/", effect="A link in credits."),
    F("attribution", "Whether the maker must be named.", "yes", effect="A picture without a credit stays unpublished."),
    F(
        "derivatives",
        "Whether a picture may be changed, such as cut to shape.",
        "yes",
        effect="Where not, pictures are never cut to shape.",
    ),
    F("commercial", "Whether it may be sold.", "yes", effect="Where not, pictures stay out of what is sold."),
)
SETTINGS_FIELDS = (
    F(
        "title",
        "What the guide is called.",
        "Shieldbugs of Larkfold Hedge",
        effect="The name of the site, on cards, booklets, scripts and in data.",
    ),
    F("region", "The region it covers.", "Larkfold Vale", effect="On the first page and on covers."),
    F(
        "country",
        "The country it lies in, by its two letters, for data; not for a region in several.",
        "GB",
        effect="In data, and in what pages tell of their language where they are shared.",
    ),
    F(
        "description",
        "What it is, in a sentence or two.",
        "Eighteen shieldbugs along one community hedge.",
        effect="On the first page, in search engines and where a page is shared.",
    ),
    F(
        "languages",
        "Its languages, the one it is written in first.",
        "[en, es]",
        effect="A site, cards and checklists for each; the first is the one you write in.",
    ),
    F(
        "address",
        "Where its site will stand on the web.",
        "https://larkfold.example/guide",
        effect="Codes on cards, links in posts, the site's own map for search engines.",
    ),
    F("publisher", "Who publishes it.", "Larkfold Hedge Group", effect="On pages, cards and in data."),
    F("contact", "How to reach its makers.", "hello@larkfold.example", effect="At the foot of every page, and in data."),
    F("licence", "The licence of its texts.", "CC-BY-4.0", effect="On the sources page and in data."),
    F(
        "photo credit",
        "Whom `guidebuild bring` credits for pictures that do not say who made them: usually you.",
        "Larkfold Hedge Group",
        effect="The credit that `guidebuild bring` writes.",
    ),
    F(
        "photo licence",
        "The licence that `guidebuild bring` writes for such pictures.",
        "CC-BY-4.0",
        effect="The licence that `guidebuild bring` writes.",
    ),
    F(
        "group",
        "The set of life stages that its species go through.",
        "true-bug",
        effect="The stages that seasons, life stories and drafts speak of.",
    ),
    F("level", "How complete its accounts must be.", "publishable", effect="What `check` asks of each account."),
    F("hemisphere", "Which half of the Earth it is on, for words such as spring.", "north", effect="Which months “spring” means."),
    F(
        "year starts",
        "The month with which the year begins where it is drawn, such as July, so that a southern summer stands in one piece.",
        "July",
        effect="The order of months in bars, on the page of the year and in calendars.",
    ),
    F("time zone", "Its time zone.", "Europe/London", stored_as="zone", effect="Today, sunrise and calendar entries."),
    F("card", "The format of its cards.", "a6", effect="The size of the cards."),
    F("paper", "The paper that cards are printed on, several to a sheet.", "a4", effect="The sheets that cards are printed on."),
    F("flip", "Over which edge your printer turns a sheet.", "long edge", effect="How backs stand on the sheets."),
    F(
        "bleed",
        "How far the tone behind pictures is printed past the cut.",
        "3 mm",
        effect="The tone runs past the trim on files for a print shop.",
    ),
    F(
        "crop marks",
        "Whether files for a print shop have crop marks outside the bleed: yes or no. Some shops that print to order want none.",
        "no",
        effect="The lines at the corners of each page for a print shop, and paper round it for them.",
    ),
    F(
        "paper thickness",
        "How thick one sheet of the booklet's paper is; without it, 0.1 mm, as office paper of 80 g/m² is.",
        "0.12 mm",
        effect="How far a booklet's inner pages stand nearer the fold, and how wide the spine of a thick one is.",
    ),
    F(
        "size beside",
        "The familiar thing beside which sizes are drawn that are too long for the paper: hand, card, person or none.",
        "hand",
        effect="What is drawn beside the size of large species.",
    ),
    F(
        "prints",
        "Further prints: formats, or `print shop` for files that a print shop takes.",
        "[leaflet-a4, booklet, children-a4]",
        effect="Which further prints are made: leaflets, booklets, plates, cards of other sizes or in large print, sheets for the walks.",
    ),
    F(
        "sold",
        "What is sold, of `prints:` or of cards, deck, walk cards, comparisons, checklists, key: without pictures that may not be sold.",
        "[booklet, walk cards]",
        effect="Pictures whose licence forbids it stay out of these.",
    ),
    F(
        "print profile",
        "Your print shop's colour profile, a file of the guide.",
        "shop.icc",
        effect="The colours of files for a print shop.",
    ),
    F(
        "ink limit",
        "How much ink your print shop's press bears on one spot, all inks together (total area coverage); with `print profile`.",
        "300 %",
        effect="`make` names the pictures on cards for a print shop that take more.",
    ),
    F("greeting", "How scripts begin.", "Hello, and welcome to the hedge.", effect="The first words of drafted scripts."),
    F("sign off", "How scripts end.", "See you by the hedge.", effect="The last words of drafted scripts."),
    F("hashtags", "Hashtags of posts, without the #.", "[shieldbugs, hedgewatch]", effect="At the end of posts."),
    F(
        "posts",
        "The lengths of text that posts are written in.",
        "\n  - {name: short, characters: 280, link cost: 23, hashtags: 3}",
        stored_as="post_limits",
        effect="The texts that are written for each account.",
    ),
    F(
        "slides",
        "Which sets of slides are made: `due` (this week's species, its ten days, the next walk), `all`, and any account, pair"
        " (`parent-bug--birch-shieldbug`) or walk by its id.",
        "[due, parent-bug]",
        effect="The sets of slides in `published/slides/`.",
    ),
    F(
        "slide shapes",
        "The shapes that slides come in: portrait (4:5), square, tall (9:16) or wide (1.91:1).",
        "[portrait, tall]",
        effect="Each set of slides is made in each of these shapes.",
    ),
    F(
        "episodes",
        "The kinds of episode that scripts are drafted for.",
        "\n  - {name: short, length: 60–90 s}",
        stored_as="slots",
        effect="The scripts that are drafted for each account.",
    ),
    F("pace", "How fast you talk; `guidebuild pace` measures it.", "{syllables: 4.2}", effect="All times in scripts."),
    F(
        "region box",
        "The region's edges, which no sighting lies beyond.",
        "51.45, -1.30, 51.56, -1.10",
        effect="Rows of sightings outside are told and not counted.",
    ),
    F(
        "map",
        "The region's outline for its maps, alone or with what else they show.",
        "{outline: region.geojson, squares: 100 m}",
        unstored="the guide keeps it as its region",
        effect="Maps on the pages of species, places and walks.",
    ),
    F(
        "public positions",
        "Positions that all may know, though no open place is there; needed only where something is kept secret.",
        '\n  - "51.5061, -1.2012"',
        effect="Sentences with these positions are published.",
    ),
    F(
        "dates",
        "Whether the day or the month comes first in dates of sightings such as 03/04/2026.",
        "day first",
        stored_as="date_order",
        effect="How dates in sightings are read.",
    ),
    F(
        "review after",
        "After how long the facts of an account should be checked again.",
        "36 months",
        stored_as="review_after_months",
        effect="From when on `check` asks for a review.",
    ),
    F(
        "rules",
        "How grave a rule of the checks is in this guide.",
        "\n  hard-sentence: off",
        effect="What `check` calls an error, a warning or a note.",
    ),
    F(
        "life stages",
        "Sets of life stages that the tool does not bring.",
        "\n  gall: {title: Galls, stages: {young: young, ripe: ripe}}",
        unstored="the guide keeps them with the shipped ones",
        effect="As with the groups that the tool brings.",
    ),
    F(
        "cautions",
        "Hazards in your own words.",
        "\n  bull: {title: Bulls, text: Keep to the far side of the fence.}",
        unstored="the guide keeps them with the shipped ones",
        effect="As with the cautions that the tool brings.",
    ),
    F(
        "law",
        "What the law says of all that is in the guide, with the day on which that was so; or several.",
        LAW_EXAMPLE,
        effect="With the cautions of every account.",
    ),
)
