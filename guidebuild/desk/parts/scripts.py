"""Scripts on the desk: a draft with its times, made one's own by one press; the author's own text with its time against the slot."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

from guidebuild.authoring import add_episode
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import SECTION, RefusedError, SetValue
from guidebuild.desk.part import Part
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import At
from guidebuild.guide.guide import EpisodeSlot
from guidebuild.guide.records import Episode, Section
from guidebuild.guide.resolve import find_account
from guidebuild.reading.sections import split_sections
from guidebuild.speech.script import join_text
from guidebuild.speech.timing import fill_pace, write_clock
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.scripts.script import LineView, ScriptView, SectionView, make_drafted_script, make_own_script
from guidebuild.words import WRITTEN_IN, Words

_FOLDER, _ENDING = "episodes/", ".md"
_ROOM = 1.3
"""How much longer than its slot a script may be for the bar to show it whole."""


@dataclass(frozen=True, slots=True)
class TimedRow:
    """A line that is spoken: when it begins, how long it takes, its words and what is seen meanwhile."""

    at: str
    seconds: str
    words: str
    seen: str


@dataclass(frozen=True, slots=True)
class TimedText:
    """A section: its heading, how long it takes, and its lines. `key` names it in the file, and `text` is as typed there."""

    heading: str
    clock: str
    lines: tuple[TimedRow, ...]
    key: str = ""
    text: str = ""

    @property
    def path(self) -> str:
        """As the desk's script sends it."""
        return json.dumps([self.key])


@dataclass(frozen=True, slots=True)
class Times:
    """A script's running time against its slot. `verdict` is over, under, within, or "" without a slot; bars are of a hundred."""

    total: str
    told: str
    verdict: str
    run: float = 0
    slot_from: float = 0
    slot_to: float = 0


@dataclass(frozen=True, slots=True)
class ScriptOffer:
    """A script of an account, by its kind."""

    kind: str
    own: bool


@dataclass(frozen=True, slots=True)
class ScriptsView:
    """All that the page of one script shows; without one, the list of all."""

    accounts: tuple[tuple[str, NameView, tuple[ScriptOffer, ...]], ...] = ()
    account: str = ""
    kind: str = ""
    name: NameView | None = None
    own: bool = False
    file: str = ""
    digest: str = ""
    times: Times | None = None
    sections: tuple[TimedText, ...] = ()
    pictures: tuple[tuple[str, str], ...] = ()


def show_scripts(desk: Desk, rest: str, _: Mapping[str, str]) -> ScriptsView | None:
    """The page of a script, at `account/kind`, or of all; None where there is no such script."""
    guide = desk.published
    if guide is None:
        return None if rest else ScriptsView()
    if not rest:
        return ScriptsView(accounts=tuple(_list_accounts(guide)))
    account_id, _sign, kind = rest.partition("/")
    account = guide.accounts.get(account_id)
    if account is None or kind not in {offer.kind for offer in _list_offers(guide, account)}:
        return None
    language, episode, slot = guide.settings.language, _find_own(guide, account, kind), _find_slot(guide, kind)
    base = ScriptsView(account=account.id, kind=kind, name=name_view(account, language, language))
    if episode is None:
        view = make_drafted_script(guide, account, slot or guide.settings.episode_slots[0], fill_pace(guide.settings.pace))
        return replace(base, times=_measure(view, desk.say), sections=tuple(_show_section(s, desk.say) for s in view.sections))
    try:
        standing = desk.writer.read(f"{_FOLDER}{episode.id}{_ENDING}")
    except RefusedError:  # it is being written elsewhere; what is wrong with it is told once it has been read
        return None
    texts = [(key, str(text)) for key, text in standing.values.items() if key.startswith(SECTION)]
    view = _time_own(guide, account, episode, texts)
    shown = (replace(_show_section(s, desk.say), key=key, text=text) for s, (key, text) in zip(view.sections, texts, strict=True))
    return replace(base, own=True, file=standing.file, digest=standing.digest, times=_measure(view, desk.say), sections=tuple(shown),
                   pictures=_list_pictures(guide, account))  # fmt: skip


def _list_accounts(guide: Published) -> Iterator[tuple[str, NameView, tuple[ScriptOffer, ...]]]:
    language = guide.settings.language
    for account in guide.accounts.values():
        offers = _list_offers(guide, account)
        if offers:
            yield account.id, name_view(account, language, language), offers


def _list_offers(guide: Published, account: PublicAccount) -> tuple[ScriptOffer, ...]:
    """The kinds of scripts that an account has: those of the guide's slots, then others of the author's."""
    drafts = guide.settings.language.split("-")[0] == WRITTEN_IN
    own = [e.kind for e in guide.episodes.values() if (found := find_account(guide, e.account)) and found.id == account.id]
    kinds = dict.fromkeys((*(slot.name for slot in guide.settings.episode_slots), *own))
    return tuple(ScriptOffer(kind, kind in own) for kind in kinds if drafts or kind in own)


def _find_own(guide: Published, account: PublicAccount, kind: str) -> Episode | None:
    own = (e for e in guide.episodes.values() if e.kind == kind and (found := find_account(guide, e.account)) and found.id == account.id)
    return next(own, None)


def _find_slot(guide: Published, kind: str) -> EpisodeSlot | None:
    return next((slot for slot in guide.settings.episode_slots if slot.name == kind), None)


