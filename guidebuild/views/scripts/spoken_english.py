"""English for the ear: articles before field marks, measures and seasons in words, no bracketed asides.

The drafts of scripts are built with it. It is English only; in another language the author writes the episode.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from guidebuild.fieldwork.claims import is_of_grown
from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.life_stages import ANIMALS, StageSet, is_state
from guidebuild.guide.measures import Measure
from guidebuild.guide.seasons import DEKADS, Season
from guidebuild.speech.language import read_language
from guidebuild.speech.marks import Mark
from guidebuild.speech.numbers import say_cardinal
from guidebuild.speech.script import Piece, Spoken
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.words import words


def split_words(text: str) -> frozenset[str]:
    """Words in a row as a set."""
    return frozenset(text.split())


_ENGLISH = read_language("en")
_SMALL_NUMBERS = frozenset(say_cardinal(str(number), _ENGLISH) for number in range(1, 13))
_DETERMINERS = _ENGLISH.determiners | _SMALL_NUMBERS | split_words("that many few several")
_AFTER_HEAD = _ENGLISH.prepositions | split_words(
    "beside round right close down out up all that which whose where when covering reaching clearest"
)
_TREATED = split_words("edged ringed banded spotted marked covered")
_COLOURS = split_words(
    "black white grey brown red orange yellow green blue purple violet pink bronze golden silver cream buff rusty pale dark"
)
_MANY = split_words("feet teeth fungi fry")
_MASS = split_words("hair fur down plumage flesh foam spawn skin moss wood milk powder bark wool wax froth slime duckweed bloom")
# What a thing has only one of: "the black end of the white tail".
_ONE_OF_EACH = split_words("end tip base edge middle top rest")
_SINGULAR_S = ("ss", "us", "is", "as")
_SOUNDS_CONSONANT = re.compile(r"(?:uni|eu|use|one\b|once\b)", re.IGNORECASE)
_SILENT_H = re.compile(r"(?:hour|honest|heir)", re.IGNORECASE)
# What stands in brackets with a space before them; `(5–)6 mm` is a measure and stays.
_ASIDE = re.compile(r"\s\((?![\d.–-]+\))([^()]+)\)(?=[\s.,;:!?]|$)")
_COMMA_AND_STOP = re.compile(r",(?=\s*[.,;:!?])")
_COMMA_AT_END = re.compile(r",\s*$")
_TO = re.compile(r"(?<=\d)\s?[–-]\s?(?=\d)")
_TIMES = re.compile(r"(?<=\d)\s?×\s?(?=\d)")
_ABOUT = re.compile(r"\b(?:c|ca|circa)\.\s?(?=\d)")
_SEXES = (("♂♂", "males"), ("♀♀", "females"), ("♂", "male"), ("♀", "female"))
_UNITS = _ENGLISH.units
_WRITTEN = sorted((u for u in _UNITS if u.isalpha() and u not in ("am", "pm", "m", "s", "h", "l", "L")), key=len, reverse=True)
_MEASURED = re.compile(rf"(?<![\w.])(?P<last>\d[\d,]*(?:\.\d+)?)\s?(?P<unit>{'|'.join(map(re.escape, _WRITTEN))}|m|h)(?![\w/²³])")
_UNIT_WORDS = "|".join(sorted({word for both in _UNITS.values() for word in both}, reverse=True))
_NUMBER_AND_UNIT = re.compile(rf"\d[\d,.]*(?: (?:to|by) \d[\d,.]*)?\s(?:{_UNIT_WORDS})\b")

# “in” is an inch only in a measure: before what was measured, or where the size ends.
_MEASURES = r"(?:long|high|tall|wide|broad|across|deep|thick|length|height|width|body|wingspan)\b"
_INCHES = re.compile(rf"(?<![\w.])(?P<last>\d[\d,]*(?:\.\d+)?[½¼¾]?|[½¼¾])\s?in(?=\.?\s+{_MEASURES})")
_INCHES_AT_END = re.compile(r"(?<![\w.])(?P<last>\d[\d,]*(?:\.\d+)?[½¼¾]?|[½¼¾])\s?in\.?(?=\s*(?:[,;()]|$))")
_SAID_AS_MEASURED = split_words("long high tall wide broad across deep thick")
_SEX_FIRST = re.compile(r"(?P<sex>male|female)s?[:,]?\s+(?P<size>\D{0,9}\d.*)")
_UNIT_AT_END = re.compile(r"\s[^\W\d]+$")

_STATUS_WORDS = split_words(
    "abundant common declining endangered extinct frequent introduced local native occasional plentiful rare scarce spreading "
    "threatened uncommon vulnerable widespread regular irregular numerous"
)
_DEGREES = split_words("very fairly quite rather locally now still increasingly formerly mostly generally extremely critically near once")
_KINDS_OF_GUEST = split_words("migrant visitor resident breeder vagrant wanderer arrival guest species plant fungus bird animal relict")
_STATUS_SAID = {
    "occasional": "It is found now and then.",
    "frequent": "It is often found.",
    "vulnerable": "It is listed as vulnerable.",
    "endangered": "It is listed as endangered.",
    "critically endangered": "It is listed as critically endangered.",
    "threatened": "It is listed as threatened.",
    "near threatened": "It is listed as near threatened.",
}


def add_article(phrase: str) -> str:
    """A field mark as a noun phrase that a sentence can take: `a dark spot on the scutellum`, `red points to the shoulders`."""
    phrase = phrase.strip().rstrip(".")
    head = _head(phrase)
    if not head or head[0].lower() in _DETERMINERS or head[-1].lower() in _MASS or _is_plural(head[-1]) or _is_bare_colour(head):
        return phrase
    if head[-1].lower() in _ONE_OF_EACH and f"{head[-1]} of the " in phrase and head[0].lower() in _COLOURS:
        return f"the {phrase}"
    return f"{'an' if _opens_with_vowel(phrase) else 'a'} {phrase}"


def find_scope(group: StageSet, mark: FieldMark) -> str:
    """Of whom a mark is true: `in the male in breeding plumage`; empty where that need not be said or the mark says it."""
    stages = () if is_of_grown(mark) else mark.stages
    if not mark.sexes and all(group.word(stage) in mark.mark.starred for stage in stages):
        return ""
    return words("en").listed([group.at_scope(stage, sex) for stage in stages or ("",) for sex in mark.sexes or ("",)])


def set_off_asides(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Bracketed asides set off by commas instead, as one says them; a subgenus in a name keeps its brackets."""
    for number, piece in enumerate(pieces, 1):
        if isinstance(piece, Mark) or piece.is_name:
            yield piece
            continue
        said = _COMMA_AND_STOP.sub("", _ASIDE.sub(r", \1,", piece.text))
        yield Spoken(said if number < len(pieces) else _COMMA_AT_END.sub("", said))


