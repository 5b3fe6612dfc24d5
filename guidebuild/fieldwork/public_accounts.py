"""Accounts and sightings for readers: what of a species may be told, and where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import fields, replace

from guidebuild.fieldwork.decisions import Decisions, copied
from guidebuild.fieldwork.periods import Looked, find_looked
from guidebuild.fieldwork.public_records import PublicAccount, PublicTally
from guidebuild.fieldwork.unsaid import Unsaid
from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.accounts import Account, StageSeason, Translation
from guidebuild.guide.records import Section
from guidebuild.guide.sightings import Tally
from guidebuild.guide.text.denied import is_nothing
from guidebuild.guide.text.inline import NO_TEXT, Inline

_NAMES = frozenset(("id", "name", "vernacular", "other_vernaculars", "synonyms", "formerly", "say", "family"))
"""What a name gives away by itself is for the last look before publishing to find: an account without its name is none."""

_APART = frozenset(("sections", "translations", "localities", "kept_back"))
_TEXTS = tuple(f.name for f in fields(PublicAccount) if f.name not in _NAMES | _APART)


def account_for_readers(made: Decisions, account: Account) -> PublicAccount:
    """What may be said of an account."""
    known = [place for place in account.places if place in made.guide.places]
    shown = copied(
        PublicAccount,
        account,
        places=tuple(place for place in known if made.may_tie(account, place)),
        absent_from=tuple(place for place in account.absent_from if made.may_tie(account, place)),
        seasons=tuple(season for season in account.seasons if _is_told(made, account, season)),
        stages=tuple(stage for stage in account.stages if not is_nothing(stage.text.text)),
        **_without_denials(account),
        habitat=_habitat(made, account),
        photos=tuple(photo for photo in account.photos if made.photo_if_shown(photo)),
        localities=tuple(dict.fromkeys(made.locality(account, place) for place in known)),
        kept_back=made.kept_back(account),
    )
    unsaid = made.unsaid_with(account)
    # A habitat that is a place is told by other words than the author's.
    must_clean = made.must_clean(account, unsaid) or (bool(unsaid.secrets) and shown.habitat != account.habitat)
    return _cleaned(unsaid, shown) if must_clean else shown


def _is_told(made: Decisions, account: Account, stated: StageSeason) -> bool:
    """Whether a season is one for readers: where a stage never occurs in the region, nothing is said of it."""
    return made.may_tie(account, stated.place) if stated.place else bool(stated.season.dekads)


def _without_denials(account: Account) -> Mapping[str, Inline]:
    """The author's texts that say `none`, emptied: completeness is told by them, and no reader."""
    texts = {field.attribute: getattr(account, field.attribute) for field in INLINE_FIELDS}
    return {name: NO_TEXT for name, text in texts.items() if is_nothing(text.text)}


def _habitat(made: Decisions, account: Account) -> tuple[Inline, ...]:
    """Habitats; one that is a place of the guide is told by its wider area where it may not be named, or not at all."""
    sayable = []
    for habitat in account.habitat:
        place = made.guide.places.get(habitat.text)
        sayable.append(habitat if place is None or made.may_tie(account, place.id) else Inline(place.area))
    return tuple(dict.fromkeys(habitat for habitat in sayable if habitat))


def _cleaned(unsaid: Unsaid, account: PublicAccount) -> PublicAccount:
    """An account without the sentences that tell what may not be told, in any of its languages."""
    texts = {name: new for name in _TEXTS if (new := unsaid.cleaned(old := getattr(account, name))) is not old}
    sections = tuple(_section(unsaid, section) for section in account.sections)
    # Sections of a translation stand in the order of the account's: both lose the same ones.
    gone = {n for n, (old, new) in enumerate(zip(account.sections, sections, strict=True)) if old.text and not new.text}
    translations = tuple(_translation(unsaid, told, gone) for told in account.translations)
    return replace(account, sections=_without(sections, gone), translations=translations, **texts)


def _translation(unsaid: Unsaid, translation: Translation, gone: set[int]) -> Translation:
    sections = tuple(_section(unsaid, section) for section in translation.sections)
    # Marks that are fewer than the account's are not shown: numbers would point at the wrong ones.
    return replace(unsaid.cleaned(replace(translation, sections=())), sections=_without(sections, gone))


def _section(unsaid: Unsaid, section: Section) -> Section:
    return replace(section, heading=unsaid.without(section.heading), text=unsaid.without(section.text))


def _without(sections: tuple[Section, ...], gone: set[int]) -> tuple[Section, ...]:
    return tuple(section for n, section in enumerate(sections) if n not in gone)


def sightings_for_readers(made: Decisions) -> tuple[tuple[PublicTally, ...], Looked]:
    """What was seen; what is generalised to one cell runs together, so that no row, number or day tells its places apart.

    With it, which open places were looked at when: what else is told of hidden ones must follow from the same.
    """
    gathered: dict[PublicTally, list[Tally]] = {}
    for tally in made.guide.sightings:
        account = made.guide.accounts.get(tally.account)
        if account is not None:
            place = tally.place if made.may_tie(account, tally.place) else ""
            told = PublicTally(tally.account, tally.stage, place, locality=made.locality(account, tally.place))
            gathered.setdefault(told, []).append(tally)
    exact = [_together(told, tallies) for told, tallies in gathered.items() if not told.locality.generalised]
    looked = find_looked(exact) if len(exact) < len(gathered) else Looked()
    hidden = [_with_periods(told, tallies, looked) for told, tallies in gathered.items() if told.locality.generalised]
    # In an order that follows from what is told: that of the author's places would tell them apart.
    return (*exact, *sorted(hidden, key=lambda tally: (tally.account, tally.stage, repr(tally.locality)))), looked


def _with_periods(first: PublicTally, tallies: list[Tally], looked: Looked) -> PublicTally:
    periods = sorted({looked.tell_period(day, first.locality) for tally in tallies for day in tally.days})
    seen = bool(periods or any(tally.loose for tally in tallies))
    return replace(first, periods=tuple(periods), loose=max(len(periods), int(seen)))


def _together(first: PublicTally, tallies: list[Tally]) -> PublicTally:
    if len(tallies) == 1:
        return replace(first, days=tallies[0].days, counts=tallies[0].counts, loose=tallies[0].loose)
    days: Counter[int] = Counter()
    for tally in tallies:
        days.update(dict(zip(tally.days, tally.counts, strict=True)))
    ordered = sorted(days)
    return replace(first, days=tuple(ordered), counts=tuple(days[day] for day in ordered), loose=sum(tally.loose for tally in tallies))
