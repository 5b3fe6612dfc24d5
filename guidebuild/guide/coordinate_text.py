"""Latitude and longitude as people and devices write them → degrees."""

from __future__ import annotations

import re
import unicodedata

from guidebuild.guide.problem import Unreadable

_LIMIT = {"latitude": 90.0, "longitude": 180.0}
_SIDES = {"latitude": "NS", "longitude": "EW"}
_SIGNS = str.maketrans({"−": "-", "–": "-", "‐": "-", "‑": "-", "º": "°", "˚": "°", "’": "'", "‘": "'", "′": "'", "´": "'", "`": "'",
                        "”": '"', "“": '"', "″": '"', "„": '"', "\u00a0": " ", "\u202f": " "})  # fmt: skip
_NUMBER = r"\d+(?:[.,]\d+)?"
_DEGREES = re.compile(
    rf"(?P<lead>[NSEWO])?\s*(?P<sign>[-+])?\s*(?P<degrees>{_NUMBER})\s*°?\s*"
    rf"(?:(?P<minutes>{_NUMBER})\s*(?:'(?!')|(?=\s|$|[NSEWO]))\s*)?"
    rf"(?:(?P<seconds>{_NUMBER})\s*(?:\"|'')?\s*)?(?P<trail>[NSEWO])?",
    re.IGNORECASE,
)


def parse_coordinate(text: str, axis: str) -> float | Unreadable:
    """Degrees north or east; `axis` is "latitude" or "longitude".

    Reads decimal degrees with point or comma, degrees-minutes-seconds with straight or typographic marks, a hyphen or a
    true minus, and N, S, E, W (or O for west and east is refused: it means east in German and west in French).
    """
    plain = " ".join(unicodedata.normalize("NFC", text).translate(_SIGNS).split())
    match = _DEGREES.fullmatch(plain)
    if match is None:
        return Unreadable(f"The {axis} “{text}” cannot be read.", "Write decimal degrees, such as 51.1034.", "coordinate")
    side = (match["lead"] or match["trail"] or "").upper()
    problem = _problem(text, axis, match, side)
    if problem:
        return problem
    parts = [float((match[part] or "0").replace(",", ".")) for part in ("degrees", "minutes", "seconds")]
    degrees = parts[0] + parts[1] / 60 + parts[2] / 3600
    if degrees > _LIMIT[axis]:
        return Unreadable(f"The {axis} {text} is out of range.", f"A {axis} lies between −{_LIMIT[axis]:g} and {_LIMIT[axis]:g}.",
                          "coordinate")  # fmt: skip
    return -degrees if side in ("S", "W") or match["sign"] == "-" else degrees


def find_precision(text: str) -> str:
    """How finely degrees are typed: `51.1034` is precise to 0.0001, `51°6'12"` to 0.000278, "" for what is typed in another way.

    The figures for minutes and seconds are those of the examples of Darwin Core's coordinatePrecision.
    """
    match = _DEGREES.fullmatch(" ".join(unicodedata.normalize("NFC", text).translate(_SIGNS).split()))
    if match is None:
        return ""
    for part, whole in (("seconds", "0.000278"), ("minutes", "0.01667")):
        if match[part]:
            return whole if match[part].isdigit() else ""
    decimals = len(match["degrees"].replace(",", ".").partition(".")[2])
    return f"{10.0**-decimals:.{decimals}f}" if decimals else "1"


def _problem(text: str, axis: str, match: re.Match[str], side: str) -> Unreadable | None:
    """What makes a well-formed coordinate senseless."""
    if side == "O":
        return Unreadable(f"The O in “{text}” means east in German and west in French.", "Write E or W.", "coordinate")
    if match["lead"] and match["trail"]:
        return Unreadable(f"The {axis} “{text}” names two sides.", "Keep one of the letters.", "coordinate")
    if side and side not in _SIDES[axis]:
        return Unreadable(f"“{text}” is no {axis}: it ends in {side}.", f"A {axis} has {' or '.join(_SIDES[axis])}.", "coordinate")
    if side and match["sign"]:
        return Unreadable(f"The {axis} “{text}” has a sign and a letter.", "Keep one of them.", "coordinate")
    if any(float((match[part] or "0").replace(",", ".")) >= 60 for part in ("minutes", "seconds")):
        return Unreadable(f"The {axis} “{text}” has 60 or more minutes or seconds.", "Minutes and seconds run to 59.", "coordinate")
    return None
