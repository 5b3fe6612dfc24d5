"""The guide itself on the desk: what guide.yaml says, and the places, sources, characters, terms and plants that accounts name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from guidebuild.desk.choices import Choice, list_choices
from guidebuild.desk.controls import Control, ControlMaker, make_field_id
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.entries import path_at
from guidebuild.desk.editing.wanted import RefusedError
from guidebuild.desk.new_records import FIRST_FIELDS, LISTS, SETTINGS, ListOfRecords, add_record, begin_guide
from guidebuild.desk.part import Part
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading import shipped_lists
from guidebuild.reading.block import Plain
from guidebuild.reading.kinds import Shape
from guidebuild.reading.settings_shape import SettingsShape
from guidebuild.reading.typed_file import NotChangeableError, open_typed

_FEW = 4
"""So many records stand open on their page; of more, each is opened when it is asked for."""


@dataclass(frozen=True, slots=True)
class RecordForm:
    """A record: its id, what it is called, its usual fields and those that few give."""

    id: str
    title: str
    fields: tuple[Control, ...]
    more: tuple[Control, ...]
    findings: tuple[str, ...]
    secret: bool
    """Whether it is a place that is kept secret."""


@dataclass(frozen=True, slots=True)
class ListLink:
    """A list of records, and how many it has."""

    name: str
    title: str
    count: int


@dataclass(frozen=True, slots=True)
class GuideView:
    """What the page shows: without a `kind` the fields of guide.yaml, else the records of one file. `blank` is a further record.

    There is no guide.yaml yet where `digest` is "" without a `kind`.
    """

    file: str
    digest: str = ""
    kind: str = ""
    title: str = ""
    about: str = ""
    broken: str = ""
    fields: tuple[Control, ...] = ()
    more: tuple[Control, ...] = ()
    records: tuple[RecordForm, ...] = ()
    open: bool = True
    blank: tuple[Control, ...] = ()
    lists: tuple[ListLink, ...] = ()
    choices: tuple[tuple[str, tuple[Choice, ...]], ...] = ()


def show_guide(desk: Desk, rest: str, _: Mapping[str, str]) -> GuideView | None:
    """The page of guide.yaml, or of a list by its name."""
    listed = LISTS.get(rest)
    if rest and listed is None:
        return None
    guide = desk.guide or _assume_guide()
    view = GuideView(listed.file if listed else SETTINGS, lists=tuple(_list_lists(desk)), choices=tuple(list_choices(guide, desk.say)))
    try:
        standing = desk.writer.read(view.file)
    except RefusedError as error:
        return replace(view, broken=str(error))
    maker = ControlMaker(view.file, guide, StageSet("", "", ()))
    findings = _sort_findings(desk, view.file)
    if listed is None:
        fields, more = _part_fields(maker, SettingsShape, standing.values, ())
        blank = () if standing.digest else _make_blank(maker, SettingsShape, SETTINGS)
        return replace(view, digest=standing.digest, fields=fields, more=more, blank=blank)
    return replace(
        view,
        digest=standing.digest,
        kind=rest,
        title=desk.say(listed.title),
        about=desk.say(listed.about),
        records=tuple(_make_records(maker, listed, standing.values, findings, _find_secret(guide, rest))),
        open=len(standing.values) <= _FEW,
        blank=_make_blank(maker, listed.shape, listed.file),
    )


def _assume_guide() -> Guide:
    """What can be chosen from before there is a guide.yaml."""
    return Guide(Settings(""), stage_sets=shipped_lists.stage_sets(), licences=shipped_lists.licences())


def _list_lists(desk: Desk) -> Iterator[ListLink]:
    counts: dict[str, int] = {}
    if guide := desk.guide:
        counts = {"places": len(guide.places), "sources": len(guide.sources), "characters": len(guide.characters),
                  "terms": len(guide.terms), "plants": len(guide.plants)}  # fmt: skip
    for name, listed in LISTS.items():
        yield ListLink(name, desk.say(listed.title), counts.get(name, 0))


def _part_fields(
    maker: ControlMaker, shape: type[Shape], values: Mapping[str, Plain], above: tuple[str, ...], file: str = SETTINGS
) -> tuple[tuple[Control, ...], tuple[Control, ...]]:
    """The controls of all fields: the usual ones and those that are given, then those that few give."""
    shown: list[Control] = []
    more: list[Control] = []
    for declared in shape.declared:
        made = maker.make_field(declared, values.get(declared.key), shape, above)
        (shown if declared.key in values or declared.key in FIRST_FIELDS[file] else more).append(made)
    return tuple(shown), tuple(more)


def _make_records(
    maker: ControlMaker, listed: ListOfRecords, values: Mapping[str, Plain], findings: Mapping[str, tuple[str, ...]], secret: frozenset[str]
) -> Iterator[RecordForm]:
    for record, said in values.items():
        given = said if isinstance(said, dict) else {}
        fields, more = _part_fields(maker, listed.shape, given, (record,), listed.file)
        yield RecordForm(record, str(given.get(listed.called) or record), fields, more, findings.get(record, ()), record in secret)


def _find_secret(guide: Guide, kind: str) -> frozenset[str]:
    return frozenset(place.id for place in guide.places.values() if place.sensitivity) if kind == "places" else frozenset()


def _make_blank(maker: ControlMaker, shape: type[Shape], file: str) -> tuple[Control, ...]:
    """The fields in which a new record is filled in, those that it needs first."""
    declared = {field.key: field for field in shape.declared}
    made = (maker.make_field(declared[key], None, shape, ("new",)) for key in FIRST_FIELDS[file])
    return tuple(sorted(made, key=lambda control: not control.needed))


def _sort_findings(desk: Desk, file: str) -> Mapping[str, tuple[str, ...]]:
    """What was found in a list file, by the record that it stands in."""
    found = [f for f in desk.findings if f.at.file == file and f.level is not Level.NOTE]
    sorted_: dict[str, list[str]] = {}
    for finding in found:
        sorted_.setdefault(_record_at(desk, finding), []).append(f"{finding.message} {finding.mend}".strip())
    return {record: tuple(dict.fromkeys(told)) for record, told in sorted_.items()}


def _record_at(desk: Desk, finding: Finding) -> str:
    try:
        path = path_at(open_typed(desk.folder, finding.at.file), finding.at.line)
    except NotChangeableError:
        return ""
    return str(path[0]) if path else ""


def locate_value(desk: Desk, at: At) -> str | None:
    """The field of guide.yaml, or of a record, in which a line stands."""
    page = next((name for name, listed in LISTS.items() if listed.file == at.file), "" if at.file == SETTINGS else None)
    if page is None:
        return None
    try:
        path = path_at(open_typed(desk.folder, at.file), at.line)
    except NotChangeableError:
        return None
    return f"{page}#{make_field_id(path)}" if path else page


PART = Part("guide", "The guide", show_guide, {"begin": begin_guide, "new": add_record}, locate_value)
