"""Cross-references: whatever one thing points at exists, look-alikes point back, and nothing is left over."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache, partial
from itertools import islice

from guidebuild.checks.moved_files import suggest_rename
from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Plant, Term
from guidebuild.guide.resolve import find_account, fold_name, name_index, names_of
from guidebuild.guide.texts import find_links

Reference = tuple[str, At, str]  # what is pointed at, where, whose account
Collect = Callable[[Guide], Iterator[Reference]]
SUGGESTED = 40
"""So many different words that lead nowhere get a suggestion, for each rule."""
MOST_SIMILAR = 100
"""So many look-alikes can one account have; no reader could use more, and each is compared, drawn and printed."""


def nearest(wanted: str, known: Iterable[str]) -> str:
    """`Did you mean “x”?`, or nothing where no known id is near."""
    near = difflib.get_close_matches(wanted, list(known), n=1, cutoff=0.6)
    return f"Did you mean “{near[0]}”?" if near else ""


class Suggestions:
    """`nearest` for the findings of one rule: worked out once a word, and for the first words only.

    Comparing with every id of a large guide takes long, and who has so many wrong ids mends the first ones first.
    """

    def __init__(self) -> None:
        self._known: dict[str, str] = {}

    def __call__(self, wanted: str, known: Iterable[str]) -> str:
        """As `nearest`; nothing once enough different words were asked for."""
        if wanted not in self._known:
            self._known[wanted] = nearest(wanted, known) if len(self._known) < SUGGESTED else ""
        return self._known[wanted]


def _plants(guide: Guide) -> Iterator[Reference]:
    for a in guide.accounts.values():
        yield from ((use.plant, use.at, a.id) for use in a.host_plants)
    for place in guide.places.values():
        yield from ((plant, place.at, "") for plant in place.plants)


def _places(guide: Guide) -> Iterator[Reference]:
    for a in guide.accounts.values():
        yield from ((p, a.where("places"), a.id) for p in a.places)
        yield from ((p, a.where("absent from"), a.id) for p in a.absent_from)
        yield from ((s.place, s.at, a.id) for s in a.seasons if s.place)
    for walk in guide.walks.values():
        yield from ((stop.place, stop.at, "") for stop in walk.stops)
    yield from ((p.place, p.at, p.account) for p in guide.photos.values() if p.place)
    yield from ((sound.place, sound.where("place"), "") for sound in guide.sounds.values() if sound.place)


def _photos(guide: Guide) -> Iterator[Reference]:
    for a in guide.accounts.values():
        yield from ((p, a.where("photos"), a.id) for p in a.photos)
        yield from ((m.photo, m.at, a.id) for m in a.diagnostics if m.photo)
    records: tuple[Plant | Place | Term, ...] = (*guide.plants.values(), *guide.places.values(), *guide.terms.values())
    yield from ((record.photo, record.at, "") for record in records if record.photo)
    yield from ((film.still, film.where("still"), "") for film in guide.films.values() if film.still)
    yield from ((picture.photo, picture.at, "") for c in guide.characters.values() for picture in c.pictures if picture.photo)


def _data_sets(guide: Guide) -> set[str]:
    """Sources that files of sightings come from."""
    return set(guide.sighting_words.data_sets.values()) if guide.sighting_words else set()


def _sources(guide: Guide) -> Iterator[Reference]:
    for a in guide.accounts.values():
        yield from ((s, a.where("sources"), a.id) for s in a.sources)


def _characters(guide: Guide) -> Iterator[Reference]:
    for a in guide.accounts.values():
        yield from ((s.character, s.at, a.id) for s in a.scores)
        yield from ((c, s.at, a.id) for s in a.similar for c in s.tell_by)


def _missing(code: str, what: str, home: str, collect: Collect, records: Callable[[Guide], Mapping[str, object]]) -> Rule:
    def run(guide: Guide) -> Iterator[Finding]:
        known, suggest = records(guide), Suggestions()
        for wanted, at, account in collect(guide):
            if wanted not in known:
                mend = suggest(wanted, known) or f"Add it to {home}, or take it out here."
                yield rule.finding(f"There is no {what} “{wanted}” in {home}.", at, mend=mend, account=account)

    rule = Rule(
        code, f"Every {what} that is named exists", Level.ERROR, f"A {what} that is not there cannot be shown.", f"Add it to {home}.", run
    )
    return rule


def _unknown_account(guide: Guide) -> Iterator[Finding]:
    suggest, moved = Suggestions(), cache(partial(suggest_rename, guide))
    named = [(s.account, s.at, a.id) for a in guide.accounts.values() for s in a.similar]
    named += [(p.account, p.at, "") for p in guide.photos.values() if p.account]
    named += [(e.account, e.at, "") for e in guide.episodes.values()]
    named += [(account, film.where("accounts"), "") for film in guide.films.values() for account in film.accounts]
    named += [(account, sound.where("accounts"), "") for sound in guide.sounds.values() for account in sound.accounts]
    named += [(notes.account, notes.at, "") for notes in guide.posted.values()]
    for wanted, at, account in named:
        if find_account(guide, wanted) is None and wanted not in guide.unread:
            mend = moved(wanted) or suggest(wanted, guide.accounts) or "Write the account's file name without .md, or take it out."
            yield UNKNOWN_ACCOUNT.finding(f"There is no account “{wanted}”.", at, mend=mend, account=account)


def _too_many_similar(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        if (many := len(account.similar)) > MOST_SIMILAR:
            message = f"{account.vernacular or account.name.plain} names {many:,} look-alikes, and an account may name {MOST_SIMILAR}."
            yield TOO_MANY_SIMILAR.finding(message, tuple(account.similar)[MOST_SIMILAR].at, account=account.id)


def _not_mutual(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        told: set[str] = set()
        for similar in islice(account.similar, MOST_SIMILAR):
            other = find_account(guide, similar.account)
            if other is None or other.id == account.id or other.id in told:
                continue
            told.add(other.id)
            if all(find_account(guide, back.account) is not account for back in other.similar):
                message = (
                    f"{account.vernacular} names {other.vernacular} as similar, but {other.vernacular} does not name {account.vernacular}."
                )
                mend = f"In accounts/{other.id}.md add `account: {account.id}` under `similar:`."
                yield NOT_MUTUAL.finding(message, similar.at, mend=mend, account=account.id)


def _similar_to_itself(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        for similar in account.similar:
            if find_account(guide, similar.account) is account:
                message = f"{account.vernacular} is named as similar to itself."
                yield SIMILAR_TO_ITSELF.finding(message, similar.at, account=account.id)


def _clashing_names(guide: Guide) -> Iterator[Finding]:
    for name, claimed in name_index(guide).claims.items():
        if len(claimed) < 2:
            continue
        first, *others = claimed
        for other in others:
            typed = next(n for n in names_of(other) if fold_name(n) == name)
            message = f"“{typed}” is claimed by two accounts: {first.at.file} and {other.at.file}."
            yield CLASHING_NAMES.finding(message, guide.accounts[other.id].where("synonyms"), account=other.id)


def _pictures_of_no_state(guide: Guide) -> Iterator[Finding]:
    for character in guide.characters.values():
        states = [state.id for state in character.states]
        for picture in character.pictures:
            if picture.state not in states:
                mend = (
                    nearest(picture.state, states) or f"Write one of: {', '.join(states)}." if states else "Take it out: it has no states."
                )
                message = f"The character “{character.id}” has no state “{picture.state}” that a picture could show."
                yield PICTURE_OF_NO_STATE.finding(message, picture.at, mend=mend)


def _known(guide: Guide, kind: str, target: str) -> tuple[bool, Iterable[str]]:
    if kind == "account":
        return find_account(guide, target) is not None or target in guide.unread, guide.accounts
    tables: dict[str, Mapping[str, object]] = {
        "term": guide.terms,
        "photo": guide.photos,
        "plant": guide.plants,
        "place": guide.places,
        "source": guide.sources,
        "character": guide.characters,
        "walk": guide.walks,
        "caution": guide.cautions,
    }
    return target in tables[kind], tables[kind]


def _dangling_link(guide: Guide) -> Iterator[Finding]:
    suggest, moved = Suggestions(), cache(partial(suggest_rename, guide))
    for account, link in find_links(guide):
        if not link.kind:
            if link.picture:
                message = f"The picture “{link.target}” is not one of the guide's photos."
                mend = suggest(link.target.rsplit("/", 1)[-1].rsplit(".", 1)[0], guide.photos)
                yield DANGLING_LINK.finding(
                    message, link.at, mend=mend or "Enter it in photos.yaml and write photo:its-id.", account=account
                )
            continue
        known, ids = _known(guide, link.kind, link.target)
        if not known:
            mend = moved(link.target) if link.kind == "account" else ""
            mend = mend or suggest(link.target, ids) or f"Write {link.kind}: and an id that exists."
            yield DANGLING_LINK.finding(f"The link {link.kind}:{link.target} leads nowhere.", link.at, mend=mend, account=account)


def _linked(guide: Guide, kind: str) -> set[str]:
    return {link.target for _, link in find_links(guide) if link.kind == kind}


def _diagrams(guide: Guide) -> set[str]:
    return {photo.id for photo in guide.photos.values() if photo.parts}


def _never_used(guide: Guide) -> Iterator[Finding]:
    used: list[tuple[str, str, Mapping[str, object], set[str]]] = [
        ("plant", "plants.yaml", guide.plants, {r[0] for r in _plants(guide)} | _linked(guide, "plant")),
        ("photo", "photos.yaml", guide.photos, {r[0] for r in _photos(guide)} | _linked(guide, "photo") | _diagrams(guide)),
        ("source", "sources.yaml", guide.sources, {r[0] for r in _sources(guide)} | _linked(guide, "source") | _data_sets(guide)),
        ("place", "places.yaml", guide.places, {r[0] for r in _places(guide)} | _linked(guide, "place")),
    ]
    for what, home, records, named in used:
        for record_id, record in records.items():
            if record_id not in named:
                at = getattr(record, "at", At(home))
                yield NEVER_USED.finding(f"The {what} “{record_id}” is named nowhere.", at)


UNKNOWN_ACCOUNT = Rule(
    "unknown-account",
    "Every account that is named exists",
    Level.ERROR,
    "A look-alike without an account cannot be told from this one.",
    "Write the account's file name without .md.",
    _unknown_account,
)
TOO_MANY_SIMILAR = Rule(
    "too-many-look-alikes",
    "An account names look-alikes that a reader can hold apart",
    Level.ERROR,
    "Each is compared, drawn and printed: a thousand would take the whole run's memory and time. The account is not published.",
    "Keep those that are taken for it in the field.",
    _too_many_similar,
)
NOT_MUTUAL = Rule(
    "not-mutual",
    "Similar species name each other",
    Level.WARNING,
    "Someone who starts from the other species must be warned as well.",
    "Add the pair to the other account too.",
    _not_mutual,
)
SIMILAR_TO_ITSELF = Rule(
    "similar-to-itself",
    "No account is its own look-alike",
    Level.ERROR,
    "It would be compared with itself.",
    "Name the other species, or take the entry out.",
    _similar_to_itself,
)
CLASHING_NAMES = Rule(
    "clashing-names",
    "A name leads to one account",
    Level.ERROR,
    "A link or an old record by that name could mean either.",
    "Leave the name in one account only.",
    _clashing_names,
)
DANGLING_LINK = Rule(
    "dangling-link",
    "Every link in a text leads somewhere",
    Level.ERROR,
    "A reader who follows it finds nothing.",
    "Write an id that exists.",
    _dangling_link,
)
NEVER_USED = Rule(
    "never-used",
    "Everything that is listed is used",
    Level.NOTE,
    "A plant, place, photo or source that nothing names is often a misspelt id elsewhere.",
    "Name it in an account, or take it out.",
    _never_used,
)

PICTURE_OF_NO_STATE = Rule(
    "picture-of-no-state",
    "Pictures of states name states that there are",
    Level.ERROR,
    "Finder and key show a picture beside its state, and nowhere else.",
    "Write the id of a state under `pictures:`.",
    _pictures_of_no_state,
)
RULES = (
    UNKNOWN_ACCOUNT,
    TOO_MANY_SIMILAR,
    NOT_MUTUAL,
    SIMILAR_TO_ITSELF,
    CLASHING_NAMES,
    _missing("unknown-plant", "plant", "plants.yaml", _plants, lambda g: g.plants),
    _missing("unknown-place", "place", "places.yaml", _places, lambda g: g.places),
    _missing("unknown-photo", "photo", "photos.yaml", _photos, lambda g: g.photos),
    _missing("unknown-source", "source", "sources.yaml", _sources, lambda g: g.sources),
    _missing("unknown-character", "character", "characters.yaml", _characters, lambda g: g.characters),
    PICTURE_OF_NO_STATE,
    DANGLING_LINK,
    NEVER_USED,
)
