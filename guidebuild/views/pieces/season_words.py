"""Seasons in words and as bars, in any language: month names are CLDR's, the joining words are the catalogue's."""

from __future__ import annotations

from guidebuild.fieldwork.season_words import dated_words
from guidebuild.guide.guide import Settings
from guidebuild.guide.seasons import DEKADS, Season, turn_year
from guidebuild.views.pieces.common import MOST_SEEN, NOTHING, PRESENT, SeasonBarView, SeasonRow
from guidebuild.words import Words, find_locale


def season_words(season: Season, words: Words, settings: Settings) -> str:
    """The months of a season written out, however it was typed, in the guide's year: `mid June to August; most seen in July`."""
    first = settings.first_dekad
    if not season.dekads:
        return words("not seen")
    if not words.translated:
        return dated_words(season, find_locale(words.language), first)
    text = _runs_in_words(season, words, first)
    if season.most_seen and season.most_seen != season.dekads:
        peak = Season(season.typed, season.most_seen)
        said = _runs_in_words(peak, words, first)
        if all(start <= end and start // 3 == end // 3 for start, end in peak.runs()):
            text = words("{season}; most seen in {peak}", season=text, peak=said)
        else:
            text = words("{season}; most seen {peak}", season=text, peak=said)
    return text


def dekad_words(dekad: int, words: Words) -> str:
    """A third of a month: `mid June`."""
    third = (words("early {month}"), words("mid {month}"), words("late {month}"))[dekad % 3]
    return third.format(month=words.month(dekad // 3 + 1))


def season_bar(rows: list[tuple[str, str, Season]], words: Words, settings: Settings) -> SeasonBarView:
    """The bar of a taxon from (stage id, label, season) in order of life."""

    def draw(season: Season) -> tuple[int, ...]:
        return turn_year(fill_cells(season), settings.first_dekad)

    return SeasonBarView(
        rows=tuple(SeasonRow(label, draw(season), season_words(season, words, settings), stage) for stage, label, season in rows),
        months=list_initials(words, settings),
        month_names=list_months(words, settings),
    )


def list_months(words: Words, settings: Settings) -> tuple[str, ...]:
    """The names of the months in the order of the guide's year."""
    return tuple(words.month(month + 1) for month in turn_year(range(12), settings.first_month))


def list_initials(words: Words, settings: Settings) -> tuple[str, ...]:
    """The same by their first letters, over a bar."""
    return tuple(words.month(month + 1, "narrow").upper() for month in turn_year(range(12), settings.first_month))


def fill_cells(season: Season) -> tuple[int, ...]:
    """The 36 cells of a season, from 1–10 January."""
    return tuple(MOST_SEEN if d in season.most_seen else PRESENT if d in season.dekads else NOTHING for d in range(DEKADS))


def _runs_in_words(season: Season, words: Words, first: int) -> str:
    if len(season.dekads) == DEKADS:
        return words("all year")
    return words.listed([_run(start, end, words) for start, end in season.runs(first)])


def _run(first: int, last: int, words: Words) -> str:
    start, end = words.month(first // 3 + 1), words.month(last // 3 + 1)
    if first == last:
        return dekad_words(first, words)
    whole_start, whole_end = first % 3 == 0, last % 3 == 2
    within_a_month = first // 3 == last // 3 and first < last
    if within_a_month and whole_start and whole_end:
        return start
    return words(
        "{start} to {end}",
        start=start if whole_start and not within_a_month else dekad_words(first, words),
        end=end if whole_end and not within_a_month else dekad_words(last, words),
    )
