"""One episode as a script: what is said, what is seen, when, for how long, and which shots are still to be taken."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import EpisodeSlot, Guide
from guidebuild.guide.records import Episode
from guidebuild.guide.resolve import find_account
from guidebuild.speech.captions import ScriptCaptions, script_captions
from guidebuild.speech.cues import DEFAULT_LIMITS, LIMITS, Cue, Limits
from guidebuild.speech.marks import MARK, read_mark, without_marks
from guidebuild.speech.say_hint import latin_hint
from guidebuild.speech.timing import DEFAULT_PACE, Pace, Timing, pace_of, slot_findings, time_script
from guidebuild.views.pieces.common import NameView, PhotoView
from guidebuild.views.pieces.facts import facts, fill
from guidebuild.views.pieces.kept_secret import without_places
from guidebuild.views.pieces.links import name_view, site_map
from guidebuild.views.pieces.parts import Maker
from guidebuild.views.scripts.draft import DraftLine, DraftSection, draft_script
from guidebuild.views.scripts.spoken_english import measured_phrases
from guidebuild.words import WRITTEN_IN, words

DEFAULT_SLOTS = (EpisodeSlot("short", 60, 90), EpisodeSlot("full", 240, 330))
"""Episode lengths in seconds where guide.yaml gives none."""

_ENDS = re.compile(r"[.!?…:][\"'”’)\]*]*$|\]$")


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """One line: when it starts, how long it takes, what is said (*stars* round scientific names), what is seen, how it is said.

    `detail` is what the picture should go close to.
    """

    start: float
    seconds: float
    sound: str
    photo: PhotoView | None = None
    shot: str = ""
    say: tuple[str, ...] = ()
    detail: str = ""


@dataclass(frozen=True, slots=True)
class ScriptSection:
    """A headed run of lines with its own running time."""

    heading: str
    start: float
    seconds: float
    lines: tuple[ScriptLine, ...]


@dataclass(frozen=True, slots=True)
class Shot:
    """Something to be seen: a photo there is, or (`photo` None) a shot to take. `start` is when it is first wanted."""

    words: str
    start: float
    photo: PhotoView | None = None


@dataclass(frozen=True, slots=True)
class ScriptView:
    """A whole script. Times are seconds; `least`–`most` is the estimate's range; `slot` is (shortest, longest) or None."""

    id: str
    account: str
    title: str
    kind: str
    name: NameView
    guide: str
    language: str
    sections: tuple[ScriptSection, ...]
    shots: tuple[Shot, ...]
    seconds: float
    least: float
    most: float
    words: int
    slot: tuple[float, float] | None
    drafted: bool
    markdown: str
    names: tuple[str, ...] = ()  # scientific names said in it, for captions that must not cut them
    phrases: tuple[str, ...] = ()  # vernacular names, and numbers with their units in words, likewise
    pace: Pace = DEFAULT_PACE
    limits: Limits = DEFAULT_LIMITS  # what its captions may be
    findings: tuple[Finding, ...] = ()


def script_views(guide: Guide) -> Iterator[ScriptView]:
    """Every script of a guide: the author's own where there is one of that account and kind, else a draft for each slot.

    Drafts are in English; a guide in another language has its own scripts alone.
    """
    own = {(find.id, e.kind): e for e in guide.episodes.values() if (find := find_account(guide, e.account))}
    slots = guide.settings.slots or DEFAULT_SLOTS
    pace = pace_of(guide.settings.pace)
    drafts = guide.settings.language.split("-")[0] == WRITTEN_IN
    for account in guide.accounts.values():
        kinds = {slot.name for slot in slots}
        for slot in slots:
            episode = own.get((account.id, slot.name))
            if episode:
                yield own_script(guide, account, episode, pace, slot)
            elif drafts:
                yield drafted_script(guide, account, slot, pace)
        yield from (
            own_script(guide, account, e, pace, None) for (owner, kind), e in own.items() if owner == account.id and kind not in kinds
        )


def own_script_findings(guide: Guide) -> Iterator[Finding]:
    """What is wrong with the running time of the author's own scripts."""
    slots = {slot.name: slot for slot in guide.settings.slots or DEFAULT_SLOTS}
    for episode in guide.episodes.values():
        account = find_account(guide, episode.account)
        if account is not None:
            view = own_script(guide, account, episode, pace_of(guide.settings.pace), slots.get(episode.kind))
            yield from view.findings


