"""One episode as a script: what is said, what is seen, when, for how long, and which shots are still to be taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import EpisodeSlot
from guidebuild.guide.records import Episode
from guidebuild.guide.resolve import find_account
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.speech.captions import ScriptCaptions, caption_script
from guidebuild.speech.cues import DEFAULT_LIMITS, LIMITS, Cue, Limits
from guidebuild.speech.marks import Mark
from guidebuild.speech.say_hint import write_latin_hint
from guidebuild.speech.script import Script, ScriptLine, ScriptSection, Spoken
from guidebuild.speech.script_text import read_lines, read_words, write_script
from guidebuild.speech.timing import DEFAULT_PACE, Pace, TimedLine, Timing, fill_pace, find_slot_faults, time_script
from guidebuild.views.pieces.common import NameView, PhotoView
from guidebuild.views.pieces.links import name_view, site_map
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.scripts.choice import choose_lines
from guidebuild.views.scripts.draft import draft_script
from guidebuild.views.scripts.filled import fill_line, say_facts, say_facts_in_sentences
from guidebuild.views.scripts.spoken_english import find_measured_phrases
from guidebuild.words import WRITTEN_IN, words


@dataclass(frozen=True, slots=True)
class LineView:
    """One line: when it starts, how long it takes, what is said, what is seen, how it is said.

    `detail` is what the picture should go close to.
    """

    start: float
    seconds: float
    words: tuple[Spoken, ...]
    photo: PhotoView | None = None
    shot: str = ""
    say: tuple[str, ...] = ()
    detail: str = ""


@dataclass(frozen=True, slots=True)
class SectionView:
    """A headed run of lines with its own running time."""

    heading: tuple[Spoken, ...]
    start: float
    seconds: float
    lines: tuple[LineView, ...]


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
    sections: tuple[SectionView, ...]
    shots: tuple[Shot, ...]
    seconds: float
    least: float
    most: float
    words: int
    slot: tuple[float, float] | None
    drafted: bool
    script: Script  # what is said and shown: the captions and the Markdown are made of it
    pace: Pace = DEFAULT_PACE
    limits: Limits = DEFAULT_LIMITS  # what its captions may be
    findings: tuple[Finding, ...] = ()

    @property
    def language(self) -> str:
        """The language it is spoken in."""
        return self.script.language

    @property
    def credits(self) -> tuple[str, ...]:
        """The end credits: every picture that is shown, once, in order."""
        shown = (line.photo for section in self.sections for line in section.lines if line.photo)
        return tuple(dict.fromkeys(photo.attribution.line for photo in shown if photo.attribution.line))

    @property
    def markdown(self) -> str:
        """The script in Markdown, for its author to make it his own."""
        return write_script(self.script)


def make_script_views(guide: Published) -> Iterator[ScriptView]:
    """Every script of a guide: the author's own where there is one of that account and kind, else a draft for each slot.

    Drafts are in English; a guide in another language has its own scripts alone.
    """
    own = {(find.id, e.kind): e for e in guide.episodes.values() if (find := find_account(guide, e.account))}
    slots = guide.settings.episode_slots
    pace = fill_pace(guide.settings.pace)
    drafts = guide.settings.language.split("-")[0] == WRITTEN_IN
    for account in guide.accounts.values():
        kinds = {slot.name for slot in slots}
        for slot in slots:
            episode = own.get((account.id, slot.name))
            if episode:
                yield make_own_script(guide, account, episode, pace, slot)
            elif drafts:
                yield make_drafted_script(guide, account, slot, pace)
        yield from (
            make_own_script(guide, account, e, pace, None) for (owner, kind), e in own.items() if owner == account.id and kind not in kinds
        )


def find_own_script_faults(guide: Published) -> Iterator[Finding]:
    """What is wrong with the running time of the author's own scripts."""
    slots = {slot.name: slot for slot in guide.settings.episode_slots}
    for episode in guide.episodes.values():
        account = find_account(guide, episode.account)
        if account is not None:
            view = make_own_script(guide, account, episode, fill_pace(guide.settings.pace), slots.get(episode.kind))
            yield from view.findings


def caption_view(view: ScriptView, take: Sequence[Cue] = ()) -> ScriptCaptions:
    """A script's captions and chapters; with the cues of a take, in its times."""
    return caption_script(view.script, view.pace, limits=view.limits, take=take)


def make_drafted_script(guide: Published, account: PublicAccount, slot: EpisodeSlot, pace: Pace) -> ScriptView:
    """A draft that fits a slot: the lines that must be said, then as many of the others as there is time for, by rank."""
    told = say_facts(guide, account)
    drafts = [
        replace(section, lines=tuple(replace(draft, line=fill_line(draft.line, told)) for draft in section.lines))
        for section in draft_script(guide, account)
    ]
    sections = choose_lines(drafts, slot, pace, guide.settings.language)
    frame = _Frame("", slot.name, (slot.shortest, slot.longest), account.at, drafted=True, limits=LIMITS[slot.captions])
    return _view(guide, account, frame, sections, pace)


