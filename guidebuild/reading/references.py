"""Accounts named by an old, a current or an everyday name → the same by id, so that no later room needs to know.

A name that no account answers to, or that two claim, is left as typed for the checks to tell.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from guidebuild.guide.accounts import Account, Translation
from guidebuild.guide.films import Film
from guidebuild.guide.guide import Guide
from guidebuild.guide.posted import PostNotes, join_notes
from guidebuild.guide.records import Place
from guidebuild.guide.resolve import NameIndex, name_index
from guidebuild.guide.text.inline import Inline

_DIFFERENCE = "difference from "
"""What the slot begins with that tells two species apart; the other's id follows."""


def with_ids(guide: Guide) -> Guide:
    """The guide with similar species, photos and episodes pointing at account ids, and habitats that are places told as places."""
    index = name_index(guide)
    known = guide.accounts
    episodes = {key: e if e.account in known else replace(e, account=_id(index, e.account)) for key, e in guide.episodes.items()}
    photos = {
        key: p if not p.account or p.account in known else replace(p, account=_id(index, p.account)) for key, p in guide.photos.items()
    }
    films = {key: _film(index, film, known) for key, film in guide.films.items()}
    sounds = {key: s if all(a in known for a in s.accounts) else replace(s, accounts=tuple(_id(index, a) for a in s.accounts))
              for key, s in guide.sounds.items()}  # fmt: skip
    kinds = {kind.words.casefold().replace(" ", "-"): kind for place in guide.places.values() for kind in place.habitat}
    accounts = {key: _with_places(_account(index, account, known), guide.places, kinds) for key, account in known.items()}
    posted = _posted(index, guide.posted)
    return replace(guide, accounts=accounts, photos=photos, films=films, sounds=sounds, episodes=episodes, posted=posted)


def _id(index: NameIndex, wanted: str) -> str:
    found = index.find(wanted.strip())
    return found.id if found else wanted


def _film(index: NameIndex, film: Film, known: Mapping[str, Account]) -> Film:
    """The film itself where nothing needs to change."""
    others = (fact.slot.partition(_DIFFERENCE)[2] for fact in film.said)
    if all(named in known for named in (*film.accounts, *(fact.account for fact in film.said), *filter(None, others))):
        return film
    said = tuple(replace(fact, account=_id(index, fact.account), slot=_slot(index, fact.slot)) for fact in film.said)
    return replace(film, accounts=tuple(_id(index, account) for account in film.accounts), said=said)


def _posted(index: NameIndex, posted: Mapping[str, PostNotes]) -> Mapping[str, PostNotes]:
    """What is noted of posts, by the ids of today; what stands in files of two names of one account is one."""
    by_id: dict[str, list[PostNotes]] = {}
    for name, notes in posted.items():
        posts = tuple(replace(p, says=tuple(replace(fact, slot=_slot(index, fact.slot)) for fact in p.says)) for p in notes.posts)
        by_id.setdefault(_id(index, name), []).append(replace(notes, posts=posts))
    return {account: join_notes(account, several) for account, several in by_id.items()}


def _slot(index: NameIndex, slot: str) -> str:
    before, apart, other = slot.partition(_DIFFERENCE)
    return f"{apart}{_id(index, other)}" if apart and not before else slot


def _account(index: NameIndex, account: Account, known: Mapping[str, Account]) -> Account:
    """The account itself where nothing needs to change."""
    if all(s.account in known for s in account.similar) and not any(t.similar_notes for t in account.translations):
        return account
    similar = tuple(replace(s, account=_id(index, s.account)) for s in account.similar)
    translations = tuple(_translation(index, t) for t in account.translations)
    return replace(account, similar=replace(account.similar, values=similar), translations=translations)


def _with_places(account: Account, places: Mapping[str, Place], kinds: Mapping[str, Inline]) -> Account:
    """A place named as a habitat is a place of the account too; a kind of place written like an id gets its own words."""
    named = tuple(h.text for h in account.habitat if h.text in places and h.text not in account.places)
    habitat = tuple(h if h.text in places else kinds.get(h.text, h) for h in account.habitat)
    if not named and habitat == account.habitat:
        return account
    return replace(account, habitat=habitat, places=(*account.places, *dict.fromkeys(named)))


def _translation(index: NameIndex, translation: Translation) -> Translation:
    return replace(translation, similar_notes=tuple((_id(index, key), note) for key, note in translation.similar_notes))
