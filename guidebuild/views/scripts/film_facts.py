"""What a film says of its species: noted on its day, and held against the accounts ever after."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.films import Film, FilmFact
from guidebuild.guide.findings import Finding
from guidebuild.speech.codes import FILM_NOT_NOTED, FILM_OUT_OF_DATE
from guidebuild.speech.said_when import find_when_said
from guidebuild.speech.script import ScriptLine
from guidebuild.speech.timing import write_clock
from guidebuild.views.pieces.said_facts import MARK, find_change, tell_plainly
from guidebuild.views.scripts.filled import Facts, say_facts, say_facts_in_sentences
from guidebuild.views.scripts.film_times import find_film_times


def note_facts(guide: Published, film: Film) -> tuple[FilmFact, ...]:
    """The facts of its species that a film says, in the words of their accounts today, in the order in which they are said."""
    spoken, facts = find_film_times(guide, film).spoken, []
    for ident in film.accounts:
        account = guide.accounts.get(ident)
        if account is None:
            continue
        written = tell_plainly(guide, account)
        ways: tuple[Facts, ...] = (say_facts_in_sentences(guide, account), say_facts(guide, account))
        for slot, words in written.items():
            said = (find_when_said(spoken, ScriptLine(way[slot]).text) for way in ways if slot in way)
            if (second := next((at for at in said if at is not None), None)) is not None:
                facts.append(FilmFact(ident, slot, words, second))
    return tuple(sorted(facts, key=lambda fact: fact.second))


def find_outdated(guide: Published, films: Iterable[Film]) -> Iterator[Finding]:
    """Facts that films say and that have changed since, each with what would put it right. `films` are those of the author."""
    for film in films:
        if film.id not in guide.films:
            continue
        if film.noted is None and (film.script or film.cues):
            message = f"What the film “{film.title}” says is not noted."
            yield FILM_NOT_NOTED.finding(message, film.at, mend=f"Note it with: guidebuild film {film.id}")
        for fact in film.said:
            account = guide.accounts.get(fact.account)
            if account is None:
                continue
            told, language = tell_plainly(guide, account), guide.settings.language
            noted = [other.words for other in film.said if other.account == fact.account and other.slot.startswith(MARK)]
            if (now := find_change(told, fact.slot, fact.words, language, noted)) is not None:
                yield _outdated(film, fact, account, now)


def say_fact(fact: FilmFact) -> str:
    """A fact in a line: `0:28 parent-bug, size: 6–9 mm`."""
    return f"{write_clock(fact.second)} {fact.account}, {fact.slot}: {fact.words}"


def _outdated(film: Film, fact: FilmFact, account: PublicAccount, now: str) -> Finding:
    name, clock = account.vernacular or account.name.plain, write_clock(fact.second)
    then = "its account says nothing of it now" if not now else f"its account says “{now}” now"
    message = f"The film “{film.title}” says at {clock} of the {name}, {fact.slot}: “{fact.words}”; {then}."
    put_right = f"{fact.slot} of the {name}: {now}" if now else f"what is said of the {name} ({fact.words}) no longer holds"
    mend = f"Post below it: “Correction to {clock}: {put_right}.” Once it is cut anew: guidebuild film {film.id}"
    return FILM_OUT_OF_DATE.finding(message, film.at, mend=mend)
