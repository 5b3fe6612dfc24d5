"""A record gets another id, an account another scientific name: all that names it is found first, and changed at once."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from yaml.nodes import MappingNode, ScalarNode

from guidebuild.changes import Changes
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import is_id
from guidebuild.reading.account_edits import add_former, rename_in_account
from guidebuild.reading.file_shapes import LIST_FILES
from guidebuild.reading.films import FILE as FILMS
from guidebuild.reading.films import said_file
from guidebuild.reading.folder import TRANSLATION, look_into
from guidebuild.reading.named_ids import find_named_ids, find_written_ids
from guidebuild.reading.notes import Notes
from guidebuild.reading.place_cells import TEXTS, find_place_cells
from guidebuild.reading.posted import noted_file
from guidebuild.reading.sighting_tables import SHEETS
from guidebuild.reading.sighting_words import FILE as WORDS
from guidebuild.reading.sighting_words import shipped_words
from guidebuild.reading.typed_file import Edit, TypedFile, open_typed
from guidebuild.rename_wish import CannotRenameError, Wish, tables_of


@dataclass(frozen=True, slots=True)
class Renaming:
    """All that a renaming changes, where, and the places that still say the old name in words."""

    changes: Changes
    places: tuple[At, ...]
    still_said: tuple[tuple[At, str], ...] = field(default=())
    advice: tuple[str, ...] = ()


def plan_renaming(folder: Path, guide: Guide, wish: Wish) -> Renaming:
    """All that changes; nothing is written. Raises NotChangeableError where a file cannot be read or changed safely."""
    files = look_into(folder, Notes()).files
    edits = {typed: list(_edits_of(typed, guide, wish)) for typed in (open_typed(folder, file) for file in _read_files(files))}
    moves = dict(_moves(guide, files, wish))
    if wish.by_hand and not moves and not any(made for typed, made in edits.items() if typed.file != f"accounts/{wish.new}.md"):
        raise CannotRenameError(f"There is no account “{wish.old}”, and nothing names it. Is the first name spelt as it was?")
    written = {moves.get(typed.file, typed.file): typed.changed(made) for typed, made in edits.items() if made}
    places = [typed.at(edit.start) for typed, made in edits.items() for edit in made]
    if wish.kind == "place" and wish.new:
        words = guide.sighting_words or shipped_words()
        for file in (file for file in files if file.startswith("sightings/") and file.lower().endswith(TEXTS)):
            changed, lines = find_place_cells(folder / file, wish.old, wish.new, words)
            written |= {file: changed} if lines else {}
            places += [At(file, line) for line in lines]
    texts = {typed.file: typed.changed(made).decode("utf-8-sig") for typed, made in edits.items()}
    said = tuple(_find_said(texts, guide, wish))
    return Renaming(Changes(written, tuple(moves.items())), tuple(sorted(places)), said, tuple(_give_advice(guide, files, wish)))


def _read_files(files: Sequence[str]) -> Iterator[str]:
    """The files in which records may be named: those that the reader reads."""
    for file in files:
        in_folder = file.count("/") == 1 and ((file.startswith(("accounts/", "episodes/")) and file.endswith(".md"))
                                              or (file.startswith("walks/") and file.endswith(".yaml")))  # fmt: skip
        if file in ("guide.yaml", WORDS) or file in LIST_FILES or in_folder:
            yield file


def _edits_of(typed: TypedFile, guide: Guide, wish: Wish) -> Iterator[Edit]:
    own = f"accounts/{wish.new if wish.by_hand else wish.old}.md"
    if wish.kind == "account" and typed.file == own:
        if wish.name is not None:
            yield from rename_in_account(typed, guide.accounts[PurePosixPath(own).stem], wish.name)
        if wish.new and is_id(wish.old):
            yield from add_former(typed, wish.old, wish.new)
    if not wish.new:
        return
    for named in find_named_ids(typed):
        if named.kind == wish.kind and (text := _new_text(guide, wish, named.node.value)):
            yield typed.replace_scalar(named.node, text)
    yield from find_written_ids(typed, wish.kind, wish.old, wish.new)
    if wish.kind == "account" and typed.file == FILMS:
        yield from _edit_scripts(typed, guide, wish)


def _edit_scripts(typed: TypedFile, guide: Guide, wish: Wish) -> Iterator[Edit]:
    """Scripts of films that are drafted for the account: they are called by it."""
    drafted = {f"{wish.old}-{slot.name}": f"{wish.new}-{slot.name}" for slot in guide.settings.episode_slots}
    for film in (value for _, value in typed.root.value if isinstance(value, MappingNode)) if typed.root else ():
        for key, value in film.value:
            if key.value == "script" and isinstance(value, ScalarNode) and value.value not in guide.episodes and value.value in drafted:
                yield typed.replace_scalar(value, drafted[value.value])


def _new_text(guide: Guide, wish: Wish, typed: str) -> str:
    """What is written in place of an id; nothing where something else is meant."""
    if typed.strip() == wish.old:
        return wish.new
    # Characters may be named with spaces for hyphens; where that is the label too, it leads there as before.
    if wish.kind == "character" and _spaced(typed) == _spaced(wish.old) and _spaced(guide.characters[wish.old].label) != _spaced(typed):
        return wish.new.replace("-", " ")
    return ""


def _spaced(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").split())


def _moves(guide: Guide, files: Sequence[str], wish: Wish) -> Iterator[tuple[str, str]]:
    """Files that get another name: an account's and its translations', and a photo's that is called as its id."""
    if not wish.new:
        return
    if wish.kind == "account":
        for file in files:
            stem = file.removeprefix("accounts/").removesuffix(".md")
            match = TRANSLATION.fullmatch(stem)
            if file == f"accounts/{wish.old}.md":
                yield file, f"accounts/{wish.new}.md"
            elif file == f"accounts/{stem}.md" and match and match["id"] == wish.old:
                yield _unless_there(file, f"accounts/{wish.new}.{match['language']}.md", files)
    if wish.kind == "account" and (noted := noted_file(wish.old)) in files:
        yield _unless_there(noted, noted_file(wish.new), files)
    if wish.kind == "film" and (said := said_file(wish.old)) in files:
        yield _unless_there(said, said_file(wish.new), files)
    if wish.kind == "photo":
        picture = PurePosixPath(guide.photos[wish.old].file)
        if picture.stem == wish.old and str(picture) in files and not _gives_file(guide, wish.old):
            yield _unless_there(str(picture), f"photos/{wish.new}{picture.suffix}", files)


