"""A secret place named in any field that readers see is told with its file and line, whichever field it is.

The fields are those of the types of a guide. The guide below (invented) fills every one of them, so a new field of text fails
here until it is filled, and then is planted like the others.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import is_dataclass
from functools import cache
from pathlib import Path
from typing import Annotated, Any, get_args, get_type_hints

import pytest

from guidebuild.checks.registry import check_guide
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide, Licence
from guidebuild.guide.measures import Measure, Span
from guidebuild.guide.names import ScientificName
from guidebuild.guide.seasons import Season
from guidebuild.guide.sightings import Seen
from guidebuild.guide.text.inline import UNSHOWN, Inline
from guidebuild.guide.texts import find_texts
from guidebuild.reading.whole import read_guide

SECRET = "Weir Pool"
FILES = {
    "guide.yaml": """\
title: qtitle
region: qregion
description: qdescription
publisher: qpublisher
contact: qcontact
address: https://example.org/qsite
licence: qlicence
greeting: qgreeting
sign off: qsignoff
hashtags: [qhashtag]
group: own
posts: [{name: qpost, characters: 100}]
episodes: [{name: qslot, length: 60–90 s}]
life stages:
  own:
    title: qsettitle
    stages: {adult: {word: qstageword, sentence: qstagesentence, many: qstagemany, mark: qstagemark}}
    living thing: qlivingthing
    measured: qmeasured
    food heading: qfoodheading
cautions:
  sting:
    title: qcautiontitle
    text: qcautiontext
    local: qcautionlocal
    short: qcautionshort
law:
  - {text: qguidelaw, as of: 2026-03-01}
""",
    "places.yaml": """\
pool:
  name: Weir Pool
  area: Invented Vale
  sensitive:
    category: high
    reason: qplacereason
bank:
  name: qplacename
  area: qplacearea
  habitat: [qplacehabitat]
  access: qaccess
  hazards: [qplacehazard]
  caution: qplacecaution
  law: {text: qplacelaw, as of: 2026-03-01}
  note: qplacenote
""",
    "plants.yaml": """\
alder:
  vernacular: qplantname
  note: qplantnote
  hazards: [qplanthazard]
  caution: qplantcaution
""",
    "glossary.yaml": "wart:\n  word: qword\n  meaning: qmeaning\n  also: [qalso]\n",
    "sources.yaml": "book:\n  cite: qcite\n  author: qauthor\n  year: qyear\n  title: qsourcetitle\n  address: https://example.org/qaddress\n"
    "  version: qversion\n  publisher: qsourcepublisher\n  rights holder: qrightsholder\n",
    "characters.yaml": """\
skin:
  label: qlabel
  question: qquestion
  part: qcharacterpart
  view: qcharacterview
  states:
    rough: qstate
""",
    "sounds.yaml": """\
qsound:
  title: qsoundtitle
  address: https://sounds.example/qsoundaddress
  recordist: qrecordist
  licence: qsoundlicence
  note: qsoundnote
""",
    "films.yaml": """\
f1:
  title: qfilmtitle
  address: https://films.example/qfilm
  kind: qfilmkind
  credit: qfilmcredit
  licence: qfilmlicence
  note: qfilmnote
  captions: films/f1.vtt
  chapters:
    - "0:00 qfilmchapter"
""",
    "films/f1.vtt": """\
WEBVTT

00:00.000 --> 00:01.000
qspoken
""",
    "posts/toad.said.yaml": """\
posts:
  - day: 2026-05-02
    says:
      - {fact: size, words: qposted}
""",
    "photos.yaml": """\
p1:
  shows: qshows
  account: toad
  view: qphotoview
  part: qphotopart
  parts: {qpointed: "50, 40"}
  credit: qcredit
  licence: qphotolicence
  title: qphototitle
  source: qphotosource
  changes: qphotochanges
  alt: qalt
  caption: qcaption
""",
    "walks/june.yaml": """\
title: qwalktitle
date: 2026-06-20
start: 18:30
meet: qmeet
leader: qleader
contact: qwalkcontact
audience: qaudience
bring: [qbring]
hazards: [qwalkhazard]
note: qwalknote
stops:
  - place: bank
    note: qstopnote
""",
    "episodes/own.md": "---\ntitle: qepisodetitle\naccount: toad\n---\n## qepisodeheading\nOne.\nqepisodetext\n",
    "accounts/toad.md": """\
---
name: Bufo bufo
authority: (qdescriber, 1758)
vernacular: qvernacular
also called: [qothername]
say: qsay
family: qfamily
size: 6–9 mm qmeasured
status: qstatus
recent: qrecent
diagnostics:
  - mark: qmark
    view: qmarkview
characters:
  skin: rough
similar:
  - account: frog
    note: qsimilarnote
host plants:
  - plant: alder
    part: qpart
    use: quse
