"""Reading back every byte that was published, against the list that was written with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.digest import digest_file
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.staging import Staging, has_begun_replacing
from guidebuild.press.engine.trees import MANIFEST, find_inside, read_list

_MEND = "`guidebuild make --anew` makes it again"


@dataclass(frozen=True, slots=True)
class Verified:
    """How many files were read, and what differs."""

    files: int
    differing: tuple[Problem, ...]


def verify_published(place: Path) -> Verified:
    """Compare every file that is ours with what was published; nothing is changed, but what a run had begun that ended midway."""
    if has_begun_replacing(place):
        with Staging(place):
            pass
    if not place.is_dir():
        return Verified(0, (Problem("failed", str(place), "nothing is published there; `guidebuild make` publishes the guide"),))
    if (listed := read_list(place)) is None:
        message = "the list of what was published is missing or damaged, nothing can be compared; `guidebuild make --anew` mends it"
        return Verified(0, (Problem("failed", str(place / MANIFEST), message),))
    return Verified(len(listed.files), tuple(_find_differences(place, listed.files)))


def _find_differences(place: Path, listed: Mapping[str, str]) -> Iterator[Problem]:
    for path, digest in listed.items():
        file = find_inside(place, path)
        try:
            now = digest_file(file) if file is not None else None
        except FileNotFoundError:
            yield Problem("failed", str(place / path), f"is missing; {_MEND}")
        except OSError as error:
            yield Problem("failed", str(place / path), f"cannot be read ({error.strerror}); {_MEND}")
        else:
            if now is None:
                yield Problem("failed", str(place / path), "is not below the published folder, so it is none of ours")
            elif now != digest:
                yield Problem("failed", str(place / path), f"has not the bytes that were published; {_MEND}")
