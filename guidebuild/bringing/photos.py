"""Pictures → copies in photos/ under speaking names, and their entries in photos.yaml."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from guidebuild.bringing.offered import Offered
from guidebuild.bringing.picture_facts import PictureFacts, read_picture_facts
from guidebuild.bringing.plan import Brought, Coming, Unused
from guidebuild.bringing.told_by_names import NameReader, Said
from guidebuild.guide.distances import measure_metres
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import LONGEST_ID, make_id
from guidebuild.guide.records import Place
from guidebuild.press.engine.problems import Problem
from guidebuild.reading.folder import same_name
from guidebuild.reading.typed_file import write_scalar

ENTRIES = "photos.yaml"
_BARE = 2
"""Lines of an entry of which nothing is known: its id and where it came from."""
_NEAR = 5_000
"""Metres from a place of the guide beyond which a picture is not said to be from there."""


@dataclass(slots=True)
class _Bringing:
    """What is gathered while pictures are looked at, one after the other."""

    folder: Path
    guide: Guide
    taken_ids: set[str]
    taken_files: set[str]
    digests: dict[str, str] = field(default_factory=dict)
    files: list[Coming] = field(default_factory=list)
    entries: list[str] = field(default_factory=list)
    unused: list[Unused] = field(default_factory=list)
    without_account: int = 0
    without_credit: int = 0
    without_licence: int = 0
    of_account: dict[str, list[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class BroughtPhotos:
    """What pictures come to, and the ids of the new photos of each account."""

    brought: Brought
    of_account: Mapping[str, tuple[str, ...]]


def bring_photos(folder: Path, guide: Guide, pictures: Iterable[Offered]) -> BroughtPhotos:
    """Plan the copies and the entries of pictures. Bytes that the guide has already are told, and left."""
    files = {same_name(file) for file in guide.photo_files}
    state = _Bringing(folder, guide, {*guide.photos, *(Path(file).stem for file in guide.photo_files)}, files)
    names = NameReader(guide)
    standing = _standing_sizes(folder, guide)
    for offered in pictures:
        _bring_one(offered, names, standing, state)
    advice = _advise(state)
    brought = Brought(tuple(state.files), "".join(state.entries), tuple(state.unused), advice)
    return BroughtPhotos(brought, {account: tuple(ids) for account, ids in state.of_account.items()})


def _bring_one(offered: Offered, names: NameReader, standing: Mapping[int, list[str]], state: _Bringing) -> None:
    facts = read_picture_facts(offered.path, offered.shown)
    if isinstance(facts, Problem):
        state.unused.append(Unused(offered.shown, facts.message))
        return
    digest = digest_of(offered.path)
    if twin := state.digests.get(digest) or _find_twin(digest, offered.path, standing, state.folder):
        state.unused.append(Unused(offered.shown, f"is the same picture as {twin}, to the byte"))
        return
    said = names.read(offered.words)
    photo = _find_id(offered, said, facts, state)
    file = f"photos/{photo}{facts.ending}"
    state.digests[digest] = offered.shown
    state.taken_ids.add(photo)
    state.taken_files.add(same_name(file))
    state.files.append(Coming(file, _tell(said, facts, state.guide), offered.path))
    state.entries.append(_write_entry(photo, offered, said, facts, state))
    if said.account:
        state.of_account.setdefault(said.account, []).append(photo)
    state.without_account += not said.account


def digest_of(path: Path) -> str:
    """A file's bytes in short."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _standing_sizes(folder: Path, guide: Guide) -> Mapping[int, list[str]]:
    """The photos that the guide has, by how many bytes they have: only those of one size can be the same."""
    sizes: dict[int, list[str]] = {}
    for file in guide.photo_files:
        sizes.setdefault((folder / file).stat().st_size, []).append(file)
    return sizes


def _find_twin(digest: str, path: Path, standing: Mapping[int, list[str]], folder: Path) -> str:
    """A photo of the guide that has the same bytes."""
    return next((file for file in standing.get(path.stat().st_size, ()) if digest_of(folder / file) == digest), "")


