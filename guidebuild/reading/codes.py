"""Every finding that reading can give, with its level, why it matters and how to mend it."""

from __future__ import annotations

from typing import NamedTuple

from guidebuild.guide.findings import Level


class Code(NamedTuple):
    """One kind of finding; `code` is unique and kebab-case."""

    code: str
    title: str
    level: Level
    why: str
    mend: str


E, W = Level.ERROR, Level.WARNING

CODES: tuple[Code, ...] = (
    # Files
    Code("no-guide", "The folder has a guide.yaml", E, "Title, languages and settings come from it.",
         "Make the file guide.yaml, or point the command at the folder that has it."),
    Code("file-not-readable", "Every file can be opened", E, "What cannot be opened cannot be shown.",
         "Check the file's permissions and that it is a file."),
    Code("file-too-large", "No text file is very large", E, "Such a file is no text, or it is one that a guide does not need.",
         "Split it, or move pictures out of it."),
    Code("not-utf8", "Text files are saved as UTF-8", E, "Other encodings lose dashes and accents: 10–12 becomes 1012.",
         "Save the file as UTF-8."),
    Code("control-character", "No invisible control characters", E, "They break pages and print as boxes.",
         "Delete the character and type the word again."),
    Code("hidden-direction", "No invisible signs of reading direction", E, "A line could show other text than it holds.",
         "Delete the invisible sign."),
    Code("garbled-text", "No letters that were saved twice in the wrong encoding", W, "Readers see Ã¼ where you typed ü.",
         "Type the letter again and save as UTF-8."),
    Code("lost-character", "No replacement characters", W, "A letter or a dash is gone for good.",
         "Type the missing character again."),
    Code("stray-mark", "No byte order mark inside a text", W, "It is invisible and hides words from searches.",
         "Nothing to do here: it is left out. Saving the file again in a text editor removes it."),
    Code("outside-guide", "Nothing points out of the guide's folder", E, "Private files could be published, and others lack them.",
         "Copy the file into the guide and use its name there."),
    Code("names-clash", "No two files have names that other computers take for one", E,
         "On such a computer one of them overwrites the other.", "Rename one of the two."),
    Code("bad-file-name", "File names and ids use small letters, digits and hyphens", E,
         "They become web addresses.", "Rename it."),
    Code("unexpected-file", "No files where none are read", W, "A file in the wrong place or with the wrong ending is not shown.",
         "Move or rename it if it should be read."),
    Code("duplicate-id", "Each id is used once", E, "Links would lead to either of the two.", "Give one of them another id."),
    Code("photo-capitals", "Photo files are spelt as on disk", W, "Other computers would not find them.",
         "Write the name as it is on disk."),
    # Facts block
    Code("no-facts", "Each account starts with a facts block", E, "Without it the account has no name and no facts.",
         "Start the file with a line of three hyphens, the facts, and another line of three hyphens."),
    Code("facts-not-closed", "The facts block is closed", E, "Where it ends cannot be guessed.",
         "Put a line of three hyphens, ---, after the last fact."),
    Code("facts-syntax", "The facts can be read", E, "One slip can hide all that follows it.",
         "Look for a missing quotation mark, bracket or indent on this line or the one before."),
    Code("colon-in-text", "A text with a colon stands in quotation marks", E, "A colon and a space start a new value.",
         "Put the text in quotation marks."),
    Code("tab-in-facts", "Facts are indented with spaces", E, "Tabs have no agreed width.", "Use spaces."),
    Code("no-break-space", "Facts are indented with ordinary spaces", W, "No-break spaces look the same and mean something else.",
         "Type ordinary spaces; it was read as if you had."),
    Code("curly-quotes", "Values are not put in curly quotation marks", W, "They would be shown as part of the value.",
         "Use straight quotation marks, or none."),
    Code("hash-in-facts", "No text is lost behind a hash sign", W, "A space and # start a remark that is never shown.",
         "Put the whole text in quotation marks, or a space after # if it is a remark."),
    Code("duplicate-key", "Each key stands once", E, "One of the two values would be lost without a word.",
         "Keep one of them, or join their values."),
    Code("key-not-text", "Keys are words", E, "Such a key cannot be read.", "Put texts that start with a bracket in quotation marks."),
    Code("not-keys", "The facts are keys and values", E, "Nothing can be read from other shapes.",
         "Write one key a line, such as name: Bufo bufo."),
    Code("yaml-anchor", "No YAML anchors or aliases", E, "A few of them can stand for millions of values.",
         "Put the text in quotation marks if it starts with & or *; else write the values out."),
    Code("yaml-tag", "No YAML type signs", E, "Values are read as their field asks.",
         "Put the text in quotation marks if it starts with an exclamation mark; else delete the sign."),
    Code("yaml-merge", "Merged keys come from keys and values", E, "Nothing else can be merged.", "Write the keys out."),
    Code("too-deep", "Facts are not nested deeply", E, "No field needs it.", "Look for a bracket that is not closed."),
    # Shapes
    Code("unknown-key", "Every key is known", E, "A misspelt key loses its value without a word.", "Correct the key."),
    Code("missing-key", "Needed keys are there", E, "The record cannot be used without it.", "Add the key."),
    Code("wrong-shape", "Each value has the shape of its field", E, "A list where a text should be cannot be shown.",
         "Write it as the example of the field shows."),
    # Values
    Code("unreadable-value", "Each value can be read as its field asks", E, "It would be left out.", "Write it as the example shows."),
    Code("unreadable-name", "Scientific names are written as the Codes ask", E, "Italics, sorting and links depend on the name's parts.",
         "Write genus and species, such as Bufo bufo (Linnaeus, 1758)."),
    Code("unreadable-measure", "Measurements can be read", E, "Tables, keys and life-size bars need the numbers.",
         "Write a range with its unit, such as 6–9 mm."),
    Code("missing-unit", "Measurements have a unit", E, "10 may be mm or cm.", "Write the unit after the number."),
    Code("reversed-range", "Ranges start with the smaller number", E, "It may be a slip in either number.",
         "Write the smaller number first."),
    Code("unreadable-season", "Seasons can be read", E, "The calendar would miss them.", "Write months, such as mid June – August."),
    Code("season-needs-hemisphere", "Words such as spring need a hemisphere", E, "Spring is in September in the south.",
         "Write hemisphere: north or south in guide.yaml, or name the months."),
    Code("coordinate", "Positions can be read", E, "A pin would be missing or in the wrong place.",
         "Write decimal degrees, such as 51.1034, -1.3121."),
    Code("unreadable-sensitivity", "What is sensitive is plainly said", E,
         "Until it can be read, the place is kept wholly secret.", "Write no, low, medium, high or extreme."),
    Code("unknown-state", "Characters have the states that characters.yaml lists", E, "The key and the tables need one word for one state.",
         "Use one of the listed states, or add it to characters.yaml."),
    Code("unknown-character", "Characters stand in characters.yaml", E, "The key does not know what is compared.",
         "Add it to characters.yaml, or correct the word."),
    Code("unknown-view", "Views are words of the tool's list", W, "Pages group and choose pictures by view.",
         "Use a word of the list, or leave it out."),
    Code("misspelt-part", "Parts of the body are spelt as usual", W, "Pages name the part as typed.", "Correct the word."),
    # Prose
    Code("text-before-heading", "Text stands under a heading", W, "Text before the first heading has no place on page or card.",
         "Put a heading such as ## In brief above it."),
    Code("duplicate-heading", "Each heading stands once in an account", W, "Only the first of the two is found by its heading.",
         "Join the two sections."),
    Code("star-left", "Italics close right after the last letter", W, "With a space before the closing star, the stars are printed.",
         "Take out the space before the closing *."),
    Code("space-in-link", "Addresses in links have no spaces", W, "The link or picture stays on the page as typed.",
         "Write %20 for each space; pictures of the guide are named by id, such as photo:toad-1."),
    Code("stars-in-html", "No Markdown inside HTML blocks", W, "It stays as typed, stars and all.",
         "Take out the HTML tags round it."),
    Code("table-cells", "Each table row has as many cells as its header", E, "Cells too many are lost.",
         r"Write \| for a bar that belongs to the text."),
    Code("reads-as-tag", "No text that browsers take for an HTML tag", W, "It would vanish from the page.",
         "Put a space after <, or write \"less than\"."),
    Code("reads-as-italics", "No numbers between stars", W, "5*6*7 mm would print the 6 in italics.", "Write × between numbers."),
    Code("reads-as-list", "No paragraph starts with a year and a full stop", W, "It would become item 1 of a list and lose the year.",
         r"Write 1986\. with a backslash, or start with another word."),
    Code("fence-not-closed", "Code blocks are closed", W, "Everything after it would be shown as code.",
         "Close the block with the same signs."),
    Code("translation-without-account", "A translation belongs to an account", E, "There is nothing that it translates.",
         "Give it the name of an account, with the language before .md."),
    Code("unknown-language", "Translations are in the guide's languages", W, "Pages are made in the languages of guide.yaml only.",
         "Add the language to languages in guide.yaml, or rename the file."),
    Code("translation-length", "A translation has as many marks as the account", E, "Marks are matched by their order.",
         "Write one line for each mark of the account, in its order."),
)  # fmt: skip

BY_CODE: dict[str, Code] = {code.code: code for code in CODES}