prey: qprey
voice: qvoice
habitat: [qhabitat]
hazards: [qhazard]
caution: qcaution2
law:
  as of: 2026-03-01
  text: qlaw
life stages:
  adult: qstagetext
sensitive:
  category: low
  reason: qreason
reviewed:
  by: qreviewer
  on: 2026-05-02
---
## qheading

One line.
qsectiontext
""",
    "accounts/toad.es.md": """\
---
vernacular: qspanishname
marks: [qspanishmark]
status: qspanishstatus
law: [qspanishlaw]
life stages:
  adult: qspanishstage
similar:
  frog: qspanishnote
---
## qspanishheading
qspanishtext
""",
    "accounts/frog.md": "---\nname: Rana temporaria\nsimilar: not applicable (qnotapplicable)\n---\n",
}
PARSED = (ScientificName, Measure, Span, Season)
"""Values read from one text: their parts stand in it, and most other words in them cannot be read at all."""
SHIPPED = (Licence, At, Seen)


def write(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


@cache
def text_fields(kind: type) -> frozenset[str]:
    """`Record.field` of every text in a type and in the types of its fields."""
    found: set[str] = set()
    for name, hint in get_type_hints(kind, include_extras=True).items():
        inner = list(walk(hint))
        found |= {f"{kind.__name__}.{name}" for part in inner if part in (str, Inline)}
        for part in inner:
            if is_dataclass(part) and part not in (kind, Inline, *PARSED, *SHIPPED):
                found |= text_fields(part)  # type: ignore[arg-type]
    return frozenset(found)


def walk(hint: Any) -> Any:
    """The plain types in a type, those that readers never see left out."""
    args = get_args(hint)
    if getattr(hint, "__metadata__", None) and UNSHOWN in hint.__metadata__:
        return
    yield from [hint.__origin__] if hasattr(hint, "__metadata__") else [] if args else [hint]
    origin = getattr(hint, "__origin__", None)
    if isinstance(origin, type) and is_dataclass(origin):
        yield origin
    if origin is Mapping:
        args = args[1:]  # keys are ids
    for arg in args if not hasattr(hint, "__metadata__") else ():
        yield from walk(arg)


TYPED = sorted({(file, found) for file, text in FILES.items() for found in re.findall(r"\bq(?!uestion)[a-z0-9]+", text)})
SAID_ANYWAY = {"qtitle", "qregion", "qplacename", "qplacearea"}
"""A name that stands in the title or is that of an open place or area is no secret."""


def test_the_fields_of_the_types_are_seen() -> None:
    fields = text_fields(Guide)
    assert {"Account.status", "FieldMark.mark", "Photo.caption", "Stop.note", "Caution.text", "HostUse.part", "Section.text"} <= fields
    assert "SimilarSpecies.account" not in fields
    assert Annotated is not None and len(fields) > 60


def test_the_guide_below_fills_every_field_of_text(tmp_path: Path) -> None:
    guide = read_guide(write(tmp_path, FILES)).guide
    assert guide is not None
    filled: set[str] = set()

    def go(value: object) -> None:
        if isinstance(value, dict):
            for one in value.values():
                go(one)
        elif isinstance(value, tuple | frozenset):
            for one in value:
                go(one)
        elif is_dataclass(value) and not isinstance(value, (At, Inline)):
            for name in get_type_hints(type(value)):
                held = getattr(value, name)
                if held and "q" in str(held):
                    filled.add(f"{type(value).__name__}.{name}")
                go(held)

    go({name: getattr(guide, name) for name in get_type_hints(Guide) if name != "sightings"})
    # Ids are names of files and keys; a typed score is a word of characters.yaml.
    missing = {field for field in text_fields(Guide) if not field.endswith(".id")} - filled - {"Score.typed"}
    assert sorted(missing) == []


@pytest.mark.parametrize(("file", "word"), [(file, word) for file, word in TYPED if word not in SAID_ANYWAY])
def test_a_secret_place_named_in_any_text_is_told_with_file_and_line(tmp_path: Path, file: str, word: str) -> None:
    planted = FILES[file].replace(word, "weir-pool" if word in ("qaddress", "qsite", "qfilm", "qsoundaddress", "qsound") else SECRET)
    (line,) = (number for number, text in enumerate(FILES[file].split("\n"), 1) if re.search(rf"\b{word}\b", text))
    guide = read_guide(write(tmp_path, {**FILES, file: planted})).guide
    assert guide is not None
    told = {(f.at.file, f.at.line) for f in check_guide(guide).findings if f.code == "secret-place-named"}
    assert told == {(file, line)}


def test_nothing_is_told_where_nothing_is_planted(tmp_path: Path) -> None:
    guide = read_guide(write(tmp_path, FILES)).guide
    assert guide is not None
    assert [f for f in check_guide(guide).findings if f.code == "secret-place-named"] == []
    assert len(find_texts(guide)) > len(TYPED) - 5
