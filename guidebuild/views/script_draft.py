"""A first script, drafted from an account's facts and prose in an order that works on screen.

Each line has a rank: 0 is always said, then 1, 2, 3… as far as the slot allows. English only: in another language the author
writes the episode.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.guide.accounts import Account, FieldMark
from guidebuild.guide.guide import Guide
from guidebuild.guide.plain_text import plain, sentences
from guidebuild.guide.records import Photo
from guidebuild.guide.resolve import find_account
from guidebuild.guide.seasons import DEKADS, Season
from guidebuild.identify.sentences import spoken_name
from guidebuild.views.facts import difference, habitat_word, host_words, size_words, starred
from guidebuild.views.season_words import season_words
from guidebuild.words import Words, words

_ORDINALS = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth")


@dataclass(frozen=True, slots=True)
class DraftLine:
    """One spoken line; `photo` is what to show (an id, or empty), `shot` says what to film where there is no photo."""

    sound: str
    rank: int
    photo: str = ""
    shot: str = ""
    pause: float = 0.0


@dataclass(frozen=True, slots=True)
class DraftSection:
    """A headed run of lines."""

    heading: str
    lines: tuple[DraftLine, ...]


def draft_script(guide: Guide, account: Account) -> tuple[DraftSection, ...]:
    """All that could be said of an account, in the order in which it is said; empty sections are left out."""
    parts = (
        ("Why this one", _opening),
        ("Names", _names),
        ("What tells it", _marks),
        ("Its look-alikes", _look_alikes),
        ("What it feeds on", _food),
        ("Where to stand", _where),
        ("When to look", _when),
        ("Its life", _life),
        ("Photographing it", _photographing),
        ("Take care", _caution),
        ("Goodbye", _closing),
    )
    made = (DraftSection(heading, tuple(lines(guide, account))) for heading, lines in parts)
    return tuple(section for section in made if section.lines)


def _opening(guide: Guide, account: Account) -> Iterator[DraftLine]:
    if guide.settings.greeting:
        yield DraftLine(guide.settings.greeting, 0, shot="You, at the place")
    yield from _prose(account, "In brief", ranks=(1, 3, 4), photo=_photo_of(guide, account))


def _names(guide: Guide, account: Account) -> Iterator[DraftLine]:
    who = spoken_name(account)
    scientific = starred(account.name)
    line = f"This is {who}, {scientific}." if account.vernacular else f"This is {scientific}."
    yield DraftLine(line, 0, photo=_photo_of(guide, account), shot="The whole animal")
    if account.family:
        yield DraftLine(f"It belongs to the family {account.family}.", 4, photo=_photo_of(guide, account))
    if account.recent:
        yield DraftLine(_sentence(account.recent), 2, photo=_photo_of(guide, account))


def _marks(guide: Guide, account: Account) -> Iterator[DraftLine]:
    for number, mark in enumerate(account.diagnostics):
        lead = "The mark to look for" if len(account.diagnostics) == 1 else f"{_ORDINALS[min(number, 7)]} mark"
        told = not mark.stage or mark.stage == _main_stage(guide, account) or mark.stage in mark.mark
        stage = "" if told else f" in the {mark.stage}"
        yield DraftLine(f"{lead}{stage}: {mark.mark.rstrip('.')}.", min(number, 3), photo=mark.photo, shot=_mark_shot(mark))
    if account.size:
        what = account.size.what
        size = size_words(account.size)
        yield DraftLine(
            f"Its {what} is {size}." if what else f"It measures {size}.", 2, photo=_photo_of(guide, account), shot="Beside a ruler"
        )
    yield from _prose(account, "How to know it", ranks=(3, 4, 5), photo=_photo_of(guide, account))


def _look_alikes(guide: Guide, account: Account) -> Iterator[DraftLine]:
    for number, similar in enumerate(account.similar):
        other = find_account(guide, similar.account)
        if other is None:
            continue
        told = difference(guide, account, other.id, similar.note)
        if told:
            photo = _photo_of(guide, other)
            shot = f"{other.vernacular or other.name.plain} beside it"
            line = f"Do not take it for {spoken_name(other)}. {told}"
            yield DraftLine(line, 1 + number, photo=photo, shot=shot)


def _food(guide: Guide, account: Account) -> Iterator[DraftLine]:
    speak = words("en")
    hosts = list(dict.fromkeys(h.plant for h in account.host_plants))
    if hosts:
        photo = next((guide.plants[h].photo for h in hosts if h in guide.plants and guide.plants[h].photo), "")
        verb = "Its host plant is" if len(hosts) == 1 else "Its host plants are"
        yield DraftLine(f"{verb} {host_words(guide, account, speak)}.", 1, photo=photo, shot="The host plant, close")
        for use in account.host_plants:
            plant = guide.plants.get(use.plant)
            if plant and use.part:
                why = f": {use.use}" if use.use else ""
                line = f"On {plant.vernacular.lower()} it is the {use.part}{why}."
                yield DraftLine(line, 3, photo=plant.photo, shot=f"{plant.vernacular}: {use.part}")
    if account.prey:
        yield DraftLine(f"It feeds on {account.prey.rstrip('.')}.", 1, photo=_photo_of(guide, account), shot="Feeding, if you meet it")


def _where(guide: Guide, account: Account) -> Iterator[DraftLine]:
    speak = words("en")
    if account.habitat:
        where = speak.listed([habitat_word(guide, h) for h in account.habitat])
        yield DraftLine(f"Look for it here: {where}.", 1, shot="The place, wide")
    yield from _prose(account, "Where to look", ranks=(2, 3, 4), shot="Where you stand, and what you look at")


def _when(guide: Guide, account: Account) -> Iterator[DraftLine]:
    speak = words("en")
    sought = guide.stage_set(account).sought
    for season in account.seasons:
        if not season.place:
            rank = 1 if season.stage in sought else 3
            photo = _photo_of(guide, account, season.stage)
            stage = dict(guide.stage_set(account).stages).get(season.stage, season.stage)
            yield DraftLine(_season_sentence(stage, season.season, speak), rank, photo=photo, shot=f"The {season.stage}")


def _life(guide: Guide, account: Account) -> Iterator[DraftLine]:
    for stage in account.stages:
        photo = _photo_of(guide, account, stage.stage)
        for number, sentence in enumerate(sentences(plain(stage.text, keep_stars=True))):
            yield DraftLine(sentence, 3 + min(number, 1), photo=photo, shot=f"The {stage.stage}")
    yield from _prose(account, "Life story", ranks=(3, 4, 4), photo=_photo_of(guide, account))


def _photographing(guide: Guide, account: Account) -> Iterator[DraftLine]:
    yield from _prose(account, "In the field", ranks=(3, 3, 4), shot="You, with the camera, at a distance")


def _caution(guide: Guide, account: Account) -> Iterator[DraftLine]:
    """What can hurt is always said, however short the slot."""
    for hazard in account.hazards:
        caution = guide.cautions.get(hazard)
        for text in (caution.text, caution.local) if caution else ():
            yield from (DraftLine(s, 0, shot="Words on the screen") for s in sentences(plain(text, keep_stars=True)))
    if account.caution:
        yield from (DraftLine(s, 0, shot="Words on the screen") for s in sentences(plain(account.caution, keep_stars=True)))


def _closing(guide: Guide, account: Account) -> Iterator[DraftLine]:
    if guide.settings.sign_off:
        yield from (DraftLine(s, 0, shot="You, at the place") for s in sentences(guide.settings.sign_off))


def _prose(account: Account, heading: str, *, ranks: tuple[int, int, int], photo: str = "", shot: str = "") -> Iterator[DraftLine]:
    """A section's sentences: the first at the first rank, the second at the second, the rest at the last."""
    section = account.section(heading)
    if section is None:
        return
    for number, sentence in enumerate(sentences(plain(section.text, keep_stars=True))):
        yield DraftLine(sentence, ranks[min(number, 2)], photo=photo, shot=shot)


def _season_sentence(stage: str, season: Season, speak: Words) -> str:
    if not season.dekads:
        return f"The {stage} is not seen here."
    if len(season.dekads) == DEKADS:
        peak = season_words(Season("", season.most_seen), speak) if season.most_seen and season.most_seen != season.dekads else ""
        return f"The {stage} can be met all year" + (f", most of all in {peak}." if peak else ".")
    told = season_words(season, speak).replace("; most seen ", ", and it is most seen in ")
    return f"Time for the {stage}: {told}."


def _photo_of(guide: Guide, account: Account, stage: str = "") -> str:
    """The account's first photo, or its first of a stage; empty where there is none (a shot to film)."""
    photos: tuple[Photo, ...] = guide.photos_of(account)
    fitting = [p.id for p in photos if not stage or p.stage == stage]
    return fitting[0] if fitting else ""


def _main_stage(guide: Guide, account: Account) -> str:
    sought = guide.stage_set(account).sought
    return sought[-1] if sought else ""


def _mark_shot(mark: FieldMark) -> str:
    view = f", {mark.view}" if mark.view else ""
    return f"Close: {mark.mark}{view}"


def _sentence(text: str) -> str:
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
