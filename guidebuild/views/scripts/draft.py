"""A first script, drafted from an account's facts and prose in an order that works on screen.

Each line has a rank: 0 is always said, then 1, 2, 3… as far as the slot allows. English only: in another language the author
writes the episode.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import FieldMark, HostUse, SimilarSpecies
from guidebuild.guide.dangers import PROTECTED, find_cautions
from guidebuild.guide.life_stages import FUNGI, GROWN, GROWN_ON, PLANTS, StageSet, is_state
from guidebuild.guide.resolve import find_account
from guidebuild.guide.text.denied import is_nothing
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.guide.text.sentences import split_sentences
from guidebuild.identify.senses import Sense, sense_of
from guidebuild.identify.sentences import separation_sentence, spoken_name
from guidebuild.identify.separation import Separation, best_separating
from guidebuild.speech.script import Piece, ScriptLine, Spoken, merge_words
from guidebuild.speech.script_text import read_line
from guidebuild.views.pieces.cautions import leave_out_repeats
from guidebuild.views.pieces.facts import host_words, name_habitats, plant_word, size_words
from guidebuild.views.scripts.filled import say_name
from guidebuild.views.scripts.spoken_cautions import say_cautions_of_look_alikes, say_cautions_of_places, say_places
from guidebuild.views.scripts.spoken_english import (
    add_article,
    capitalise,
    find_scope,
    is_plural,
    make_sentence,
    set_off_asides,
    split_words,
    write_out_measures,
    write_season_sentence,
    write_size_sentence,
    write_status_sentence,
)
from guidebuild.words import words

_ADVERBS = split_words("sometimes rarely often mainly mostly usually occasionally")


@dataclass(frozen=True, slots=True)
class DraftLine:
    """A line that may be said. One that `follows` is said only where the line before it is: it leans on it."""

    line: ScriptLine
    rank: int
    follows: bool = False


@dataclass(frozen=True, slots=True)
class DraftSection:
    """All that could be said under one heading."""

    heading: str
    lines: tuple[DraftLine, ...]


def draft_script(guide: Published, account: PublicAccount) -> tuple[DraftSection, ...]:
    """All that could be said of an account, in the order in which it is said; empty sections are left out."""
    group = guide.stage_set(account)
    parts = (
        ("Why this one", _opening),
        ("Names", _names),
        ("What tells it", _marks),
        ("Its look-alikes", _look_alikes),
        (group.heading_of_food if group.asks_food else "What it lives from", _food),
        ("Where to stand", _where),
        ("When to look", _when),
        ("Its life", _life),
        ("Photographing it", _photographing),
        ("Take care", _caution),
        ("Goodbye", _closing),
    )
    made = (DraftSection(heading, tuple(draft for draft in lines(guide, account) if draft.line.pieces)) for heading, lines in parts)
    return tuple(section for section in made if section.lines)


def _line(  # noqa: PLR0913 - all but the words and their rank are keyword-only with a default
    sound: str | tuple[Piece, ...], rank: int, *, photo: str = "", shot: str = "", detail: str = "", follows: bool = False
) -> DraftLine:
    """A line in words for the ear; the author's Markdown in it is read here, and nowhere later."""
    pieces = read_line(sound) if isinstance(sound, str) else sound
    return DraftLine(ScriptLine(tuple(write_out_measures(set_off_asides(pieces))), photo, shot, detail), rank, follows)


