"""Captions of films and takes → copies in takes/, each under the name of the script that was spoken."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from guidebuild.bringing.offered import Offered
from guidebuild.bringing.plan import Brought, Coming, Unused
from guidebuild.bringing.tables import find_free
from guidebuild.bringing.told_by_names import NameReader
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.speech.caption_files import read_captions

FOLDER = "takes"
_LARGEST = 5_000_000


def bring_takes(folder: Path, guide: Guide, captions: Iterable[Offered]) -> Brought:
    """Plan the copies of captions. One of no script that is known by its name is not used."""
    names = NameReader(guide)
    files: list[Coming] = []
    unused: list[Unused] = []
    taken: set[str] = set()
    for offered in captions:
        why = _refuse(offered.path)
        script = "" if why else _find_script(guide, names, offered)
        if not script:
            example = next(iter(_scripts_of(guide)), "parent-bug-full")
            unused.append(Unused(offered.shown, why or f"no script is known by its name; call it as its script, such as {example}"))
            continue
        file = find_free(folder, f"{FOLDER}/{script}", offered.path.suffix.lower(), taken)
        taken.add(file)
        files.append(Coming(file, f"a take of {script}; learn your pace from it: guidebuild pace {file} --script {script}", offered.path))
    return Brought(tuple(files), unused=tuple(unused))


def _refuse(path: Path) -> str:
    if path.stat().st_size > _LARGEST:
        return f"has more than {_LARGEST // 1_000_000} MB, and is no file of captions"
    read = read_captions(path.read_bytes(), file=path.name)
    return "" if read.cues else f"holds no captions that can be read. {read.findings[0].message if read.findings else ''}".strip()


def _scripts_of(guide: Guide) -> tuple[str, ...]:
    drafted = (f"{account}-{slot.name}" for account in guide.accounts for slot in guide.settings.episode_slots)
    return tuple(dict.fromkeys((*guide.episodes, *drafted)))


def _find_script(guide: Guide, names: NameReader, offered: Offered) -> str:
    """The script by its id, at the start of the file's name; else by the names of its species and of its kind of episode."""
    scripts = _scripts_of(guide)
    for word in offered.words:
        plain = make_id(word, "")
        if exact := max((script for script in scripts if plain == script or plain.startswith(f"{script}-")), key=len, default=""):
            return exact
    account = names.read(offered.words).account
    kinds = [slot.name for slot in guide.settings.episode_slots if any(slot.name in make_id(word, "").split("-") for word in offered.words)]
    kinds = kinds or [slot.name for slot in guide.settings.episode_slots][:1]
    return f"{account}-{kinds[0]}" if account and kinds and f"{account}-{kinds[0]}" in scripts else ""
