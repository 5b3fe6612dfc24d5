"""A stylesheet set a little closer or wider: gaps above and below first, then type and small pictures, within what can be read.

Only what decides how far down a text reaches is touched: widths and insets stay, and so do a page's own margins.
"""

from __future__ import annotations

import re
from functools import partial

_PAGE = re.compile(r"@page[^{]*\{(?:[^{}]|\{[^{}]*\})*\}")
_DECLARATION = re.compile(
    r"(?<=[{;\s])(font|font-size|margin|margin-top|margin-bottom|padding|padding-top|padding-bottom|padding-block)\s*:\s*([^;{}]+)"
)
_PICTURE = re.compile(r"(img\s*\{[^{}]*?\bwidth\s*:\s*)([\d.]+)(mm)")
_LENGTH = re.compile(r"(?<![\w.#-])(\d*\.?\d+)(mm|pt|rem|em)\b")
_GAPS = 3
"""The power to which gaps follow the type: at nine tenths of the type they are at three quarters."""
_FOLLOW = frozenset({"em", "rem"})
"""Units that grow and shrink with the type without being told."""


def set_closer(css: str, scale: float, least: float) -> str:
    """The stylesheet with type so many times as large, and gaps more so; type does not shrink below `least` points."""
    if scale == 1.0:
        return css
    pieces, end = [], 0
    for page in _PAGE.finditer(css):
        pieces += [_resized(css[end : page.start()], scale, least), page[0]]
        end = page.end()
    return "".join((*pieces, _resized(css[end:], scale, least)))


def _resized(css: str, scale: float, least: float) -> str:
    css = _DECLARATION.sub(partial(_declared, scale=scale, least=least), css)
    return _PICTURE.sub(lambda found: f"{found[1]}{float(found[2]) * scale**2:.4g}{found[3]}", css)


def _declared(found: re.Match[str], scale: float, least: float) -> str:
    name, value = found[1], found[2]
    if name.startswith("font"):
        return f"{name}:{_LENGTH.sub(partial(_type, scale=scale, least=least), value)}"
    return f"{name}:{_gaps(name, value, scale)}"


def _type(found: re.Match[str], scale: float, least: float) -> str:
    size, unit = float(found[1]), found[2]
    if unit != "pt":
        return found[0]
    return f"{max(size * scale, min(size, least)):.4g}pt"


def _gaps(name: str, value: str, scale: float) -> str:
    """Above and below alone: the first and third of the four that `margin` and `padding` may have."""
    if "(" in value:  # reckoned by the stylesheet itself
        return value
    sides = value.split()
    if len(sides) == 1 and name in ("margin", "padding"):
        sides *= 2
    vertical = range(len(sides)) if "-" in name else range(0, len(sides), 2)
    return " ".join(_LENGTH.sub(partial(_gap, scale=scale), side) if at in vertical else side for at, side in enumerate(sides))


def _gap(found: re.Match[str], scale: float) -> str:
    power = _GAPS - 1 if found[2] in _FOLLOW else _GAPS
    return f"{float(found[1]) * scale**power:.4g}{found[2]}"