def make_own_script(guide: Published, account: PublicAccount, episode: Episode, pace: Pace, slot: EpisodeSlot | None) -> ScriptView:
    """The author's own script with its slots filled from the account."""
    facts, bare = say_facts_in_sentences(guide, account), say_facts(guide, account)
    sections = tuple(
        ScriptSection(
            read_words(write_plain(section.heading, keep_stars=True)),
            tuple(_with_photos(guide, [fill_line(line, facts, bare) for line in read_lines(section.text)])),
        )
        for section in episode.sections
    )
    length = episode.length or ((slot.shortest, slot.longest) if slot else None)
    limits = LIMITS[slot.captions] if slot else DEFAULT_LIMITS
    frame = _Frame(episode.title, episode.kind, length, episode.at, drafted=False, id=episode.id, limits=limits)
    return _view(guide, account, frame, sections, pace)


def _with_photos(guide: Published, lines: Iterable[ScriptLine]) -> Iterator[ScriptLine]:
    """Lines with what is to be seen: the photo that a line shows, which stays until another is shown."""
    photo = ""
    for line in lines:
        shown = (piece.what for piece in line.pieces if isinstance(piece, Mark) and piece.kind == "show")
        photo = next(shown, photo)
        yield replace(line, photo=photo if photo in guide.photos else "", shot=photo)


@dataclass(frozen=True, slots=True)
class _Frame:
    title: str
    kind: str
    slot: tuple[float, float] | None
    at: At
    drafted: bool
    id: str = ""
    limits: Limits = DEFAULT_LIMITS


def _view(guide: Published, account: PublicAccount, frame: _Frame, sections: tuple[ScriptSection, ...], pace: Pace) -> ScriptView:
    language = guide.settings.language
    maker = PieceMaker(guide, site_map(guide, language), words(language))
    script = _with_names(guide, account, Script(_with_hint(account, sections), language))
    timing = time_script(script, pace)
    times = iter(timing.lines)
    shown = tuple(
        SectionView(timed.title, timed.start, timed.seconds, tuple(_row(maker, account, line, next(times)) for line in section.lines))
        for section, timed in zip(script.sections, timing.sections, strict=True)
    )
    return ScriptView(
        id=frame.id or f"{account.id}-{frame.kind}",
        account=account.id,
        title=frame.title or f"{account.vernacular or account.name.plain}, {frame.kind}",
        kind=frame.kind,
        name=name_view(account, language, language),
        guide=guide.settings.title,
        sections=shown,
        shots=tuple(_shots(shown)),
        seconds=timing.seconds,
        least=timing.least,
        most=timing.most,
        words=timing.words,
        slot=frame.slot,
        drafted=frame.drafted,
        script=script,
        pace=pace,
        limits=frame.limits,
        findings=tuple(_findings(timing, frame, account)),
    )


def _with_names(guide: Published, account: PublicAccount, script: Script) -> Script:
    """The script with the names met in it, and its numbers with their units: a caption cuts none of them."""
    met = (account, *(other for s in account.similar if (other := find_account(guide, s.account))))
    text = "\n".join(line.text for line in script.lines)
    phrases = (*(a.vernacular for a in met if a.vernacular), *find_measured_phrases(text))
    return replace(script, names=tuple(a.name.plain for a in met), phrases=phrases)


def _with_hint(account: PublicAccount, sections: tuple[ScriptSection, ...]) -> tuple[ScriptSection, ...]:
    """The sections with a hint of how the name is said, where it comes first and the script has no hint of its own."""
    hint = account.say or _drafted_hint(account.name.plain)
    lines = [(n, k, line) for n, section in enumerate(sections) for k, line in enumerate(section.lines)]
    if not hint or any(isinstance(piece, Mark) and piece.kind == "say" for _, _, line in lines for piece in line.pieces):
        return sections
    for n, k, line in lines:
        if account.name.plain in line.text:
            said = replace(line, pieces=(*line.pieces, Mark("say", hint)))
            section = replace(sections[n], lines=(*sections[n].lines[:k], said, *sections[n].lines[k + 1 :]))
            return (*sections[:n], section, *sections[n + 1 :])
    return sections


def _drafted_hint(name: str) -> str:
    """The name's syllables, said to be no more than that: an author's own hint has the stress too."""
    hint = write_latin_hint(name)
    return f"{hint} (syllables only)" if hint else ""


def _row(maker: PieceMaker, account: PublicAccount, line: ScriptLine, timed: TimedLine) -> LineView:
    hints = tuple(piece.what for piece in line.pieces if isinstance(piece, Mark) and piece.kind == "say")
    photo = maker.guide.photos.get(line.photo)
    owner = account if photo and photo.account == account.id else None
    shown = maker.photo(photo, owner) if photo else None
    shot = line.shot or (photo.shows if photo else "")
    return LineView(timed.start, timed.seconds, line.words, shown, shot, hints, line.detail)


def _shots(sections: Iterable[SectionView]) -> Iterator[Shot]:
    """Each thing to be seen once, in order: marks to go close to, photos by id, shots to take by their words."""
    seen: set[str] = set()
    for line in (line for section in sections for line in section.lines):
        key = line.detail or (line.photo.id if line.photo else line.shot)
        if key and key not in seen:
            seen.add(key)
            told = line.photo.caption or line.photo.alt if line.photo else line.shot
            yield Shot(line.detail or told, line.start, line.photo)


def _findings(timing: Timing, frame: _Frame, account: PublicAccount) -> Iterator[Finding]:
    if frame.slot:
        yield from find_slot_faults(timing, *frame.slot, frame.at, name=frame.kind, account=account.id)
