"""The rooms that promise something, and the tests that hold them to it."""

from __future__ import annotations

from dataclasses import dataclass

from tests.mutants.operators import ROOT


@dataclass(frozen=True)
class Room:
    """Files by pattern, and the tests that are run for them.

    Tests slower than `longest` seconds are left out; those known to be much slower (words in their names) are not even timed.
    """

    files: tuple[str, ...]
    tests: tuple[str, ...]
    longest: float = 2.0
    too_slow: tuple[str, ...] = ()

    def list_files(self) -> list[str]:
        """The files of the room, from the project's folder."""
        found = {path for pattern in self.files for path in ROOT.glob(pattern) if path.name != "__init__.py"}
        return sorted(path.relative_to(ROOT).as_posix() for path in found)


_SECRECY = (
    *("published", "public_records", "public_accounts", "decisions", "unsaid", "telling_texts", "hidden_words"),
    *("secrecy", "periods", "near_places", "seen_secretly", "spots", "names_kept", "letters", "name_finder", "sieve", "leaks"),
)

ROOMS = {
    "identify": Room(
        ("guidebuild/identify/*.py",),
        ("tests/identify", "tests/outside/test_keys.py", "tests/views/telling", "tests/checks/test_looks_alike_rules.py"),
    ),
    "fieldwork": Room(
        ("guidebuild/fieldwork/*.py",),
        (
            "tests/fieldwork",
            "tests/outside/test_daylight.py",
            "tests/outside/test_grid_references.py",
            "tests/outside/test_phenology.py",
            "tests/outside/test_plane_grids.py",
            "tests/outside/test_sensitive_places.py",
            "tests/test_secret_spots.py",
            "tests/views/data",
            "tests/views/outdoors",
            "tests/checks/test_season_rules.py",
            "tests/checks/test_secrecy_rules.py",
        ),
    ),
    # What may be said: a part of fieldwork, to be looked at by itself.
    "secrecy": Room(
        tuple(f"guidebuild/fieldwork/{name}.py" for name in _SECRECY),
        ("tests/fieldwork", "tests/outside/test_sensitive_places.py", "tests/test_secret_spots.py", "tests/checks/test_secrecy_rules.py"),
    ),
    "captions": Room(
        tuple(f"guidebuild/speech/{name}.py" for name in ("cues", "captions", "caption_files", "chunks", "cutting")),
        (
            "tests/speech/test_captions.py",
            "tests/speech/test_caption_files.py",
            "tests/speech/test_chunks.py",
            "tests/speech/test_cues.py",
            "tests/speech/test_cutting.py",
            "tests/outside/test_speech_captions.py",
        ),
    ),
    "engine": Room(
        ("guidebuild/press/engine/*.py",),
        ("tests/press/engine", "tests/hostile/test_one_run.py"),
        longest=4.0,
        too_slow=(
            "test_every_input.py",
            "test_freshness.py",
            "test_power_cut.py",
            "a_kill_at_any_moment",
            "work_in_a_library",
            "work_on_deaf",
        ),
    ),
}
