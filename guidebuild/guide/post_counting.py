"""The rules by which places count the characters of a post."""

from __future__ import annotations

SIGNS, WIDE, UNITS = "signs", "wide signs", "units"
COUNTING = (SIGNS, WIDE, UNITS)
"""Each sign that a reader sees is one; emoji and signs of Chinese, Japanese and Korean are two; each unit of UTF-16 is one."""
