"""A list of species → a draft account for each, with what could be understood filled in and the rest beside its question."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from guidebuild.authoring import draft_account
from guidebuild.bringing.plan import Brought, Coming, Unused
from guidebuild.bringing.species_columns import ListRow
from guidebuild.guide.account_fields import SECTIONS
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName, Standing
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.resolve import find_account, fold_name
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.text.denied import is_nothing
from guidebuild.reading.folder import same_name
from guidebuild.reading.season_words import season_vocabulary
from guidebuild.reading.typed_file import write_scalar

_SAID_PLAINLY = ("vernacular", "family", "status", "prey", "voice")
_LISTS = ("also called", "synonyms", "habitat")
_HEADINGS = tuple(section.key for section in SECTIONS)


@dataclass(slots=True)
class _Drafting:
    """What is gathered while rows are read, one after the other."""

    guide: Guide
    shown: str
    taken: set[str]
    drafts: dict[str, Account] = field(default_factory=dict)
    rows: dict[str, int] = field(default_factory=dict)
    named: dict[str, tuple[ListRow, ScientificName, str]] = field(default_factory=dict)
    texts: dict[str, tuple[ScientificName, dict[str, str], list[tuple[str, str]]]] = field(default_factory=dict)
    unused: list[Unused] = field(default_factory=list)

    def leave(self, row: ListRow, why: str) -> None:
        """Tell why a row is not used."""
        self.unused.append(Unused(f"{self.shown}, row {row.number}", why))


@dataclass(frozen=True, slots=True)
class Drafts:
    """New accounts, as the rest of what is brought may name them, and what each draft says; `write_drafts` makes files of them."""

    accounts: Mapping[str, Account]
    texts: Mapping[str, tuple[ScientificName, Mapping[str, str], Sequence[tuple[str, str]]]]
    unused: tuple[Unused, ...]


def draft_species(guide: Guide, shown: str, rows: Sequence[ListRow]) -> Drafts:
    """A draft for each row that names a species which the guide has not; `shown` is the list's name."""
    state = _Drafting(guide, shown, {same_name(account) for account in guide.accounts})
    for row in rows:
        _draft_row(row, state)
    # A row may name species of rows below it, so all are known before any is answered.
    whole = replace(guide, accounts={**guide.accounts, **state.drafts})
    for account, (row, name, vernacular) in state.named.items():
        given, beside = _answer(row, vernacular, whole, account)
        state.texts[account] = (name, given, beside)
    return Drafts(state.drafts, state.texts, tuple(state.unused))


def _draft_row(row: ListRow, state: _Drafting) -> None:
    name = _read_name(row)
    if isinstance(name, Unreadable):
        state.leave(row, f"{name.message} {name.mend}".strip())
        return
    if name.standing is not Standing.CERTAIN or not (name.epithet or name.hybrid == "formula"):
        state.leave(row, f"“{name.typed}” is no single species")
        return
    known = find_account(state.guide, name.plain)
    if known is not None:
        state.leave(row, f"{name.plain} has its account already, in {known.at.file}")
        return
    if before := state.rows.get(fold_name(name.plain)):
        state.leave(row, f"{name.plain} stands in row {before} too; that row is used")
        return
    vernacular = row.said.get("vernacular", "") or _common_in_name(row)
    account = _free_id(vernacular or name.plain, name, state)
    state.rows[fold_name(name.plain)] = row.number
    state.taken.add(same_name(account))
    state.drafts[account] = Account(account, name, vernacular=vernacular, at=At(f"accounts/{account}.md"))
    state.named[account] = (row, name, vernacular)


def _free_id(called: str, name: ScientificName, state: _Drafting) -> str:
    plain = make_id(name.plain, "account")
    account = make_id(called, plain)
    return account if same_name(account) not in state.taken else plain


def _read_name(row: ListRow) -> ScientificName | Unreadable:
    """The scientific name of a row: from its own column, from genus and epithet, or from a column that may hold either name."""
    typed = row.said.get("scientific name", "") or f"{row.said.get('genus', '')} {row.said.get('epithet', '')}".strip()
    if not typed or (" " not in typed and row.said.get("name")):
        typed = row.said.get("name", "")
    if not typed:
        called = row.said.get("vernacular", "")
        return Unreadable(f"“{called}” has no scientific name" if called else "there is no name", "Add a column “scientific name”.")
    name = parse_name(typed)
    if isinstance(name, Unreadable):
        return name
    authority = row.said.get("authority", "")
    return parse_name(typed, authority) if authority and not name.authority else name


