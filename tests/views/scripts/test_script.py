"""Scripts: drafted from an account or the author's own, timed, with shots; a changed fact changes them."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import FieldMark, StageSeason, Stated
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import EpisodeSlot, Guide
from guidebuild.guide.measures import Measure
from guidebuild.guide.records import Section, Sensitivity
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from guidebuild.speech.cues import DEFAULT_LIMITS, LIMITS
from guidebuild.speech.script import join_text
from guidebuild.speech.timing import time_script
from guidebuild.views.posts.posts import post_view
from guidebuild.views.scripts.script import LineView, ScriptView, caption_view, find_own_script_faults, make_script_views
from tests.as_published import with_account as published_with
from tests.checks.invented import at, episode, guide, with_account
from tests.guide_files import write_files

SAMPLE = Path(__file__).resolve().parents[3] / "sample_guide"


def line_text(line: LineView) -> str:
    """What a line says, names in stars."""
    return "".join(f"*{words.text}*" if words.is_name else words.text for words in line.words)


SHORT = EpisodeSlot("short", 60, 90)


def scripts(base: Guide, *slots: EpisodeSlot) -> dict[str, ScriptView]:
    settings = replace(base.settings, slots=slots or (EpisodeSlot("whole", 10, 600),))
    return {view.id: view for view in make_script_views(make_published(replace(base, settings=settings)))}


@pytest.fixture(scope="module")
def sample() -> Guide:
    found = read_guide(SAMPLE).guide
    assert found is not None
    return found


def test_a_draft_says_what_the_account_says_in_the_order_that_works_on_screen() -> None:
    settings = replace(guide().settings, greeting="Hello.", sign_off="Until next week. Leave it there.")
    base = with_account(
        guide(settings=settings), "red-bug", hazards=Stated(("stings",), said=True), status=Inline("common"), say="in-VEN-ta ROO-bra"
    )
    view = scripts(base)["red-bug-whole"]
    assert view.markdown == (
        "## Why this one\n\nHello.\nWords under In brief.\n\n"
        "## Names\n\nThis is the Red Bug, *Inventa rubra*. [say in-VEN-ta ROO-bra]\nIt belongs to the family Inventidae.\nIt is common.\n\n"
        "## What tells it\n\nLook for a dark spot on the back.\nIt measures 6 to 9 millimetres.\nWords under How to know it.\n\n"
        "## Its look-alikes\n\n"
        "Do not take it for the Pale Bug. Look at the spot on the back: the Red Bug has a dark spot; the Pale Bug has no spot.\n\n"
        "## What it feeds on\n\nIts host plant is tall herb.\n\n"
        "## Where to stand\n\nIts habitat: bank.\nFor a place to stand, try Long Bank.\nWords under Where to look.\n\n"
        "## When to look\n\nThe egg is there in June.\nLook for the adult in June.\n\n"
        "## Its life\n\nThe egg. Small.\nThe adult. Large.\nWords under Life story.\n\n"
        "## Photographing it\n\nWords under In the field.\n\n"
        "## Take care\n\nIt stings.\nFollow local advice.\n\n"
        "## Goodbye\n\nUntil next week.\nLeave it there.\n"
    )


def test_a_name_without_a_say_it_line_gets_its_syllables_once() -> None:
    view = scripts(guide())["red-bug-whole"]
    assert view.markdown.count("[say") == 1
    assert "*Inventa rubra*. [say in-ven-ta ru-bra (syllables only)]" in view.markdown
    assert [line.say for section in view.sections for line in section.lines if line.say] == [("in-ven-ta ru-bra (syllables only)",)]


def test_the_author_s_own_say_it_line_is_the_only_one() -> None:
    own = episode("See *Inventa rubra*.\nShe is {name}. [say in-VEN-ta]")
    view = scripts(guide(episodes={own.id: own}))["red-short"]
    assert view.markdown == "## Start\n\nSee *Inventa rubra*.\nShe is Red Bug. [say in-VEN-ta]\n"


def test_each_mark_has_its_shot_and_what_is_missing_is_to_be_filmed() -> None:
    marks = (FieldMark(Inline("dark spot"), ("adult",), photo="red-bug-adult"), FieldMark(Inline("pale bands"), ("egg",), view="side"))
    view = scripts(with_account(guide(), "red-bug", diagnostics=marks))["red-bug-whole"]
    lines = next(section for section in view.sections if join_text(section.heading) == "What tells it").lines
    assert [(line_text(line), line.photo.id if line.photo else line.shot) for line in lines[:2]] == [
        ("Look first for a dark spot.", "red-bug-adult"),
        ("In the egg, look for pale bands.", "Close: pale bands, side"),
    ]
    to_film = [shot.words for shot in view.shots if shot.photo is None]
    assert "Close: pale bands, side" in to_film
    assert [(shot.words, shot.photo.id) for shot in view.shots if shot.photo] == [
        ("Adult", "red-bug-adult"),
        ("Close: dark spot", "red-bug-adult"),
        ("Adult", "pale-bug-adult"),
    ]


def test_a_changed_fact_changes_script_caption_and_posts() -> None:
    longer = Measure("10–12 mm", 10, 12)
    before, after = guide(), with_account(guide(), "red-bug", size=longer)
    was, now = (scripts(base)["red-bug-whole"] for base in (before, after))
    assert "6 to 9 millimetres" in was.markdown
    assert "6 to 9" not in now.markdown
    assert "It measures 10 to 12 millimetres." in now.markdown
    assert "10 to 12 millimetres" in caption_view(now).webvtt.replace("\n", " ")
    assert "10 to 12" not in caption_view(was).webvtt.replace("\n", " ")
    for base, size in ((before, "Size: 6–9 mm."), (after, "Size: 10–12 mm.")):
        assert all(size in text.text for text in post_view(*published_with(base, base.accounts["red-bug"])).texts)


def test_a_changed_score_changes_what_is_said_of_the_look_alike() -> None:
    base = guide()
    swapped = with_account(base, "red-bug", scores=base.accounts["pale-bug"].scores)
    swapped = with_account(swapped, "pale-bug", scores=base.accounts["red-bug"].scores)
    assert "the Red Bug has no spot; the Pale Bug has a dark spot" in scripts(swapped)["red-bug-whole"].markdown


def test_a_group_that_names_no_stage_to_look_for_has_its_seasons_said() -> None:
    base = guide(stage_sets={"bug": replace(guide().stage_sets["bug"], sought=())})
    assert "Look for the adult in June." in scripts(base)["red-bug-whole"].markdown


def test_a_slot_in_an_own_script_follows_the_account() -> None:
    own = episode("She is {size} and flies in {season of adult}.")
    base = guide(episodes={own.id: own})
    july = StageSeason("adult", Season("July", frozenset({18, 19, 20})))
    changed = with_account(base, "red-bug", size=Measure("3 mm", 3, 3), seasons=(july,))
    assert "She is 6 to 9 millimetres and flies in June." in scripts(base)["red-short"].markdown
    assert "She is 3 millimetres and flies in July." in scripts(changed)["red-short"].markdown


def test_a_slot_reads_as_part_of_the_authors_sentence() -> None:
    marks = (
        FieldMark(Inline("broad hind edge of the wing"), ("adult",)),
        FieldMark(Inline("orange-red legs")),
        FieldMark(Inline("dark patch on the belly"), sexes=("male",)),
    )
    season = parse_season("March – August; most seen April – June")
    assert isinstance(season, Season)
    text = (
        "Look for {mark 1}, the {mark 1}.\nLook at the legs. {mark 2}! {mark 3}: he has it.\n"
        "You see it {season of adult}, that is from {season of adult}."
    )
    own = episode(text)
    base = with_account(guide(episodes={own.id: own}), "red-bug", diagnostics=marks, seasons=(StageSeason("adult", season),))
    said = scripts(base)["red-short"].markdown
    assert "Look for a broad hind edge of the wing, the broad hind edge of the wing." in said
    assert "Look at the legs. Orange-red legs! A dark patch on the belly in the male: he has it." in said
    assert "You see it from March to August, most of all from April to June, that is from March to August; most seen April to June." in said


def test_cautions_are_said_first_of_all_however_short_the_slot() -> None:
    base = with_account(guide(), "red-bug", hazards=Stated(("stings",), said=True), caution=Inline("Keep children back."))
    view = scripts(base, EpisodeSlot("tiny", 1, 2))["red-bug-tiny"]
    said = [line_text(line) for section in view.sections for line in section.lines]
    marks = ["This is the Red Bug, *Inventa rubra*.", "Look for a dark spot on the back."]
    assert said == [*marks, "It stings.", "Follow local advice.", "Keep children back."]
    assert [finding.code for finding in view.findings] == ["episode-over-slot"]


def test_a_sentence_that_leans_on_another_is_left_out_with_it() -> None:
    long = "It is " + "very " * 90 + "large."
    sections = (Section("In brief", f"Short. {long} So it is.", at("red-bug", 40)),)
    view = scripts(with_account(guide(), "red-bug", sections=sections), EpisodeSlot("short", 10, 30))["red-bug-short"]
    assert "Short." in view.markdown
    assert "So it is." not in view.markdown


def test_every_short_draft_of_the_sample_fits_its_slot_with_its_spread(sample: Guide) -> None:
    short = [view for view in scripts(sample, SHORT).values() if view.drafted]
    assert len(short) == len(sample.accounts)
    for view in short:
        assert 60 <= view.seconds <= 90, view.id
        assert view.findings == ()
        # The running time is that of the very text, as the timing says it.
        assert time_script(view.script, view.pace).seconds == pytest.approx(view.seconds)
    assert sum(view.most <= 90 for view in short) >= len(short) - 1  # where the cautions alone are long, less can be spared


def test_a_draft_with_little_to_say_is_found_short() -> None:
    view = scripts(guide(), EpisodeSlot("long", 600, 900))["red-bug-long"]
    (finding,) = view.findings
    assert (finding.code, finding.level, finding.account) == ("episode-under-slot", Level.WARNING, "red-bug")


def test_captions_of_the_sample_never_cut_a_name_or_a_number_from_its_unit(sample: Guide) -> None:
    kept = 0
    for view in scripts(sample, SHORT, EpisodeSlot("full", 150, 330)).values():
        cues = caption_view(view).webvtt.split("\n\n")
        lines = [re.sub(r"</?i>", "", line) for cue in cues for line in cue.splitlines() if "-->" not in line]
        whole = " ".join(lines)
        for phrase in (*view.script.names, *view.script.phrases):
            kept += whole.count(phrase)
            assert sum(line.count(phrase) for line in lines) == whole.count(phrase), (view.id, phrase)
    assert kept > 200


def test_a_sensitive_species_is_never_placed(sample: Guide) -> None:
    account = sample.accounts["scarlet-shieldbug"]
    assert account.sensitivity
    views = [view for view in scripts(sample, SHORT, EpisodeSlot("full", 150, 330)).values() if view.account == account.id]
    told = " ".join([*(view.markdown for view in views), *(text.text for text in post_view(*published_with(sample, account)).texts)])
    for place in sample.places.values():
        assert place.name.removeprefix("The ") not in told, place.id


@pytest.mark.parametrize("field", ["account", "place"])
def test_prose_that_names_a_secret_place_is_not_said(field: str) -> None:
    secret = Sensitivity(2, "One colony.")
    base = guide()
    sections = (Section("In brief", "It is red. Go to the long bank at noon. It sits at the south end.", at("red-bug", 40)),)
    base = with_account(base, "red-bug", sections=sections)
    if field == "account":
        base = with_account(base, "red-bug", sensitivity=secret)
    else:
        base = replace(base, places={"long-bank": replace(base.places["long-bank"], sensitivity=secret)})
    view = scripts(base)["red-bug-whole"]
    posts = " ".join(text.text for text in post_view(*published_with(base, base.accounts["red-bug"])).texts)
    assert "long bank" not in (view.markdown + posts).casefold()
    assert "It is red." in view.markdown
    assert "It is red." in posts
    assert "south end" not in view.markdown + posts  # what follows may lead there too
    assert ("To keep it safe, we do not say where it lives." in view.markdown) == (field == "account")


def test_words_beside_a_picture_do_not_place_a_sensitive_species() -> None:
    base = guide()
    told = replace(base.photos["red-bug-adult"], caption=Inline("Adult at Long Bank"), alt=Inline("A red bug on a leaf at Long Bank."))
    base = replace(base, photos={**base.photos, told.id: told})
    secret = with_account(base, "red-bug", sensitivity=Sensitivity(2, "One colony."))
    for made, caption, alt in ((base, told.caption.words, told.alt.words), (secret, "", "Red Bug")):
        view = scripts(made)["red-bug-whole"]
        shown = next(line.photo for section in view.sections for line in section.lines if line.photo)
        assert (shown.caption, shown.alt) == (caption, alt)
        assert post_view(*published_with(made, made.accounts["red-bug"])).alt == alt


def test_a_place_that_is_no_secret_is_said() -> None:
    assert "try Long Bank." in scripts(guide())["red-bug-whole"].markdown


def test_a_guide_in_another_language_has_its_own_scripts_alone() -> None:
    own = episode("Mide {size}.")
    base = guide(episodes={own.id: own}, settings=replace(guide().settings, languages=("es",)))
    assert list(scripts(base, SHORT)) == ["red-short"]


def test_own_scripts_stand_in_place_of_drafts_and_their_length_is_checked() -> None:
    own = episode("One short line.")
    base = guide(episodes={own.id: own}, settings=replace(guide().settings, slots=(SHORT,)))
    assert [(view.id, view.drafted) for view in make_script_views(make_published(base))] == [("red-short", False), ("pale-bug-short", True)]
    (finding,) = find_own_script_faults(make_published(base))
    assert finding.code == "episode-under-slot"
    assert finding.account == "red-bug"


@pytest.mark.parametrize("word", LIMITS)
def test_what_guide_yaml_says_of_captions_is_kept_by_drafts_and_own_scripts(tmp_path: Path, word: str) -> None:
    slots = f"[{{name: short, length: 60–90 s, captions: {word}}}, {{name: full, length: 5 min}}]"
    files = {
        "guide.yaml": f"title: Toads\nepisodes: {slots}\n",
        "accounts/toad.md": "---\nname: Bufo bufo\n---\n",
        "accounts/frog.md": "---\nname: Rana temporaria\n---\n",
        "episodes/one.md": "---\ntitle: One\naccount: toad\nkind: short\n---\n## Start\nA toad.\n",
        "episodes/two.md": "---\ntitle: Two\naccount: toad\nkind: other\n---\n## Start\nA toad.\n",
    }
    read = read_guide(write_files(tmp_path, files)).guide
    assert read is not None
    found = {view.id: view.limits for view in make_script_views(make_published(read))}
    # A script whose kind has no slot, and a slot that says nothing, have the captions of streaming.
    usual = dict.fromkeys(("two", "toad-full", "frog-full"), DEFAULT_LIMITS)
    assert found == {"one": LIMITS[word], "frog-short": LIMITS[word], **usual}


def test_time_codes_run_on_and_sections_add_up(sample: Guide) -> None:
    view = scripts(sample, SHORT)["parent-bug-short"]
    starts = [line.start for section in view.sections for line in section.lines]
    assert starts == sorted(starts)
    assert sum(section.seconds for section in view.sections) == pytest.approx(view.seconds)
    assert "Look for the nymph from mid June to August." in view.markdown