def write_out_measures(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """The same pieces with the measures outside names in words."""
    for piece in pieces:
        yield piece if isinstance(piece, Mark) or piece.is_name else Spoken(say_measures(piece.text))


def say_measures(text: str) -> str:
    """Ranges, units and signs of measures written out, figures kept: `6–9 mm` becomes `6 to 9 millimetres`."""
    said = _TIMES.sub(" by ", _TO.sub(" to ", _ABOUT.sub("about ", text)))
    for sign, word in _SEXES:
        said = said.replace(sign, word)
    return _MEASURED.sub(_long_unit, _INCHES.sub(_long_inches, said))


def find_measured_phrases(text: str) -> tuple[str, ...]:
    """Every number with its unit in words that a text holds: what a caption must not cut."""
    return tuple(dict.fromkeys(match.group() for match in _NUMBER_AND_UNIT.finditer(text)))


def write_size_sentence(size: Measure, typed: str, group: StageSet) -> str:
    """`Its body is 6 to 9 millimetres long.` `typed` is the size without the words for what was measured.

    Where those lack, the group says what one measures; a plant stands so tall.
    """
    said, what = say_measures(_INCHES_AT_END.sub(_long_inches, typed)), size.what or group.measured
    thing, _, way = what.rpartition(" ")
    if what in _SAID_AS_MEASURED:
        return f"It is {_add_to_size(said, what)}."
    if what == "height" and group.kingdom != ANIMALS:
        return f"It stands {_add_to_size(said, 'tall')}."
    adjective = {"length": "long", "height": "high", "width": "wide", "breadth": "wide"}.get(way or what)
    if adjective:
        return f"{f'Its {thing}' if thing else 'It'} is {_add_to_size(said, adjective)}."
    return f"Its {what} is {_add_to_size(said)}." if what else f"It measures {_add_to_size(said)}."


def _add_to_size(said: str, adjective: str = "") -> str:
    """`6 to 9 millimetres long`; of each sex apart, `6 to 7 millimetres long in the male, 8 to 9 millimetres in the female`."""
    parts = [part.strip() for part in re.split(r"[;,](?!\d)", said)]
    read = [_SEX_FIRST.fullmatch(part) for part in parts]
    by_sex = [(match["size"].strip(), match["sex"]) for match in read if match]
    if len(by_sex) < len(parts):
        return f"{said} {adjective}".rstrip()
    unit = match[0] if (match := _UNIT_AT_END.search(by_sex[-1][0])) else ""  # `male 10–12, female 13–18 mm`
    told = [(size if _UNIT_AT_END.search(size) else size + unit, sex) for size, sex in by_sex]
    return ", ".join(f"{size}{f' {adjective}' if adjective and not n else ''} in the {sex}" for n, (size, sex) in enumerate(told))


def say_season(season: Season, first: int) -> str:
    """A season as a part of a sentence, told from the dekad `first` on: `in June`, `from late May to June, and again in September`."""
    if len(season.dekads) == DEKADS:
        return "all year"
    return ", and again ".join(_run(start, end) for start, end in season.runs(first))


def say_whole_season(season: Season, first: int) -> str:
    """When, and when most of all: `from March to August, most of all from April to June`."""
    peak = say_season(Season("", season.most_seen), first) if season.most_seen and season.most_seen != season.dekads else ""
    return say_season(season, first) + (f", most of all {peak}" if peak else "")


def write_season_sentence(stage: str, season: Season, first: int, *, sought: bool) -> str:
    """When a stage ("nymph", "in flower") is to be met, and when most of all; the year is told from the dekad `first` on."""
    state = is_state(stage)
    met = f"it {stage}" if state else f"the {stage}"
    if not season.dekads:
        return f"You will not see {met} here."
    peak = say_season(Season("", season.most_seen), first) if season.most_seen and season.most_seen != season.dekads else ""
    if len(season.dekads) == DEKADS:
        return f"You can find {met} all year" + (f", most of all {peak}." if peak else ".")
    sentence = f"Look for {met} {say_season(season, first)}" if sought else f"{_presence(stage)} {say_season(season, first)}"
    if peak.startswith("in ") and "again" not in peak:
        return f"{sentence}; {peak[3:]} {'are' if ' and ' in peak else 'is'} best."
    return sentence + (f"; {'it is seen most' if state else 'most are seen'} {peak}." if peak else ".")


def _presence(stage: str) -> str:
    """`The egg is there`, `The young ones are there`, `It is in bud`, `It is there as a seedling`."""
    if not is_state(stage):
        return f"The {stage} {'are' if is_plural(' '.join(_head(stage))) else 'is'} there"
    opening, _, state = stage.partition(" ")
    return {"as": f"It is there {stage}", "when": f"It is {state}"}.get(opening.lower(), f"It is {stage}")


def write_status_sentence(status: str) -> str:
    """`It is common in damp woods.`, `It is a scarce passage migrant.`; empty where the words fit no sentence of this kind."""
    said = status.strip().rstrip(".")
    words_of = [word.strip(",;()").lower() for word in said.split()]
    plain = [word for word in words_of if word not in _DEGREES]
    if not plain or not (plain[0] in _STATUS_WORDS or plain[0].endswith("ly")):
        return ""
    if said.lower() in _STATUS_SAID:
        return _STATUS_SAID[said.lower()]
    head = _head(said.partition(",")[0].partition(";")[0].partition(" and ")[0].partition(" but ")[0])
    if head and head[-1].lower() in _KINDS_OF_GUEST:
        return f"It is {'an' if _opens_with_vowel(said) else 'a'} {said}."
    return f"It is {said}."


def make_sentence(text: str) -> str:
    """A phrase with a capital and a stop."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?", "…")) else ".")


def capitalise(text: str) -> str:
    """Words with a capital, as they begin a sentence."""
    return text[:1].upper() + text[1:]


def _head(phrase: str) -> list[str]:
    """The words up to the noun that the phrase is about."""
    kept: list[str] = []
    for word in phrase.split():
        bare = word.strip("(),;:").lower()
        # `antenna ringed black`, but `banded edge` and `black edged wing`.
        after_noun = bare in _TREATED and kept and kept[-1].lower() not in _COLOURS
        if word.startswith("(") or bare in _AFTER_HEAD or after_noun:
            break
        kept.append(word.strip(",;:"))
        if word.endswith((",", ";", ":")) and _is_noun_end(phrase, word):
            break
    return kept


def _is_noun_end(phrase: str, word: str) -> bool:
    """Whether a comma ends the noun phrase (`narrow abdomen, its edge…`) and does not part adjectives (`brown, mottled legs`)."""
    following = phrase.partition(word)[2].split()
    return bool(following) and following[0].lower() in _DETERMINERS | _AFTER_HEAD | {"and", "but"}


def is_plural(phrase: str) -> bool:
    """Whether a name takes "are": `meadow grasses and sedges`."""
    return " and " in phrase or _is_plural(phrase.rsplit(maxsplit=1)[-1])


def _is_plural(word: str) -> bool:
    lower = word.lower()
    return lower in _MANY or lower.endswith("ae") or (lower.endswith("s") and not lower.endswith(_SINGULAR_S))


def _is_bare_colour(head: list[str]) -> bool:
    """`green right out to the edge`: the colour itself is what is named."""
    return len(head) == 1 and head[0].lower() in _COLOURS


def _opens_with_vowel(phrase: str) -> bool:
    if _SOUNDS_CONSONANT.match(phrase):
        return False
    return phrase[0].lower() in "aeiou8" or bool(_SILENT_H.match(phrase))


def _long_inches(match: re.Match[str]) -> str:
    return f"{match['last']} {'inch' if match['last'] in ('1', '½', '¼', '¾') else 'inches'}"


def _long_unit(match: re.Match[str]) -> str:
    one, several = _UNITS[match["unit"]]
    return f"{match['last']} {one if match['last'] == '1' else several}"


def _run(first: int, last: int) -> str:
    say = words("en")
    months = first // 3, last // 3
    whole_start, whole_end = first % 3 == 0, last % 3 == 2
    if first == last:
        return f"in {dekad_words(first, say)}"
    if whole_start and whole_end and months[0] == months[1]:
        return f"in {say.month(months[0] + 1)}"
    if whole_start and whole_end and (months[0] + 1) % 12 == months[1]:
        return f"in {say.month(months[0] + 1)} and {say.month(months[1] + 1)}"
    within = months[0] == months[1] and first < last
    start = say.month(months[0] + 1) if whole_start and not within else dekad_words(first, say)
    end = say.month(months[1] + 1) if whole_end and not within else dekad_words(last, say)
    return f"from {start} to {end}"