def _find_id(offered: Offered, said: Said, facts: PictureFacts, state: _Bringing) -> str:
    """A speaking id that no photo has yet: what is shown; where nobody says, the name that the file has, or its day."""
    stem = make_id(offered.words[0], "photo")
    base = "-".join(part for part in (said.account, said.stage, said.sex) if part) if said.account else stem
    if not said.account and facts.taken and not any(sign.isalpha() for sign in stem.removeprefix("img").removeprefix("dsc")):
        base = f"{facts.taken.isoformat()}-{stem}"
    base = base[: LONGEST_ID - 5].strip("-")
    number = 1
    while True:
        photo = base if number == 1 else f"{base}-{number}"
        free = photo not in state.taken_ids and not (state.folder / f"photos/{photo}{facts.ending}").exists()
        if free and same_name(f"photos/{photo}{facts.ending}") not in state.taken_files:
            return photo
        number += 1


def _tell(said: Said, facts: PictureFacts, guide: Guide) -> str:
    account = guide.accounts.get(said.account)
    group = guide.stage_set(account) if account else None
    stage = group.word(said.stage) if group and said.stage else ""
    pieces = [account.vernacular or account.name.plain if account else "no account yet", stage, said.sex, str(facts.taken or "no date")]
    return ", ".join(piece for piece in pieces if piece)


def _write_entry(photo: str, offered: Offered, said: Said, facts: PictureFacts, state: _Bringing) -> str:
    """The lines of a photo in photos.yaml. What is only likely stands behind a #."""
    settings = state.guide.settings
    # The guide's own licence is given to the author's own pictures alone: nobody else's is.
    credit = facts.credit or settings.photo_credit
    is_own = bool(settings.photo_credit) and credit.casefold() == settings.photo_credit.casefold()
    licence = facts.licence or (settings.photo_licence if is_own or not facts.credit else "")
    state.without_credit += not credit
    state.without_licence += not licence
    lines = [f"{photo}:\n", f"  # brought as {_comment(Path(offered.shown).name)}\n"]
    for key, value in (
        ("account", said.account), ("stage", said.stage), ("sex", said.sex), ("taken", facts.taken.isoformat() if facts.taken else ""),
        ("credit", credit), ("licence", licence),
    ):  # fmt: skip
        if value:
            lines.append(f"  {key}: {write_scalar(value, in_list=False)}\n")
    if len(lines) == _BARE:
        lines.append(f"  file: photos/{photo}{facts.ending}\n")  # a record that says nothing is none
    if said.likely:
        lines.append(f"  # account: {said.likely}   # perhaps: “{_comment(said.by)}” names it among other words\n")
    if facts.taken and facts.taken > (state.guide.as_of or dt.date.max):
        lines.append("  # That day is still to come: was the camera's clock right?\n")
    if near := _find_place(facts, state.guide):
        place, metres = near
        lines.append(f"  # place: {place.id}   # the nearest place; the camera was {_write_distance(metres)} from it\n")
    return "".join(lines)


def _comment(text: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def _find_place(facts: PictureFacts, guide: Guide) -> tuple[Place, float] | None:
    """The place of the guide that is nearest to where the camera stood, and how far from it that was."""
    if facts.spot is None:
        return None
    placed = [place for place in guide.places.values() if place.position]
    apart = [(measure_metres(facts.spot, (place.position.latitude, place.position.longitude)), place) for place in placed if place.position]
    metres, place = min(apart, key=lambda pair: pair[0], default=(float("inf"), None))
    return (place, metres) if place is not None and metres <= _NEAR else None


def _write_distance(metres: float) -> str:
    """A distance that gives no position away: to 50 metres, to 100 from a kilometre on."""
    if metres < 1000:
        return f"some {max(round(metres / 50) * 50, 50)} m"
    return f"some {metres / 1000:.1f} km"


def _advise(state: _Bringing) -> tuple[str, ...]:
    lines = []
    if state.without_account:
        lines.append(f"{_count(state.without_account)} without an account: give it in {ENTRIES}, or put such pictures into a folder "
                     "that is called as their species.")  # fmt: skip
    if state.without_credit:
        lines.append(f"{_count(state.without_credit)} without a credit: write `photo credit:` in guide.yaml, and it goes into all that "
                     "are brought; those that stand already get theirs by hand.")  # fmt: skip
    if state.without_licence:
        lines.append(f"{_count(state.without_licence)} without a licence: `photo licence:` in guide.yaml is given to your own; of "
                     "those of others ask who made them.")  # fmt: skip
    return tuple(lines)


def _count(number: int) -> str:
    return "One picture is" if number == 1 else f"{number} pictures are"
