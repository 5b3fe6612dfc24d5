"""Publishing small folders and reading them back."""

from pathlib import Path

from guidebuild.press.engine.staging import Outcome, Staging
from guidebuild.press.engine.trees import MANIFEST, files_below


def publish(place: Path, files: dict[str, str], keys: bool = True) -> Outcome:
    with Staging(place) as staging:
        for path, text in files.items():
            staging.add(path, text.encode(), key=text if keys else None)
        return staging.publish()


def texts(place: Path) -> dict[str, str]:
    """What a reader would find, by path; symbolic links and our list left out."""
    found = (path for path in files_below(place) if path != MANIFEST)
    return {path: (place / path).read_text() for path in found if not (place / path).is_symlink()}


def workshop(place: Path) -> list[str]:
    return sorted(path.name for path in (place.parent / ".guidebuild").iterdir())
