"""Films: one stands somewhere, what it names is there, and its length is that of its captions and of its kind of episode."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.references import nearest
from guidebuild.checks.rule import Rule
from guidebuild.guide.films import Film
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used
from guidebuild.speech.timing import write_clock

with imported_when_used():  # a guide without secrets need not wait for them
    from guidebuild.fieldwork import decisions, public_films

ALLOWANCE = 2.0
"""Seconds by which captions may outlast the length of their film: players and editors round it."""


def _nowhere(guide: Guide) -> Iterator[Finding]:
    for film in guide.films.values():
        if not film.address and "file" not in film.positions:
            yield NOWHERE_TO_SEE.finding(f"The film “{film.id}” has neither an address nor a file.", film.at)


def _not_entered(guide: Guide) -> Iterator[Finding]:
    entered = {film.file for film in guide.films.values()}
    for file in sorted(guide.film_files - entered):
        yield NOT_ENTERED.finding(f"{file} stands in the folder but not in films.yaml.", At(file))


def _not_credited(guide: Guide) -> Iterator[Finding]:
    for film in guide.films.values():
        lacks = " and ".join(word for word, text in (("credit", film.credit), ("licence", film.licence)) if not text.strip())
        if film.file and lacks:
            yield NOT_CREDITED.finding(f"The film “{film.id}” has no {lacks}, so its file is not published.", film.at)


def _unknown_script(guide: Guide) -> Iterator[Finding]:
    known = list_scripts(guide)
    for film in guide.films.values():
        if film.script and film.script not in known:
            mend = (
                nearest(film.script, known)
                or "Write an episode's file name without .md, or an account and a length, such as parent-bug-full."
            )
            yield UNKNOWN_SCRIPT.finding(f"There is no script “{film.script}”.", film.where("script"), mend=mend)


def list_scripts(guide: Guide) -> tuple[str, ...]:
    """The ids of all scripts: own episodes, and drafted ones of each account and length."""
    drafted = (f"{account}-{slot.name}" for account in guide.accounts for slot in guide.settings.episode_slots)
    return tuple(dict.fromkeys((*guide.episodes, *drafted)))


def _day_to_come(guide: Guide) -> Iterator[Finding]:
    for film in guide.films.values():
        if film.day and guide.as_of and film.day > guide.as_of:
            yield DAY_TO_COME.finding(
                f"The film “{film.id}” is to come out on {film.day.isoformat()}, and is shown already.", film.where("day")
            )


def _length(guide: Guide) -> Iterator[Finding]:
    for film in guide.films.values():
        end = max((cue.end for cue in film.cues), default=0.0)
        last = max((chapter.start for chapter in film.chapters), default=0.0)
        if film.length and end > film.length + ALLOWANCE:
            message = (
                f"The film “{film.id}” lasts {write_clock(film.length)}, and its captions in {film.captions} end at {write_clock(end)}."
            )
            yield LENGTH.finding(message, film.where("length"))
        elif (film.length or end) and last >= (film.length or end):
            message = (
                f"A chapter of the film “{film.id}” begins at {write_clock(last)}, and the film ends at {write_clock(film.length or end)}."
            )
            yield LENGTH.finding(message, film.where("chapters"))
        yield from _length_of_kind(guide, film, end)


def _unknown_kind(guide: Guide) -> Iterator[Finding]:
    named = (*(slot.name for slot in guide.settings.episode_slots), *(episode.kind for episode in guide.episodes.values()))
    known = tuple(dict.fromkeys(filter(None, named)))
    for film in guide.films.values():
        if film.kind and film.kind not in known:
            mend = nearest(film.kind, known) or f"Write one of: {', '.join(known)}; or take `kind:` out."
            yield UNKNOWN_KIND.finding(f"There is no kind of episode “{film.kind}”.", film.where("kind"), mend=mend)


def _length_of_kind(guide: Guide, film: Film, end: float) -> Iterator[Finding]:
    slot = next((slot for slot in guide.settings.episode_slots if slot.name == film.kind), None)
    length = film.length or end
    if slot and length and not slot.shortest - ALLOWANCE <= length <= slot.longest + ALLOWANCE:
        span = f"{write_clock(slot.shortest)}–{write_clock(slot.longest)}"
        message = f"The film “{film.id}” lasts {write_clock(length)}; an episode of the kind “{slot.name}” lasts {span}."
        yield LENGTH.finding(message, film.where("length"), mend="Correct `length:`, or `kind:`.")


def _chapters_in_order(guide: Guide) -> Iterator[Finding]:
    for film in guide.films.values():
        for before, after in zip(film.chapters, film.chapters[1:], strict=False):
            if after.start <= before.start:
                message = f"The chapter “{after.title}” of the film “{film.id}” does not begin after the one before it."
                yield CHAPTER_ORDER.finding(message, after.at)


def _tells_secret(guide: Guide) -> Iterator[Finding]:
    if not (guide.films and guide.keeps_secrets):
        return
    made = decisions.decide_secrets(guide)
    for film in guide.films.values():
        unsaid = public_films.unsaid_of_film(made, film)
        if unsaid.secrets and (places := unsaid.places_in_any(public_films.list_film_texts(film))):
            named = " and ".join(f"“{place}”" for place in places)
            yield TELLS_SECRET.finding(f"The film “{film.id}” tells of {named}, so it is not shown.", film.at)


NOWHERE_TO_SEE = Rule(
    "film-nowhere",
    "Every film can be seen somewhere",
    Level.WARNING,
    "Readers would be told of a film and not find it; it is left out.",
    "Write `address:` with where it stands on the web, or `file:` with its file in films/.",
    _nowhere,
)
NOT_ENTERED = Rule(
    "film-not-entered",
    "Every file in films/ is entered in films.yaml",
    Level.NOTE,
    "A film without an entry is shown nowhere.",
    "Add an entry to films.yaml.",
    _not_entered,
)
NOT_CREDITED = Rule(
    "film-not-credited",
    "Every film that is published has a credit and a licence",
    Level.WARNING,
    "Whoever made a film must be named, and others must know what they may do with it; its file is not published until then.",
    "Write `credit:` and `licence:`.",
    _not_credited,
)
UNKNOWN_SCRIPT = Rule(
    "unknown-script",
    "Every script that a film names exists",
    Level.WARNING,
    "Chapters and times come from it.",
    "Write the id of a script.",
    _unknown_script,
)
UNKNOWN_KIND = Rule(
    "unknown-film-kind",
    "Every kind of episode that a film names is one of the guide's",
    Level.WARNING,
    "The film's length is held against its kind.",
    "Write the name of one of the guide's lengths, or take `kind:` out.",
    _unknown_kind,
)
DAY_TO_COME = Rule(
    "film-to-come",
    "The films that are shown are out",
    Level.WARNING,
    "Readers would follow a link to a film that is not there yet.",
    "Correct `day:`, or take the entry out until then.",
    _day_to_come,
)
LENGTH = Rule(
    "film-length",
    "A film's length agrees with its captions, its chapters and its kind",
    Level.WARNING,
    "Captions of another cut come at the wrong times.",
    "Correct `length:`, or take the captions of this very film.",
    _length,
)
CHAPTER_ORDER = Rule(
    "film-chapter-order",
    "Each chapter of a film begins after the one before",
    Level.WARNING,
    "Players show such chapters wrongly, or not at all.",
    "Put the chapters in the order of their times.",
    _chapters_in_order,
)
TELLS_SECRET = Rule(
    "film-tells-secret",
    "No film names what is kept secret",
    Level.WARNING,
    "What is spoken in a film cannot be left out of it: the whole film is not shown.",
    "Cut it out of the film and its captions; where the film stands on the web already, take it down there.",
    _tells_secret,
)

RULES = (NOWHERE_TO_SEE, NOT_ENTERED, NOT_CREDITED, UNKNOWN_SCRIPT, UNKNOWN_KIND, DAY_TO_COME, LENGTH, CHAPTER_ORDER, TELLS_SECRET)
