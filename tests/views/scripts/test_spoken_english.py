"""English for the ear: articles, measures, seasons and asides."""

from __future__ import annotations

import pytest

from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import Measure
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.speech.script_text import read_line
from guidebuild.views.scripts.spoken_english import (
    add_article,
    find_measured_phrases,
    is_plural,
    make_sentence,
    say_measures,
    say_whole_season,
    set_off_asides,
    write_season_sentence,
    write_size_sentence,
    write_status_sentence,
)

BUGS = StageSet("bugs", "Bugs", (("adult", "adult"),), kingdom="Animalia")
PLANTS = StageSet("plants", "Plants", (("flower", "in flower"),), kingdom="Plantae", measured="height")


@pytest.mark.parametrize(
    ("mark", "said"),
    [
        ("dark spot on the scutellum", "a dark spot on the scutellum"),
        ("orange ring on the antenna", "an orange ring on the antenna"),
        ("red points to the shoulders", "red points to the shoulders"),
        ("brown, mottled legs", "brown, mottled legs"),
        ("four-segmented antenna with a dark tip", "a four-segmented antenna with a dark tip"),
        ("antenna ringed black and white", "an antenna ringed black and white"),
        ("banded edge of the body", "a banded edge of the body"),
        ("black ringed antenna", "a black ringed antenna"),
        ("green right out to the body edge", "green right out to the body edge"),
        ("narrow abdomen, its edges close to the wings", "a narrow abdomen, its edges close to the wings"),
        ("long hairs all over, clearest at the pronotum", "long hairs all over, clearest at the pronotum"),
        ("a long thorn at each shoulder", "a long thorn at each shoulder"),
        ("two pale bands", "two pale bands"),
        ("reddish antennae", "reddish antennae"),
        ("uniform brown back", "a uniform brown back"),
        ("hourglass mark below", "an hourglass mark below"),
        ("broad thorax.", "a broad thorax"),
        ("sooty black plumage with white spots", "sooty black plumage with white spots"),
        ("flesh that turns pink", "flesh that turns pink"),
        ("floating nest of white foam", "a floating nest of white foam"),
        ("black end of the white tail", "the black end of the white tail"),
    ],
)
def test_a_field_mark_takes_the_article_it_needs(mark: str, said: str) -> None:
    assert add_article(mark) == said


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("edge of the body (the connexivum)", "edge of the body, the connexivum"),
        ("the edge (the connexivum) far outside", "the edge, the connexivum, far outside"),
        ("Look at the edge (the connexivum).", "Look at the edge, the connexivum."),
        ("It measures (5–)6–8 mm.", "It measures (5–)6–8 mm."),
        ("This is *Inventa (Alta) rubra* (red).", "This is *Inventa (Alta) rubra*, red."),
        ("no aside", "no aside"),
    ],
)
def test_an_aside_is_said_between_commas(written: str, said: str) -> None:
    assert tuple(set_off_asides(read_line(written))) == read_line(said)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("6–9 mm", "6 to 9 millimetres"),
        ("c. 3.5 g", "about 3.5 grams"),
        ("1 mm", "1 millimetre"),
        ("10 × 5 mm", "10 by 5 millimetres"),
        ("♂ 10–12 mm, ♀ 12–15 mm", "male 10 to 12 millimetres, female 12 to 15 millimetres"),
        ("up to 2 m", "up to 2 metres"),
        ("up to 3 in long", "up to 3 inches long"),
        ("1 in across, 1–2 in. wide", "1 inch across, 1 to 2 inches. wide"),
        ("seen by 3 in flower beds", "seen by 3 in flower beds"),
        ("the 2000s and 12 gardens", "the 2000s and 12 gardens"),
    ],
)
def test_measures_are_written_out_for_the_speaker(written: str, said: str) -> None:
    assert say_measures(written) == said


