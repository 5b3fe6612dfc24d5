"""Rules that keep secret places out of what is written: exact wording."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.checks import secrecy
from guidebuild.checks.rule import Rule
from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.accounts import Translation
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Episode, Photo, Section, Sensitivity, Stop
from guidebuild.guide.sightings import SeenSpot
from guidebuild.guide.text.inline import Inline
from tests.checks import invented
from tests.fieldwork.invented import BIRCH, PARENT, PLACES, RARE, WALK, guide, tally


def told(rule: Rule, of: Guide) -> list[tuple[str, str, str]]:
    found = list(rule.run(of))
    assert all(f.code == rule.code and f.level is rule.level for f in found)
    return [(str(f.at), f.message, f.account) for f in found]


def test_prose_that_names_a_secret_place_is_told_with_its_line() -> None:
    section = Section("Where to look", "On reeds.\nBest at Weir Pool, 51.1278, -1.2846.", At("accounts/rare-bug.md", 20))
    assert told(secrecy.SECRET_WRITTEN, guide(replace(RARE, sections=(section,)))) == [
        ("accounts/rare-bug.md:21", "The name “weir pool” gives away the secret place “Weir Pool”.", "rare-bug"),
        ("accounts/rare-bug.md:21", "The position “51.1278, -1.2846” gives away the secret place “Weir Pool”.", "rare-bug"),
    ]


def test_a_name_that_marks_of_a_script_stand_in_is_told_with_the_script() -> None:
    for words in ("The Weir [pause 1 s] Pool is best.", "The W[pause]eir Pool is best."):
        section = Section("Opening", words, At("episodes/own.md", 9))
        found = told(secrecy.SECRET_WRITTEN, guide(episodes={"own": Episode("own", "Own", "parent-bug", "full", None, (section,))}))
        assert found == [("episodes/own.md:9", "The name “weir pool” gives away the secret place “Weir Pool”.", "parent-bug")]


def test_a_position_and_a_name_that_marks_stand_in_are_told_where_the_text_starts() -> None:
    for words, what in (
        ("Soft ground.\nAt 51.*1278*, -1.2846.", "The position “51.1278, -1.2846"),
        ("On reeds.\nBy W*ei*r [Po](https://a.example)ol.", "The name “weir pool"),
    ):
        section = Section("Where to look", words, At("accounts/parent-bug.md", 20))
        assert told(secrecy.SECRET_WRITTEN, guide(replace(PARENT, sections=(section,)))) == [
            ("accounts/parent-bug.md:20", f"{what}” gives away the secret place “Weir Pool”.", "parent-bug")
        ]


def test_a_position_near_several_secrets_is_told_once_and_of_the_listed_place() -> None:
    seen = replace(tally("rare-bug", "adult", "", {"2025-05-14": 1}), spots=(SeenSpot("", 51.12784, -1.28462),))
    for words in ("Best at 51.1278, -1.2846.", "Best at 30U 620034 5665436."):
        section = Section("Where to look", words, At("accounts/parent-bug.md", 20))
        found = told(secrecy.SECRET_WRITTEN, guide(replace(PARENT, sections=(section,)), RARE, sightings=(seen,)))
        assert found and len({message.split("”")[0] for _, message, _ in found}) == len(found)
        assert all("place “Weir Pool”" in message for _, message, _ in found)


def test_halves_of_two_positions_with_whole_ones_between_are_told_as_none_more() -> None:
    words = "Stand at 51.1278 N, 1.2846 W, or by the reeds at 51.1279 N, 1.2845 W, or at 51.1277 N, 1.2847 W."
    section = Section("Where to look", words, At("accounts/parent-bug.md", 20))
    found = [message.split("”")[0] for _, message, _ in told(secrecy.SECRET_WRITTEN, guide(replace(PARENT, sections=(section,))))]
    whole = ("51.1278 N, 1.2846", "51.1279 N, 1.2845", "51.1277 N, 1.2847")
    assert [message for message in found if any(message.endswith(f"“{position}") for position in whole)] == found[::2]
    assert len(found) == 5  # between two positions the last half of one and the first of the next are one too


def test_captions_and_walks_are_read_too() -> None:
    photo = Photo("weir-pool-2", "photos/a.jpg", caption=Inline("Reeds"), at=At("photos.yaml", 7))
    walk = replace(WALK, meet="the gate of Weir Pool")
    found = told(secrecy.SECRET_WRITTEN, guide(photos={"weir-pool-2": photo}, walks={"june-walk": walk}))
    assert [at for at, _, _ in found] == ["photos.yaml:7", "walks/june-walk.yaml:1"]


def test_a_walk_to_a_secret_place_is_told() -> None:
    walk = replace(WALK, stops=(Stop("weir-pool", 10, at=At("walks/june-walk.yaml", 9)),))
    assert told(secrecy.WALK_TO_SECRET, guide(walks={"june-walk": walk})) == [
        ("walks/june-walk.yaml:9", "The walk “A June evening on the hedge” stops at “Weir Pool”, which is kept secret.", "")
    ]


def test_a_review_date_that_has_come_is_told() -> None:
    later = guide(as_of=dt.date(2028, 1, 1))
    assert told(secrecy.SECRECY_REVIEW, later) == [
        ("accounts/rare-bug.md:1", "Whether “Rare Bug” must still be kept secret was to be looked at again on 2028-01-01.", "rare-bug")
    ]


def test_the_invented_guide_is_silent() -> None:
    assert [f for rule in secrecy.RULES for f in rule.run(guide(PARENT, BIRCH, RARE))] == []


def test_an_open_place_named_with_a_sensitive_species_is_told() -> None:
    base = invented.guide(episodes={"red-short": invented.episode("Hello.\nWe are at the long bank again.")})
    caption = replace(base.photos["red-bug-adult"], caption=Inline("Adult, Long Bank"))
    base = replace(base, photos={**base.photos, caption.id: caption})
    assert told(secrecy.SENSITIVE_PLACED, base) == []
    message = "“Long Bank” is named with the Red Bug, which is kept secret."
    assert sorted(told(secrecy.SENSITIVE_PLACED, invented.with_account(base, "red-bug", sensitivity=Sensitivity(2, "One colony.")))) == [
        ("episodes/red-short.md:6", message, "red-bug"),
        ("photos.yaml:3", message, "red-bug"),
    ]


def test_every_text_of_the_facts_is_read_in_each_language() -> None:
    names_it = Inline("near Weir Pool", At("accounts/rare-bug.es.md", 3))
    for field in INLINE_FIELDS:
        account = replace(RARE, **{field.attribute: replace(names_it, at=At("accounts/rare-bug.md", 9))})  # type: ignore[arg-type]
        assert [at for at, _, _ in told(secrecy.SECRET_WRITTEN, guide(account))] == ["accounts/rare-bug.md:9"]
        translated = replace(RARE, translations=(Translation("es", facts=((field.key, names_it),)),))
        assert [at for at, _, _ in told(secrecy.SECRET_WRITTEN, guide(translated))] == ["accounts/rare-bug.es.md:3"]


def test_a_sensitive_species_named_at_an_open_place_or_on_a_walk_is_told() -> None:
    place = replace(PLACES["meadow"], note=Inline("The Rare Bug is here."), at=At("places.yaml", 4))
    walk = replace(WALK, stops=(Stop("meadow", note=Inline("Look for *Inventus rarus*."), at=At("walks/june-walk.yaml", 9)),))
    assert told(secrecy.SENSITIVE_PLACED, guide(places={**PLACES, "meadow": place}, walks={"june-walk": walk})) == [
        ("places.yaml:4", "The Rare Bug, which is kept secret, is named in the words of the place “Long Meadow”.", ""),
        (
            "walks/june-walk.yaml:9",
            "The Rare Bug, which is kept secret, is named in the words of the walk “A June evening on the hedge”.",
            "",
        ),
    ]


def named(name: str, **more: object) -> Guide:
    """The invented guide, whose secret place has another name."""
    secret = replace(PLACES["weir-pool"], name=name, at=At("places.yaml", 9), **more)
    parking = replace(PLACES["north-hedge"], id="parking", name="Withy Corner car park")
    return guide(places={**PLACES, "weir-pool": secret, "parking": parking})


def test_a_secret_name_in_the_name_of_an_open_place_is_told_and_searched_for_all_the_same() -> None:
    held = named("Withy Corner")
    assert told(secrecy.SECRET_NAME_SAID, held) == [
        ("places.yaml:9", "The name of the secret place “Withy Corner” stands in the open place “Withy Corner car park”.", "")
    ]
    assert [leak.found for leak in leaks_in("By the withy-corner.", secrets_of(held))] == ["withy-corner"]


def test_a_name_that_its_author_says_may_be_known_is_not_searched_for_and_its_position_is() -> None:
    held = named("Withy Corner", public_name=True)
    assert told(secrecy.SECRET_NAME_SAID, held) == []
    assert [leak.what for leak in leaks_in("By Withy Corner, 51.1278, -1.2846.", secrets_of(held))] == ["The position"]


def test_a_secret_name_in_an_area_or_in_the_region_is_told() -> None:
    assert [message for _, message, _ in told(secrecy.SECRET_NAME_SAID, named("Larkfold Vale"))] == [
        "The name of the secret place “Larkfold Vale” stands in the region.",
        "The name of the secret place “Larkfold Vale” stands in the area of the place “North Hedge”.",
        "The name of the secret place “Larkfold Vale” stands in the area of the place “Long Meadow”.",
        "The name of the secret place “Larkfold Vale” stands in the area of the place “Withy Corner car park”.",
    ]


def test_a_place_called_by_a_word_of_every_day_is_told_and_not_searched_for() -> None:
    held = named("The Meadow", id="spot")
    assert told(secrecy.SECRET_NAME_EVERYDAY, held) == [
        ("places.yaml:9", "The secret place “The Meadow” is called by a word of every day.", "")
    ]
    assert list(leaks_in("A dark spot; in the meadow.", secrets_of(held))) == []
    assert told(secrecy.SECRET_NAME_EVERYDAY, named("Withy Meadow")) == []
