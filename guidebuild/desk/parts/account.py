"""An account on the desk: all its facts as fields, its words with the live page beside them, what it does not say yet."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from guidebuild.checks.complete import PARTS, find_asked_parts, measure_completeness
from guidebuild.desk.account_changes import add_draft, rename_account, set_typed
from guidebuild.desk.choices import Choice, list_choices
from guidebuild.desk.controls import Control, ControlMaker, make_field_id
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.entries import path_at
from guidebuild.desk.editing.section_text import heading_at
from guidebuild.desk.editing.wanted import Path, RefusedError
from guidebuild.desk.many_accounts import list_fields, set_accounts
from guidebuild.desk.part import Part
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.block import Plain
from guidebuild.reading.folder import TRANSLATION
from guidebuild.reading.typed_file import NotChangeableError, TypedFile, open_typed
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view

_FOLDER, _ENDING = "accounts/", ".md"
_ASKED = frozenset(part.code for part in PARTS)
_LINKED = ("account", "term", "plant", "place", "photo")
"""Kinds of records that words can lead to, in the order of the picker."""


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that the account does not say yet: the question, and the field that answers it."""

    question: str
    field: str


@dataclass(frozen=True, slots=True)
class AccountRow:
    """One account in the list of all."""

    id: str
    name: NameView
    said: int
    asked: int
    secret: bool
    """Whether its places are kept secret."""


@dataclass(frozen=True, slots=True)
class AccountView:
    """All that the page of one account shows; without an `id`, the list of all. `broken` says why its file cannot be read."""

    id: str = ""
    file: str = ""
    digest: str = ""
    name: NameView | None = None
    broken: str = ""
    fields: tuple[Control, ...] = ()
    more: tuple[Control, ...] = ()
    """Fields that few accounts fill in, none of which this one does."""
    sections: tuple[Control, ...] = ()
    headings: tuple[str, ...] = ()
    """Of sections that usually stand in an account, and do not in this one."""
    missing: tuple[Missing, ...] = ()
    said: int = 0
    asked: int = 0
    findings: tuple[str, ...] = ()
    """What was found in the file and belongs to no field."""
    choices: tuple[tuple[str, tuple[Choice, ...]], ...] = ()
    linked: tuple[str, ...] = _LINKED
    has_page: bool = False
    accounts: tuple[AccountRow, ...] = ()
    of_many: tuple[Control, ...] = ()
    """Fields that can be filled in for many accounts at once."""
    before: str = ""
    after: str = ""
    plate: str = ""
    """Its first photo."""
    secret: bool = False
    """Whether its places are kept secret."""


def show_account(desk: Desk, rest: str, _: Mapping[str, str]) -> AccountView | None:
    """The page of an account, or of all of them; None where there is no such account."""
    guide = desk.guide
    if guide is None:
        return AccountView() if not rest else None
    if not rest:
        of_many = tuple(list_fields(guide, _group_of(guide, None)))
        return AccountView(accounts=tuple(_list_accounts(guide)), of_many=of_many, choices=tuple(list_choices(guide, desk.say)))
    file = f"{_FOLDER}{rest}{_ENDING}"
    if "/" in rest or not (desk.folder / file).is_file():
        return None
    account = guide.accounts.get(rest)
    language = guide.settings.language
    name = name_view(account, language, language) if account else None
    has_page = desk.published is not None and rest in desk.published.accounts
    before, after = _find_neighbours(guide, rest)
    plate = next((photo for photo in account.photos if photo in guide.photos), "") if account else ""
    choices = tuple(list_choices(guide, desk.say))
    secret = bool(account and account.sensitivity)
    view = AccountView(
        rest, file, name=name, has_page=has_page, choices=choices, before=before, after=after, plate=plate, secret=secret
    )  # fmt: skip
    try:
        standing = desk.writer.read(file)
        typed = open_typed(desk.folder, file)
    except (RefusedError, NotChangeableError) as error:
        return replace(view, broken=str(error))
    findings = _sort_findings(desk.findings, typed)
    fields, more = _make_fields(guide, account, file, standing.values, findings)
    sections = tuple(_make_sections(guide, account, standing.values, findings))
    done = measure_completeness(guide, account) if account else None
    return replace(
        view,
        digest=standing.digest,
        fields=fields,
        more=more,
        sections=sections,
        headings=tuple(s.key for s in SECTIONS if f"## {s.key}" not in standing.values and not _group_of(guide, account).asks(s.key)),
        missing=tuple(_find_missing(guide, account)) if account else (),
        said=done.said if done else 0,
        asked=done.asked if done else 0,
        findings=findings.get("", ()),
    )


