"""Names of months in any language, after the Unicode CLDR as Babel holds it."""

from __future__ import annotations

from copy import deepcopy
from functools import lru_cache
from typing import Any

from babel import Locale, localedata


@lru_cache(maxsize=256)
def month_names(locale: Locale, width: str = "wide", context: str = "stand-alone") -> dict[int, str]:
    """Month 1–12 → name; widths `wide`, `abbreviated`, `narrow`, contexts `stand-alone` and `format` (beside a day).

    Babel 2.18 writes what it looks up for one language into data that all languages share: once Japanese names were asked
    for, Spanish ones came out Japanese. So the look-up is done in a copy.
    """
    held: dict[str | int | None, Any] = {}
    held.update(localedata.load(str(locale)))
    own = localedata.LocaleDataDict(held | {"months": deepcopy(held["months"])})
    return {int(number): str(name) for number, name in own["months"][context][width].items()}
