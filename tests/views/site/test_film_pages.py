"""What pages show of films: the sample's two, and invented ones."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.films import Film, FilmChapter, FilmCue
from guidebuild.reading.whole import read_guide
from guidebuild.speech.cues import Cue
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.scripts.film_times import find_film_times, read_cue
from guidebuild.views.site.films import FilmView, film_view, films_of_account, list_films

SAMPLE = Path(__file__).parents[3] / "sample_guide"
OWN, ELSEWHERE = "parent-bug-at-birch-clump", "birch-or-parent"


@cache
def sample() -> Published:
    guide = read_guide(SAMPLE, as_of=dt.date(2026, 11, 28)).guide
    assert guide is not None
    return make_published(guide)


def view(film: Film, language: str = "en") -> FilmView:
    guide = replace(sample(), films={**sample().films, film.id: film})
    return film_view(make_pieces(guide, language), film)


def test_chapters_come_from_the_script_in_the_times_of_the_captions() -> None:
    film = view(sample().films[OWN])
    assert [(chapter.clock, chapter.words) for chapter in film.chapters] == [
        ("0:00", "Why this one"),
        ("0:18", "What tells it"),
        ("0:32", "Its look-alikes"),
        ("0:58", "Where to stand"),
        ("1:09", "When to look"),
    ]
    assert [chapter.end for chapter in film.chapters[:-1]] == [chapter.start for chapter in film.chapters[1:]]


def test_captions_of_a_slower_take_move_the_chapters() -> None:
    film = sample().films[OWN]
    slower = replace(film, length=0.0, cues=tuple(replace(cue, start=cue.start * 1.5, end=cue.end * 1.5) for cue in film.cues))
    assert [round(chapter.start) for chapter in view(slower).chapters] == [0, 26, 47, 87, 104]


def test_without_captions_times_are_stretched_to_the_length() -> None:
    silent = replace(sample().films[OWN], cues=(), captions="", length=164.0)
    shown = view(silent)
    assert shown.chapters[-1].end == pytest.approx(164.0, abs=0.01)
    assert (shown.captions, shown.transcript, shown.chapter_file) == ("", (), f"films/{OWN}.chapters.vtt")


def test_marks_have_the_time_at_which_they_are_spoken_of() -> None:
    (species,) = view(sample().films[OWN]).species
    assert [(time.mark.number, time.clock) for time in species.marks] == [(1, "0:18"), (2, "0:21"), (3, "0:25")]
    assert species.link.path == "accounts/parent-bug.html"


def test_transcript_is_all_that_is_said_with_names_as_names() -> None:
    film = sample().films[OWN]
    paragraphs = view(film).transcript
    said = " ".join(word.text for p in paragraphs for cue in p.cues for word in cue.words)
    assert "".join(said.split()) == "".join("".join(cue.text for cue in film.cues).split())
    assert [word.text for p in paragraphs for cue in p.cues for word in cue.words if word.is_name] == ["Elasmucha grisea"]
    assert [p.clock for p in paragraphs[1:3]] == ["0:18", "0:32"]


def test_a_film_at_an_address_is_a_way_to_its_host() -> None:
    film = view(sample().films[ELSEWHERE])
    assert (film.host, film.file, film.captions) == ("films.example", "", "")
    assert film.chapters[-1].end == 220.0
    assert film.still is not None and film.still.id == "birch-adult"


def test_the_newest_that_plays_here_goes_before_the_others() -> None:
    make = make_pieces(sample(), "en")
    assert [film.id for film in list_films(sample())] == [ELSEWHERE, OWN]
    assert [film.id for film in films_of_account(make, sample().accounts["parent-bug"])] == [OWN, ELSEWHERE]
    assert [film.id for film in films_of_account(make, sample().accounts["birch-shieldbug"])] == [ELSEWHERE]


def test_a_film_in_another_language_says_so() -> None:
    shown = view(sample().films[OWN], "es")
    assert (shown.language, shown.spoken, shown.spoken_in) == ("en", "en", "en")
    assert shown.link.path == f"es/films/{OWN}.html"
    spanish = view(replace(sample().films[OWN], language="es", script=""), "es")
    assert (spanish.spoken, spanish.spoken_in) == ("", "es")


def test_a_film_of_nothing_but_an_address_is_a_film() -> None:
    bare = view(Film("bare", "Bare", address="https://www.films.example:8443/x"))
    assert (bare.host, bare.length, bare.when, bare.still, bare.species, bare.attribution) == ("films.example", "", "", None, (), None)


def test_own_chapters_go_before_those_of_the_script() -> None:
    film = replace(sample().films[OWN], chapters=(FilmChapter(0, "All of it"),))
    (chapter,) = find_film_times(sample(), film).chapters
    assert (chapter.start, chapter.end) == (0, 82.0)


def test_names_in_a_caption_are_parted_from_its_words() -> None:
    cue = read_cue(FilmCue(0, 1, "Bufo bufo and Rana\ntemporaria", ("Bufo bufo", "Rana", "temporaria")))
    assert isinstance(cue, Cue)
    assert [[(one.text, one.is_name) for one in row] for row in cue.rows] == [
        [("Bufo bufo", True), (" and ", False), ("Rana", True)],
        [("temporaria", True)],
    ]