def test_a_caption_is_told_which_numbers_and_units_belong_together() -> None:
    assert find_measured_phrases("It is 6 to 9 millimetres long and weighs 3.5 grams; 12 legs.") == ("6 to 9 millimetres", "3.5 grams")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("6–9 mm body length", "Its body is 6 to 9 millimetres long."),
        ("40–50 mm wingspan", "Its wingspan is 40 to 50 millimetres."),
        ("6–9 mm", "It measures 6 to 9 millimetres."),
        ("½ in", "It measures ½ inch."),
        ("1.5–3 in long", "It is 1.5 to 3 inches long."),
        ("30–90 cm tall", "It is 30 to 90 centimetres tall."),
        ("5 mm across", "It is 5 millimetres across."),
        ("2 in body length", "Its body is 2 inches long."),
        (
            "male 1.5–3 in, female 1–2 in body length",
            "Its body is 1.5 to 3 inches long in the male, 1 to 2 inches in the female.",
        ),
        ("♂ 10–12 mm, ♀ 12–15 mm", "It measures 10 to 12 millimetres in the male, 12 to 15 millimetres in the female."),
        (
            "male 10–12, female 13–18 mm body length",
            "Its body is 10 to 12 millimetres long in the male, 13 to 18 millimetres in the female.",
        ),
        ("males up to 40 mm; females 45 mm wingspan", "Its wingspan is up to 40 millimetres in the male, 45 millimetres in the female."),
    ],
)
def test_the_size_is_a_sentence(typed: str, said: str) -> None:
    size = parse_measure(typed)
    assert isinstance(size, Measure)
    assert write_size_sentence(size, size.typed.replace(size.what, "").strip() if size.what else size.typed, BUGS) == said


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("June", "Look for the adult in June."),
        ("May – June", "Look for the adult in May and June."),
        ("late May – July", "Look for the adult from late May to July."),
        ("mid June", "Look for the adult in mid June."),
        ("November – January", "Look for the adult from November to January."),
        ("December – January", "Look for the adult in December and January."),
        ("May, September", "Look for the adult in May, and again in September."),
        ("July – October; most seen August", "Look for the adult from July to October; August is best."),
        ("April – October; most seen May–June", "Look for the adult from April to October; May and June are best."),
        ("April – October; most seen June–August", "Look for the adult from April to October; most are seen from June to August."),
        ("all year", "You can find the adult all year."),
        ("all year; most seen May", "You can find the adult all year, most of all in May."),
        ("none", "You will not see the adult here."),
    ],
)
def test_a_season_is_a_sentence(typed: str, said: str) -> None:
    season = parse_season(typed)
    assert isinstance(season, Season)
    assert write_season_sentence("adult", season, 0, sought=True) == said


def test_a_season_is_spoken_in_the_order_of_the_guides_year() -> None:
    season = parse_season("February – March, November; most seen in March and November")
    assert isinstance(season, Season)
    said = "Look for the adult in November, and again in February and March; most are seen in November, and again in March."
    assert write_season_sentence("adult", season, 18, sought=True) == said
    assert say_whole_season(season, 18) == "in November, and again in February and March, most of all in November, and again in March"
    assert say_whole_season(season, 0).startswith("in February and March, and again in November, most of all in March, and again")


def test_a_stage_that_nobody_looks_for_is_only_there() -> None:
    season = parse_season("late May – June")
    assert isinstance(season, Season)
    assert write_season_sentence("egg", season, 0, sought=False) == "The egg is there from late May to June."


@pytest.mark.parametrize(
    ("stage", "typed", "sought", "said"),
    [
        (
            "in flower",
            "late April – early June; most seen in May",
            True,
            "Look for it in flower from late April to early June; May is best.",
        ),
        (
            "in leaf",
            "February – June; most seen March–May",
            True,
            "Look for it in leaf from February to June; it is seen most from March to May.",
        ),
        ("in leaf", "all year", True, "You can find it in leaf all year."),
        ("in bud", "April", False, "It is in bud in April."),
        ("as a seedling", "March – April", False, "It is there as a seedling in March and April."),
        ("when bare", "December", False, "It is bare in December."),
        ("in winter plumage", "September – April", True, "Look for it in winter plumage from September to April."),
        ("young ones", "December – May", False, "The young ones are there from December to May."),
        ("spawn", "March", True, "Look for the spawn in March."),
        ("with capsules", "none", True, "You will not see it with capsules here."),
    ],
)
def test_a_stage_that_is_a_state_is_said_as_one(stage: str, typed: str, sought: bool, said: str) -> None:
    season = parse_season(typed)
    assert isinstance(season, Season)
    assert write_season_sentence(stage, season, 0, sought=sought) == said


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("20–45 cm height", "It stands 20 to 45 centimetres tall."),
        ("20–45 cm", "It stands 20 to 45 centimetres tall."),
        ("5–15 cm cap width", "Its cap is 5 to 15 centimetres wide."),
    ],
)
def test_a_plant_stands_so_tall(typed: str, said: str) -> None:
    size = parse_measure(typed)
    assert isinstance(size, Measure)
    assert write_size_sentence(size, size.typed.replace(size.what, "").strip() if size.what else size.typed, PLANTS) == said


@pytest.mark.parametrize(
    ("status", "said"),
    [
        ("common", "It is common."),
        ("common in damp woods", "It is common in damp woods."),
        ("common in winter, but declining", "It is common in winter, but declining."),
        ("common passage migrant and winter visitor", "It is a common passage migrant and winter visitor."),
        ("scarce passage migrant", "It is a scarce passage migrant."),
        ("uncommon resident", "It is an uncommon resident."),
        ("locally common winter visitor", "It is a locally common winter visitor."),
        ("very common", "It is very common."),
        ("abundant", "It is abundant."),
        ("occasional", "It is found now and then."),
        ("vulnerable", "It is listed as vulnerable."),
        ("native to the hills", "It is native to the hills."),
        ("three records", ""),
    ],
)
def test_a_status_is_a_sentence(status: str, said: str) -> None:
    assert write_status_sentence(status) == said


def test_plurals_and_sentences() -> None:
    assert is_plural("meadow grasses and sedges")
    assert is_plural("docks")
    assert not is_plural("silver birch")
    assert make_sentence(" settled since 2004") == "Settled since 2004."
    assert make_sentence("Is it?") == "Is it?"
