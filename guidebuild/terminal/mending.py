"""Keys that get their names of today, as lines before and after."""

from __future__ import annotations

from rich.console import Console

from guidebuild.counting import count_of
from guidebuild.mending import Mending, differ

_STYLES = {"-": "red", "+": "green", "@": "cyan"}


def print_mending(console: Console, mending: Mending) -> None:
    """Each line that would change, as it stands and as it would; then what cannot be changed, and how much it is."""
    for one in mending.files:
        for line in differ(one):
            console.print(line, style=_STYLES.get(line[:1], ""), highlight=False, soft_wrap=True)
    for line in mending.refused:
        console.print(f"Not changed: {line}", highlight=False, soft_wrap=True)
    if mending.files:
        keys = count_of(sum(one.keys for one in mending.files), "key")
        console.print(f"{keys} in {count_of(len(mending.files), 'file')}.", highlight=False, soft_wrap=True)
    elif not mending.refused:
        console.print(
            "In every file that can be read, keys are called as they are today: there is nothing to mend.", highlight=False, soft_wrap=True
        )