def captions_of(view: ScriptView, take: Sequence[Cue] = ()) -> ScriptCaptions:
    """A script's captions and chapters; with the cues of a take, in its times."""
    return script_captions(
        view.markdown, view.pace, code=view.language, names=view.names, phrases=view.phrases, limits=view.limits, take=take
    )


def drafted_script(guide: Guide, account: Account, slot: EpisodeSlot, pace: Pace) -> ScriptView:
    """A draft that fits a slot: the lines that must be said, then as many of the others as there is time for, by rank."""
    told = facts(guide, account)
    sections = [DraftSection(s.heading, tuple(_filled(line, told) for line in s.lines)) for s in draft_script(guide, account)]
    kept = _chosen(sections, slot, pace, guide.settings.language)
    chosen = [DraftSection(s.heading, lines) for s, lines in zip(sections, kept, strict=True) if lines]
    frame = _Frame("", slot.name, (slot.shortest, slot.longest), account.at, drafted=True, limits=LIMITS[slot.captions])
    return _view(guide, account, frame, chosen, pace)


def own_script(guide: Guide, account: Account, episode: Episode, pace: Pace, slot: EpisodeSlot | None) -> ScriptView:
    """The author's own script with its slots filled from the account."""
    told = facts(guide, account)
    sections = []
    for section in episode.sections:
        photo = ""
        lines = []
        for line in _spoken_lines(section.text):
            shown = [read_mark(m) for m in MARK.finditer(line)]
            photo = next((mark.what for mark in shown if mark.kind == "show"), photo)
            lines.append(_filled(DraftLine(line, 0, photo=photo if photo in guide.photos else "", shot=photo), told))
        sections.append(DraftSection(section.heading, tuple(lines)))
    length = episode.length or ((slot.shortest, slot.longest) if slot else None)
    limits = LIMITS[slot.captions] if slot else DEFAULT_LIMITS
    frame = _Frame(episode.title, episode.kind, length, episode.at, drafted=False, id=episode.id, limits=limits)
    return _view(guide, account, frame, sections, pace)


def _spoken_lines(text: str) -> Iterator[str]:
    """A script's lines as spoken: a sentence wrapped over several lines of the file is one, and so is a mark with what follows it."""
    begun = ""
    for line in (*text.splitlines(), ""):
        bare = line.strip()
        if bare.startswith("<!--"):
            continue
        begun = f"{begun} {bare}".strip()
        said = without_marks(begun)
        if begun and (not bare or (said and _ENDS.search(begun))):
            yield begun
            begun = ""


@dataclass(frozen=True, slots=True)
class _Frame:
    title: str
    kind: str
    slot: tuple[float, float] | None
    at: At
    drafted: bool
    id: str = ""
    limits: Limits = DEFAULT_LIMITS


def _filled(line: DraftLine, told: Mapping[str, str]) -> DraftLine:
    return replace(line, sound=fill(line.sound, told))


def _chosen(sections: list[DraftSection], slot: EpisodeSlot, pace: Pace, code: str) -> list[tuple[DraftLine, ...]]:
    """Lines kept in each section: all of rank 0, those of rank 1 as the slot allows, then others by rank.

    The others leave room for the spread of the estimate, so that the draft fits a slower take too.
    """
    timed = {(n, k): (line, _seconds(line.sound, pace, code)) for n, s in enumerate(sections) for k, line in enumerate(s.lines)}
    # Each section ends with a longer pause than a sentence does.
    total = len(sections) * max(0.0, pace.paragraph - pace.sentence)
    roomy = max(slot.shortest, slot.longest / (1 + pace.spread))
    kept: set[tuple[int, int]] = set()
    seen: set[str] = set()
    for place, (line, seconds) in sorted(timed.items(), key=lambda item: (item[1][0].rank, item[0])):
        most = slot.longest if line.rank == 1 else roomy
        leans = line.follows and (place[0], place[1] - 1) not in kept
        said_before = line.sound.casefold() in seen
        if line.rank == 0 or (total + seconds <= most and not leans and not said_before):
            kept.add(place)
            seen.add(line.sound.casefold())
            total += seconds
    return [tuple(line for k, line in enumerate(s.lines) if (n, k) in kept) for n, s in enumerate(sections)]


