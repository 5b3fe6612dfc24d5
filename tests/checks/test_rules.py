"""Every rule finds what it is for, says where, and what to write instead, in exactly these words."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

import pytest

from guidebuild.checks import complete, law, life, photos, references, scripts
from guidebuild.checks.registry import RULES, check_guide
from guidebuild.guide.accounts import FieldMark, HostUse, Review, SimilarSpecies, StageSeason, StageText, Stated
from guidebuild.guide.characters import PictureOfState, Score
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import Guide, Licence
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import LawNote, Place, Section, Sensitivity, Stop
from guidebuild.guide.text.inline import Inline
from tests.checks.invented import JUNE, at, episode, guide, photo, walk, with_account

OWN = (*complete.RULES, *references.RULES, *photos.RULES, *life.RULES, *law.RULES, *scripts.RULES)


def check(changed: Guide) -> list[Finding]:
    return list(check_guide(changed, rules=OWN).findings)


def test_a_complete_guide_is_silent() -> None:
    assert check(guide()) == []


@dataclass(frozen=True)
class Case:
    broken: Guide
    code: str
    words: str


def red(**changes: object) -> Guide:
    return with_account(guide(), "red-bug", **changes)


def pictured(picture: PictureOfState) -> Guide:
    whole = guide()
    return replace(whole, characters={"spot": replace(whole.characters["spot"], pictures=(picture,))})


def section(text: str) -> tuple[Section, ...]:
    return (Section("In brief", text, at("red-bug", 40)), *guide().accounts["red-bug"].sections[1:])


def photo_with(**changes: object) -> Guide:
    changed = replace(photo("red-bug-adult", "red-bug"), **changes)  # type: ignore[arg-type]
    return guide(photos={**guide().photos, "red-bug-adult": changed})


def selling(sold: str, **changes: object) -> Guide:
    base = photo_with(**changes)
    settings = replace(base.settings, prints=("booklet",), sold=(sold,), at=At("guide.yaml", 1))
    nc = Licence("CC-BY-NC-4.0", "CC BY-NC 4.0", commercial=False)
    return replace(base, settings=settings, licences={**base.licences, nc.id: nc})


SIMILAR = Stated((SimilarSpecies("pale-bug", at=at("red-bug", 15)),), said=True)

CASES = (
    Case(
        red(law=(LawNote(Inline("Not to be caught."), dt.date(2023, 5, 1), at=at("red-bug", 30)),)),
        "law-old",
        "accounts/red-bug.md:30: note: The note on the law is of 2023-05-01, more than 36 months ago. "
        "Look the law up again, and write the new day under `as of:`.",
    ),
    Case(
        red(law=(LawNote(Inline("Not to be caught."), dt.date(2029, 5, 1), at=at("red-bug", 30)),)),
        "law-old",
        "accounts/red-bug.md:30: note: The note on the law is dated 2029-05-01, which is still to come. Correct the date.",
    ),
    Case(
        red(host_plants=Stated((HostUse("tall-erb", at=at("red-bug", 18)),), said=True)),
        "unknown-plant",
        "accounts/red-bug.md:18: error: There is no plant “tall-erb” in plants.yaml. Did you mean “tall-herb”?",
    ),
    Case(
        red(places=("nowhere-at-all",)),
        "unknown-place",
        "accounts/red-bug.md:1: error: There is no place “nowhere-at-all” in places.yaml. Add it to places.yaml, or take it out here.",
    ),
    Case(
        red(photos=("red-bug-adlt",)),
        "unknown-photo",
        "accounts/red-bug.md:28: error: There is no photo “red-bug-adlt” in photos.yaml. Did you mean “red-bug-adult”?",
    ),
    Case(
        pictured(PictureOfState("drak", sign="black", at=At("characters.yaml", 9))),
        "picture-of-no-state",
        "characters.yaml:9: error: The character “spot” has no state “drak” that a picture could show. Did you mean “dark”?",
    ),
    Case(
        pictured(PictureOfState("x", sign="black", at=At("characters.yaml", 9))),
        "picture-of-no-state",
        "characters.yaml:9: error: The character “spot” has no state “x” that a picture could show. Write one of: dark, none.",
    ),
    Case(
        pictured(PictureOfState("dark", "red-bug-adlt", at=At("characters.yaml", 9))),
        "unknown-photo",
        "characters.yaml:9: error: There is no photo “red-bug-adlt” in photos.yaml. Did you mean “red-bug-adult”?",
    ),
    Case(
        red(sources=("bok",)),
        "unknown-source",
        "accounts/red-bug.md:29: error: There is no source “bok” in sources.yaml. Did you mean “book”?",
    ),
    Case(
        red(scores=(Score("spto", states=frozenset({"dark"}), at=at("red-bug", 12)),)),
        "unknown-character",
        "accounts/red-bug.md:12: error: There is no character “spto” in characters.yaml. Did you mean “spot”?",
    ),
    Case(
        red(similar=Stated((*SIMILAR, SimilarSpecies("pale-bgu", at=at("red-bug", 16))), said=True)),
        "unknown-account",
        "accounts/red-bug.md:16: error: There is no account “pale-bgu”. Did you mean “pale-bug”?",
    ),
    Case(
        red(similar=Stated((), said=True)),
        "not-mutual",
        "accounts/pale-bug.md:15: warning: Pale Bug names Red Bug as similar, but Red Bug does not name Pale Bug. "
        "In accounts/red-bug.md add `account: pale-bug` under `similar:`.",
    ),
    Case(
        red(similar=Stated((*SIMILAR, *(SimilarSpecies("pale-bug", at=at("red-bug", 16 + n)) for n in range(5_000))), said=True)),
        "too-many-look-alikes",
        "accounts/red-bug.md:115: error: Red Bug names 5,001 look-alikes, and an account may name 100. "
        "Keep those that are taken for it in the field.",
    ),
    Case(
        red(similar=Stated((*SIMILAR, SimilarSpecies("red-bug", at=at("red-bug", 16))), said=True)),
        "similar-to-itself",
        "accounts/red-bug.md:16: error: Red Bug is named as similar to itself. Name the other species, or take the entry out.",
    ),
    Case(
        red(synonyms=(ScientificName("Inventa pallida", "Inventa", "pallida"),)),
        "clashing-names",
        "accounts/pale-bug.md:1: error: “Inventa pallida” is claimed by two accounts: accounts/red-bug.md and accounts/pale-bug.md. "
        "Leave the name in one account only.",
    ),
    Case(
        red(sections=section("One line.\nA [spot](term:bakc) on it.")),
        "dangling-link",
        "accounts/red-bug.md:41:3: error: The link term:bakc leads nowhere. Did you mean “back”?",
    ),
    Case(
        red(sections=section("![the bug](img/red-bug-adlt.jpg)")),
        "dangling-link",
        "accounts/red-bug.md:40:1: error: The picture “img/red-bug-adlt.jpg” is not one of the guide's photos. "
        "Did you mean “red-bug-adult”?",
    ),
    Case(
        guide(sources={**guide().sources, "spare": replace(guide().sources["book"], id="spare", at=At("sources.yaml", 4))}),
        "never-used",
        "sources.yaml:4: note: The source “spare” is named nowhere. Name it in an account, or take it out.",
    ),
    Case(
        guide(photo_files=frozenset({"photos/pale-bug-adult.jpg", "photos/red-bug-adlt.jpg"})),
        "photo-file-missing",
        "photos.yaml:3: error: The file photos/red-bug-adult.jpg of photo “red-bug-adult” is not there. "
        "Did you mean “photos/red-bug-adlt.jpg”?",
    ),
    Case(
        guide(photo_files=guide().photo_files | {"photos/IMG_7.jpg"}),
        "photo-not-entered",
        "photos/IMG_7.jpg: note: photos/IMG_7.jpg stands in the folder but not in photos.yaml. Add an entry to photos.yaml.",
    ),
    Case(
        photo_with(credit=" "),
        "no-credit",
        "photos.yaml:3: error: The photo “red-bug-adult” of Red Bug has no credit. Write `credit:` and the maker's name.",
    ),
    Case(
        photo_with(licence=""),
        "no-licence",
        "photos.yaml:3: error: The photo “red-bug-adult” of Red Bug has no licence. Write `licence:` and an SPDX id such as CC-BY-4.0.",
    ),
    Case(
        selling("booklet", licence="CC-BY-NC-4.0"),
        "not-for-sale",
        "photos.yaml:3: warning: The photo “red-bug-adult” of Red Bug (CC BY-NC 4.0) may not be sold, so it is left out of what is sold: "
        "booklet. Ask its maker, and write what was allowed into `permission:`; or take another picture.",
    ),
    Case(
        selling("bookelt"),
        "sold-not-printed",
        "guide.yaml:1: warning: “bookelt” is sold but never printed. Did you mean “booklet”?",
    ),
    Case(
        selling("walk card"),
        "sold-not-printed",
        "guide.yaml:1: warning: “walk card” is sold but never printed. Did you mean “walk cards”?",
    ),
    Case(
        selling("poster"),
        "sold-not-printed",
        "guide.yaml:1: warning: “poster” is sold but never printed. Write poster under `prints:` too, or name one of these, which are "
        "always made: cards, deck, walk cards, comparisons, checklists, key.",
    ),
    Case(
        selling("Walk cards", licence="CC-BY-NC-4.0"),
        "not-for-sale",
        "photos.yaml:3: warning: The photo “red-bug-adult” of Red Bug (CC BY-NC 4.0) may not be sold, so it is left out of what is sold: "
        "Walk cards. Ask its maker, and write what was allowed into `permission:`; or take another picture.",
    ),
    Case(
        photo_with(licence="CC-BY-4"),
        "unknown-licence",
        "photos.yaml:3: error: “CC-BY-4” is not a licence this tool knows. Did you mean “CC-BY-4.0”?",
    ),
    *(
        Case(
            photo_with(alt=Inline(alt)),
            "poor-alt",
            f"photos.yaml:3: warning: The words for those who cannot see the photo “red-bug-adult” of Red Bug {problem}. "
            "Write in `alt:` what one sees: which side, what stands out, where.",
        )
        for alt, problem in (
            ("", "are missing (`alt:`)"),
            ("IMG_1234.jpg", "are a file name: “IMG_1234.jpg”"),
            ("adult", "only repeat its caption"),
            ("Red Bug.", "say no more than the name: “Red Bug.”"),
            ("Inventa rubra", "say no more than the name: “Inventa rubra”"),
        )
    ),
    Case(
        red(stages=(*guide().accounts["red-bug"].stages, StageText("nimf", Inline("Odd."), at("red-bug", 26)))),
        "unknown-stage",
        "accounts/red-bug.md:26: error: “nimf” is not a life stage of this group. Its group's stages are: egg, adult.",
    ),
    Case(
        red(group="bgu"),
        "unknown-group",
        "accounts/red-bug.md:1: error: “bgu” is not a group whose life stages are known. Did you mean “bug”?",
    ),
    Case(
        red(diagnostics=(FieldMark(Inline("spot"), ("grub",), photo="red-bug-adult", point=(1, 1), at=at("red-bug", 9)),)),
        "unknown-stage",
        "accounts/red-bug.md:9: error: “grub” is not a life stage of this group. Its group's stages are: egg, adult.",
    ),
    Case(
        red(seasons=(StageSeason("adult", JUNE, at=at("red-bug", 22)),)),
        "stage-without-season",
        "accounts/red-bug.md:24: warning: The stage “egg” is described but has no season under `seasons:`. "
        "Give its months under `seasons:`.",
    ),
    Case(
        red(hazards=Stated(("stngs",), said=True)),
        "hazard-without-caution",
        "accounts/red-bug.md:27: error: The hazard “stngs” has no caution. Did you mean “stings”?",
    ),
    Case(
        guide(walks={"june": walk(hazards=("volcano",))}),
        "hazard-without-caution",
        "walks/june.yaml:1: error: The hazard “volcano” has no caution. "
        "Add it under `cautions:` in guide.yaml with the words that warn of it.",
    ),
    Case(
        guide(walks={"june": walk(stops=(Stop("long-bnk", at=At("walks/june.yaml", 6)),))}),
        "unknown-place",
        "walks/june.yaml:6: error: There is no place “long-bnk” in places.yaml. Did you mean “long-bank”?",
    ),
    Case(
        red(reviewed=Review("A", dt.date(2023, 7, 1), at("red-bug", 30))),
        "review-old",
        "accounts/red-bug.md:30: warning: Red Bug was last reviewed on 2023-07-01, more than 36 months ago. "
        "Check the facts again and write the new date under `reviewed:`.",
    ),
    Case(
        red(reviewed=Review("A", dt.date(2027, 7, 1), at("red-bug", 30))),
        "review-old",
        "accounts/red-bug.md:30: warning: The review is dated 2027-07-01, which is still to come. Correct the date.",
    ),
    Case(
        red(sensitivity=Sensitivity(2, "collecting")),
        "sensitive-without-reason",
        "accounts/red-bug.md:1: warning: Red Bug is kept secret without a review date. "
        "Write `sensitive: {category: high, reason: …, review: 2028-01-01}`.",
    ),
    Case(
        guide(places={"long-bank": Place("long-bank", "Long Bank", sensitivity=Sensitivity(1, "nests", dt.date(2028, 1, 1)))}),
        "place-without-area",
        "guide.yaml: error: The place “long-bank” is secret but gives no `area:` to be named instead. "
        "Write `area:` with the wider district.",
    ),
    Case(
        guide(episodes={"red-short": episode("It is {size}.\nSee it {season of adlt}.")}),
        "unknown-slot",
        "episodes/red-short.md:6:8: error: The slot {season of adlt} is not a fact of Red Bug. Did you mean “season of adult”?",
    ),
    Case(
        guide(episodes={"red-short": episode("[show red-bug-adlt 4 s] Look.")}),
        "unknown-shot",
        "episodes/red-short.md:5:1: warning: There is no photo “red-bug-adlt” to show. Did you mean “red-bug-adult”?",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=[f"{c.code}-{n}" for n, c in enumerate(CASES)])
def test_a_broken_guide_is_told_in_these_words(case: Case) -> None:
    found = [f for f in check(case.broken) if f.code == case.code]
    assert [str(f) for f in found] == [case.words]


MISSING = {
    "no-vernacular": {"vernacular": ""},
    "no-family": {"family": ""},
    "no-field-mark": {"diagnostics": ()},
    "no-similar": {"similar": Stated()},
    "no-size": {"size": None},
    "no-food": {"host_plants": Stated()},
    "no-habitat": {"habitat": ()},
    "no-season": {"seasons": (StageSeason("egg", JUNE),)},
    "no-hazard-word": {"hazards": Stated()},
    "no-plate": {"photos": ()},
    "no-life-stages": {"stages": (StageText("egg", Inline("Small.")),)},
    "no-pointer": {"diagnostics": (FieldMark(Inline("dark spot on the back"), ("adult",)),)},
    "no-scores": {"scores": ()},
    "no-source": {"sources": ()},
    "not-reviewed": {"reviewed": None},
}


@pytest.mark.parametrize("part", complete.PARTS, ids=lambda part: part.code)
def test_each_missing_part_is_asked_for(part: complete.RequiredPart) -> None:
    if part.key == "sections":
        heading = part.words
        kept = tuple(replace(s, text="  ") if s.heading == heading else s for s in guide().accounts["red-bug"].sections)
        broken = red(sections=kept)
    else:
        broken = red(**MISSING[part.code])
    found = [f for f in check(broken) if f.code == part.code]
    assert [(f.account, f.mend) for f in found] == [("red-bug", part.question)]
    assert part.words in found[0].message


@pytest.mark.parametrize("level", complete.LEVELS)
def test_a_level_asks_no_more_than_its_parts(level: str) -> None:
    bare = guide(settings=replace(guide().settings, level=level))
    bare = with_account(bare, "red-bug", vernacular="", family="", sections=(), sources=(), reviewed=None, size=None)
    codes = {f.code for f in check(bare)} & {p.code for p in complete.PARTS}
    asked = {p.code for p in complete.find_asked_parts(bare, bare.accounts["red-bug"], level)}
    assert codes <= asked
    assert ("no-size" in codes) == (level != "sketch")
    assert ("not-reviewed" in codes) == (level == "publishable")


def test_the_question_of_a_draft_is_not_its_answer() -> None:
    asked = tuple(replace(s, text=f"<!-- {s.heading}?\n -->") for s in guide().accounts["red-bug"].sections)
    assert {f.message for f in check(red(sections=asked)) if "In brief" in f.message}
    answered = tuple(replace(s, text=f"{s.text}\n{s.text} Words.") for s in asked)
    assert not [f for f in check(red(sections=answered)) if "In brief" in f.message]


def test_none_said_is_not_the_same_as_nothing_said() -> None:
    assert not [f for f in check(red(host_plants=Stated((), said=True))) if f.code == "no-food"]
    assert not [f for f in check(red(host_plants=Stated(), prey=Inline("caterpillars"))) if f.code == "no-food"]


def test_rule_codes_are_unique_and_kebab_case() -> None:
    codes = [rule.code for rule in RULES]
    assert len(codes) == len(set(codes))
    assert all(code == code.lower() and " " not in code for code in codes)


def test_every_rule_of_these_rooms_has_a_case() -> None:
    tested = {case.code for case in CASES} | {p.code for p in complete.PARTS} | {"season-without-stage"}
    assert {rule.code for rule in OWN} == tested
