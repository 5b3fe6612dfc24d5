"""A country by its two letters, for data."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from babel import Locale

from guidebuild.guide.problem import Unreadable

_NO_COUNTRY = frozenset(["AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN", "XA", "XB", "XK", "ZZ"])
"""What CLDR names besides the 249 codes of ISO 3166-1: reserved ones, groups of countries, and its own for tests."""
_SIGNS = 2
_SLIPS = {"UK": "GB", "EL": "GR"}


def parse_country(text: str) -> str | Unreadable:
    """A country by its two letters (ISO 3166-1 alpha-2): `GB`."""
    code = text.strip().upper()
    if code in country_codes():
        return code
    said = _SLIPS.get(code) or _country_called(text)
    mend = f"Write {said}." if said else "Write the two letters of ISO 3166-1, such as GB or ES."
    return Unreadable(f"'{text[:60]}' is not a country's two letters.", mend)


@cache
def country_codes() -> Mapping[str, str]:
    """The codes of ISO 3166-1 with their English names: those of CLDR without its own ones."""
    names: Mapping[str, str] = {str(code): str(name) for code, name in Locale("en").territories.items()}
    return {code: name for code, name in names.items() if len(code) == _SIGNS and code not in _NO_COUNTRY}


def _country_called(text: str) -> str:
    """The code of a country by its English name."""
    called = text.strip().casefold()
    return next((code for code, name in country_codes().items() if name.casefold() == called), "")
