"""Typed text → ScientificName, after the ICZN (4th ed.) and the ICN.

The authority is kept byte for byte, since its parentheses say that a species was first put in another genus.
"""

from __future__ import annotations

import re
from dataclasses import replace

from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable

_LOWER = "a-zß-öø-ÿāčēěģīķļņōŕřšūůžœ"
_UPPER = "A-ZÀ-ÖØ-ÞĀČŠŽŒ"
_GENUS = re.compile(rf"[{_UPPER}](?:[{_LOWER}]+(?:-[{_UPPER}{_LOWER}][{_LOWER}]+)?|[{_LOWER}]{{0,2}}\.)$")
_EPITHET = re.compile(rf"(?=[0-9-]*[{_LOWER}]{{2}}|[{_LOWER}]-)[{_LOWER}0-9]+(?:-[{_LOWER}0-9]+)*$")
_SUBGENUS = re.compile(rf"\([{_UPPER}]?[{_LOWER}]+\)$")
# Article 5.3 ICZN: qualifiers are not part of a name, even inside it.
_QUALIFIERS = frozenset(
    {"sp.", "spp.", "sp", "spp", "cf.", "cf", "conf.", "aff.", "aff", "nr.", "nr", "near", "prox.", "?", "kl.", "kl", "klepton"}
)
_OPEN_NAMES = frozenset({"sp.", "spp.", "sp", "spp"})
_RANKS = frozenset({"subsp.", "ssp.", "var.", "subvar.", "f.", "forma", "fo.", "subf.", "nothosubsp.", "nothovar.", "nothof.", "cv."})
_SENSES = {
    "agg": "agg.", "agg.": "agg.", "aggr.": "agg.", "s.l.": "s.l.", "sl.": "s.l.", "s.lat.": "s.l.", "coll.": "coll.",
    "complex": "complex", "group": "group", "gr.": "group", "s.s.": "s.str.", "s.str.": "s.str.", "ss.": "s.str.",
}  # fmt: skip
_SENSE_IN_TWO = re.compile(r"\b(?:(s)\.\s+(l|lat|s|str)\.|(sensu)\s+(lato|stricto|amplo)\b)")
_APART = {"l": "s.l.", "lat": "s.l.", "lato": "s.l.", "amplo": "s.l.", "s": "s.str.", "str": "s.str.", "stricto": "s.str."}
_DOUBT_BEHIND = re.compile(r"(?<=[^\s?])\s*\?(?=\s|$)|^\?\s?(?=\S)")
# Authors' names that begin small with an apostrophe.
_ELIDED = re.compile(rf"(?:d|D|l|L|O|de l|dell|'t|’t)\s?['’]?\s?[{_UPPER}]")
# Endings of Latin and Latinised epithets, and authors whose names end so and stand alone behind a genus (from memory).
_LATIN_ENDING = re.compile(r"(?:us|a|um|is|i|ae|e|ens|ans|or|er|es|ix|ax|oides|ops|os|as|o)$")
_AUTHORS = frozenset(
    {
        "Linnaeus", "Linné", "Fabricius", "Latreille", "Lamarck", "Cuvier", "Miller", "Tournefort", "Adanson", "Jussieu", "Hooker",
        "Fries", "Gray", "Leach", "Stephens", "Curtis", "Boie", "Brisson", "Vieillot", "Temminck", "Rafinesque", "Schrank",
        "Scopoli", "Meigen", "Fallén", "Wagler", "Laurenti", "Merrem", "Oken", "Pallas", "Geoffroy", "Illiger", "Billberg", "Spinola",
    }
)  # fmt: skip
_NAME_PARTICLES = frozenset(
    {
        "De", "Van", "Von", "La", "Le", "Du", "Mac", "Mc", "St", "Saint", "Da", "Di", "Des", "Den", "Der", "Zur", "Te", "El",
        "Milne", "Dalla", "Bory",
    }
)  # fmt: skip
# Small words that start or join authors' names, so they are never epithets.
_PARTICLES = frozenset(
    {
        "al.", "and", "apud", "auct.", "auctt.", "da", "dal", "de", "del", "della", "den", "der", "des", "di", "do",
        "dos", "du", "e", "emend.", "et", "ex", "fil.", "hort.", "ined.", "in", "la", "le", "nec", "non", "nom.",
        "sensu", "ten", "ter", "und", "van", "vd.", "vom", "von", "y", "zu", "zum", "zur",
    }
)  # fmt: skip
_CAPITAL_WORD = re.compile(rf"[{_UPPER}][{_LOWER}]{{2,}}")
_BETWEEN_PARENTS = re.compile(rf"(?<=\S)\s*(?:×|\s[xX])\s*(?=[{_UPPER}][{_LOWER}]*\.?\s)")
_JOINED_HYBRID = re.compile(rf"^[xX](?=[{_UPPER}][{_LOWER}])")
_HYBRID = re.compile(r"(?:^|\s)[×xX](?=\s|$)|×")
_NOT_A_NAME = Unreadable("", "Write genus and species, such as Bufo bufo (Linnaeus, 1758).", "unreadable-name")


