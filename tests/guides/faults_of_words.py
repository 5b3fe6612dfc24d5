"""Turns of phrase that no output may ever hold: what slips out where a fact is put into a sentence that was made for another."""

from __future__ import annotations

import re
from collections.abc import Iterator

_COUNTED = "minutes|hours|weeks|days|months|years|species|plants|places|sightings|records|steps|characters|marks|pages|photos|cards"
FORBIDDEN = {
    "a chance and its reason in one breath": r"\b(?:likely|possible|worth a look|outside chance) (?:most |seen |known |its |not in )",
    "a month without its word": r"\bmost seen [A-Z][a-z]+(?=$|[.;,|)]| \|)",
    "shared, though it only overlaps": r"\bWhat they share\b",
    "a heading twice": r"\b(\w+): \1[.:]",
    "an index called by what its things do": r"^Grows on or with –",
    "an adverb that limps behind": r"\bit is the [\w ]+, (?:rarely|sometimes|often|mainly|mostly|usually|occasionally)\.",
    "a state said as a thing": r"\b(?:in|the|a|an) the in\b|\b[Tt]he in (?:leaf|bud|flower|fruit)\b",
    "two articles": r"\b(?:the|a|an) (?:the|a|an)\b",
    "a word twice": r"\b(?!(?:that|had)\b)([a-z]{2,}) \1\b(?!-)",
    "the wrong article": r"\ba (?=[aeio])(?!one\b|one-|eu)|\ban (?=[bcdfgjklmnpqrstvwxyz])",
    "one of many": rf"(?<![\d.,:/–-])\b1 (?!species)(?:{_COUNTED})\b",
    "nothing said": r"(?:feeds on|plants? (?:are|is)|habitat:|\.) none\b|\bNone(?! of)\b|\bnan\b|\bnull\b",
    "a hole": r"[{}]|: *[.;,]|\( *\)|“”|\[\]",
    "two stops": r"(?<!\.)\.\.(?!\.)|[,;]\.|\.,|[?!]\.|,,|;;",
    "a space before a stop": r" [,.;!?](?!\d|\w)",
    "a clause after an article": r"\b(?:has|the) (?:it|they|there) (?:does|is|are)\b",
    "a smell or a call that is looked at": r"[Ll]ook (?:first |also )?(?:for|at) (?:an? |the )?[\w, -]{0,30}\b"
    r"(?:smell|scent|call|whistles?|bonk|growl|rattle)\b",
    "a plant as food of what eats none": r"[Hh]ost plants?:? (?:not applicable|none)",
    "help called twice": r"[Ii]f any was (swallowed|eaten)\b.*\bIf any was \1\b",
    "a danger named twice": r"\bis (?:deadly )?poisonous\. (?:Deadly p|P)oisonous\b",
    "a species warned of twice": r"taken for (?:[^.]* and )?((?!and )[A-Z][\w-]+)(?: and [^.,]*)?, which\b.*taken for (?:[^.]* and )?\1\b",
    "care called for twice at one place": r"Take care at [^.]*\b([A-Z]\w+ [A-Z]\w+)\b.*Take care at [^.]*\b\1\b",
    "an age as a thing": r"\bin the (?:juvenile|immature|subadult)\b(?! (?:male|female))",
    "one use of plants after another": r"\(([^()]{8,})\), [^();]+ \(\1\)",
    "days that were not counted": r"for about \d+ more days",
    "a stage without its article": r"\w most seen now(?!:)|\w in season (?:for|all year|until)\b",
    "a stage for those that a key is for": r"^(?:Key|Finder|Only for): (?:adult|nymph|larva|in \w+|(?!\w+ in )[\w ]*(?:body|plumage))$",
    "what no picture shows": r"^Look at: .*\b(?:length|size|height|call|song|smell)\b",
    "what one does about the other, said of this one": r"taken for [^.]*\. (?:It makes|One cap|Part of|Do not|Keep)\b",
    "one of several, called this one": r"^(?!.*\bEach of ).*[A-Z][\w-]+, [A-Z][^:.]*: (?:Parts of this|This) (?:plant|fungus|animal)\b",
    "a likeness that reads as a fact of both": r"\(like [A-Z]",
    "a verb twice": r"\b(is|are|can) [a-z -]+ and \1 (?:harmful|venomous|poisonous|bite|sting)\b",
    "a thing to lift that is not named": r"\bLift away\b",
    "an animal that was not named": r"Step back(?! from)\b[^.;]* it\b|back from edges and children",
    "a chance that runs into its reason": r"^(?:likely|possible|worth a look|outside chance) \w",
    "no article before a noun": r"\bIt is (?:common|scarce|rare|local) (?:passage migrant|winter visitor|summer visitor|resident)\b",
}
"""In every line, by what is wrong."""

IN_PROSE = {"a sentence that begins small": r"(?<!\bc)(?<!\bsp)(?<!\be\.g)(?<!\bi\.e)[.!?] [a-z](?!\.)"}
"""Only where whole sentences are said: in scripts and posts. Cards and pages put lists in one line."""


def find_faults(text: str) -> Iterator[str]:
    """Every line of a text that holds one, with what is wrong and under which file it stands."""
    file = ""
    for line in text.splitlines():
        if line.startswith("== "):
            file = line[3:]
            continue
        rules = FORBIDDEN | IN_PROSE if file.startswith(("scripts", "posts")) else FORBIDDEN
        if file.endswith((".csv", "key.html", "/key")):  # cells, and leads that begin with their letter
            rules = {wrong: pattern for wrong, pattern in rules.items() if wrong not in ("two stops", "two articles", "the wrong article")}
        for wrong, pattern in rules.items():
            if found := re.search(pattern, line):
                yield f"{file}: {wrong} (“{found.group()}”): {line[max(0, found.start() - 40) : found.end() + 40]}"