def _find_neighbours(guide: Guide, account: str) -> tuple[str, str]:
    """The accounts before and after, in the order of the list."""
    every = list(guide.accounts)
    at = every.index(account) if account in guide.accounts else -1
    return (every[at - 1] if at > 0 else "", every[at + 1] if 0 <= at < len(every) - 1 else "")


def _list_accounts(guide: Guide) -> Iterator[AccountRow]:
    language = guide.settings.language
    for account in guide.accounts.values():
        done = measure_completeness(guide, account)
        yield AccountRow(account.id, name_view(account, language, language), done.said, done.asked, bool(account.sensitivity))


def _group_of(guide: Guide, account: Account | None) -> StageSet:
    return guide.stage_set(account) if account else guide.stage_sets.get(guide.settings.group, StageSet("", "", ()))


def _make_fields(
    guide: Guide, account: Account | None, file: str, values: Mapping[str, Plain], findings: Mapping[str, tuple[str, ...]]
) -> tuple[tuple[Control, ...], tuple[Control, ...]]:
    """The controls of all facts: those that are given or asked, and those that few accounts have."""
    group = _group_of(guide, account)
    maker = ControlMaker(file, guide, group)
    shown: list[Control] = []
    more: list[Control] = []
    for declared in ACCOUNT_FIELDS:
        made = replace(maker.make_field(declared, values.get(declared.key)), findings=findings.get(make_field_id((declared.key,)), ()))
        asked = declared.key == "name" or (declared.question and group.asks(declared.key))
        (shown if declared.key in values or asked or made.findings else more).append(made)
    return tuple(shown), tuple(more)


def _make_sections(
    guide: Guide, account: Account | None, values: Mapping[str, Plain], findings: Mapping[str, tuple[str, ...]]
) -> Iterator[Control]:
    """A control for each section that stands there or is asked for, in the order of the file."""
    group = _group_of(guide, account)
    declared = {f"## {section.key}": section for section in SECTIONS}
    there = [key for key in values if key.startswith("##")]
    for key in dict.fromkeys((*there, *(key for key, section in declared.items() if group.asks(section.key)))):
        section = declared.get(key)
        base = Control(
            make_field_id((key,)), json.dumps([key]), "section", key.removeprefix("##").strip(), value=str(values.get(key) or "")
        )
        question = dict(group.questions).get(section.key, section.question) if section else ""
        yield replace(base, value=str(values.get(key) or ""), help=question, findings=findings.get(base.id, ()))


def _find_missing(guide: Guide, account: Account) -> Iterator[Missing]:
    group = guide.stage_set(account)
    for part in find_asked_parts(guide, account, guide.settings.level):
        if not part.said(guide, account):
            path: Path = (f"## {part.asked_as}",) if part.key == "sections" else (part.key_in(group),)
            yield Missing(part.question_in(group), make_field_id(path))


def _sort_findings(findings: Iterable[Finding], typed: TypedFile) -> dict[str, tuple[str, ...]]:
    """What was found in a file, by the top field that it stands in ("" for none)."""
    sorted_: dict[str, list[str]] = {}
    for finding in sorted(findings, key=lambda f: -f.level.weight):
        # What the account does not say yet stands in a list of its own.
        if finding.at.file == typed.file and finding.level is not Level.NOTE and finding.code not in _ASKED:
            path = _path_of(typed, finding.at.line)
            told = f"{finding.message} {finding.mend}".strip()
            sorted_.setdefault(make_field_id(path[:1]) if path else "", []).append(told)
    return {key: tuple(dict.fromkeys(told)) for key, told in sorted_.items()}


def _path_of(typed: TypedFile, line: int) -> Path:
    heading = heading_at(typed, line)
    return (heading,) if heading is not None else path_at(typed, line)


def locate_field(desk: Desk, at: At) -> str | None:
    """The field of an account in which a line of its file stands."""
    stem = at.file.removeprefix(_FOLDER).removesuffix(_ENDING)
    if f"{_FOLDER}{stem}{_ENDING}" != at.file or "/" in stem or TRANSLATION.fullmatch(stem):
        return None
    try:
        path = _path_of(open_typed(desk.folder, at.file), at.line)
    except NotChangeableError:
        return stem
    return f"{stem}#{make_field_id(path)}" if path else stem


PART = Part(
    "account",
    "Accounts",
    show_account,
    {"typed": set_typed, "new": add_draft, "rename": rename_account, "many": set_accounts},
    locate_field,
)