def _common_in_name(row: ListRow) -> str:
    """What stands under “name” or “species” where the scientific name has a column of its own."""
    other = row.said.get("name", "")
    return other if other and row.said.get("scientific name") and isinstance(parse_name(other), Unreadable) else ""


def _answer(row: ListRow, vernacular: str, guide: Guide, account: str) -> tuple[dict[str, str], list[tuple[str, str]]]:
    """What a draft gives, by key, and what stands beside a question because it could not be understood."""
    said = dict(row.said) | ({"vernacular": vernacular} if vernacular else {})
    given = {key: write_scalar(said[key], in_list=False) for key in _SAID_PLAINLY if said.get(key)}
    given |= {key: _write_list(said[key]) for key in _LISTS if said.get(key)}
    beside: list[tuple[str, str]] = []
    group = guide.stage_sets.get(guide.settings.group, StageSet("", "", ()))
    if season := said.get("season"):
        _answer_season(season, group, guide, given, beside)
    if size := said.get("size"):
        read = parse_measure(size)
        if isinstance(read, Unreadable):
            beside.append(("size", size))
        else:
            given["size"] = write_scalar(size, in_list=False)
    if food := said.get("food"):
        beside.append(("host plants", food))
    if similar := said.get("similar"):
        _answer_similar(similar, guide, account, given, beside)
    given |= {heading: said[heading.casefold()] for heading in _HEADINGS if said.get(heading.casefold())}
    if notes := said.get("notes"):
        given["In brief"] = notes
    beside += [("", f"{head}: {cell}") for head, cell in row.others]
    return given, beside


def _answer_similar(typed: str, guide: Guide, account: str, given: dict[str, str], beside: list[tuple[str, str]]) -> None:
    """Look-alikes by any of their names; those that are no accounts stay beside the question."""
    named = [name.strip() for name in typed.replace(";", ",").split(",") if name.strip()]
    found = {name: find_account(guide, name) for name in named}
    ids = dict.fromkeys(one.id for one in found.values() if one is not None and one.id != account)
    if is_nothing(typed):
        given["similar"] = "none"
    elif ids:
        given["similar"] = "".join(f"\n  - account: {one}" for one in ids)
    if left := [name for name, one in found.items() if one is None and not is_nothing(name)]:
        beside.append(("similar", ", ".join(left)))


def _answer_season(typed: str, group: StageSet, guide: Guide, given: dict[str, str], beside: list[tuple[str, str]]) -> None:
    """A season is that of the stage which one looks for; where several are looked for, the last in the order of life."""
    read = parse_season(typed, guide.settings.hemisphere, season_vocabulary(guide.settings.languages))
    stage = group.keyed or next(iter(reversed(group.sought or group.ids)), "")
    if isinstance(read, Unreadable) or not stage:
        beside.append(("seasons", typed))
    else:
        given["seasons"] = f"\n  {stage}: {write_scalar(typed, in_list=False)}"


def _write_list(typed: str) -> str:
    items = [item.strip() for item in typed.replace(";", ",").split(",")]
    return f"[{', '.join(write_scalar(item) for item in items if item)}]"


def write_drafts(guide: Guide, drafts: Drafts, photos: Mapping[str, Sequence[str]], shown: str) -> Brought:
    """The files of drafts, with the photos that came with them."""
    files = []
    for account, (name, given, beside) in drafts.texts.items():
        own = photos.get(account, ())
        answers = dict(given) | ({"photos": f"[{', '.join(own)}]"} if own else {})
        text = _put_beside(draft_account(guide, name, answers), beside, shown)
        called = drafts.accounts[account].vernacular
        files.append(Coming(f"accounts/{account}.md", f"draft: {called or name.plain}", text=text))
    return Brought(tuple(files), unused=drafts.unused)


def _put_beside(text: str, beside: Sequence[tuple[str, str]], shown: str) -> str:
    """What could not be understood, as comments: below the question that it may answer, else before the end of the facts."""
    lines = text.split("\n")
    for key, said in beside:
        comment = f"#   {shown} says: {said}"
        at = next((number for number, line in enumerate(lines) if key and line.startswith(f"# {key}:")), None)
        lines.insert(at + 1 if at is not None else lines.index("---", 1), comment)
    return "\n".join(lines)
