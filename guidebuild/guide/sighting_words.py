"""What the words in tables of sightings mean: the tool's own lists, and above them those of the guide."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from guidebuild.guide.text.inline import Unshown


@dataclass(frozen=True, slots=True)
class SightingWords:
    """Words by what they mean. `absence`, `doubt`, `no_doubt` and `leave_out` list, for a column, the words of its cells.

    `sheets` and `data_sets` say by the name of a file which sheet of it is read, and which source its rows come from.
    """

    places: Mapping[str, Unshown] = field(default_factory=dict)
    stages: Mapping[str, Unshown] = field(default_factory=dict)
    beside_a_stage: tuple[Unshown, ...] = ()
    sexes: Mapping[str, Unshown] = field(default_factory=dict)
    absence: Mapping[str, tuple[Unshown, ...]] = field(default_factory=dict)
    doubt: Mapping[str, tuple[Unshown, ...]] = field(default_factory=dict)
    no_doubt: Mapping[str, tuple[Unshown, ...]] = field(default_factory=dict)
    leave_out: Mapping[str, tuple[Unshown, ...]] = field(default_factory=dict)
    sheets: Mapping[str, Unshown] = field(default_factory=dict)
    data_sets: Mapping[str, Unshown] = field(default_factory=dict)
    columns: Mapping[str, tuple[Unshown, ...]] = field(default_factory=dict)
    """By heading, its Darwin Core term; several where it may mean any of them."""
    own_columns: frozenset[Unshown] = frozenset()
    """Headings of which the guide itself says the term: they come before those that only the tool knows."""