def parse_name(text: str, authority: str = "") -> ScientificName | Unreadable:
    """Read a scientific name; `authority` is given where it was typed apart from the name.

    Hybrid signs may be typed ×, x or X, with or without spaces. Answers an Unreadable for anything that is not a name.
    """
    typed = " ".join(text.split())
    problem = _first_problem(typed) or _title_case_problem(typed)
    if problem:
        return problem
    parents = _split_formula(typed)
    name = _formula(typed, parents) if len(parents) > 1 else _single(typed, _mark_hybrids(typed).split(" "))
    return name if isinstance(name, Unreadable) else with_authority(name, authority)


def _problem(message: str, mend: str = "") -> Unreadable:
    return replace(_NOT_A_NAME, message=message, mend=mend or _NOT_A_NAME.mend)


def _first_problem(typed: str) -> Unreadable | None:
    if not typed:
        return _problem("The scientific name is empty.")
    if any(sign in typed for sign in "*_<>`"):
        plain = re.sub(r"[*_`]|<[^>]*>", "", typed)
        return _problem(f"'{typed}' has marks for italics in it.", f"Write {plain}; the italics come by themselves.")
    if typed.count("(") != typed.count(")") or typed.count("[") != typed.count("]"):
        return _problem(f"A parenthesis is not closed in '{typed}'.", "Parentheses round an author come in pairs.")
    return None


def _title_case_problem(typed: str) -> Unreadable | None:
    """`Vanessa Cardui`: an epithet with a capital, which would be taken for the genus's author."""
    words = typed.split(" ")
    if len(words) < 2 or not _CAPITAL_WORD.fullmatch(words[1]) or not _GENUS.fullmatch(words[0]):
        return None
    if words[1] in _AUTHORS or words[1] in _NAME_PARTICLES or not _LATIN_ENDING.search(words[1]):
        return None
    alone = len(words) == 2
    followed = len(words) > 2 and re.match(rf"\(?[{_UPPER}]", words[2]) is not None and words[2] != "&"
    if not (alone or followed):
        return None
    fixed = " ".join((words[0], words[1].lower(), *words[2:]))
    return _problem(
        f"'{words[1]}' in '{typed}' has a capital, as an author has and an epithet never does.",
        f"Write {fixed}; if it is the author of the genus, give the year too.",
    )


def _split_formula(typed: str) -> list[str]:
    """The parents of a hybrid formula (a new name with a capital follows the sign), else the one name."""
    return _BETWEEN_PARENTS.split(typed)


def _mark_hybrids(typed: str) -> str:
    """Hybrid signs as a word × of their own, however typed; `xanthops` and `Oryx` keep their x."""
    typed = _JOINED_HYBRID.sub("× ", typed)
    return " ".join(_HYBRID.sub(" × ", typed).split())


def _formula(typed: str, parents: list[str]) -> ScientificName | Unreadable:
    read: list[ScientificName] = []
    for parent in parents:
        name = _single(parent, _mark_hybrids(parent).split(" "))
        if isinstance(name, Unreadable):
            return name
        read.append(name)
    return ScientificName(typed=typed, genus=read[0].genus, hybrid="formula", parents=tuple(read))


def _single(typed: str, words: list[str]) -> ScientificName | Unreadable:
    doubt = bool(_DOUBT_BEHIND.search(" ".join(words)))
    words = _with_senses(" ".join(words)).split(" ")
    hybrid = "genus" if words[0] == "×" and len(words) > 1 else ""
    words = words[1:] if hybrid else words
    genus = words[0]
    if not _GENUS.fullmatch(genus):
        return _genus_problem(typed, genus)
    rest = words[1:]
    subgenus = ""
    if rest and _SUBGENUS.fullmatch(rest[0]):
        subgenus, rest = rest[0][1:-1], rest[1:]
    name = ScientificName(typed=typed, genus=genus, subgenus=subgenus, hybrid=hybrid)
    read = _species(name, rest)
    return replace(read, qualifier=read.qualifier or "?") if doubt and isinstance(read, ScientificName) else read


def _with_senses(text: str) -> str:
    """The words of a name with `s. l.` and `sensu lato` as one word, and without a question mark behind a word."""
    one = _SENSE_IN_TWO.sub(lambda m: _APART[m[2] or m[4]], text)
    return " ".join(re.sub(r"(?<=\s)\?(?=\w)", "? ", _DOUBT_BEHIND.sub("", one)).split()) or text