def _gives_file(guide: Guide, photo: str) -> bool:
    return "file" in guide.photos[photo].positions


def _unless_there(old: str, new: str, files: Sequence[str]) -> tuple[str, str]:
    if new in files:
        raise CannotRenameError(f"{old} would become {new}, which exists already. Choose another name, or move that file away.")
    return old, new


def _find_said(texts: Mapping[str, str], guide: Guide, wish: Wish) -> Iterator[tuple[At, str]]:
    """Places in what the files will say where the old name still stands in words, remarks included."""
    patterns = list(_old_words(guide, wish))
    for file, text in texts.items():
        starts = [0, *(match.end() for match in re.finditer("\n", text))]
        for match in (match for pattern in patterns for match in pattern.finditer(text) if match[0] != (wish.new or wish.old)):
            line = sum(1 for start in starts if start <= match.start())
            shown = text[starts[line - 1] :].partition("\n")[0].strip()
            if not re.match(r"(formerly|synonyms):", shown) and not _stands_in_list(text, match.start()):
                yield At(file, line), shown


def _old_words(guide: Guide, wish: Wish) -> Iterator[re.Pattern[str]]:
    """What the old id and the old scientific name look like in a text; words that are a name still are not looked for."""
    if wish.new:
        is_name_still = _spaced(wish.old) in {_spaced(name) for name in _current_names(guide, wish)}
        yield re.compile(rf"(?<![\w-]){re.escape(wish.old)}(?![\w-])") if is_name_still else _pattern(wish.old)
    account = guide.accounts.get(wish.new if wish.by_hand else wish.old)
    if account is not None and wish.name is not None and account.name.plain != wish.name.plain:
        genus, _, rest = account.name.plain.partition(" ")
        yield _pattern(account.name.plain)
        if rest:
            yield re.compile(rf"(?<!\w){genus[0]}\.\s*{re.escape(rest)}(?!\w)")


def _current_names(guide: Guide, wish: Wish) -> Iterator[str]:
    """Names that the record goes by afterwards, so that words which say them are right."""
    if wish.kind == "account":
        account = guide.accounts.get(wish.new if wish.by_hand else wish.old)
        if account is not None:
            yield from (account.vernacular, *account.other_vernaculars, (wish.name or account.name).plain)
        return
    record = tables_of(guide)[wish.kind][wish.old]
    yield from (str(getattr(record, key)) for key in ("vernacular", "name", "label", "word") if getattr(record, key, None))


def _pattern(words: str) -> re.Pattern[str]:
    """The words wherever they stand, with spaces, hyphens or line ends between them."""
    return re.compile(r"(?<![\w-])" + r"[\s-]+".join(map(re.escape, re.split(r"[\s-]+", words))) + r"(?![\w-])", re.IGNORECASE)


def _stands_in_list(text: str, offset: int) -> bool:
    """Whether a place is an item below `formerly:` or `synonyms:`, where old names belong."""
    above = text[:offset].split("\n")
    if not re.match(r"\s*- ", above[-1]):
        return False
    key = next((line for line in reversed(above[:-1]) if not re.match(r"\s*(- |#|$)", line)), "")
    return re.match(r"(formerly|synonyms):", key) is not None


def _give_advice(guide: Guide, files: Sequence[str], wish: Wish) -> Iterator[str]:
    packed = [file for file in files if file.startswith("sightings/") and file.lower().endswith((*SHEETS, ".zip"))]
    if wish.kind == "place" and wish.new and packed:
        yield f"Not changed: {', '.join(packed)}. Rows there that say {wish.old} need a line under “places” in {WORDS}."
    if wish.kind in ("plant", "place", "film") and wish.new:
        yield f"Its page moves to {wish.kind}s/{wish.new}.html; only accounts keep their old addresses."
    if wish.kind != "account" or wish.name is None:
        return
    account = guide.accounts[wish.new if wish.by_hand else wish.old]
    if not wish.name.authority and account.name.authority:
        yield f"The authority is still {account.name.authority}: brackets go round it where the species was first put into another genus."
    if account.say:
        yield f"`say: {account.say}` is how the old name is said."
