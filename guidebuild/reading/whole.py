"""A guide's folder → the Guide and every finding, in one run."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path, PurePosixPath
from types import MappingProxyType
from typing import Any, TypeVar

from guidebuild.guide.accounts import Account, Translation
from guidebuild.guide.characters import Character
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import Guide, Settings
from guidebuild.guide.posted import PostNotes
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import UNREADABLE, Episode, OwnSlides, Walk
from guidebuild.later import imported_when_used
from guidebuild.reading import build_records as build
from guidebuild.reading import shipped_lists
from guidebuild.reading.account_shape import AccountShape, EpisodeShape, OwnSlidesShape, TranslationShape
from guidebuild.reading.block import Block
from guidebuild.reading.build_account import build_account, build_episode, build_own_slides, build_translation
from guidebuild.reading.fence import Parts, split_fence
from guidebuild.reading.film_shape import FilmShape
from guidebuild.reading.films import FILE as FILMS
from guidebuild.reading.films import build_film, match_films
from guidebuild.reading.folder import SIGHTINGS, TRANSLATION, Folder, look_into
from guidebuild.reading.id_check import check_id
from guidebuild.reading.kinds import Shape
from guidebuild.reading.list_words import check_words
from guidebuild.reading.map_values import MapFile
from guidebuild.reading.memory import Memory, NoMemory
from guidebuild.reading.notes import Notes
from guidebuild.reading.photo_files import match_photos
from guidebuild.reading.posted import ENDING, NotedShape, account_of_file, build_notes
from guidebuild.reading.prose import check_headings, lint_texts
from guidebuild.reading.record_shapes import (
    CharacterShape,
    Listed,
    PhotoShape,
    PlaceShape,
    PlantShape,
    SourceShape,
    TermShape,
    WalkShape,
)
from guidebuild.reading.references import with_ids
from guidebuild.reading.scores import ScoreReader
from guidebuild.reading.secrecy_lines import PLACES, Doubt, close_places, find_doubts, note_doubts
from guidebuild.reading.sections import split_sections
from guidebuild.reading.settings_shape import SettingsShape
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.sighting_words import FILE as WORDS
from guidebuild.reading.sighting_words import read_words
from guidebuild.reading.sound_shape import SoundShape
from guidebuild.reading.sounds import FILE as SOUNDS
from guidebuild.reading.sounds import build_sound, match_sounds
from guidebuild.reading.text_file import read_text
from guidebuild.reading.tied_translations import with_translations
from guidebuild.reading.yaml_text import read_block
from guidebuild.speech.hard_texts import find_hard_texts

with imported_when_used():  # most guides are read without a map file, and the geometry takes long to import
    from guidebuild.reading import region

S = TypeVar("S", bound=Shape)
V = TypeVar("V")

_NO_RECORDS: Mapping[str, Any] = MappingProxyType({})
"""Of a file that a guide does not have: always the same, as the memory asks."""


@dataclass(frozen=True, slots=True)
class GuideReading:
    """What was read. `guide` is None only where guide.yaml cannot be read; `unread` are accounts left out of it."""

    guide: Guide | None
    findings: tuple[Finding, ...]
    unread: tuple[str, ...] = ()


def read_guide(folder: Path, *, as_of: dt.date | None = None, memory: Memory | None = None) -> GuideReading:
    """Read a whole guide. Nothing in its files raises an error: all that is wrong is a finding.

    `as_of` is the day the guide is looked at: against it, reviews grow old and sightings lie in the future. With a `memory`, files
    that it has seen as they are now are not read again.
    """
    return lint_reading(read_unlinted(folder, as_of=as_of, memory=memory))


def lint_reading(reading: GuideReading) -> GuideReading:
    """The same reading with what was found in the texts of the guide as it stays."""
    if reading.guide is None:
        return reading
    notes = Notes()
    lint_texts(reading.guide, notes)  # its texts are gathered once for all who go through them
    met = dict.fromkeys((*reading.findings, *notes.findings))
    return replace(reading, findings=tuple(sorted(met, key=lambda f: f.at)))


def read_unlinted(folder: Path, *, as_of: dt.date | None = None, memory: Memory | None = None, with_sightings: bool = True) -> GuideReading:
    """What `read_guide` reads, before all its texts are looked through: enough to show a page; for a draft without the sightings."""
    notes = Notes()
    if not folder.is_dir():
        notes.add("no-guide", f"There is no folder {folder.name}.", At("guide.yaml"))
        return GuideReading(None, notes.findings)
    memory = memory or NoMemory()
    reader = _Reader(look_into(folder, notes), notes, memory)
    guide = reader.guide()
    if guide is None:
        return GuideReading(None, notes.findings, tuple(reader.unread))
    check_words(guide, notes)
    guide = replace(with_ids(guide), as_of=as_of, unread=frozenset(reader.unread))
    guide = replace(guide, places=close_places(guide, reader.places_text, notes.findings))
    seen = memory.recall_sightings(folder, guide.sighting_files if with_sightings else (), guide)
    guide = replace(guide, sightings=seen.tallies, sighting_counts=seen.counts)
    findings = tuple(sorted((*notes.findings, *seen.findings), key=lambda f: f.at))
    return GuideReading(guide, findings, tuple(reader.unread))


class _Reader:
    """Reads the files of one folder."""

    def __init__(self, folder: Folder, notes: Notes, memory: Memory) -> None:
        self._folder = folder
        self._notes = notes
        self._memory = memory
        self.unread: list[str] = []
        self.places_text = ""

    def guide(self) -> Guide | None:
        """The guide without its sightings. Where guide.yaml is broken, the other files are read for their findings only."""
        if "guide.yaml" not in self._folder.files:
            self._notes.add("no-guide", "There is no guide.yaml in this folder.", At("guide.yaml"))
            return None
        read = self._recall("guide.yaml", (), self._settings)
        if read is None:
            self._rest(self._assumed(), SettingsShape(title=""), Block({}, None, "guide.yaml"))
            return None
        return self._rest(*read)

    def _recall(self, file: str, needs: tuple[object, ...], read: Callable[[], V]) -> V:
        return self._memory.recall(self._folder.root / file, needs, read, self._notes)

    def _recall_alone(self, file: str, read: Callable[[], V]) -> V:
        return self._recall(file, (), read)

    def _settings(self) -> tuple[Settings, SettingsShape, Block] | None:
        """What guide.yaml says; None where it is broken."""
        block = self._block("guide.yaml")
        if block is None:
            return None
        said = read_shape(block, SettingsShape, self._notes)
        if said is None:
            # The title is missing: that is told, and the folder's name serves to look at the rest.
            titled = replace(block, data={**block.data, "title": self._folder.root.resolve().name})
            said = read_shape(titled, SettingsShape, Notes()) or SettingsShape(title="")
        return build.build_settings(said, block), said, block

    def _assumed(self) -> Settings:
        """Settings that add no findings of their own."""
        stems = (file.removesuffix(".md") for file in self._folder.inside("accounts", ".md"))
        languages = (found["language"] for stem in stems if (found := TRANSLATION.fullmatch(stem)))
        return Settings("", languages=("en", *languages), hemisphere="north")

    def _rest(self, settings: Settings, said: SettingsShape, block: Block) -> Guide:
        """All but guide.yaml and the sightings."""
        characters = self._records("characters.yaml", CharacterShape, build.build_character)
        photos = self._records("photos.yaml", PhotoShape, build.build_photo)
        places = self._records("places.yaml", PlaceShape, build.build_place)
        sources = self._records("sources.yaml", SourceShape, build.build_source)
        tables = self._folder.inside("sightings", SIGHTINGS)
        words = read_words(self._block(WORDS) if WORDS in self._folder.files else None, tables, places, sources, self._notes)
        return Guide(
            settings,
            accounts=self._accounts(settings, characters),
            plants=self._records("plants.yaml", PlantShape, build.build_plant),
            places=places,
            characters=characters,
            terms=self._records("glossary.yaml", TermShape, build.build_term),
            sources=build.mark_data_sets(sources, words.data_sets.values()),
            photos=match_photos(photos, self._folder.pictures, self._notes),
            sounds=match_sounds(self._records(SOUNDS, SoundShape, build_sound), self._folder, self._notes),
            films=match_films(self._records(FILMS, FilmShape, build_film), self._folder, self._recall_alone, self._notes),
            walks=self._walks(settings),
            episodes=self._episodes(),
            own_slides=self._own_slides(),
            posted=self._posted(),
            stage_sets={**shipped_lists.stage_sets(), **build.own_stage_sets(said, block, shipped_lists.stage_sets())},
            cautions={**shipped_lists.cautions(), **build.own_cautions(said, block)},
            licences=shipped_lists.licences(),
            photo_files=frozenset(self._folder.pictures),
            film_files=frozenset(self._folder.films),
            sound_files=frozenset(self._folder.sounds),
            sighting_files=tables,
            sighting_words=words,
            region=region.read_region(said, settings, block, self._map_file, self._notes) if said.map else None,
        )

    def _block(self, file: str) -> Block | None:
        text = read_text(self._folder.root / file, file, self._notes)
        block = None if text is None else read_block(text, file, self._notes)
        if file == PLACES and text is not None:
            self.places_text = text
            note_doubts(find_doubts(text, block, file), self._notes)
        return block

    def _records(self, file: str, model: type[S], make: Callable[[str, S, Block], V]) -> Mapping[str, V]:
        """The records of a list file, by id; a guide need not have the file."""
        if file not in self._folder.files:
            return _NO_RECORDS
        records: Mapping[str, V]
        records, text = self._recall(file, (), lambda: (self._read_records(file, model, make), self.places_text if file == PLACES else ""))
        self.places_text = text or self.places_text
        return records

    def _read_records(self, file: str, model: type[S], make: Callable[[str, S, Block], V]) -> Mapping[str, V]:
        block = self._block(file)
        read = read_shape(block, Listed[model], self._notes) if block else None  # type: ignore[valid-type]
        if block is None or read is None:
            return {}
        kept = [key for key in read.root if check_id(key, block.key_at(key), "id", self._notes)]
        return {key: make(key, read.root[key], block) for key in kept}

    def _markdown(self, file: str, doubts: list[Doubt] | None = None) -> tuple[Block, Parts] | None:
        """The facts block of a Markdown file and its parts; doubts about its secrecy go into the list."""
        text = read_text(self._folder.root / file, file, self._notes)
        parts = split_fence(text, file, self._notes) if text is not None else None
        block = read_block(parts.facts, file, self._notes, first_line=parts.facts_line) if parts else None
        if doubts is not None and text is not None and block and parts:
            doubts += find_doubts(text, block, file)
        return (block, parts) if block and parts else None

    def _accounts(self, settings: Settings, characters: Mapping[str, Character]) -> Mapping[str, Account]:
        scores = ScoreReader(characters, self._notes)
        accounts: dict[str, Account] = {}
        translations: dict[str, list[Translation]] = defaultdict(list)
        for file in self._folder.inside("accounts", ".md"):
            stem = file.removeprefix("accounts/").removesuffix(".md")
            found = TRANSLATION.fullmatch(stem)
            if found:
                there = f"accounts/{found['id']}.md" in self._folder.files
                read = partial(self._translation, file, found["id"], found["language"], settings) if there else None
                translations[found["id"]] += self._recall(file, (settings,), read) if read else self._without_account(file, found["id"])
                continue
            account = self._recall(file, (settings, characters), partial(self._account, file, stem, settings, scores))
            if account:
                accounts[stem] = account
            else:
                self.unread.append(stem)
        for account_id, texts in translations.items():
            if account_id in accounts:
                accounts[account_id] = with_translations(accounts[account_id], texts, self._notes)
        return accounts

    def _account(self, file: str, account_id: str, settings: Settings, scores: ScoreReader) -> Account | None:
        if not check_id(account_id, At(file), "file name", self._notes, account=account_id):
            return None
        doubts: list[Doubt] = []
        read = self._markdown(file, doubts)
        said = read_shape(read[0], AccountShape, self._notes, account=account_id) if read else None
        if read is None or said is None:
            return None
        block, parts = read
        note_doubts(doubts, self._notes, account=account_id)
        sections = split_sections(parts.body, parts.body_line, file)
        check_headings(sections, self._notes, account_id)
        account = build_account(account_id, said, block, sections=sections, scores=scores, settings=settings, notes=self._notes)
        if settings.title:  # else guide.yaml is broken, and only what keeps the guide from being read is told
            self._notes.extend(find_hard_texts(sections, settings.language, names=(account.name.plain,), account=account_id))
        return replace(account, sensitivity=UNREADABLE) if doubts else account

    def _translation(self, file: str, account_id: str, language: str, settings: Settings) -> list[Translation]:
        if language not in settings.languages:
            self._notes.add("unknown-language", f"The guide is not in the language '{language}'.", At(file), account=account_id)
        read = self._markdown(file)
        said = read_shape(read[0], TranslationShape, self._notes, account=account_id) if read else None
        if read is None or said is None:
            return []
        sections = split_sections(read[1].body, read[1].body_line, file)
        check_headings(sections, self._notes, account_id)
        return [build_translation(language, said, read[0], sections)]

    def _without_account(self, file: str, account_id: str) -> list[Translation]:
        self._notes.add("translation-without-account", f"There is no account '{account_id}' to translate.", At(file))
        return []

    def _own_slides(self) -> Mapping[str, OwnSlides]:
        files = self._folder.inside("posts", ".md")
        read = ((file, self._recall(file, (), partial(self._slides, file))) for file in files)
        return {PurePosixPath(file).stem: slides for file, slides in read if slides is not None}

    def _slides(self, file: str) -> OwnSlides | None:
        set_id = PurePosixPath(file).stem
        known = all(check_id(part, At(file), "file name", self._notes) for part in set_id.split("--"))
        read = self._markdown(file) if known else None
        said = read_shape(read[0], OwnSlidesShape, self._notes) if read else None
        if read is None or said is None:
            return None
        sections = split_sections(read[1].body, read[1].body_line, file)
        check_headings(sections, self._notes, "", mend="Put a heading above it, such as ## question: each heading makes a slide.")
        return build_own_slides(set_id, said, read[0], sections)

    def _posted(self) -> Mapping[str, PostNotes]:
        read = ((file, self._recall(file, (), partial(self._noted, file))) for file in self._folder.inside("posts", ENDING))
        return {account_of_file(file): notes for file, notes in read if notes is not None}

    def _noted(self, file: str) -> PostNotes | None:
        block = self._block(file) if check_id(account_of_file(file), At(file), "file name", self._notes) else None
        said = read_shape(block, NotedShape, self._notes) if block else None
        return build_notes(file, said, block) if block and said else None

    def _episodes(self) -> Mapping[str, Episode]:
        episodes: dict[str, Episode] = {}
        for file in self._folder.inside("episodes", ".md"):
            stem = file.removeprefix("episodes/").removesuffix(".md")
            episode = self._recall(file, (), partial(self._episode, file, stem))
            if episode is not None:
                episodes[stem] = episode
        return episodes

    def _episode(self, file: str, episode_id: str) -> Episode | None:
        read = self._markdown(file) if check_id(episode_id, At(file), "file name", self._notes) else None
        said = read_shape(read[0], EpisodeShape, self._notes) if read else None
        if read is None or said is None:
            return None
        sections = split_sections(read[1].body, read[1].body_line, file)
        check_headings(sections, self._notes, "")
        return build_episode(episode_id, said, read[0], sections)

    def _walks(self, settings: Settings) -> Mapping[str, Walk]:
        walks: dict[str, Walk] = {}
        for file in self._folder.inside("walks", ".yaml"):
            stem = file.removeprefix("walks/").removesuffix(".yaml")
            walk = self._recall(file, (settings,), partial(self._walk, file, stem, settings))
            if walk is not None:
                # The track is a file of its own, which may change while the walk's stays.
                walks[stem] = region.add_track(walk, self._map_file, self._notes) if walk.track_file else walk
        return walks

    def _walk(self, file: str, walk_id: str, settings: Settings) -> Walk | None:
        block = self._block(file) if check_id(walk_id, At(file), "file name", self._notes) else None
        said = read_shape(block, WalkShape, self._notes) if block else None
        return build.build_walk(walk_id, said, block, settings) if block and said else None

    def _map_file(self, file: str) -> MapFile | Unreadable:
        return self._recall(file, (), partial(region.try_to_read, self._folder.root, file))
