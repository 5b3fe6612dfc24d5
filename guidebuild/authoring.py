"""New files for authors: a small guide to start from, and a draft account with every question to answer.

Nothing that exists is ever written over.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from guidebuild.checks.complete import PARTS, SECTIONS
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.resolve import find_account
from guidebuild.shipped import content, on_disk
from guidebuild.speech.timing import Pace

_PACE = re.compile(r"^pace:[ \t]*(?P<inline>\{[^{}\r\n]*\}[ \t]*(?:#[^\r\n]*)?)?(?=\r?$)", re.MULTILINE)


class CannotWriteError(SaidInOneLineError):
    """The asked file or folder cannot be written; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Written:
    """Files that were written, relative to the guide's folder."""

    folder: Path
    files: tuple[str, ...]


def start_guide(folder: Path) -> Written:
    """Write the starter guide into an empty or new folder.

    Raises CannotWriteError where the folder holds anything, or cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise CannotWriteError(f"{folder} is not empty. Give a new folder, or an empty one.")
    source = on_disk(content().joinpath("starter"))
    files = sorted(path.relative_to(source) for path in source.rglob("*") if path.is_file())
    try:
        for file in files:
            target = folder / file
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes((source / file).read_bytes())
    except OSError as error:
        raise CannotWriteError(f"{folder} cannot be written: {error.strerror}. Choose another folder.") from error
    return Written(folder, tuple(file.as_posix() for file in files))


def add_account(folder: Path, guide: Guide, typed: str, *, vernacular: str = "") -> Written:
    """Write accounts/<id>.md for a scientific name, with what can be worked out and a question for the rest.

    Raises CannotWriteError where the name cannot be read or the guide has such an account.
    """
    name = parse_name(typed)
    if isinstance(name, Unreadable):
        raise CannotWriteError(f"{name.message} {name.mend}".strip())
    known = find_account(guide, name.plain)
    if known is not None:
        raise CannotWriteError(f"{known.at.file} is already the account of {name.plain}.")
    account_id = _id_of(vernacular or name.plain)
    target = folder / "accounts" / f"{account_id}.md"
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("x", encoding="utf-8", newline="\n") as file:
            file.write(draft(guide, name, vernacular))
    except FileExistsError as error:
        raise CannotWriteError(f"accounts/{account_id}.md exists already. Give another --vernacular name.") from error
    except OSError as error:
        raise CannotWriteError(f"accounts/{account_id}.md cannot be written: {error.strerror}.") from error
    return Written(folder, (f"accounts/{account_id}.md",))


def save_pace(folder: Path, pace: Pace) -> None:
    """Write a fitted pace as one line of guide.yaml, in place of the one that is there; all else stays to the byte.

    Raises CannotWriteError where guide.yaml cannot be written, or its pace spans several lines.
    """
    file = folder / "guide.yaml"
    told = ", ".join(f"{name}: {getattr(pace, name):.2f}" for name in ("syllables", "comma", "sentence", "paragraph"))
    line = f"pace: {{{told}}}"
    try:
        text = file.read_bytes().decode("utf-8-sig")
        found = _PACE.search(text)
        if found and not found["inline"]:
            raise CannotWriteError(f"The pace in {file} spans several lines. Replace them by: {line}")
        newline = "\r\n" if "\r\n" in text else "\n"
        changed = f"{text[: found.start()]}{line}{text[found.end() :]}" if found else f"{text.rstrip()}{newline}{line}{newline}"
        coming = file.with_name("guide.yaml.coming")
        coming.write_bytes(changed.encode())
        coming.replace(file)
    except OSError as error:
        raise CannotWriteError(f"{file} cannot be written: {error.strerror}. Add this line to it: {line}") from error


def draft(guide: Guide, name: ScientificName, vernacular: str = "") -> str:
    """The text of a draft account: known facts filled in, every other key behind a # with its question."""
    relatives = [a for a in guide.accounts.values() if a.name.genus == name.genus and name.genus]
    family = next((a.family for a in relatives if a.family), "")
    group = guide.settings.group
    stages = guide.stage_sets[group].stages if group in guide.stage_sets else ()
    asked_stages = [f"#   {stage}:" + ("" if words == stage else f"  # {words}") for stage, words in stages]
    questions = {part.key: part.question for part in PARTS if part.key != "sections"}
    lines = ["---", f"name: {name.plain}"]
    lines.append(f"authority: {name.authority}" if name.authority else "# authority: (Who described it, and when? As in: (Linnaeus, 1758))")
    lines.append(f"vernacular: {vernacular}" if vernacular else f"# vernacular:        # {questions['vernacular']}")
    lines.append(f"family: {family}" if family else f"# family:            # {questions['family']}")
    lines += [f"# size: 6–9 mm body length   # {questions['size']}", "# status: common"]
    lines += [f"# diagnostics:       # {questions['diagnostics']}", *_MARK]
    lines += _similar(relatives, questions["similar"])
    lines += [f"# host plants: none  # {questions['host plants']}", "# prey:"]
    lines.append(f"# habitat: []        # {questions['habitat']}")
    lines += [f"# seasons:           # {questions['seasons']}", *asked_stages]
    lines += [f"# life stages:       # {questions['life stages']}", *asked_stages]
    lines += _characters(guide, questions["characters"])
    lines += [f"# photos: []         # {questions['photos']}", f"# hazards: none      # {questions['hazards']}"]
    lines += [f"# sources: []        # {questions['sources']}", "# reviewed: {by: , on: }   # " + questions["reviewed"], "---"]
    asked = {part.words: part.question for part in PARTS if part.key == "sections"}
    for heading in SECTIONS:
        lines += ["", f"## {heading}", "", f"<!-- {asked[heading]} -->"]
    return "\n".join(lines) + "\n"


_MARK = (
    "#   - mark: ",
    "#     stage: adult",
    "#     view: upperside",
    "#     photo: ",
    "#     at: 50, 40        # per cent across and down the photo",
)


def _similar(relatives: list[Account], question: str) -> list[str]:
    if not relatives:
        return [f"# similar: none      # {question}"]
    entries = [f"#   - account: {relative.id}   # same genus" for relative in relatives]
    return [f"# similar:           # {question}", *entries]


def _characters(guide: Guide, question: str) -> list[str]:
    if not guide.characters:
        return []
    lines = [f"# characters:        # {question}"]
    for character in guide.characters.values():
        choice = " | ".join(s.id for s in character.states) or f"a range in {character.unit or 'mm'}"
        lines.append(f"#   {character.id}:    # {choice}")
    return lines


def _id_of(text: str) -> str:
    """A file name from a name: lower case, accents off, words joined by hyphens."""
    plain = text.replace("×", "x").casefold()
    folded = "".join(c for c in unicodedata.normalize("NFKD", plain) if c.isascii())
    return re.sub(r"[^a-z0-9]+", "-", folded).strip("-") or "account"
