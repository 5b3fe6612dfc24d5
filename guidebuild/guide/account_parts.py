"""The keys of what stands inside an account's fields, and of the files about an account, each declared once."""

from __future__ import annotations

from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.field_declaration import Field

F = Field
VIEW = F("view", "From which side one looks.", "upperside", effect="It stands with the marks and questions of this side.")
_IN_LANGUAGE = "It stands on the pages of this language in the place of the account's."

LAW_FIELDS = (
    F(
        "text",
        "What the law says, in your own words.",
        "It may not be caught or sold.",
        effect="Stands with the cautions on page, card, walk and in the script's description.",
    ),
    F(
        "as of",
        "The day on which you looked it up; readers are told it, and to check the current law.",
        "2026-03-01",
        effect="Said with it, and to look the law up again.",
    ),
    F("address", "Where the law can be read.", "https://example.org/law", effect="A link beside it on the page."),
)
MARK_FIELDS = (
    F(
        "mark",
        "The field mark, in a few words.",
        "dark spot on the scutellum",
        effect="A numbered mark on page and card; scripts and posts say the first ones.",
    ),
    F(
        "stage",
        "The life stage that shows it, or several; without it, all do.",
        "adult",
        stored_as="stages",
        effect="The mark stands with this stage's picture alone, and is said of this stage alone.",
    ),
    F(
        "sex",
        "The sex or caste that shows it, where the other does not; or several.",
        "female",
        stored_as="sexes",
        effect="The mark is said of this sex alone.",
    ),
    VIEW,
    F("photo", "The photo on which a pointer shows it.", "parent-adult", names="photo", effect="The mark gets its number on this picture."),
    F(
        "at",
        "Where the pointer ends.",
        "50.2, 50.4",
        stored_as="point",
        effect="A leader line ends there on page, card and comparison sheet.",
    ),
    F(
        "wide",
        "Per cent of the photo's width that the mark takes: the ring goes round all of it, and a small one is shown enlarged.",
        "6",
        effect="A ring of this width goes round the mark, and one that is smaller than its number is shown enlarged.",
    ),
)
SIMILAR_FIELDS = (
    F(
        "account",
        "The account it is taken for.",
        "birch-shieldbug",
        names="account",
        effect="It stands under the look-alikes of page and card, and the two get a comparison.",
    ),
    F(
        "tell by",
        "The characters that tell the two apart; without them the tool works them out.",
        "[scutellum-mark, body-edge]",
        names="character",
        effect="These characters lead the comparison.",
    ),
    F(
        "note",
        "What tells the two apart, in a sentence.",
        "The Birch Shieldbug has a plain green scutellum.",
        effect="The sentence under the look-alike's name on page and card, and in the script.",
    ),
)
HOST_FIELDS = (
    F(
        "plant",
        "A plant of plants.yaml.",
        "silver-birch",
        names="plant",
        effect="A line of host plants on page and card, and the species stands on the plant's page.",
    ),
    F("part", "Which part of the plant.", "catkins and leaves", effect="Said beside the plant."),
    F("use", "For what, and for which stage.", "food of nymph and adult", effect="Said beside the plant."),
)
SEASON_FIELDS = (
    F(
        "season",
        "When it is about.",
        "mid June – August; most seen in July",
        effect="The bars of the year on page and card, what is out on a day, and walks.",
    ),
    F(
        "place",
        "The place where that is so, if not in the whole region.",
        "birch-clump",
        names="place",
        effect="The bars hold at this place alone.",
    ),
)
SILENCE_FIELDS = (
    F(
        "rule",
        "The rule, by the word in square brackets at the end of its finding.",
        "hard-sentence",
        stored_as="code",
        effect="Findings of this rule are counted as silenced for this account.",
    ),
    F(
        "reason",
        "Why it does not count here.",
        "The sentence is quoted from its author.",
        effect="`check` says it; nothing published does.",
    ),
)
REVIEW_FIELDS = (
    F("by", "Who checked the facts.", "Larkfold Hedge Group", effect="Named on the page."),
    F(
        "on",
        "The day they were checked.",
        "2026-02-14",
        effect="The day stands on page and card; once it is too long ago, `check` and `fieldlist` say so.",
    ),
)
SCORE_FIELDS = (
    F(
        "value",
        "The state, or the states where several occur, or a range.",
        "spotted",
        effect="Comparisons, diagnoses, key and finder reckon with it.",
    ),
    F("usually", "The state most specimens show.", "banded", effect="Comparisons say “usually”; key and finder keep the rarer state open."),
    F("rarely", "A state that few specimens show.", "plain", effect="Key and finder keep the species under this state too."),
    F("stage", "The stages for which it holds.", "adult", effect="The score counts for this stage alone."),
    F("sex", "The sex or caste for which it holds.", "female", effect="The score counts for this sex alone."),
)
SECRECY_FIELDS = (
    F(
        "category",
        "How strictly its places are kept secret.",
        "high",
        effect="Places are named by their wider area, positions rounded, dates made coarse.",
    ),
    F("reason", "Why; this is published.", "Collected for sale.", effect="Published beside what was generalised."),
    F("review", "The day to look at it again.", "2028-03-01", effect="From that day `check` asks you to look at it again."),
)
TRANSLATION_FIELDS = (
    F(
        "vernacular",
        "What people call it in this language.",
        "Chinche madre",
        effect="The name on the pages, cards and checklists of this language.",
    ),
    F(
        "marks",
        "The field marks in this language, each behind the account's own words; or a list in the account's order.",
        "\n  dark spot on the scutellum: mancha oscura en el escutelo",
        effect="The marks on the pages and cards of this language.",
    ),
    F(
        "life stages",
        "What each stage looks like, in this language.",
        "\n  egg: Un grupo de huevos bajo una hoja de abedul.",
        effect="The life story on the pages of this language.",
    ),
    F(
        "similar",
        "What tells each look-alike apart, in this language.",
        "\n  birch-shieldbug: Tiene el escutelo verde y liso.",
        names="account",
        effect="The sentences under the look-alikes in this language.",
    ),
    F(
        "law",
        "What the law says, in this language, in the account's order.",
        "[No se puede capturar ni vender.]",
        effect="The note on the law in this language.",
    ),
    F(
        "compared with",
        "What `check` calls the account's words when lists in its order were compared with it; once they change, it tells.",
        "4f2a9c",
        effect="Nothing published; `check` tells by it when the account has moved on.",
    ),
    *(
        F(field.key, f"In this language: {field.meaning[:1].lower()}{field.meaning[1:]}", field.example, effect=_IN_LANGUAGE)
        for field in INLINE_FIELDS
    ),
)
OWN_SLIDES_FIELDS = (
    F(
        "shapes",
        "The shapes that this set comes in: portrait, square, tall or wide.",
        "[portrait, tall]",
        effect="This set is made in these shapes instead of those of guide.yaml.",
    ),
)
EPISODE_FIELDS = (
    F("title", "What the episode is called.", "The bug that stays", effect="The head of the script."),
    F(
        "account",
        "The account it is about.",
        "parent-bug",
        names="account",
        effect="Slots are filled from it, and the page links the episode's script.",
    ),
    F("kind", "Which kind of episode of guide.yaml it is.", "full", effect="Its length and its captions' width are this kind's."),
    F(
        "length",
        "How long it is to be, where that differs from its kind.",
        "4:30–5:30",
        effect="`check` and the script's head compare the time with it.",
    ),
    F("posted", "The day it went out, or is to go out.", "2026-06-12", effect="`fieldlist` no longer asks for this episode."),
)
