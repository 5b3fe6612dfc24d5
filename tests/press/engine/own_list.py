"""What the list in a published folder says."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from guidebuild.press.engine.trees import OwnList, read_list


def read_manifest(folder: Path) -> Mapping[str, str]:
    """Digests of the files that are ours, by path; none where the list is missing or damaged."""
    return (read_list(folder) or OwnList()).files
