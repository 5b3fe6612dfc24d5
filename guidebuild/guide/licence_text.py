"""Licences as people write them → SPDX ids. A version is never guessed, and never corrected to another."""

from __future__ import annotations

import re

_ELEMENT = {"attribution": "by", "noncommercial": "nc", "noderivatives": "nd", "noderivs": "nd", "sharealike": "sa"}
_ADDRESS = re.compile(
    r"^(?:https?://)?(?:www\.)?creativecommons\.org/(?:licenses|publicdomain)/(?P<code>[a-z+-]+)/(?P<version>[\d.]+)(?:/.*)?$"
)
_VERSION = re.compile(r"\bv?(\d)(?:\.(\d))?$")
_OWN = {
    "all rights reserved": "all-rights-reserved",
    "copyright": "all-rights-reserved",
    "©": "all-rights-reserved",
    "by permission": "used-by-permission",
    "used by permission": "used-by-permission",
    "with permission": "used-by-permission",
    "used with permission": "used-by-permission",
    "ogl uk 3.0": "OGL-UK-3.0",
    "open government licence 3.0": "OGL-UK-3.0",
    "open government licence v3.0": "OGL-UK-3.0",
}
_DEDICATED = {("zero", "1.0"): "CC0-1.0", ("mark", "1.0"): "CC-PDM-1.0"}


def licence_id(typed: str) -> str:
    """The SPDX id of a licence however it is written: `cc by 4.0`, `CC-BY-SA-3.0`, its address. What is none stays as typed.

    `CC BY` alone stays as it is too: the versions differ in what they ask, so that the author must say which.
    """
    text = typed.strip()
    address = _ADDRESS.match(text.lower())
    if address:
        code, version = address["code"], address["version"]
        return _DEDICATED.get((code, version)) or _spdx(code.split("-"), version) or text
    words = " ".join(re.sub(r"[\s_/-]+", " ", text.lower().replace("license", "licence")).split())
    if words in _OWN:
        return _OWN[words]
    if words.replace(" ", "") in {"cc0", "cc01.0", "cczero", "cczero1.0"}:
        return "CC0-1.0"
    return _creative_commons(words) or text


def version_of(licence: str) -> str:
    """The version that an id or a text ends in (`CC-BY-3.0`: `3.0`), or nothing."""
    found = _VERSION.search(licence.strip())
    return f"{found[1]}.{found[2] or 0}" if found else ""


def _creative_commons(words: str) -> str:
    words = words.replace("non commercial", "noncommercial").replace("no deriv", "noderiv").replace("share alike", "sharealike")
    words = words.replace(" international", "").replace(" unported", "").replace(" generic", "").replace("licence", "").strip()
    version = version_of(words)
    if not version:
        return ""
    names = _VERSION.sub("", words).replace("creative commons", "cc").split()
    if not names or names[0] not in {"cc", "by", "attribution"}:
        return ""
    return _spdx([_ELEMENT.get(name, name) for name in names if name != "cc"], version)


def _spdx(elements: list[str], version: str) -> str:
    """`CC-BY-NC-SA-4.0` from its elements in any order; nothing where they make no licence."""
    wanted = set(elements)
    if len(wanted) != len(elements) or not wanted <= {"by", "nc", "nd", "sa"} or "by" not in wanted or {"nd", "sa"} <= wanted:
        return ""
    return "-".join(["CC", *(e.upper() for e in ("by", "nc", "nd", "sa") if e in wanted), version])
