"""A small invented guide in which every check is silent; tests break one thing at a time with `replace`."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.guide.accounts import Account, FieldMark, HostUse, Review, SimilarSpecies, StageSeason, StageText, Stated
from guidebuild.guide.characters import Character, CharacterKind, Score, State
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Caution, Guide, Licence, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import Episode, Photo, Place, Plant, Section, Source, Term, Walk
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import Inline

HEADINGS = ("In brief", "How to know it", "Where to look", "Life story", "In the field")
JUNE = Season("June", frozenset({15, 16, 17}))


def at(account_id: str, line: int = 1) -> At:
    """A line of an account's file."""
    return At(f"accounts/{account_id}.md", line)


def account(account_id: str, *, genus: str, epithet: str, other: str) -> Account:
    """An invented account that says everything; `other` is its look-alike."""
    vernacular = account_id.replace("-", " ").title()
    return Account(
        id=account_id,
        name=ScientificName(f"{genus} {epithet}", genus, epithet),
        vernacular=vernacular,
        at=at(account_id),
        family="Inventidae",
        size=Measure("6–9 mm", 6, 9),
        diagnostics=(
            FieldMark(Inline("dark spot on the back"), ("adult",), photo=f"{account_id}-adult", point=(50, 40), at=at(account_id, 8)),
        ),
        scores=(Score("spot", states=frozenset({"dark"}), at=at(account_id, 12)),),
        similar=Stated((SimilarSpecies(other, ("spot",), at=at(account_id, 15)),), said=True),
        host_plants=Stated((HostUse("tall-herb", at=at(account_id, 18)),), said=True),
        habitat=(Inline("bank"),),
        places=("long-bank",),
        seasons=(StageSeason("egg", JUNE, at=at(account_id, 21)), StageSeason("adult", JUNE, at=at(account_id, 22))),
        stages=(StageText("egg", Inline("Small."), at(account_id, 24)), StageText("adult", Inline("Large."), at(account_id, 25))),
        photos=(f"{account_id}-adult",),
        hazards=Stated((), said=True),
        sources=("book",),
        reviewed=Review("A. Reader", dt.date(2026, 5, 2), at(account_id, 30)),
        sections=tuple(Section(h, f"Words under {h}.", at(account_id, 40 + 4 * n)) for n, h in enumerate(HEADINGS)),
        positions={"photos": at(account_id, 28), "sources": at(account_id, 29), "hazards": at(account_id, 27)},
    )


def photo(photo_id: str, owner: str) -> Photo:
    """A photo with credit, licence and alt text."""
    return Photo(
        photo_id,
        f"photos/{photo_id}.jpg",
        account=owner,
        stage="adult",
        credit="A. Maker",
        licence="CC-BY-4.0",
        alt=Inline("Seen from above: a dark spot in the middle of a pale back."),
        caption=Inline("Adult"),
        at=At("photos.yaml", 3),
    )


def guide(**changes: object) -> Guide:
    """The silent guide, with some of its fields replaced."""
    red = account("red-bug", genus="Inventa", epithet="rubra", other="pale-bug")
    pale = account("pale-bug", genus="Inventa", epithet="pallida", other="red-bug")
    pale = replace(pale, scores=(Score("spot", states=frozenset({"none"}), at=at("pale-bug", 12)),))
    whole = Guide(
        settings=Settings("An invented guide", licence="CC-BY-4.0", group="bug"),
        accounts={a.id: a for a in (red, pale)},
        plants={"tall-herb": Plant("tall-herb", "Tall Herb", at=At("plants.yaml", 1))},
        places={"long-bank": Place("long-bank", "Long Bank", area="Invented Vale", at=At("places.yaml", 1))},
        characters={
            "spot": Character("spot", "spot on the back", CharacterKind.STATES, (State("dark", "a dark spot"), State("none", "no spot"))),
        },
        terms={"back": Term("back", "back", Inline("The upper side."), at=At("glossary.yaml", 2))},
        sources={"book": Source("book", "An invented book.", at=At("sources.yaml", 1))},
        photos={f"{a}-adult": photo(f"{a}-adult", a) for a in ("red-bug", "pale-bug")},
        stage_sets={"bug": StageSet("bug", "Bugs", (("egg", "egg"), ("adult", "adult")), sought=("adult",))},
        cautions={"stings": Caution("stings", "Stings", "It stings.", "Follow local advice.")},
        licences={"CC-BY-4.0": Licence("CC-BY-4.0", "CC BY 4.0")},
        photo_files=frozenset({"photos/red-bug-adult.jpg", "photos/pale-bug-adult.jpg"}),
        as_of=dt.date(2026, 7, 1),
    )
    return replace(whole, **changes)  # type: ignore[arg-type]


def with_account(base: Guide, account_id: str, **changes: object) -> Guide:
    """The guide with one account changed."""
    changed = replace(base.accounts[account_id], **changes)  # type: ignore[arg-type]
    return replace(base, accounts={**base.accounts, account_id: changed})


def episode(text: str, line: int = 5) -> Episode:
    """An own script of the red bug with one section."""
    return Episode("red-short", "Red", "red-bug", "short", None, (Section("Start", text, At("episodes/red-short.md", line)),))


def walk(**changes: object) -> Walk:
    """An invented walk."""
    return replace(
        Walk("june", "June walk", dt.date(2026, 6, 6), dt.time(14), "Europe/London", "the gate", at=At("walks/june.yaml", 1)),
        **changes,  # type: ignore[arg-type]
    )
