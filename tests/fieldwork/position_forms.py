"""The forms in which people and programs write a position. All positions are invented."""

from __future__ import annotations

import math
from collections.abc import Iterator

from openlocationcode import openlocationcode
from pyproj import Transformer

from guidebuild.fieldwork.codes_of_places import encode_geohash
from guidebuild.guide.records import Position

HERE = Position(51.12783, -1.28461)
_IN_FIGURES = (
    "{a}, -{b}",
    "{a},-{b}",
    "{a} -{b}",
    "{a}/-{b}",
    "{a}; -{b}",
    "({a} | -{b})",
    "{a}° N, {b}° W",
    "N{a} W{b}",
    "{a}N {b}W",
    "N {a}° W 00{b}°",
    "{ac}; -{bc}",
    "{ac}, -{bc}",
    "{ac} N {bc} W",
    "lat {a} lon -{b}",
    "latitude={a}&longitude=-{b}",
    "{a}, −{b}",
    '{{"latitude": {a}, "longitude": -{b}}}',
    "[-{b}, {a}]",
    "POINT (-{b} {a})",
    "geo:{a},-{b}",
    "geo:{a},-{b};crs=wgs84;u=20",
    "https://maps.example/?q={a},-{b}",
    "/@{a},-{b},17z",
    "#map=17/{a}/-{b}",
    "ll={a}%2C-{b}",
    "!3d{a}!4d-{b}",
    "mlat={a}&mlon=-{b}",
    '<wpt lat="{a}" lon="-{b}">',
    "<coordinates>-{b},{a},0</coordinates>",
    "+{a}-00{b}/",
    "{a}\n-{b}",
    "{a}00, -{b}00",
    "{a}461, -{b}234",
    "{ad}, -{bd}",
    "{af}, -{bf}",
    "{aa}, -{ba}",
    "{a} degrees north, {b} degrees west",
    "51 point {ap}, minus 1 point {bp}",
    "site;{a};an old oak by the gate, seen from the path;-{b};x",
    "Latitude {a}." + " A word." * 60 + " Longitude -{b}.",
    "51 degrees 7 minutes {s} seconds north, 1 degree 17 minutes {t} seconds west",
    "51 deg 7 min {s} sec N 1 deg 17 min {t} sec W",
    "51 Grad 7 Minuten {s} Sekunden Nord, 1 Grad 17 Minuten {t} Sekunden West",
    "51 degrés 7 minutes {s} secondes nord, 1 degré 17 minutes {t} secondes ouest",
    "51 grados 7 minutos {s} segundos norte, 1 grado 17 minutos {t} segundos oeste",
    "51°07'{s}\"N 1°17'{t}\"W",
    "51° 7′ {s}″ N, 1° 17′ {t}″ W",
    "51º07´{s}´´N 1º17´{t}´´W",
    "51°0{m}'N 001°{n}'W",
    "N51°0{m}' W001°{n}'",
    "51d07m{s}s N 1d17m{t}s W",
    "51:07:{s}N 1:17:{t}W",
    "51-07-{s}N 001-17-{t}W",
    "51 07 {s} N 1 17 {t} W",
    "51 0{m} N 1 {n} W",
    "GPS Latitude: 51 deg 7' {s}\" N\nGPS Longitude: 1 deg 17' {t}\" W",
    "51/1 7/1 4020/100 N 1/1 17/1 460/100 W",
    'GPSLatitude="51,{m}N" GPSLongitude="1,{n}W"',
    "+5107{s}-00117{u}/",
    "+510{m}-001{n}/",
    "510740N 0011705W",
    "510740N0011705W",
    "510{m}N 001{n}W",
    "N510740 W0011705",
    "$GPGGA,123519,510{m},N,001{n},W,1,08,0.9",
    "$GPRMC,123519,A,510{m},N,001{n},W,022.4,084.4,230394",
    "510{m2}N/001{n2}W#",
    "51&deg;7&prime;{s}&Prime;N 1&deg;17&prime;{t}&Prime;W",
    "51\\u00b07\\u2032{s}\\u2033N 1\\u00b017\\u2032{t}\\u2033W",
    "5112783, -128461",
    "51127830,-1284610",
    "511278300,-12846100",
)
_BRITISH = (
    *("SU {e} {n}", "SU{e}{n}", "SU {e3} {n3}", "at SU {e3} {n3}.", "SU:{e3}{n3}", "su {e3} {n3}", "su{e3}{n3}", "SU-{e3}-{n3}"),
    *("SU {e3}/{n3}", "SU {e4} {n4}", "NGR: SU{e3}{n3}", "4{e}, 1{n}", "E 4{e} N 1{n}", "Easting: 4{e} Northing: 1{n}", "4{e}E 1{n}N"),
    *("4{e2} {e1}, 1{n2} {n1}", "4{e2},{e1} 1{n2},{n1}", "4{e}.5 1{n}.5"),
)
_UTM = (
    *("30U {E} {N}", "30U 0{E} {N}", "30N {E} {N}", "Zone 30U E {E} N {N}", "UTM 30 {E}mE {N}mN", "{E}, {N}", "30u {E} {N}"),
    *("30U XB {e} {n}", "30UXB{e}{n}", "30uxb {e3} {n3}", "XB {e} {n}"),
)
_ELSEWHERE = {
    "Dutch RD": (28992, 52.21346, 5.86312, "X {e} Y {n}"),
    "Dutch RD in kilometres": (28992, 52.21346, 5.86312, "{ek} - {nk}"),
    "Swiss LV95": (2056, 46.95123, 7.43921, "{et} / {nt}"),
    "Swiss LV03": (21781, 46.95123, 7.43921, "{e}/{n}"),
    "Lambert-93": (2154, 45.76321, 4.83512, "X = {e} m, Y = {n} m"),
    "Belgian Lambert 72": (31370, 50.84112, 4.36321, "{e} {n}"),
    "German Gauss-Krüger": (31467, 51.12783, 9.28461, "R {e} H {n}"),
    "Austrian Lambert": (31287, 47.51234, 14.12783, "{e}, {n}"),
    "Gauss-Boaga": (3003, 44.12783, 8.91234, "{e} E, {n} N"),
    "Polish 1992": (2180, 52.12783, 19.28461, "{n} {e}"),
    "S-JTSK": (5514, 50.08123, 14.42345, "-{e}, -{n}"),
    "RT 90": (3021, 59.32783, 16.12345, "{n} {e}"),
    "SWEREF 99": (3006, 59.32783, 16.12345, "N {n}, E {e}"),
    "Finnish TM35": (3067, 61.12783, 24.28461, "P {n} I {e}"),
    "Irish grid": (29903, 53.12783, -7.28461, "{e} {n}"),
    "Irish Transverse Mercator": (2157, 53.12783, -7.28461, "ITM {e} {n}"),
    "Australian map grid": (28355, -36.12783, 147.28461, "55H {e} {n}"),
    "New Zealand TM": (2193, -41.27123, 174.78123, "{e}mE {n}mN"),
    "European equal area": (3035, 52.21346, 5.86312, "x={e} y={n}"),
    "web Mercator": (3857, 51.12783, -1.28461, "bbox=-{e},{n}"),
}


