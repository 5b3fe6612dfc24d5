"""What was posted on its day, held against the accounts today; and the texts that put it right."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from guidebuild.authoring import note_post
from guidebuild.checks.posts import RULES
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Sensitivity, StageSeason, Stated
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide, PostLimit
from guidebuild.guide.measures import Measure
from guidebuild.guide.posted import NotedPost, PostedFact, PostNotes, find_standing_claims
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.said_facts import is_same_fact
from guidebuild.views.posts.lengths import perceived_length
from guidebuild.views.posts.posted_facts import ChangedFact, find_changed_facts, find_facts_said, find_outdated_posts, list_corrected
from guidebuild.views.posts.posts import post_view
from guidebuild.views.posts.texts import PostText

ROOT = Path(__file__).resolve().parents[3]
MAY = dt.date(2026, 5, 15)
DOCK = "dock-bug"


@cache
def sample() -> Guide:
    guide = read_guide(ROOT / "sample_guide", as_of=dt.date(2026, 11, 28)).guide
    assert guide is not None
    return guide


def changed(base: Guide | None = None, **fields: object) -> Guide:
    base = base or sample()
    account = replace(base.accounts[DOCK], **fields)  # type: ignore[arg-type]
    return replace(base, accounts={**base.accounts, DOCK: account})


def sized(typed: str, low: float, high: float) -> Guide:
    return changed(size=Measure(typed, low, high))


def noted(base: Guide, *posts: NotedPost) -> Guide:
    return replace(base, posted={DOCK: PostNotes(DOCK, posts)})


def said(day: dt.date, *, correction: bool = False, **facts: str) -> NotedPost:
    return NotedPost(day, correction, tuple(PostedFact(slot.replace("_", " "), words) for slot, words in facts.items()))


def outdated(guide: Guide) -> list[Finding]:
    return list(find_outdated_posts(make_published(guide)))


def corrections(guide: Guide, *limits: PostLimit) -> dict[str, PostText]:
    guide = replace(guide, settings=replace(guide.settings, post_limits=limits or guide.settings.post_limits))
    shown = make_published(guide)
    return {text.name: text for text in post_view(shown, shown.accounts[DOCK]).corrections}


def test_what_the_samples_posts_said_is_still_so_and_nothing_is_corrected() -> None:
    assert len(sample().posted) == 5
    assert outdated(sample()) == []
    assert corrections(sample()) == {}


def test_noting_finds_what_the_sample_has_noted() -> None:
    shown = make_published(sample())
    for ident, notes in sample().posted.items():
        view = post_view(shown, shown.accounts[ident])
        facts = find_facts_said(shown, shown.accounts[ident], [text.text for text in view.texts])
        assert [(fact.slot, fact.words) for fact in facts] == [(fact.slot, fact.words) for fact in notes.posts[0].says]


def test_a_changed_size_is_told_with_the_day_and_both_sizes() -> None:
    (finding,) = outdated(sized("12–15 mm body length", 12, 15))
    assert finding.message.startswith("The post of the Dock Bug of 15 May 2026 says, size: “13–15 mm”; its account says “12–15 mm")
    assert (finding.code, finding.level, finding.account) == ("post-out-of-date", Level.WARNING, DOCK)
    assert str(finding.at).startswith("posts/dock-bug.said.yaml:7")
    assert finding.mend.endswith("guidebuild posted dock-bug --correction")


def test_the_correction_says_day_both_facts_cautions_address_and_sources_and_keeps_to_each_limit() -> None:
    limits = (PostLimit("short", 280, 23, 3), PostLimit("long", 2200, 23, 8))
    texts = corrections(sized("12–15 mm", 12, 15), *limits)
    assert list(texts) == ["correction-short", "correction-long"]
    for text, limit in zip(texts.values(), limits, strict=True):
        assert text.text.startswith(
            "Correction: Dock Bug (Coreus marginatus). On 15 May 2026 we wrote “Size: 13–15 mm”. It is “12–15 mm”. "
            "Take care: Staining or irritant fluid.\n\nhttps://larkfold.example/guide/accounts/dock-bug.html\n\nSources: "
        )
        assert perceived_length(text.text, 23, limit.counted) == text.length <= text.limit == limit.characters


@pytest.mark.parametrize(
    ("slot", "then", "now"),
    [
        ("size", "13–15 mm", "1.3–1.5 cm"),
        ("size", "13–15 mm", "13 to 15 mm"),
        ("host plants", "dock and bramble", "bramble and dock"),
        ("host plants", "oak, hawthorn and alder", "alder, oak and hawthorn"),
        ("mark 1", "dark spot on the scutellum", "A dark spot on the scutellum."),
        ("mark 1", "black-banded edge", "black banded edge"),
        ("season of adult", "June to August", "June – to August"),
        ("mark 2", "legs (all six) red", "Legs, all six, red"),
    ],
)
def test_the_same_in_other_words_is_no_change(slot: str, then: str, now: str) -> None:
    assert is_same_fact(slot, then, now, "en")


@pytest.mark.parametrize(
    ("slot", "then", "now"),
    [
        ("size", "13–15 mm", "13.15 mm"),
        ("size", "13–15 mm", "c. 13–15 mm"),
        ("size", "6–9 mm", "6–9 cm"),
        ("mark 1", "spot on the scutellum", "no spot on the scutellum"),
        ("mark 1", "♂ red", "♀ red"),
        ("mark 1", "white spot on black", "black spot on white"),
        ("mark 1", "3 segments", "4 segments"),
        ("mark 1", "spine 3 mm long, red", "spine 3 mm long, blue"),
        ("status", "common", ""),
        ("host plants", "oak", "oak and alder"),
    ],
)
def test_another_value_is_a_change_however_alike(slot: str, then: str, now: str) -> None:
    assert not is_same_fact(slot, then, now, "en")


def test_a_size_in_another_unit_is_no_correction() -> None:
    assert outdated(sized("1.3–1.5 cm", 13, 15)) == []


def test_a_fact_that_is_gone_is_taken_back() -> None:
    guide = changed(size=None)
    (finding,) = outdated(guide)
    assert finding.message.endswith("size: “13–15 mm”; its account says nothing of it now.")
    assert "On 15 May 2026 we wrote “Size: 13–15 mm”. We no longer say so." in corrections(guide)["correction-short"].text


def test_marks_in_another_order_are_no_change_and_one_that_goes_is_not_replaced_by_the_next() -> None:
    marks = sample().accounts[DOCK].diagnostics
    assert [one.slot for one in outdated_slots(changed(diagnostics=(marks[1], marks[0], *marks[2:])))] == []
    ((gone),) = outdated_slots(changed(diagnostics=marks[1:]))
    assert (gone.slot, gone.now) == ("mark 1", "")
    other = replace(marks[0], mark=Inline("wide abdomen"))
    ((new),) = outdated_slots(changed(diagnostics=(other, *marks[1:])))
    assert (new.slot, new.now) == ("mark 1", "wide abdomen")


def outdated_slots(guide: Guide) -> tuple[ChangedFact, ...]:
    shown = make_published(guide)
    return find_changed_facts(shown, shown.accounts[DOCK])


def test_a_season_that_changed_is_corrected_under_its_stage() -> None:
    seasons = tuple(
        StageSeason(s.stage, Season("June", frozenset(range(15, 18)))) if s.stage == "nymph" else s for s in sample().accounts[DOCK].seasons
    )
    text = corrections(changed(seasons=seasons))["correction-short"].text
    assert "On 15 May 2026 we wrote “Nymph: June to September”. It is “June”." in text


def test_what_was_posted_twice_is_said_with_both_days_and_other_words_of_it_apart() -> None:
    june, july = dt.date(2026, 6, 3), dt.date(2026, 7, 1)
    guide = noted(sample(), said(MAY, size="9–11 mm"), said(june, size="10–12 mm"), said(july, size="9–11 mm"))
    assert [finding.message.partition(";")[0] for finding in outdated(guide)] == [
        "The posts of the Dock Bug of 15 May 2026 and 1 July 2026 say, size: “9–11 mm”",
        "The post of the Dock Bug of 3 June 2026 says, size: “10–12 mm”",
    ]


def test_after_a_correction_nothing_is_told_until_it_changes_again() -> None:
    wrong, june = said(MAY, size="9–11 mm"), dt.date(2026, 6, 3)
    assert len(outdated(noted(sample(), wrong))) == 1
    assert outdated(noted(sample(), wrong, said(june, correction=True, size="13–15 mm"))) == []
    assert outdated(noted(sample(), wrong, said(MAY, correction=True, size="13–15 mm"))) == []
    (again,) = outdated(noted(sample(), wrong, said(june, correction=True, size="12–14 mm")))
    assert "of 3 June 2026 says, size: “12–14 mm”" in again.message
    # A later post that says it right does not mend the first, which still stands there.
    assert len(outdated(noted(sample(), wrong, said(june, size="13–15 mm")))) == 1


def test_a_correction_that_took_a_fact_back_stands_for_it() -> None:
    notes = PostNotes(DOCK, (said(MAY, size="9–11 mm", status="rare"), said(MAY, correction=True, size="")))
    assert [(claim.slot, claim.words) for claim in find_standing_claims(notes)] == [("status", "rare")]


def test_what_a_correction_says_is_what_stands_now() -> None:
    guide = noted(changed(size=None), said(MAY, size="13–15 mm", host_plants="oak"))
    assert [(fact.slot, fact.words) for fact in list_corrected(outdated_slots(guide))] == [
        ("size", ""),
        ("host plants", "broad-leaved dock and bramble"),
    ]


def test_more_than_fits_goes_into_further_texts_and_nothing_is_lost() -> None:
    facts = {"size": "9–11 mm", "host_plants": "oak", "season_of_nymph": "May", "season_of_adult": "June", "mark_1": "x " * 90}
    texts = corrections(noted(sample(), said(MAY, **facts)), PostLimit("short", 280, 23, 3))
    assert list(texts)[:2] == ["correction-short", "correction-short-2"]
    assert all(text.length <= 280 for text in texts.values())
    whole = " ".join(text.text for text in texts.values())
    for now in ("13–15 mm", "broad-leaved dock and bramble", "June to September", "broad abdomen"):
        assert now in whole
    tiny = corrections(noted(sample(), said(MAY, mark_1="x " * 90)), PostLimit("tiny", 180, 23, 3))
    assert "Something that we wrote on 15 May 2026 has changed." in tiny["correction-tiny"].text


def test_corrections_speak_the_guides_language() -> None:
    spanish = replace(sample(), settings=replace(sample().settings, languages=("es",)))
    text = corrections(noted(spanish, said(MAY, size="9–11 mm", host_plants="roble")))["correction-long"].text
    assert text.startswith(
        "Corrección: Dock Bug (Coreus marginatus). El 15 de mayo de 2026 escribimos «Tamaño: 9–11 mm». Lo correcto es «13–15 mm»."
    )
    assert "«Plantas nutricias: roble». Lo correcto es «broad-leaved dock y bramble»." in text


def test_a_place_that_is_secret_now_is_told_in_no_correction() -> None:
    guide = noted(sample(), said(MAY, places="Gorse Bank", size="9–11 mm"))
    assert {finding.message.partition(": “")[0].rpartition(" ")[2] for finding in outdated(guide)} == {"places", "size"}
    secret = {**guide.places, "gorse-bank": replace(guide.places["gorse-bank"], sensitivity=Sensitivity(1, "", ""))}
    closed = replace(guide, places=secret)
    assert "Gorse Bank" in corrections(guide)["correction-long"].text
    assert "Gorse Bank" not in " ".join(text.text for text in corrections(closed).values())
    assert "9–11 mm" in corrections(closed)["correction-long"].text


def test_of_a_species_that_is_secret_now_no_place_is_corrected_nor_what_is_held_back() -> None:
    guide = noted(sample(), said(MAY, places="The Long Hedge", size="9–11 mm"))
    secret = changed(guide, sensitivity=Sensitivity(1, "", ""))
    told = " ".join(text.text for text in corrections(secret).values())
    assert "9–11 mm" in told
    assert "Long Hedge" not in told
    assert len(outdated(secret)) == 1


def test_a_common_name_or_a_plant_in_a_name_claims_nothing() -> None:
    shown = make_published(sample())
    text = "Gorse Shieldbug (Piezodorus lituratus). See the Dock Bug."
    assert [fact.slot for fact in find_facts_said(shown, shown.accounts["gorse-shieldbug"], [text])] == ["scientific name", "name"]
    on_gorse = f"{text} Host plants: gorse."
    assert "host plants" in [fact.slot for fact in find_facts_said(shown, shown.accounts["gorse-shieldbug"], [on_gorse])]


def test_a_short_post_claims_only_what_it_says() -> None:
    shown = make_published(sample())
    short = post_view(shown, shown.accounts[DOCK]).texts[0].text
    assert {fact.slot for fact in find_facts_said(shown, shown.accounts[DOCK], [short])} == {
        "scientific name", "name", "size", "hazards", "mark 1",
    }  # fmt: skip


def test_a_post_with_a_day_and_no_note_asks_for_it_and_one_to_come_does_not() -> None:
    (rule,) = RULES
    assert list(rule.run(sample())) == []
    (finding,) = rule.run(replace(sample(), posted={k: v for k, v in sample().posted.items() if k != DOCK}))
    assert finding.message == "What the post of the Dock Bug of 2026-05-15 said is not noted."
    assert finding.mend == "Note it with: guidebuild posted dock-bug --on 2026-05-15"
    assert (finding.code, finding.level, finding.at.file) == ("post-not-noted", Level.NOTE, "accounts/dock-bug.md")
    assert len(list(rule.run(changed(posted=dt.date(2026, 6, 1))))) == 1
    assert list(rule.run(changed(posted=dt.date(2026, 12, 1)))) == []


@pytest.mark.parametrize("words", ["6–9 mm", 'With "marks": and, {signs} # all', "Ñandú – ü", ""])
def test_what_is_noted_reads_back_the_same(tmp_path: Path, words: str) -> None:
    (tmp_path / "guide.yaml").write_text("title: A\n", "utf-8")
    (tmp_path / "accounts").mkdir()
    (tmp_path / "accounts/red-bug.md").write_text("---\nname: Inventa rubra\nformerly: [old-bug]\n---\n", "utf-8")
    first = NotedPost(MAY, says=(PostedFact("size", words), PostedFact("difference from old-bug", "x")))
    note_post(tmp_path, "Red Bug", PostNotes("red-bug"), first)
    read = read_guide(tmp_path).guide
    assert read is not None
    note_post(tmp_path, "Red Bug", read.posted["red-bug"], NotedPost(MAY, correction=True))
    note_post(tmp_path, "Old Bug", PostNotes("old-bug"), NotedPost(MAY, says=(PostedFact("status", "rare"),)))
    again = read_guide(tmp_path)
    assert again.guide is not None
    (notes,) = again.guide.posted.values()
    assert notes.account == "red-bug"
    told = [(post.day, post.correction, [(fact.slot, fact.words) for fact in post.says]) for post in notes.posts]
    assert sorted(told) == sorted(
        [(MAY, False, [("size", words), ("difference from red-bug", "x")]), (MAY, True, []), (MAY, False, [("status", "rare")])]
    )


def test_notes_of_no_account_are_told(tmp_path: Path) -> None:
    (tmp_path / "guide.yaml").write_text("title: A\n", "utf-8")
    note_post(tmp_path, "No Bug", PostNotes("no-bug"), said(MAY, size="9 mm"))
    (tmp_path / "posts/loose.yaml").write_text("a: b\n", "utf-8")
    reading = read_guide(tmp_path)
    assert reading.guide is not None and list(reading.guide.posted) == ["no-bug"]
    assert [finding.at.file for finding in reading.findings if finding.code == "unexpected-file"] == ["posts/loose.yaml"]


def test_hazards_that_changed_are_corrected_with_what_there_is_to_beware_of() -> None:
    guide = noted(changed(hazards=Stated(("stings",), said=True)), said(MAY, hazards="Staining or irritant fluid"))
    text = corrections(guide)["correction-long"].text
    assert "we wrote “Take care: Staining or irritant fluid”. It is “" in text
