"""The facts of an account in words, for slots in scripts and posts: one source for page, card, script and post."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from types import MappingProxyType

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.field_declaration import Field
from guidebuild.guide.life_stages import GROWN_ON
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.resolve import find_account
from guidebuild.guide.text.inline import Inline
from guidebuild.identify.sentences import spoken_name, tell_apart_sentence
from guidebuild.views.pieces.season_words import season_words
from guidebuild.words import Words, words

HOST_PLANTS = "Host plants"
# Peoples, places and persons in the names of plants.
_NAME_IN_ITSELF = re.compile(
    r"(?:scots|scotch|norway|corsican|douglas|japanese|chinese|english|irish|welsh|spanish|portuguese|italian|american|european|"
    r"african|asian|indian|turkish|greek|austrian|canadian|californian|australian|monterey|lebanon|atlas|himalayan|siberian|"
    r"serbian|caucasian|lombardy|leyland|sitka|canary|yorkshire|cornish|oregon|virginia|plymouth|st\.|robert|michaelmas|"
    r"tasmanian|\w+['’]s)",
    re.IGNORECASE,
)


def tell_facts(guide: Published, account: PublicAccount, language: str = "") -> Mapping[str, str]:
    """Every slot this account can fill, by name. A fact that is not given is left out."""
    speak = words(language or guide.settings.language)
    settings = guide.settings
    facts = {field.slot: fact_words(guide, account, field, speak) for field in ACCOUNT_FIELDS if field.slot}
    facts |= {
        "full name": spoken_name(guide, account),
        "region": settings.region,
        "guide": settings.title,
        "address": settings.address,
        "greeting": settings.greeting,
        "sign off": settings.sign_off,
    }
    facts |= {f"season of {s.stage}": season_words(s.season, speak, settings) for s in account.seasons if not s.place}
    facts |= {s.stage: s.text.starred for s in account.stages}
    facts |= {f"mark {number}": mark.mark.starred for number, mark in enumerate(account.diagnostics, start=1)}
    facts |= {f"difference from {s.account}": tell_difference(guide, account, s.account, s.note.starred) for s in account.similar}
    return {slot: fact for slot, fact in facts.items() if fact}


def fact_words(guide: Published, account: PublicAccount, field: Field, speak: Words) -> str:
    """The value of a field in words, with stars round names; a text is told as it is."""
    tell = IN_WORDS.get(field.key)
    if tell:
        return tell(guide, account, speak)
    value = getattr(account, field.attribute)
    return value.starred if isinstance(value, Inline) else str(value)


def starred(name: ScientificName) -> str:
    """A scientific name in Markdown: stars round the runs the Codes put in italics."""
    return "".join(_star(piece.text) if piece.italic else piece.text for piece in name.pieces(authority=False))


def host_words(guide: Published, account: PublicAccount, speak: Words) -> str:
    """`silver birch and alder`: the host plants by their vernacular names."""
    named = [plant_word(guide.plants[h.plant].vernacular) if h.plant in guide.plants else h.plant for h in account.host_plants]
    return speak.listed(list(dict.fromkeys(named)))


def plant_word(vernacular: str) -> str:
    """A plant's name as a common noun, in which only what is a name in itself keeps its capital: `silver birch`, `Scots pine`."""
    return " ".join(word if _NAME_IN_ITSELF.fullmatch(word) else word.lower() for word in vernacular.split())


def head_plants(guide: Published, accounts: Collection[PublicAccount]) -> str:
    """The heading over the plants that accounts live on, as their groups call it; an interface word."""
    headings = {group.heading_of_food for a in accounts if a.host_plants and (group := guide.stage_set(a)).food == GROWN_ON}
    eaten = any(a.host_plants and guide.stage_set(a).food != GROWN_ON for a in accounts)
    return min(headings) if headings and not eaten else HOST_PLANTS


def head_plant_list(guide: Published) -> str:
    """The heading over plants that are not said to be those of one account: in an index, at a place; an interface word."""
    heading = head_plants(guide, guide.accounts.values())
    return heading if heading == HOST_PLANTS else "Plants"


def size_words(size: Measure) -> str:
    """The size as typed, without the words for what was measured: `6–9 mm`, so that a sentence can go on."""
    return size.typed.replace(size.what, "").strip(" ,") if size.what else size.typed


def name_habitats(guide: Published, account: PublicAccount) -> tuple[Inline, ...]:
    """The habitats as said, each once: by name where it is one of the guide's places, else as typed."""
    places = ((habitat, guide.places.get(habitat.text)) for habitat in account.habitat)
    return tuple(dict.fromkeys(Inline(place.name) if place else habitat for habitat, place in places))


def habitat_words(guide: Published, account: PublicAccount, speak: Words) -> str:
    """`woodland edge and park`: the habitats as said."""
    return speak.listed([h.starred for h in name_habitats(guide, account)])


def place_words(guide: Published, account: PublicAccount, speak: Words) -> str:
    """Where it is found, by the names of places or of their wider areas."""
    return speak.listed(list(dict.fromkeys(locality.name for locality in account.localities if locality.name)))


def similar_words(guide: Published, account: PublicAccount, speak: Words) -> str:
    """The look-alikes by name."""
    return speak.listed([_called(guide, s.account) for s in account.similar])


def hazard_words(guide: Published, account: PublicAccount, speak: Words) -> str:
    """The hazards by the titles of their cautions."""
    return speak.listed([guide.cautions[h].title if h in guide.cautions else h for h in account.hazards])


IN_WORDS: Mapping[str, Callable[[Published, PublicAccount, Words], str]] = MappingProxyType(
    {
        "name": lambda guide, account, speak: starred(account.name),
        "authority": lambda guide, account, speak: account.name.authority,
        "vernacular": lambda guide, account, speak: account.vernacular or account.name.plain,
        "size": lambda guide, account, speak: size_words(account.size) if account.size else "",
        "similar": similar_words,
        "host plants": host_words,
        "habitat": habitat_words,
        "places": place_words,
        "hazards": hazard_words,
    }
)
"""By key, how a value that is not a text reads in words."""


def tell_difference(guide: Published, account: PublicAccount, other: str, note: str = "") -> str:
    """What tells two accounts apart, as a sentence: computed from the characters, else the author's note."""
    found = find_account(guide, other)
    computed = tell_apart_sentence(guide, account.id, found.id) if found else ""
    return computed or note


def _called(guide: Published, wanted: str) -> str:
    found = find_account(guide, wanted)
    return spoken_name(guide, found) if found else wanted


def _star(text: str) -> str:
    lead = len(text) - len(text.lstrip())
    return f"{text[:lead]}*{text.strip()}*" if text.strip() else text