def _genus_problem(typed: str, genus: str) -> Unreadable:
    if re.fullmatch(rf"[{_LOWER}]+(?:-[{_LOWER}]+)?", genus) and len(typed.split()) > 1:
        fixed = typed[0].upper() + typed[1:]
        return _problem(f"The genus in '{typed}' does not start with a capital.", f"Write {fixed}.")
    if genus.isalpha() and genus.isupper() and len(genus) > 1:
        return _problem(f"'{typed}' is written in capitals.", f"Write {typed.capitalize()}.")
    return _problem(f"'{typed}' is not a scientific name.")


def _species(name: ScientificName, words: list[str]) -> ScientificName | Unreadable:
    """Read qualifier, hybrid sign, epithet and what follows."""
    if words and words[0] in _OPEN_NAMES:
        return _open_name(name, words)
    if words and words[0] in _QUALIFIERS:
        name, words = replace(name, qualifier=_dotted(words[0])), words[1:]
    if words and words[0] == "×":
        if len(words) == 1:
            return _problem(f"Nothing follows the hybrid sign in '{name.typed}'.", "Write Mentha ×smithiana.")
        name, words = replace(name, hybrid="species"), words[1:]
    if not words or words[0] in _PARTICLES or not _EPITHET.fullmatch(words[0].rstrip(",")):
        return _closed(name, words)
    if words[0].endswith(","):
        return _comma_problem(name.typed, words[0])
    return _below_species(replace(name, epithet=words[0]), words[1:])


def _open_name(name: ScientificName, words: list[str]) -> ScientificName | Unreadable:
    """`sp.` with or without a working label: "sp. 1", "sp. A" and "sp. indet." are not epithets."""
    label = next((w for w in words[1:2] if re.fullmatch(r"[A-Z]|\d+|indet\.?", w)), "")
    qualifier = f"{_dotted(words[0])} {label}".strip()
    return _closed(replace(name, qualifier=qualifier), words[2:] if label else words[1:])


def _comma_problem(typed: str, word: str) -> Unreadable:
    return _problem(
        f"A comma follows '{word.rstrip(',')}' in '{typed}'; nothing stands between a name and its author.",
        f"Write {typed.replace(word, word.rstrip(','), 1)}.",
    )


def _below_species(name: ScientificName, words: list[str]) -> ScientificName | Unreadable:
    if words and words[0] in _SENSES:
        return _closed(replace(name, rank=_SENSES[words[0]]), words[1:])
    if words and words[-1] in _SENSES:  # behind the author: Taraxacum officinale Wigg. agg.
        return _closed(replace(name, rank=_SENSES[words[-1]]), words[:-1])
    if "×" in words:
        return _parent_problem(name, "".join(words[words.index("×") + 1 :][:1]))
    for place, word in enumerate(words[:-1]):
        following = words[place + 1]
        if word in _RANKS and _is_epithet(following):
            between = " ".join(words[:place])
            return _infraspecific(replace(name, rank=word, species_authority=between), following, words[place + 2 :])
    # In zoology a third word is the subspecies, without a rank word (Article 5.2 ICZN).
    if words and words[0] not in _RANKS and _is_epithet(words[0]):
        return _infraspecific(name, words[0], words[1:])
    return _closed(name, words)


def _is_epithet(word: str) -> bool:
    bare = word.rstrip(",")
    return bare not in _PARTICLES and _EPITHET.fullmatch(bare) is not None


def _infraspecific(name: ScientificName, word: str, rest: list[str]) -> ScientificName | Unreadable:
    return _comma_problem(name.typed, word) if word.endswith(",") else _closed(replace(name, infraspecific=word), rest)


def _parent_problem(name: ScientificName, second: str) -> Unreadable:
    """Article H.2.1 ICN: each parent of a formula has its genus."""
    return _problem(
        f"The parent after × has no genus in '{name.typed}'.",
        f"Write both names in full: {name.genus} {name.epithet} × {name.genus} {second}.",
    )


def _closed(name: ScientificName, words: list[str]) -> ScientificName | Unreadable:
    """What is left over is the authority, if it can be one."""
    authority = " ".join(words)
    if authority and not re.match(rf"[({{\[\"“'‘{_UPPER}]", authority) and words[0] not in _PARTICLES and not _ELIDED.match(authority):
        return _problem(f"'{authority}' in '{name.typed}' is neither a name nor an author.")
    return replace(name, authority=authority) if authority else name


def _dotted(qualifier: str) -> str:
    qualifier = {"klepton": "kl.", "conf.": "cf."}.get(qualifier, qualifier)
    return qualifier if qualifier in {"?", "near"} or qualifier.endswith(".") else f"{qualifier}."


def with_authority(name: ScientificName, typed: str) -> ScientificName | Unreadable:
    """A name with the authority that was typed apart from it, if any was."""
    authority = typed.strip()
    if not authority:
        return name
    if name.authority and name.authority != authority:
        return _problem(
            f"The author is given twice and differently: '{name.authority}' and '{authority}'.",
            "Give the author once, in the name or under authority.",
        )
    return replace(name, authority=authority)
