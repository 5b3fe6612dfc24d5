"""The decisions that a published guide is made by: which places, species and pictures are kept back, and what a text may tell."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

from guidebuild.fieldwork.leaks import Secrets, secrets_of, secrets_with, species_as_secrets
from guidebuild.fieldwork.public_records import KeptBack, Locality
from guidebuild.fieldwork.secrecy import DECIMALS, locality_of, pick_stricter, reason_words
from guidebuild.fieldwork.telling_texts import find_telling_texts
from guidebuild.fieldwork.unsaid import NOTHING, Unsaid
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Photo, Place

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Decisions:
    """What is kept back of a guide.

    `anywhere` is what no text may tell, `at_places` what no text of a place or walk may: the names of sensitive species too.
    `with_species` is what may not be told with a sensitive species, by how sensitive it is. `owners` are the accounts of each
    picture, and `photos` the ids of those that are shown. `telling` are the records, by identity, of which a text gives a secret
    place away.
    """

    guide: Guide
    anywhere: Unsaid
    at_places: Unsaid
    with_species: Mapping[int, Unsaid]
    owners: Mapping[str, tuple[Account, ...]] = field(default_factory=dict)
    photos: frozenset[str] = frozenset()
    telling: frozenset[int] = frozenset()

    def must_clean(self, record: object, unsaid: Unsaid) -> bool:
        """Whether the texts of a record must be gone through for what may not be told. Who tells a secret place is known already."""
        return bool(unsaid.secrets) and (unsaid is not self.anywhere or id(record) in self.telling)

    def unsaid_with(self, account: Account) -> Unsaid:
        """What may not be told with an account."""
        return self.with_species[account.sensitivity.category] if account.sensitivity else self.anywhere

    def unsaid_of_photo(self, photo: Photo) -> Unsaid:
        """What may not be told beside a picture: as much as with the most sensitive of the species that show it."""
        return self.unsaid_with_all(self.owners.get(photo.id, ()))

    def unsaid_with_all(self, accounts: Iterable[Account]) -> Unsaid:
        """What may not be told with several accounts: as much as with the most sensitive of them."""
        kept = [account.sensitivity.category for account in accounts if account.sensitivity]
        return self.with_species[min(kept)] if kept else self.anywhere

    def accounts_named(self, ids: Collection[str]) -> tuple[Account, ...]:
        """The accounts of these ids, also those that are left out for an error: what is secret of them still is."""
        known = (self.guide.accounts[one] for one in ids if one in self.guide.accounts)
        return (*known, *(account for account in self.guide.unpublished if account.id in ids))

    def has_unread(self, ids: Collection[str]) -> bool:
        """Whether one of these accounts stands in a file that cannot be read: nobody knows how sensitive it is."""
        return any(one in self.guide.unread and not self.accounts_named((one,)) for one in ids)

    def is_of_secret_place(self, photo: Photo) -> bool:
        """Whether a picture is of a secret place, and not of a species."""
        secret = [place for place in self.guide.places.values() if place.sensitivity]
        return any(photo.id == place.photo or (photo.place == place.id and not photo.account) for place in secret)

    def is_of_sensitive(self, photo: str) -> bool:
        """Whether a picture, by its id, is of a sensitive species."""
        return any(account.sensitivity for account in self.owners.get(photo, ()))

    def photo_if_shown(self, photo: str) -> str:
        """The id of a picture that is shown, else nothing. An id that is not known stays, for the press to tell of."""
        return "" if photo in self.guide.photos and photo not in self.photos else photo

    def name_of(self, account: str) -> str:
        """What an account is called, by its id; nothing where there is none."""
        known = self.guide.accounts.get(account)
        return (known.vernacular or known.name.plain) if known else ""

    def area_of(self, place: Place) -> str:
        """What is said instead of a place's name."""
        return place.area or self.guide.settings.region

    def kept_back(self, account: Account) -> KeptBack | None:
        """Whether the places of an account are not told, and why."""
        secret = account.sensitivity
        return KeptBack(self.unsaid_with(account).without(secret.reason), DECIMALS.get(secret.category, 0)) if secret else None

    def may_tie(self, account: Account, place: str) -> bool:
        """Whether it may be told that an account is found, or not found, at a place: one that is known and may be named."""
        known = self.guide.places.get(place)
        return known is not None and not known.sensitivity and not account.sensitivity

    def locality(self, account: Account, place_id: str) -> Locality:
        """Where an account is found, as it may be told; of a place that is not known, the region."""
        place = self.guide.places.get(place_id)
        if place is None:
            if not account.sensitivity:
                return Locality(self.guide.settings.region)
            place = Place("", "", sensitivity=account.sensitivity)
        secret = pick_stricter(place.sensitivity, account.sensitivity)
        # Of two reasons that are as strict, the place's is told.
        of_place = place.sensitivity.category == secret.category
        why = self.unsaid_with(account).without(secret.reason)
        return locality_of(place, secret, area=self.area_of(place), reason=reason_words(secret, why, of_place=of_place))


def decide_secrets(guide: Guide) -> Decisions:
    """Find out what is kept back. Where nothing is secret, nothing is searched."""
    kept_back = [account for account in (*guide.accounts.values(), *guide.unpublished) if account.sensitivity]
    sensitive = {account.sensitivity.category: account for account in kept_back}
    secrets = secrets_of(guide)
    anywhere = Unsaid(secrets) if secrets else NOTHING
    at_places = Unsaid(Secrets((*secrets.places, *species_as_secrets(kept_back)), secrets.shown, secrets.ground)) if kept_back else anywhere
    with_species = {category: Unsaid(secrets_with(guide, account)) for category, account in sensitive.items()}
    return Decisions(guide, anywhere, at_places, with_species, _owners(guide) if sensitive else {}, telling=_find_telling(guide))


def _find_telling(guide: Guide) -> frozenset[int]:
    """Records of which a text tells, by identity; where an id does, all accounts, for any may point at it. Places are always looked at."""
    told = [found for found in find_telling_texts(guide) if not isinstance(found.text.record, Place)]
    pointing = guide.accounts.values() if any(found.text.field == "id" for found in told) else ()
    return frozenset(map(id, (*(found.text.record for found in told), *pointing)))


def _owners(guide: Guide) -> Mapping[str, tuple[Account, ...]]:
    """The accounts of each picture: the one that it is entered for, and those that list it."""
    owners: dict[str, list[Account]] = {}
    accounts = {account.id: account for account in (*guide.unpublished, *guide.accounts.values())}
    for account in accounts.values():
        for photo in account.photos:
            owners.setdefault(photo, []).append(account)
    for photo_id, entered in guide.photos.items():
        if entered.account in accounts:
            owners.setdefault(photo_id, []).append(accounts[entered.account])
    return {photo: tuple(accounts) for photo, accounts in owners.items()}


def copied(kind: type[T], record: object, **changed: object) -> T:
    """A record of a kind for readers, with the fields that it shares with the author's; others are given or stay as they begin."""
    readers: Any = kind
    authors: Any = type(record)
    names, values = _shared(readers, authors)
    return kind(**dict(zip(names, values(record), strict=True)) | changed)


@cache
def _shared(kind: Any, of: Any) -> tuple[tuple[str, ...], Callable[[object], tuple[Any, ...]]]:
    held = {f.name for f in fields(of)}
    names = tuple(f.name for f in fields(kind) if f.name in held)
    return names, attrgetter(*names)
