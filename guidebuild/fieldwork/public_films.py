"""Films for readers. What is spoken in a film cannot be left out of it: one whose words tell a secret is not shown at all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.unsaid import Unsaid
from guidebuild.guide.films import Film


def film_for_readers(made: Decisions, film: Film) -> Film | None:
    """A film, if it may be shown: it stands somewhere, all its species are known, and no word of it or its address gives a place away.

    Its file is shown only where someone is credited and a licence allows it; a film that stands elsewhere is linked in any case.
    """
    may_show_file = bool(film.credit.strip() and film.licence.strip()) and film.file in made.guide.film_files
    shown = replace(film, file=film.file if may_show_file else "", still=made.photo_if_shown(film.still), said=(), noted=None)
    if not (shown.address or shown.file) or made.has_unread(film.accounts):
        return None
    unsaid = unsaid_of_film(made, film)
    return None if unsaid.secrets and any(unsaid.tells(text) for text in list_film_texts(film)) else shown


def unsaid_of_film(made: Decisions, film: Film) -> Unsaid:
    """What may not be told in a film: as much as with the most sensitive of its species."""
    return made.unsaid_with_all(made.accounts_named(film.accounts))


def list_film_texts(film: Film) -> Iterator[str]:
    """All that a film says of itself, what its names in addresses say, and all that is spoken in it, in one breath.

    What it was noted to say is as much as spoken, also where it has no captions.
    """
    yield from (film.id.replace("-", " "), film.title, film.address, film.file, film.credit, film.note.text)
    yield "\n".join(chapter.title for chapter in film.chapters)
    yield " ".join(cue.text.replace("\n", " ") for cue in film.cues)
    yield "\n".join(fact.words for fact in film.said)
