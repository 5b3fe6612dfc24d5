"""Signs that the tool draws for states that no photo shows well; `content/signs/` has the drawing of each."""

from __future__ import annotations

SIGNS = (
    "black", "blue", "brown", "green", "grey", "orange", "pink", "purple", "red", "white", "yellow",
    "banded", "plain", "ringed", "spotted", "streaked", "striped",
    "bent", "broad", "long", "narrow", "oval", "pointed", "round", "short", "square", "straight",
)  # fmt: skip
"""Colours, patterns and shapes that any group of living things may have."""