def _halves(value: str) -> dict[str, str]:
    return {"": value, "1": value[2:], "2": value[:2], "3": value[:3], "4": value[:4]}


def write_forms() -> Iterator[tuple[str, Position, str]]:
    """Each form by its name, the position that it says, and how it says it."""
    a, b = "51.12783", "1.28461"
    swap = str.maketrans("0123456789", "٠١٢٣٤٥٦٧٨٩")
    full = str.maketrans("0123456789", "０１２３４５６７８９")
    written = {"c": (".", ","), "d": (".", "·")}
    told = {
        **{f"{name}{sign}": v.replace(*signs) for name, v in (("a", a), ("b", b)) for sign, signs in written.items()},
        **{f"{name}{sign}": v.translate(digits) for name, v in (("a", a), ("b", b)) for sign, digits in (("f", full), ("a", swap))},
    }
    told |= {"a": a, "b": b, "ap": "12783", "bp": "28461", "s": "40.2", "t": "4.6", "u": "04.6"}
    told |= {"m": "7.670", "n": "17.077", "m2": "7.67", "n2": "17.08"}
    yield from ((form, HERE, form.format_map(told)) for form in _IN_FIGURES)
    for forms, code in ((_BRITISH, 27700), (_UTM, 32630)):
        east, north = (str(int(v)) for v in Transformer.from_crs(4326, code, always_xy=True).transform(HERE.longitude, HERE.latitude))
        inner = {f"{axis}{key}": part for axis, v in (("e", east), ("n", north)) for key, part in _halves(v[-5:]).items()}
        yield from ((form, HERE, form.format_map({**inner, "E": east, "N": north})) for form in forms)
    for name, (code, latitude, longitude, form) in _ELSEWHERE.items():
        e, n = (abs(round(v)) for v in Transformer.from_crs(4326, code, always_xy=True).transform(longitude, latitude))
        words = {
            "e": e,
            "n": n,
            "et": f"{e:,}".replace(",", "’"),
            "nt": f"{n:,}".replace(",", "’"),
            "ek": f"{e / 1000:.3f}",
            "nk": f"{n / 1000:.3f}",
        }
        yield name, Position(latitude, longitude), form.format_map(words)
    yield from _codes()


def _codes() -> Iterator[tuple[str, Position, str]]:
    code, geohash = openlocationcode.encode(HERE.latitude, HERE.longitude), encode_geohash(HERE, 9)
    x, y = _tile(17)
    texts = {
        "plus code": code,
        "short plus code": f"{code[4:]} Larkfold",
        "shorter plus code": f"{code[6:]}, Larkfold",
        "plus code in small letters": code.lower(),
        "geohash": geohash,
        "geohash in capitals": geohash.upper(),
        "geohash in an address": f"https://geohash.example/{geohash}",
        "map tile": f"https://tiles.example/17/{x}/{y}.png",
        "quadkey": "".join(str((x >> n & 1) + 2 * (y >> n & 1)) for n in reversed(range(17))),
        "Maidenhead locator": _locator(),
        "three words": "///invented.example.words",
        "words for figures": "fifty-one point one two seven eight three north, one point two eight four six one west",
    }
    yield from ((name, HERE, text) for name, text in texts.items())


def _tile(zoom: int) -> tuple[int, int]:
    """Column and row of a web map's tile."""
    phi = math.radians(HERE.latitude)
    return int((HERE.longitude + 180) / 360 * 2**zoom), int((1 - math.asinh(math.tan(phi)) / math.pi) / 2 * 2**zoom)


def _locator() -> str:
    east, north = HERE.longitude + 180, HERE.latitude + 90
    text = ""
    for step, signs in ((20.0, "ABCDEFGHIJKLMNOPQR"), (2.0, "0123456789"), (2 / 24, "abcdefghijklmnopqrstuvwx"), (2 / 240, "0123456789")):
        text += signs[int(east / step)] + signs[int(north / (step / 2))]
        east, north = east % step, north % (step / 2)
    return text
