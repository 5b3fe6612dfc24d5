"""A caution follows the danger: what may be taken for something poisonous warns of it, in every output."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

import pytest
from rich.console import Console

from guidebuild.fieldwork.public_records import PublicPlace
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import Account, SimilarSpecies, Stated
from guidebuild.guide.dangers import HARMS, find_cautions, harm_of
from guidebuild.guide.guide import Caution, EpisodeSlot, Guide, PostLimit
from guidebuild.guide.records import Plant
from guidebuild.guide.text.inline import Inline
from guidebuild.reading import shipped_lists
from guidebuild.reading.whole import read_guide
from guidebuild.speech.timing import Pace
from guidebuild.terminal.telling import print_cautions, print_comparison, print_key
from guidebuild.views.cards.card import card_view
from guidebuild.views.cards.printed import checklist_view, leaflet_views
from guidebuild.views.outdoors.walk import walk_pack_view
from guidebuild.views.pieces.cautions import cautions_of_account, cautions_of_set, eating_caution, leave_out_repeats
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.posts.posts import post_view
from guidebuild.views.scripts.choice import choose_lines
from guidebuild.views.scripts.draft import draft_script
from guidebuild.views.scripts.spoken_cautions import say_cautions_of_look_alikes, say_cautions_of_places
from guidebuild.views.site.finder import finder_page
from guidebuild.views.site.practice import practice_page
from guidebuild.views.telling.compare import compare_view
from guidebuild.views.telling.key import key_view
from guidebuild.views.telling.key_sheet import key_sheet
from tests.as_published import with_walk
from tests.fieldwork.invented import BIRCH, PARENT, WALK
from tests.fieldwork.invented import guide as met_guide
from tests.guides.whole_guides import HERE
from tests.press.small_guide import account, guide

SWALLOWED = "Do not taste it, and wash hands; if any was swallowed, call the poison centre."


@cache
def whole(name: str) -> Published:
    return make_published(read_guide(HERE / name).guide)


def hazardous(*hazards: str, ident: str = "birch", like: str = "parent", caution: str = "") -> Account:
    similar = Stated((SimilarSpecies(like),), said=True) if like else Stated()
    return account(ident, ident.title(), "Inventa", ident, similar=similar, hazards=Stated(hazards, said=True), caution=Inline(caution))


def pair(own: tuple[str, ...], theirs: tuple[str, ...], **cautions: Caution) -> Guide:
    """The parent bug with its own hazards, and a look-alike that names it; the parent bug does not name the other."""
    made = guide(hazardous(*own, ident="parent", like=""), hazardous(*theirs))
    return replace(made, cautions={**shipped_lists.cautions(), **cautions})


def titles(made: Guide, ident: str = "parent") -> list[str]:
    published = make_published(made)
    return [view.title for view in cautions_of_account(make_pieces(published), published.accounts[ident])]


def test_the_harmless_look_alike_of_something_poisonous_warns_of_it() -> None:
    flowers = whole("spring-flowers")
    first, second = cautions_of_account(make_pieces(flowers), flowers.accounts["ramsons"])
    assert first.title == "May be taken for Lords-and-Ladies, which is poisonous and harmful to touch"
    assert second.title == "May be taken for Lily of the Valley, which is poisonous"
    assert (second.text, second.local, second.short) == ("", "", "")
    assert first.text.startswith("If in doubt, treat it as that one: Do not taste it, and wash hands. Keep it off skin")
    assert first.short.startswith(f"If in doubt, treat it as that one: {SWALLOWED}")
    assert first.local.count("swallowed") == 1
    assert card_view(make_pieces(flowers), flowers.accounts["ramsons"]).cautions[0] == first
    sorrel = cautions_of_account(make_pieces(flowers), flowers.accounts["wood-sorrel"])
    assert [view.title for view in sorrel] == ["May be taken for Wood Anemone, which is poisonous"]


@pytest.mark.parametrize(
    ("own", "theirs", "told"),
    [
        ((), ("toxic-plants",), ["May be taken for the Birch, which is poisonous"]),
        ((), ("deadly-fungi",), ["May be taken for the Birch, which is deadly poisonous"]),
        ((), ("poison-by-touch",), ["May be taken for the Birch, which is harmful to touch"]),
        ((), ("venomous-animals",), ["May be taken for the Birch, which is venomous"]),
        ((), ("stings", "bites"), ["May be taken for the Birch, which can sting and bite"]),
        (
            ("not-for-eating",),
            ("not-for-eating", "deadly-fungi"),
            ["Not for eating", "May be taken for the Birch, which is deadly poisonous"],
        ),
        (("poisonous-fungi",), ("deadly-fungi",), ["Poisonous fungi", "May be taken for the Birch, which is deadly poisonous"]),
        (("deadly-fungi",), ("poisonous-fungi",), ["Deadly poisonous fungi"]),
        (("toxic-plants",), ("poisonous-fungi",), ["Poisonous plants"]),
        (("venomous-animals",), ("bites",), ["Venomous animals"]),
        ((), ("protected-species", "nests-and-young", "ticks", "defensive-fluid"), []),
        ((), ("poisonous-fungi", "deadly-fungi"), ["May be taken for the Birch, which is deadly poisonous"]),
        ((), ("berries", "toxic-plants"), ["May be taken for the Birch (Berries), which is poisonous"]),
        ((), ("berries",), ["May be taken for the Birch (Berries)"]),
        ((), ("toxic-berries",), ["May be taken for the Birch, which is poisonous"]),
        ((), (), []),
    ],
)
def test_a_look_alike_warns_where_it_is_more_dangerous(own: tuple[str, ...], theirs: tuple[str, ...], told: list[str]) -> None:
    assert titles(pair(own, theirs)) == told


def test_a_guides_own_caution_says_how_it_hurts_or_is_known_by_its_title() -> None:
    made = pair((), ("cap",), cap=Caution("cap", "Deadly poisonous", "This fungus kills."))
    assert titles(made) == ["May be taken for the Birch, which is deadly poisonous"]
    published = make_published(made)
    (view,) = cautions_of_account(make_pieces(published), published.accounts["parent"])
    assert (
        view.text
        == "If in doubt, treat it as that one: Eat nothing that you have named from this; if any was eaten, call the poison centre at once."
    )
    assert titles(pair((), ("gate",), gate=Caution("gate", "Gates", "Shut them.", harm="none"))) == []
    assert titles(pair((), ("nesting",), nesting=Caution("nesting", "Nesting", "Keep off."))) == ["May be taken for the Birch (Nesting)"]


def test_an_authors_own_words_of_poison_are_a_danger_too() -> None:
    made = replace(
        guide(hazardous(ident="parent", like=""), hazardous(caution="All of it is poisonous.")), cautions=shipped_lists.cautions()
    )
    assert titles(made) == ["May be taken for the Birch, which is poisonous"]


def test_every_shipped_caution_says_how_it_hurts() -> None:
    assert [c.id for c in shipped_lists.cautions().values() if c.harm not in HARMS] == []


def test_a_set_names_whose_each_caution_is_and_what_it_may_be_taken_for() -> None:
    flowers = whole("spring-flowers")
    found = cautions_of_set(make_pieces(flowers), ("ramsons", "lily-of-the-valley"), by_itself=True)
    whose = "Each of Lily of the Valley and Lords-and-Ladies (looks like Ramsons):"
    assert found[0].whole.words.startswith(f"{whose} Parts of this plant are poisonous.")
    assert (found[0].lead, found[0].short) == (whose, SWALLOWED)
    assert compare_view(flowers, ("ramsons", "lily-of-the-valley")).cautions == found
    frogs = whole("southern-frogs")
    assert cautions_of_set(make_pieces(frogs), ("growling-grass-frog",), by_itself=True) == ()


def test_of_several_the_worst_is_warned_of_first_and_what_holds_for_all_names_nobody() -> None:
    fungi = whole("wood-fungi")
    found = cautions_of_set(make_pieces(fungi), ("fly-agaric", "deathcap"))
    assert [view.title for view in found] == ["Deadly poisonous", "Poisonous", "Not for eating", "Caution"]
    assert found[0].whole.words.startswith("Deathcap: Part of one cap")
    assert found[2].whole.words.startswith("Nothing in this guide")


def test_what_to_do_about_look_alikes_is_not_said_of_the_harmless_one() -> None:
    fungi = whole("wood-fungi")
    (view,) = (v for v in cautions_of_account(make_pieces(fungi), fungi.accounts["blusher"]) if v.title.startswith("May be"))
    assert view.title == "May be taken for the Panthercap and the Fly Agaric, which are poisonous"
    assert view.text.startswith("If in doubt, treat it as one of these: It makes people ill.")
    spoken = list(say_cautions_of_look_alikes(fungi, fungi.accounts["sheathed-woodtuft"]))
    assert spoken == [
        "It may be taken for the Funeral Bell, which is deadly poisonous. "
        "If in doubt, treat it as that one: One cap can kill. Eat no part of it, and wash your hands."
    ]


@pytest.mark.parametrize("name", ["spring-flowers", "wood-fungi"])
def test_key_finder_and_practice_are_not_for_deciding_what_may_be_eaten(name: str) -> None:
    published = whole(name)
    make = make_pieces(published)
    finder = finder_page(make)
    assert finder
    for caution in (key_view(published).caution, key_sheet(published).key.caution, finder.caution, practice_page(make).caution):
        assert caution
        assert caution.title == "Not for deciding what may be eaten"
        expected = "Lily of the Valley" if name == "spring-flowers" else "Funeral Bell"
        assert expected in caution.lead
        assert "Do not eat anything that you have named" in caution.text


def test_a_guide_of_nothing_poisonous_says_nothing_of_eating() -> None:
    waders = whole("estuary-waders")
    assert key_view(waders).caution is None
    assert eating_caution(make_pieces(waders), waders.accounts) is None


def test_the_deadly_are_named_first() -> None:
    fungi = whole("wood-fungi")
    caution = eating_caution(make_pieces(fungi), fungi.accounts)
    assert caution
    names = caution.lead
    assert names.index("Deathcap") < names.index("Fly Agaric")
    assert names.index("Funeral Bell") < names.index("Fly Agaric")
    assert harm_of(fungi, "deadly-fungus") == "deadly"


@pytest.mark.parametrize("ident", ["ramsons", "wood-sorrel", "lily-of-the-valley", "lords-and-ladies"])
@pytest.mark.parametrize("characters", [200, 240, 280, 500, 1000])
def test_no_post_drops_its_cautions(ident: str, characters: int) -> None:
    flowers = whole("spring-flowers")
    limited = replace(flowers, settings=replace(flowers.settings, post_limits=(PostLimit("any", characters, 23, 3),)))
    view = post_view(limited, limited.accounts[ident])
    (post,) = view.texts
    assert "poisonous" in post.text.partition("Take care: ")[2]
    assert post.length <= characters or view.findings


def test_a_post_too_short_for_its_caution_keeps_it_and_tells() -> None:
    flowers = whole("spring-flowers")
    limited = replace(flowers, settings=replace(flowers.settings, post_limits=(PostLimit("tiny", 60, 23, 3),)))
    view = post_view(limited, limited.accounts["lily-of-the-valley"])
    assert "Take care: It is poisonous." in view.texts[0].text
    assert "name, cautions, link and credit alone are too long." in next(f.message for f in view.findings if f.code == "post-too-long")


def test_a_post_says_what_to_do_and_not_only_what_the_hazard_is_called() -> None:
    flowers = whole("spring-flowers")
    texts = post_view(flowers, flowers.accounts["lily-of-the-valley"]).texts
    assert f"Take care: It is poisonous. {SWALLOWED}" in texts[-1].text


@pytest.mark.parametrize(("name", "ident"), [("wood-fungi", "sheathed-woodtuft"), ("spring-flowers", "ramsons")])
def test_the_shortest_script_of_the_harmless_look_alike_says_that_the_other_is_dangerous(name: str, ident: str) -> None:
    published = whole(name)
    drafts = draft_script(published, published.accounts[ident])
    sections = choose_lines(drafts, EpisodeSlot("short", 5, 10), Pace(), "en")
    said = " ".join(line.text for section in sections for line in section.lines)
    for found in find_cautions(published, (ident,)):
        for other, _ in found.like:
            assert f"Do not take it for {published.accounts[other].vernacular}" in said.replace("for the ", "for ")
    assert "It may be taken for " in said
    assert "poisonous" in said


def test_pack_checklist_and_leaflet_of_a_walk_say_the_cautions_of_the_species_on_it() -> None:
    fungi = whole("wood-fungi")
    walk = fungi.walks["october-caps"]
    on_paper = (checklist_view(fungi, walk).cautions, leaflet_views(fungi)[0].cautions, walk_pack_view(fungi, walk).cautions)
    for cautions in on_paper:
        told = {view.title: view.whole.words for view in cautions}
        assert {"Not for eating", "Old trees", "Deadly poisonous", "Poisonous"} <= set(told)
        assert told["Deadly poisonous"].partition(":")[0] == "Each of Deathcap and Funeral Bell"
        assert told["Old trees"] == shipped_lists.cautions()["falling-branches"].text
        assert "Deathcap: Wash your hands and your knife if you have touched it." in told["Caution"]


def test_a_caution_on_a_walk_names_what_it_speaks_of() -> None:
    flowers = whole("spring-flowers")
    pack = walk_pack_view(flowers, flowers.walks["garlic-and-bells"])
    told = {view.title: view.whole.words for view in pack.cautions}
    assert told["Poisonous plants"].partition(": ")[2].startswith("Parts of this plant are poisonous.")
    named = told["Poisonous plants"].partition(": ")[0]
    assert named == "Each of Lords-and-Ladies, Wood Anemone and Lily of the Valley (looks like Ramsons)"
    assert told["Ticks"].startswith("Keep to the middle of paths")


def test_plants_at_a_stop_are_named_and_an_outside_chance_is_not_warned_of() -> None:
    stinging = Plant("birch", "Silver Birch", hazards=("sap",))
    pack = walk_pack_view(*with_walk(met_guide(plants={"birch": stinging}), WALK))
    assert [(view.title, view.whole.words) for view in pack.cautions][2:] == [
        ("Staining defence", "Birch Bug: It stains and smells; wash your hands."),
        ("Sap", "Silver Birch"),
    ]
    doubtful = replace(BIRCH, habitat=(), host_plants=Stated((), said=True), similar=Stated())
    alone = replace(PARENT, similar=Stated())
    assert [view.id for view in walk_pack_view(*with_walk(met_guide(alone, doubtful), WALK)).cautions] == ["road", "ticks"]


def where_to_stand(name: str, ident: str) -> str:
    published = whole(name)
    lines = [draft.line.text for section in draft_script(published, published.accounts[ident]) for draft in section.lines]
    return next(line for line in lines if line.startswith("For a place to stand"))


def test_a_script_that_sends_people_to_a_place_says_what_can_hurt_there_in_the_same_line() -> None:
    said = where_to_stand("estuary-waders", "bar-tailed-godwit")
    assert "Take care at the Outer Sands. Know the time of low water and start back well before the turn" in said
    assert "Keep to the path; if you sink, lean back" in said
    assert "Take care at Roadside Ditch" in where_to_stand("southern-frogs", "spotted-marsh-frog")
    for ident, account_ in whole("spring-flowers").accounts.items():
        if "sunk-lane" in account_.places:
            assert "Walk facing the traffic in single file" in where_to_stand("spring-flowers", ident)


def test_what_two_cautions_say_alike_is_said_once() -> None:
    long = (
        "If any was eaten, call the poison centre or the emergency number at once, even without signs of illness, and keep a piece to show."
    )
    short = "If any was eaten, call the emergency number at once, even without signs of illness, and keep a piece to show."
    assert leave_out_repeats([short, "Wash your hands.", long]) == ("Wash your hands.", long)
    kept = [
        "If any was eaten, call the poison centre.",
        "If any was touched, wash your hands with plenty of water at once.",
        "Wash your hands.",
    ]
    assert leave_out_repeats(kept) == tuple(kept)
    fungi = whole("wood-fungi")
    views = cautions_of_account(make_pieces(fungi), fungi.accounts["deathcap"])
    assert [view.local for view in views if view.local.startswith("If any was eaten")] == [long]
    (section,) = [s for s in draft_script(fungi, fungi.accounts["deathcap"]) if s.heading == "Take care"]
    assert sum(draft.line.text.startswith("If any was eaten") for draft in section.lines) == 1


def test_one_place_tells_all_its_hazards_in_a_row() -> None:
    place = PublicPlace("a", "The Weir", hazards=("water", "road"))
    said = say_cautions_of_places(make_published(pair((), ())), [place])
    assert said.count("Take care at") == 1
    assert "Keep back from edges" in said
    assert "Walk facing the traffic" in said


def test_a_hazard_of_several_places_is_said_once() -> None:
    places = [
        PublicPlace("a", "The Weir", hazards=("water",)),
        PublicPlace("b", "Mill Pond", hazards=("water",), caution=Inline("No rail.")),
    ]
    guide_ = make_published(pair((), ()))
    said = say_cautions_of_places(guide_, places)
    assert said.startswith("Take care at the Weir and Mill Pond. Keep back from edges")
    assert said.endswith("There is more to mind at Mill Pond. No rail.")


@pytest.mark.parametrize(
    ("name", "ident", "other", "told"),
    [
        ("wood-fungi", "sheathed-woodtuft", "Funeral Bell", "The Funeral Bell is deadly. Its stem has silvery threads and no scales, "),
        ("spring-flowers", "ramsons", "Lily of the Valley", "Lily of the Valley is poisonous. Its leaves come two or three to a stem, "),
        ("wood-fungi", "blusher", "Panthercap", "The Panthercap is very poisonous. It has pure white warts "),
        ("wood-fungi", "blusher", "Fly Agaric", "The Fly Agaric is scarlet or orange and never turns pink inside."),
    ],
)
def test_a_card_keeps_what_tells_them_apart_along_with_the_warning(name: str, ident: str, other: str, told: str) -> None:
    published = whole(name)
    card = card_view(make_pieces(published), published.accounts[ident])
    assert next(alike.tell for alike in card.look_alikes if alike.name.short == other).words.startswith(told)


def test_a_note_that_only_warns_is_told_with_what_the_characters_say() -> None:
    flowers = whole("spring-flowers")
    ramsons = flowers.accounts["ramsons"]
    warned = replace(ramsons.similar.values[0], note=Inline("It is poisonous."))
    made = replace(flowers, accounts={**flowers.accounts, "ramsons": replace(ramsons, similar=Stated((warned,), said=True))})
    tell = card_view(make_pieces(made), made.accounts["ramsons"]).look_alikes[0].tell.words
    assert tell.startswith("It is poisonous. ")
    assert ", here " in tell


def test_a_terminal_says_the_cautions_of_a_comparison_and_of_the_key() -> None:
    flowers, console = whole("spring-flowers"), Console(record=True, width=1000, file=io.StringIO())
    print_comparison(console, compare_view(flowers, ("ramsons", "lily-of-the-valley")))
    print_key(console, key_view(flowers), layout="indented")
    said = console.export_text()
    assert "Caution: Poisonous plants. Each of Lily of the Valley and Lords-and-Ladies (looks like Ramsons): Parts of this plant" in said
    assert "Caution: Not for deciding what may be eaten. Poisonous: " in said
    print_cautions(console, cautions_of_set(make_pieces(flowers), ("lords-and-ladies",), by_itself=True))
    assert "\nCaution: Lords-and-Ladies: The berries look like sweets" in console.export_text()
