"""How each kind of short writing is said: one table of expressions and small functions."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from re import Match

from guidebuild.speech.language import Language
from guidebuild.speech.numbers import say_cardinal, say_ordinal, say_year

_DASH = r"\s?[–—]\s?|\s-\s|-"
_SMALL_ROMAN = {"II": "2", "III": "3", "IV": "4", "VI": "6", "VII": "7", "VIII": "8", "IX": "9"}
_SIGN_IN_FIGURE = re.compile(r"(?<=\d),(?=\d)|(?<=\d)\.(?=\d{3}(?!\d))")
_ONE = frozenset({"1", "1.0"})
_ALSO_WORDS = frozenset({"am", "pm", "min", "ha", "a.m.", "p.m."})

Say = Callable[["Match[str]", Language], str]
Row = tuple[str, str, Say]  # a group's name, its expression, how to say what it finds


def find_sayings(text: str, table: Language) -> Iterator[tuple[str, tuple[int, int]]]:
    """Where a text holds something that is said in other words: which kind it is, and its first and last sign."""
    return ((match.lastgroup or "", match.span()) for match in _sayings(table)[0].finditer(_point_decimals(text, table)))


def _any(choices: Iterable[str]) -> str:
    return "|".join(re.escape(choice) for choice in sorted(choices, key=lambda choice: (-len(choice), choice)))


def say_all(text: str, table: Language) -> str:
    """Prose with every figure, unit, date, short form and sign in it said in words."""
    expression, sayings = _sayings(table)
    return expression.sub(lambda match: sayings[match.lastgroup or ""](match, table), _point_decimals(text, table))


def _point_decimals(text: str, table: Language) -> str:
    """The text with decimals after a point and thousands parted by commas, as all that follows reads figures; as long as it was.

    A point that parts no thousands is left: a version such as 4.0 is written so in every language.
    """
    if table.decimal_sign == ".":
        return text
    return _SIGN_IN_FIGURE.sub(lambda sign: "," if sign[0] == "." else ".", text)


@cache
def _sayings(table: Language) -> tuple[re.Pattern[str], dict[str, Say]]:
    """One expression whose outer groups are named after how to say them; the first that fits is taken."""
    figure = rf"(?:\d{{1,3}}(?:,\d{{3}})+(?:\.\d+)?|\d+(?:\.\d+)?)(?!\d)[{''.join(table.fractions)}]?"
    after = r"(?:(?<=[a-z])\.(?=\s[a-z]))?"  # the stop of `20 min. later`, not that of the sentence
    unit = rf"(?:{_any(table.units)})(?![^\W_])"
    names = (*table.months, *table.month_abbreviations)
    # Where months are written small, a capital begins a sentence.
    small = "".join(sorted({name[0] for name in names if name[0].islower()}))
    month = rf"(?{'i' if small else ''}:(?:{_any(table.months)})\b|(?:{_any(table.month_abbreviations)})\b\.?)"
    endings = _any(table.ordinal_endings)
    day = rf"(?:[12]\d|3[01]|0?[1-9])(?:{endings})?"
    short = _any(table.abbreviations.keys() - table.before_figure)
    long_units = [unit for unit in table.units if len(unit) > 1 and unit[:2].islower() and unit not in _ALSO_WORDS]
    fractions = "".join(table.fractions)
    figures: list[Row] = [
        ("iso", r"\d{4}-\d\d-\d\d\b", _say_iso_date),
        ("day", rf"{day}(?:(?:{_DASH}){day})?\s{month}(?:\s\d{{4}}\b)?", _say_day),
        ("clock", r"(?:[01]?\d|2[0-3]):[0-5]\d\b", _say_clock),
        ("ratio", r"\d+:\d+\b", _say_ratio),
        ("decade", r"(?:1[5-9]|20)\d0s\b", _say_decade),
        ("nth", rf"\d+(?:{endings})\b", _say_ordinal),
        ("spans", rf"\({figure}[–-]\){figure}(?:(?:{_DASH}){figure})?(?:\([–-]{figure}\))?(?:\s?{unit})?", _say_exceptional),
        ("most", rf"{figure}(?:{_DASH}){figure}\([–-]{figure}\)(?:\s?{unit})?", _say_exceptional),
        ("size", rf"{figure}(?:\s?{unit})?(?:\s?[×x]\s?{figure}(?:\s?{unit})?)+", _say_size),
        ("range", rf"{figure}(?:{_DASH}){figure}(?:[\s-]?{unit})?", _say_range),
        ("quantity", rf"[−-]?{figure}(?:[\s-]?{unit}{after})?", _say_quantity),
    ]
    capitals: list[Row] = [
        ("monthday", rf"{month}\s{day}(?:(?:{_DASH}){day})?(?![\w–-])(?:,\s\d{{4}}\b)?", _say_month_day),
        ("months", rf"{month}(?:{_DASH})(?:(?:{_any(table.month_parts)})[ -])?{month}", _say_months),
        ("code", r"[A-Z]{1,3}\d{2,}\b", _say_code),
        ("roman", rf"(?:{_any(_SMALL_ROMAN)})\b", _say_roman),
        ("letters", rf"(?:{_any(table.letters)}|[B-DF-HJ-NP-TV-XZ]{{2,5}})\b", _say_letters),
    ]
    written_short: list[Row] = [
        ("unit", rf"(?:{_any(long_units)})\b", _say_unit),
        ("before", rf"(?:{_any(table.before_figure)})(?=\s?\d)", _say_short),
        ("short", rf"(?:{short})(?!\w)", _say_short),
    ]
    signs: list[Row] = [
        ("fraction", rf"[{fractions}](?:\s?{unit})?", _say_quantity),
        ("money", rf"(?:{_any(table.money)})\s?{figure}", _say_money),
        ("power", r"[×x](?=\d)\d+(?:\.\d+)?", _say_power),
        ("sign", _any(table.signs), _say_sign),
        ("slash", r"/(?<=[^\W\d_]/)(?=[^\W\d_])", _say_slash),
    ]
    opening = re.escape("".join(sorted({sign[0] for sign in (*table.signs, *table.money, *fractions, "/", "×")})))
    # Most places in a text fail the cheap test that opens each group, and cost next to nothing.
    groups = [
        (r"(?<!\w)(?=[\d(−-])", figures),
        (rf"(?<!\w)(?=[A-Z{small}])", capitals),
        (rf"(?<!\w)(?=[{''.join(sorted({short_form[0] for short_form in (*long_units, *table.abbreviations)}))}])", written_short),
        (rf"(?=[{opening}x])", signs),
    ]
    whole = "|".join(f"{gate}(?:{'|'.join(f'(?P<{name}>{what})' for name, what, _ in rows)})" for gate, rows in groups)
    return re.compile(rf"(?:(?<!\w)|(?=[{opening}x]))(?:{whole})"), {name: say for _, rows in groups for name, _, say in rows}


_FIGURES = re.compile(r"\d[\d,]*(?:\.\d+)?[½¼¾⅓⅔]?|[½¼¾⅓⅔]")


def _month_name(text: str, table: Language) -> str:
    bare = text.rstrip(".")
    found = next((month for month in table.months if month.casefold().startswith(bare[:3].casefold())), bare)
    return found[:1].upper() + found[1:] if bare[:1].isupper() else found


def _dated(days: list[str], month: str, in_year: str, table: Language) -> str:
    say = say_cardinal if table.days_are_cardinal else say_ordinal
    first, *rest = (say(day.lstrip("0"), table) for day in days)
    said = table.words["day range"].format(first=first, last=rest[0]) if rest else first
    date = table.words["ordinal date"].format(day=said, month=month)
    return table.words["year of a date"].format(date=date, year=say_year(in_year, table)) if in_year else date


def _say_iso_date(match: Match[str], table: Language) -> str:
    in_year, month, day = match[0].split("-")
    if not (1 <= int(month) <= len(table.months) and 1 <= int(day) <= 31):
        return " ".join(say_cardinal(figure, table) for figure in (in_year, month, day))
    return _dated([day], table.months[int(month) - 1], in_year, table)


def _say_day(match: Match[str], table: Language) -> str:
    figures = re.findall(r"\d+", match[0])
    in_year = figures.pop() if len(figures[-1]) == 4 else ""
    month = re.search(r"\s([^\W\d_]+)", match[0])
    return _dated(figures, _month_name(month[1] if month else "", table), in_year, table)


def _say_month_day(match: Match[str], table: Language) -> str:
    figures = re.findall(r"\d+", match[0])
    in_year = figures.pop() if len(figures[-1]) == 4 else ""
    return _dated(figures, _month_name(match[0].split()[0], table), in_year, table)


def _say_months(match: Match[str], table: Language) -> str:
    first, last = re.split(_DASH, match[0], maxsplit=1)
    *when, month = last.replace("-", " ").split()
    return " ".join([_month_name(first, table), table.words["range"], *when, _month_name(month, table)])


def _say_clock(match: Match[str], table: Language) -> str:
    hour, minute = match[0].split(":")
    return f"{say_cardinal(str(int(hour)), table)} {table.words['full hour'] if minute == '00' else say_cardinal(minute, table)}"


def _say_ratio(match: Match[str], table: Language) -> str:
    return f" {table.words['ratio']} ".join(say_cardinal(figure, table) for figure in match[0].split(":"))


def _say_decade(match: Match[str], table: Language) -> str:
    said = say_year(match[0][:-1], table)
    last = re.split(r"[\s-]", said)[-1]
    return said.removesuffix(last) + table.decades.get(last, f"{last}s")


def _say_ordinal(match: Match[str], table: Language) -> str:
    figure = re.match(r"\d+", match[0])
    return say_ordinal(figure[0], table) if figure else match[0]


def _say_money(match: Match[str], table: Language) -> str:
    one, several = table.money[match[0][0]]
    figure = match[0][1:].strip()
    whole, _, pence = figure.partition(".")
    said = f"{say_cardinal(whole, table)} {one if whole == '1' else several}"
    return f"{said} {say_cardinal(pence, table)}" if pence.strip("0") else said


def _split_unit(text: str) -> tuple[list[str], str]:
    """The figures of a measurement and the unit after the last of them."""
    figures = list(_FIGURES.finditer(text))
    return [figure[0] for figure in figures], text[figures[-1].end() :].strip(" -\u00a0\u202f)")


def _unit(unit: str, table: Language, *, one: bool) -> str:
    known = unit if unit in table.units else unit.rstrip(".")
    return f" {table.units[known][0 if one else 1]}" if known in table.units else ""


def _say_before(unit: str, figure: str, table: Language) -> str:
    """A figure as it is said before a unit."""
    said = say_cardinal(figure, table)
    ends = table.before_feminine_unit if unit in table.feminine_units else table.before_unit
    end = next((end for end in ends if unit and "." not in figure and said.endswith(end)), "")
    return said.removesuffix(end) + ends[end] if end else said


def _say_exceptional(match: Match[str], table: Language) -> str:
    figures, unit = _split_unit(match[0])
    low = figures.pop(0) if match[0][0] == "(" else ""
    high = figures.pop() if re.search(r"\([–-]\d[^(]*$", match[0]) else ""
    usual = f" {table.words['range']} ".join(say_cardinal(figure, table) for figure in figures)
    rare = f" {table.words['or']} ".join(say_cardinal(figure, table) for figure in (low, high) if figure)
    return f"{usual}, {table.words['exceptional']} {rare}{_unit(unit, table, one=False)}"


def _say_power(match: Match[str], table: Language) -> str:
    return f"{table.words['times']} {say_cardinal(match[0][1:], table)}"


def _say_size(match: Match[str], table: Language) -> str:
    # Only between two figures: a × at the end is the unit of the last (`10×` is ten times).
    sides = [_split_unit(side) for side in re.split(r"(?:\s?[×x]\s?)+(?=\d)", match[0])]
    return f" {table.words['by']} ".join(
        f"{_say_before(unit, figures[0], table)}{_unit(unit, table, one=figures[0] in _ONE)}" for figures, unit in sides
    )


def _say_range(match: Match[str], table: Language) -> str:
    figures, unit = _split_unit(match[0])
    if all(_is_year(figure, unit) for figure in figures):
        return f" {table.words['range']} ".join(say_year(figure, table) for figure in figures)
    said = [say_cardinal(figure, table) for figure in figures[:-1]]
    return f" {table.words['range']} ".join((*said, _say_before(unit, figures[-1], table))) + _unit(unit, table, one=False)


def _is_year(figure: str, unit: str) -> bool:
    return len(figure) == 4 and figure.isdigit() and not unit and 1500 <= int(figure) <= 2099


def _say_quantity(match: Match[str], table: Language) -> str:
    figures, unit = _split_unit(match[0])
    minus = f"{table.words['minus']} " if match[0][0] in "−-" else ""
    if _is_year(figures[0], unit):
        return minus + say_year(figures[0], table)
    # A hyphen makes the measurement an adjective, which has no plural: a six-millimetre bug.
    joined = "-" in match[0][1:] and bool(unit)
    return (
        minus + _say_before(unit, figures[0], table) + _unit(unit, table, one=figures[0] in _ONE or figures[0] in table.fractions or joined)
    )


def _say_code(match: Match[str], table: Language) -> str:
    return " ".join(sign if sign.isalpha() else say_cardinal(sign, table) for sign in match[0])


def _say_unit(match: Match[str], table: Language) -> str:
    return table.units[match[0]][1]


def _say_roman(match: Match[str], table: Language) -> str:
    return say_cardinal(_SMALL_ROMAN[match[0]], table)


def _say_short(match: Match[str], table: Language) -> str:
    # The stop of `etc.` at the end of a sentence does both its jobs.
    after = match.string[match.end() :]
    ends = match[0].endswith(".") and re.match(r"\s*$|\s+[A-Z*\"“]", after) and match[0] in table.closing
    return table.abbreviations[match[0]] + (" " if after[:1].isdigit() else "") + ("." if ends else "")


def _say_letters(match: Match[str], table: Language) -> str:
    return " ".join(match[0])


def _say_sign(match: Match[str], table: Language) -> str:
    return f" {table.signs[match[0]]} "


def _say_slash(match: Match[str], table: Language) -> str:
    return " " if match.string[: match.start()].endswith(f" {table.words['and']}") else f" {table.words['or']} "
