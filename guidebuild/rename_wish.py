"""What is to be renamed, as the words of the command say it: what they mean is looked for before anything is changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import is_id, make_id
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.resolve import find_account, names_of
from guidebuild.reading.file_shapes import LIST_FILES

KINDS = ("account", *(kind for kind, _ in LIST_FILES.values()))
"""What can be renamed."""
_HOME = {kind: file for file, (kind, _) in LIST_FILES.items()}


class CannotRenameError(SaidInOneLineError):
    """What was asked cannot be done; the message says why and what to write."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be renamed: the kind of record, its id, the id and the scientific name that it is to have ("" and None: as before).

    `by_hand` is an account whose file has its new name already.
    """

    kind: str
    old: str
    new: str = ""
    name: ScientificName | None = None
    by_hand: bool = False


def read_wish(guide: Guide, old: str, wanted: Sequence[str]) -> Wish:
    """What the words of the command mean; raises CannotRenameError with what to write instead."""
    new_id, name = _read_new(wanted)
    kind, record_id, by_hand = _find_record(guide, old.strip(), new_id)
    if kind != "account" and name is not None:
        raise CannotRenameError(f"“{record_id}” is a {kind}: only accounts get a new scientific name here.")
    new_id = "" if new_id == record_id else new_id
    if name is not None and _has_name(guide.accounts[new_id if by_hand else record_id], name):
        if not new_id:
            raise CannotRenameError(f"“{name.typed}” is the name of accounts/{record_id}.md already.")
        name = None
    if not new_id and name is None:
        raise CannotRenameError(f"“{record_id}” is called so already. Give another name.")
    if not by_hand:
        _refuse_taken(guide, kind, record_id, new_id)
    if name is not None:
        claimed = find_account(guide, name.plain)
        if claimed is not None and claimed.id not in (record_id, new_id):
            raise CannotRenameError(f"{claimed.at.file} is the account of {name.plain} already.")
    return Wish(kind, record_id, new_id, name, by_hand)


def _read_new(wanted: Sequence[str]) -> tuple[str, ScientificName | None]:
    """The new id and the new scientific name among one or two words."""
    new_id, name = "", None
    for word in wanted:
        parsed = parse_name(word)
        if is_id(word) and not new_id:
            new_id = word
        elif isinstance(parsed, ScientificName) and name is None:
            name = parsed
        elif isinstance(parsed, Unreadable) and not is_id(word):
            raise CannotRenameError(_refuse_word(word, parsed))
        else:
            raise CannotRenameError("Give one new file name, one new scientific name, or one of each.")
    return new_id, name


def _refuse_word(word: str, as_name: Unreadable) -> str:
    """Why a word is neither an id nor a scientific name, which has a space in it."""
    better = make_id(word, "")
    if " " in word.strip():
        such_as = f", and no file name; that would be {better}" if better else ""
        return f"“{word}” is no scientific name{such_as}. {as_name.message} {as_name.mend}"
    such_as = f" Write {better}." if better and better != word else ""
    return f"“{word}” cannot be a file name or id: those have small letters, digits and hyphens.{such_as}"


def _has_name(account: Account, name: ScientificName) -> bool:
    return account.name.plain == name.plain and name.authority in ("", account.name.authority)


def tables_of(guide: Guide) -> dict[str, Mapping[str, object]]:
    """The records of each kind that can be renamed, by id."""
    return {
        "account": guide.accounts,
        "plant": guide.plants,
        "place": guide.places,
        "character": guide.characters,
        "term": guide.terms,
        "source": guide.sources,
        "photo": guide.photos,
        "film": guide.films,
        "sound": guide.sounds,
    }


def _find_record(guide: Guide, typed: str, new_id: str) -> tuple[str, str, bool]:
    """Kind and id of what is meant, and whether it is an account whose file was renamed by hand."""
    tables = tables_of(guide)
    kind, colon, rest = typed.partition(":")
    if colon and kind in KINDS:
        tables, typed = {kind: tables[kind]}, rest.strip()
    account = find_account(guide, typed) if "account" in tables else None
    if account is not None and account.id == new_id and account.id != typed and typed in account.formerly:
        return "account", typed, True
    meant = [(kind, typed) for kind, known in tables.items() if typed in known]
    meant = meant or ([("account", account.id)] if account else [])
    if len(meant) == 1:
        return (*meant[0], False)
    if meant:
        shown = " or ".join(f"{kind}:{record_id}" for kind, record_id in meant)
        raise CannotRenameError(f"“{typed}” is the id of more than one thing. Write {shown}.")
    if typed in guide.unread:
        raise CannotRenameError(f"accounts/{typed}.md cannot be read. Mend what `guidebuild check` says of it first.")
    if "account" in tables and new_id in guide.accounts:
        return "account", typed, True
    known = [*(i for table in tables.values() for i in table), *(n for a in guide.accounts.values() for n in names_of(a))]
    near = get_close_matches(typed, known, n=1)
    raise CannotRenameError(f"There is no account, {', '.join(KINDS[1:-1])} or {KINDS[-1]} “{typed}”."
                            + (f" Did you mean “{near[0]}”?" if near else ""))  # fmt: skip


def _refuse_taken(guide: Guide, kind: str, old: str, new: str) -> None:
    if new and new in tables_of(guide)[kind]:
        home = f"accounts/{new}.md" if kind == "account" else f"The {kind} “{new}” of {_HOME[kind]}"
        raise CannotRenameError(f"{home} exists already. Choose another name.")
    if kind != "account" or not new:
        return
    if new in guide.unread:
        raise CannotRenameError(f"accounts/{new}.md exists already, and cannot be read. Choose another name.")
    former = next((a for a in guide.accounts.values() if new in a.formerly and a.id != old), None)
    if former is not None:
        raise CannotRenameError(
            f"“{new}” is a former name of {former.at.file}, whose old address it is. Choose another, or take it out of `formerly:` there."
        )