def _opening(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    if guide.settings.greeting:
        yield _line(guide.settings.greeting, 0, shot="You, at the place")
    yield from _prose(account, "In brief", ranks=(1, 3, 4), photo=_photo_of(guide, account))


def _names(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    photo = _photo_of(guide, account)
    named = Spoken(f"This is {spoken_name(guide, account)}, " if account.vernacular else "This is ")
    yield _line(
        merge_words((named, *say_name(account.name), Spoken("."))),
        0,
        photo=photo,
        shot=f"The whole {guide.stage_set(account).living_thing}",
    )
    if account.family:
        yield _line(f"It belongs to the family {account.family}.", 4, photo=photo)
    if told := write_status_sentence(account.status.starred):
        yield _line(told, 3, photo=photo)
    for number, sentence in enumerate(split_sentences(account.recent.starred)):
        yield _line(make_sentence(sentence), 2, photo=photo, follows=number > 0)


def _marks(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    for number, mark in enumerate(account.diagnostics):
        line = _mark_sentence(guide, account, mark, number)
        yield _line(line, min(number, 3), photo=mark.photo, shot=_mark_shot(mark), detail=_mark_shot(mark) if mark.photo else "")
    if account.size:
        line = write_size_sentence(account.size, size_words(account.size), guide.stage_set(account))
        yield _line(line, 2, photo=_photo_of(guide, account), shot=_size_shot(guide, account))
    yield from _prose(account, "How to know it", ranks=(3, 4, 5), photo=_photo_of(guide, account))


def _size_shot(guide: Published, account: PublicAccount) -> str:
    """A ruler for what keeps still; nobody lays one beside a bird, a frog or what is protected."""
    is_left_alone = account.kept_back or PROTECTED in account.hazards
    return "Beside a ruler" if guide.stage_set(account).keeps_still and not is_left_alone else "Beside something of known size"


def _mark_sentence(guide: Published, account: PublicAccount, mark: FieldMark, number: int) -> str:
    group, told_words = guide.stage_set(account), mark.mark.starred
    sense, phrase = sense_of(told_words), add_article(told_words)
    if whose := find_scope(group, mark):
        heard = f"from the {whose[7:]}" if sense is Sense.HEARING and whose.startswith("in the ") else whose
        return f"{capitalise(heard)}, {sense.seek} {phrase}."
    if sense is Sense.SIGHT and number == 0:
        return f"Look{' first' if len(account.diagnostics) > 1 else ''} for {phrase}."
    if sense is Sense.SIGHT:
        return f"{'Then look' if number == 1 else 'Look also'} for {phrase}."
    return f"{capitalise(sense.seek)} {phrase}."


def _look_alikes(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    worse = {other for found in find_cautions(guide, (account.id,)) for other, _ in found.like}
    for number, similar in enumerate(account.similar):
        other = find_account(guide, similar.account)
        if other is None:
            continue
        apart = best_separating(guide, account.id, other.id, 2)
        differences = _differences(similar, tuple(separation_sentence(guide, account.id, other.id, separation) for separation in apart))
        if not differences:
            continue
        photo, shot = _photo_beside(guide, other, apart), f"{other.vernacular or other.name.plain} beside it"
        rank = 0 if other.id in worse else 1 + number
        yield _line(f"Do not take it for {spoken_name(guide, other)}. {differences[0]}", rank, photo=photo, shot=shot)
        for sentence in differences[1:]:
            yield _line(sentence, 3 + number, photo=photo, shot=shot, follows=True)


def _photo_beside(guide: Published, other: PublicAccount, apart: Sequence[Separation]) -> str:
    """The photo of a look-alike that shows what is told of it: of the character's stage and view, or the grown form, or the first."""
    first = apart[0] if apart else None
    stages = ({first.scope.stage} if first.scope.stage else first.character.stages) if first else frozenset()
    view = first.character.view if first else ""

    def worth(photo: PublicPhoto) -> tuple[bool, bool, bool]:
        return bool(stages) and photo.stage not in stages, bool(view) and photo.view != view, photo.stage != GROWN

    return min(guide.photos_of(other), key=worth).id if guide.photos_of(other) else ""


def _differences(similar: SimilarSpecies, computed: tuple[str, ...]) -> tuple[str, ...]:
    """What tells the two apart: computed from the characters, then in the author's words, else by a second character."""
    noted = split_sentences(similar.note.starred)
    return (*computed[:1], *noted) if noted else computed


def _food(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    if guide.stage_set(account).food == GROWN_ON:
        yield from _partners(guide, account)
    else:
        yield from _hosts(guide, account)
    if account.prey and not is_nothing(account.prey.text):
        yield _line(f"It feeds on {account.prey.starred.rstrip('.')}.", 1, photo=_photo_of(guide, account), shot="Feeding, if you meet it")


def _hosts(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    hosts = list(dict.fromkeys(h.plant for h in account.host_plants))
    if hosts:
        photo = next((guide.plants[h].photo for h in hosts if h in guide.plants and guide.plants[h].photo), "")
        named = host_words(guide, account, words("en"))
        verb = "Its host plants are" if len(hosts) > 1 or is_plural(named) else "Its host plant is"
        yield _line(f"{verb} {named}.", 1, photo=photo, shot="The host plant, close")
        yield from _parts_of_hosts(guide, account.host_plants)


def _partners(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    """What a fungus or a lichen grows with (by the roots: one looks at the ground) and on."""
    rooted = [use for use in account.host_plants if use.is_underground]
    for uses, way in ((rooted, "with"), ([use for use in account.host_plants if use not in rooted], "on")):
        plants = [plant for use in uses if (plant := guide.plants.get(use.plant))]
        if plants:
            named = words("en").listed(list(dict.fromkeys(plant_word(plant.vernacular) for plant in plants)))
            photo = next((plant.photo for plant in plants if plant.photo), "")
            shot = "The ground beneath the tree" if uses is rooted else "What it grows on, close"
            yield _line(f"It grows {way} {named}{': look at the ground beneath' if uses is rooted else ''}.", 1, photo=photo, shot=shot)
    yield from _parts_of_hosts(guide, [use for use in account.host_plants if use not in rooted])


def _parts_of_hosts(guide: Published, uses: Iterable[HostUse]) -> Iterator[DraftLine]:
    last_use = ""
    for use in uses:
        plant = guide.plants.get(use.plant)
        if plant and use.part:
            part, said = use.part.starred, use.use.starred
            named = plant_word(plant.vernacular)
            if said in _ADVERBS:
                line = f"It is {said} on {named}: look at the {part}."
            elif said.partition(" ")[0] in _ADVERBS:
                line = f"On {named} it is the {part}, {said}."
            else:
                line = f"On {named}, look at the {part}{f': {said}' if said and said != last_use else ''}."
            yield _line(line, 3, photo=plant.photo, shot=f"{plant.vernacular}: {use.part.words}")
            last_use = said


def _where(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    if habitats := name_habitats(guide, account):
        yield _line(f"Its habitat: {words('en').listed([h.starred for h in habitats])}.", 1, shot="The place, wide")
    if account.kept_back:
        yield _line("To keep it safe, we do not say where it lives.", 1, shot="You, anywhere else")
    places = [guide.places[place] for place in account.places]
    if places:
        photo = next((p.photo for p in places if p.photo), "")
        # One line: who is sent to a place is told what can hurt there.
        told = f"{say_places(places)} {say_cautions_of_places(guide, places)}".rstrip()
        yield _line(told, 2, photo=photo, shot="The place, wide")
    yield from _prose(account, "Where to look", ranks=(2, 3, 4), shot="Where you stand, and what you look at")


def _when(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    group = guide.stage_set(account)
    for season in account.seasons:
        if not season.place and season.season.dekads:
            sought = season.stage in sought_stages(guide, account)
            line = write_season_sentence(group.said(season.stage), season.season, guide.settings.first_dekad, sought=sought)
            yield _line(line, 1 if sought else 3, photo=_photo_of(guide, account, season.stage), shot=_stage_named(group, season.stage))


def _life(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    group = guide.stage_set(account)
    for stage in account.stages:
        called, photo = _stage_named(group, stage.stage), _photo_of(guide, account, stage.stage)
        for number, sentence in enumerate(split_sentences(stage.text.starred)):
            line = sentence if number else f"{called}. {sentence}"
            yield _line(make_sentence(line), 3 + min(number, 1), photo=photo, shot=called, follows=number > 0)
    yield from _prose(account, "Life story", ranks=(3, 4, 4), photo=_photo_of(guide, account))


def _stage_named(group: StageSet, stage: str) -> str:
    """`The nymph`, `In flower`: what begins a sentence about the stage, and names a shot of it."""
    said = group.said(stage)
    return capitalise(said) if is_state(said) else f"The {said}"


def _photographing(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    # Only what may flee is watched from afar.
    grows = guide.stage_set(account).kingdom in (PLANTS, FUNGI)
    yield from _prose(account, "In the field", ranks=(3, 3, 4), shot=f"You, with the camera{'' if grows else ', at a distance'}")


def _caution(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    """What can hurt is always said, however short the slot."""
    texts = [text for hazard in account.hazards if (caution := guide.cautions.get(hazard)) for text in (caution.text, caution.local)]
    own = (*(write_plain(text, keep_stars=True) for text in texts), account.caution.starred)
    said = leave_out_repeats([sentence for text in own for sentence in split_sentences(text)])
    yield from (_line(s, 0, shot="Words on the screen") for s in (*said, *say_cautions_of_look_alikes(guide, account)))


def _closing(guide: Published, account: PublicAccount) -> Iterator[DraftLine]:
    if guide.settings.sign_off:
        yield from (_line(s, 0, shot="You, at the place") for s in split_sentences(guide.settings.sign_off))


def _prose(account: PublicAccount, heading: str, *, ranks: tuple[int, int, int], photo: str = "", shot: str = "") -> Iterator[DraftLine]:
    """A section's sentences: the first at the first rank, the second at the second, the rest at the last."""
    section = account.section(heading)
    if section is None:
        return
    for number, sentence in enumerate(split_sentences(write_plain(section.text, keep_stars=True))):
        yield _line(make_sentence(sentence), ranks[min(number, 2)], photo=photo, shot=shot, follows=number > 0)


def _photo_of(guide: Published, account: PublicAccount, stage: str = "") -> str:
    """The account's first photo, or its first of a stage; empty where there is none (a shot to film)."""
    photos: tuple[PublicPhoto, ...] = guide.photos_of(account)
    fitting = [p.id for p in photos if not stage or p.stage == stage]
    return fitting[0] if fitting else ""


def _mark_shot(mark: FieldMark) -> str:
    sense = sense_of(mark.mark.text)
    if sense is not Sense.SIGHT:
        return f"{'Sound' if sense is Sense.HEARING else 'Smelling it'}: {mark.mark.words}"
    view = f", {mark.view}" if mark.view and mark.view.replace("-", " ") != "close up" else ""
    return f"Close: {mark.mark.words}{view}"
