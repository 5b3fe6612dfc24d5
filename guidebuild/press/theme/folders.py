"""Where the templates of a guide are looked for."""

from __future__ import annotations

from pathlib import Path

from guidebuild.shipped import on_disk, themes


def find_theme(folder: Path) -> tuple[Path, ...]:
    """The guide's own `theme/`, then the shipped one; a theme that is a link out of the guide is passed over."""
    home = folder.resolve()
    own, shipped = home / "theme", on_disk(themes().joinpath("plate"))
    return (own, shipped) if own.is_dir() and not leads_out(folder) else (shipped,)


def has_own_theme(folder: Path) -> bool:
    """Whether a guide has templates of its own."""
    return len(find_theme(folder)) > 1


def leads_out(folder: Path) -> bool:
    """Whether the guide's theme is a link to somewhere outside of the guide."""
    home = folder.resolve()
    own = home / "theme"
    return own.is_symlink() and not own.resolve().is_relative_to(home)