def _seconds(sound: str, pace: Pace, code: str) -> float:
    """A line's time, with the pause that follows it."""
    return time_script(sound, pace, code=code).seconds + pace.sentence


def _view(guide: Guide, account: Account, frame: _Frame, drafts: list[DraftSection], pace: Pace) -> ScriptView:
    language = guide.settings.language
    maker = Maker(guide, site_map(guide, language), words(language))
    text, numbered = _composed(drafts, account)
    met = (account, *(other for s in account.similar if (other := find_account(guide, s.account))))
    timing = time_script(text, pace, code=language, names=(account.name.plain,))
    starts = {line.number: line for line in timing.lines}
    sections: list[ScriptSection] = []
    for timed, lines in zip((s for s in timing.sections if s.title), numbered, strict=False):
        rows = tuple(_row(maker, line, starts[number].start, starts[number].seconds, account) for number, line in lines if number in starts)
        sections.append(ScriptSection(timed.title, timed.start, timed.seconds, rows))
    title = frame.title or f"{account.vernacular or account.name.plain}, {frame.kind}"
    return ScriptView(
        id=frame.id or f"{account.id}-{frame.kind}",
        account=account.id,
        title=title,
        kind=frame.kind,
        name=name_view(account, language, language),
        guide=guide.settings.title,
        language=language,
        sections=tuple(sections),
        shots=tuple(_shots(sections)),
        seconds=timing.seconds,
        least=timing.least,
        most=timing.most,
        words=timing.words,
        slot=frame.slot,
        drafted=frame.drafted,
        markdown=text,
        names=tuple(a.name.plain for a in met),
        phrases=(*(a.vernacular for a in met if a.vernacular), *measured_phrases(text)),
        pace=pace,
        limits=frame.limits,
        findings=tuple(_findings(timing, frame, account)),
    )


def _composed(drafts: Iterable[DraftSection], account: Account) -> tuple[str, list[list[tuple[int, DraftLine]]]]:
    """The script as Markdown, and each section's lines with their line numbers in it."""
    lines: list[str] = []
    numbered: list[list[tuple[int, DraftLine]]] = []
    drafts = tuple(drafts)
    hint = account.say or latin_hint(account.name.plain)
    wanted = bool(hint) and not any("[say" in line.sound for section in drafts for line in section.lines)
    for section in drafts:
        lines += [f"## {section.heading}", ""]
        numbered.append([])
        for draft in section.lines:
            sound = draft.sound
            if wanted and account.name.plain in sound.replace("*", ""):
                sound, wanted = f"{sound} [say {hint}]", False
            lines.append(sound)
            numbered[-1].append((len(lines), replace(draft, sound=sound)))
        lines.append("")
    return "\n".join(lines), numbered


def _row(maker: Maker, line: DraftLine, start: float, seconds: float, account: Account) -> ScriptLine:
    hints = tuple(mark.what for m in MARK.finditer(line.sound) if (mark := read_mark(m)).kind == "say")
    photo = maker.guide.photos.get(line.photo)
    owner = account if photo and photo.account == account.id else None
    shown = without_places(maker.guide, account, maker.photo(photo, owner)) if photo else None
    return ScriptLine(start, seconds, without_marks(line.sound), shown, line.shot or (photo.shows if photo else ""), hints, line.detail)


def _shots(sections: Iterable[ScriptSection]) -> Iterator[Shot]:
    """Each thing to be seen once, in order: marks to go close to, photos by id, shots to take by their words."""
    seen: set[str] = set()
    for line in (line for section in sections for line in section.lines):
        key = line.detail or (line.photo.id if line.photo else line.shot)
        if key and key not in seen:
            seen.add(key)
            told = line.photo.caption or line.photo.alt if line.photo else line.shot
            yield Shot(line.detail or told, line.start, line.photo)


def _findings(timing: Timing, frame: _Frame, account: Account) -> Iterator[Finding]:
    if frame.slot:
        yield from slot_findings(timing, *frame.slot, frame.at, name=frame.kind, account=account.id)
