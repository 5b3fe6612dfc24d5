"""Ids: words that become file names and web addresses, so that none may lead elsewhere or fail on another disk."""

from __future__ import annotations

import re

from slugify import slugify

LONGEST_ID = 80
"""Signs. With an ending and a width behind it, a name stays below the 143 bytes that encrypted home folders allow."""

# Microsoft, "Naming Files, Paths, and Namespaces": device names, with or without an ending.
DEVICES = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9¹²³])(?:\..*)?", re.IGNORECASE)
_APOSTROPHES = re.compile(r"['’‘ʼ`´]")
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
# No slash, no first or last stop, nothing that an address or a shell reads as a sign of its own.
_HARMLESS = re.compile(r"\w(?:[\w .'()-]*[\w')-])?")


def make_id(text: str, otherwise: str = "unnamed") -> str:
    """A name as an id: `Ørsted's Łoś` becomes `orsteds-los`; `otherwise` where nothing of it can be written in a–z and 0–9.

    Letters of all scripts are written in Latin ones, apostrophes go, and what Windows would take for a device gets a number.
    """
    bare = _APOSTROPHES.sub("", text)
    made = slugify(bare, max_length=LONGEST_ID, word_boundary=True, entities=False, decimal=False, hexadecimal=False)
    made = made or slugify(bare)[:LONGEST_ID].strip("-") or otherwise
    return f"{made}-1" if is_device(made) else made


def is_id(text: str) -> bool:
    """Small letters and digits, parted by single hyphens, short, and no device of Windows."""
    return bool(_ID.fullmatch(text)) and len(text) <= LONGEST_ID and not is_device(text)


def can_name_a_file(text: str) -> bool:
    """Whether every disk and system takes the text as one name, even if it is not as ids should be."""
    return bool(_HARMLESS.fullmatch(text)) and len(text.encode()) <= LONGEST_ID and not is_device(text)


def is_device(text: str) -> bool:
    """Whether Windows would take a file of this name for a device."""
    return bool(DEVICES.fullmatch(text))