def _time_own(guide: Published, account: PublicAccount, episode: Episode, texts: Sequence[tuple[str, str]]) -> ScriptView:
    """The author's script as it would be with these texts, each under its heading as typed in the file."""
    sections = tuple(_read_section(key, text) for key, text in texts)
    slot = _find_slot(guide, episode.kind)
    return make_own_script(guide, account, replace(episode, sections=sections), fill_pace(guide.settings.pace), slot)


def _read_section(key: str, text: str) -> Section:
    heading = key.removeprefix(SECTION).strip()
    inner = split_sections(text, 1, "")
    if any(section.heading for section in inner):
        raise RefusedError("A line that begins with ## opens a section of its own. Add it in the file itself.")
    return replace(inner[0], heading=heading) if inner else Section(heading, "", At(""))


def _show_section(section: SectionView, say: Words) -> TimedText:
    rows = tuple(
        TimedRow(write_clock(line.start), f"{line.seconds:.1f}", join_text(line.words), _say_seen(line, say)) for line in section.lines
    )
    return TimedText(join_text(section.heading), write_clock(section.seconds), rows)


def _say_seen(line: LineView, say: Words) -> str:
    if line.photo:
        return line.detail or line.photo.caption or line.photo.alt
    return say("to film: {shot}", shot=line.detail or line.shot) if line.detail or line.shot else ""


def _measure(view: ScriptView, say: Words) -> Times:
    total = write_clock(view.seconds)
    if view.slot is None:
        return Times(total, say("There is no slot for this kind."), "")
    shortest, longest = view.slot
    slot = f"{write_clock(shortest)}–{write_clock(longest)}"
    verdict = "over" if view.seconds > longest else "under" if view.seconds < shortest else "within"
    off = write_clock(view.seconds - longest if verdict == "over" else shortest - view.seconds)
    told = {
        "over": say("{off} over its slot of {slot}", off=off, slot=slot),
        "under": say("{off} under its slot of {slot}", off=off, slot=slot),
        "within": say("within its slot of {slot}", slot=slot),
    }[verdict]
    whole = longest * _ROOM
    bars = (round(min(100.0, 100 * seconds / whole), 1) for seconds in (view.seconds, shortest, longest))
    return Times(total, told, verdict, *bars)


def _list_pictures(guide: Published, account: PublicAccount) -> tuple[tuple[str, str], ...]:
    """All photos to choose from, those of the account first."""
    photos = sorted(guide.photos.values(), key=lambda photo: photo.account != account.id)
    return tuple((photo.id, photo.alt.words or photo.id) for photo in photos)


def tell_times(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """How long the script would run with other texts: `{account, kind, texts: [[key, text], …]}`. Nothing is written."""
    guide, texts = desk.published, asked.get("texts")
    account = guide.accounts.get(str(asked.get("account", ""))) if guide else None
    episode = _find_own(guide, account, str(asked.get("kind", ""))) if guide and account else None
    if guide is None or account is None or episode is None or not isinstance(texts, list) or not all(map(_is_text, texts)):
        raise RefusedError("There is no such script any more. Load the page anew.")
    view = _time_own(guide, account, episode, [(key, text) for key, text in texts])
    return {"times": asdict(_measure(view, desk.say)), "sections": [asdict(_show_section(s, desk.say)) for s in view.sections]}


def _is_text(given: object) -> bool:
    return isinstance(given, list) and len(given) == len(("key", "text")) and all(isinstance(part, str) for part in given)


def make_own(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A draft copied into episodes/: `{account, kind}`. Answers the `file`; raises CannotWriteError where there is one already."""
    if desk.published is None:
        raise RefusedError("There is no guide to draft from yet.")
    written = add_episode(desk.folder, desk.published, str(asked.get("account", "")), str(asked.get("kind", "")))
    return {"file": written.files[0]}


def add_section(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A further section of one's own script, as its last: `{file, digest, heading, text}`. Answers `{file, digest}`."""
    file, heading, text = (str(asked.get(key, "")).strip() for key in ("file", "heading", "text"))
    if not file.startswith(_FOLDER):
        raise RefusedError("The page did not say which script it means. Load the page anew.")
    if not heading or "\n" in heading or heading.startswith("#"):
        raise RefusedError("Give the section a heading: a few words on one line, without #.")
    if not text:
        raise RefusedError("Write what is said in it, be it a few words: a section without any is none.")
    _read_section(f"{SECTION} {heading}", text)
    path = f"{SECTION} {heading}"
    if path in desk.writer.read(file).values:
        raise RefusedError(f"There is a section “{heading}” already. Give this one another heading.")
    written = desk.writer.change(file, str(asked.get("digest", "")), [SetValue((path,), text)], desk.guide)
    return {"file": written.file, "digest": written.digest}


def locate_scripts(desk: Desk, at: At) -> str | None:
    """A line of an episode: the page of its script."""
    guide = desk.published
    if guide is None or not (at.file.startswith(_FOLDER) and at.file.endswith(_ENDING)):
        return None
    episode = guide.episodes.get(at.file.removeprefix(_FOLDER).removesuffix(_ENDING))
    account = find_account(guide, episode.account) if episode else None
    return f"{account.id}/{episode.kind}" if episode and account else None


PART = Part("scripts", "Scripts", show_scripts, {"times": tell_times, "own": make_own, "section": add_section}, locate_scripts)
