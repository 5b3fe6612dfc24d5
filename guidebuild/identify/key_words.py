"""The words of a key's leads."""

from __future__ import annotations

from guidebuild.guide.measures import write_number
from guidebuild.identify.columns import Column
from guidebuild.identify.splits import Split
from guidebuild.words import Words


def lead_words(column: Column, split: Split, lead: int, taxa: int, say: Words) -> str:
    """What one lead says: the states that any of these taxa may show, or the side of a measurement."""
    return say_lead(column, split, lead, lead_states(column, split, lead, taxa), say)


def say_lead(column: Column, split: Split, lead: int, shown: tuple[str, ...], say: Words) -> str:
    """The same, where the ids of the states that it names are known."""
    if column.is_range:
        return cut_words(split.cut, column.character.unit, say, under=lead == 0)
    return say.either([state.words or state.id for state in column.character.states if state.id in shown])


def lead_states(column: Column, split: Split, lead: int, taxa: int) -> tuple[str, ...]:
    """The ids of the states that one lead names: those that any of these taxa may show; none of a measurement."""
    if column.is_range:
        return ()
    states = column.character.states
    return tuple([states[s].id for s in split.states[lead] if column.possible[s] & taxa])


def cut_words(cut: float, unit: str, say: Words, *, under: bool) -> str:
    """Write a limit so that every measurement has one answer: "under 10 mm", "10 mm or more"."""
    if unit in {"", "count"}:
        return say("fewer than {value}", value=write_number(cut)) if under else say("{value} or more", value=write_number(cut))
    figure = f"{write_number(cut)}\N{NO-BREAK SPACE}{unit}"
    return say("under {value}", value=figure) if under else say("{value} or more", value=figure)


def letter_lead(lead: int) -> str:
    """Letter a lead: 0 is a."""
    return chr(ord("a") + lead) if lead < 26 else f"{chr(ord('a') + lead // 26 - 1)}{chr(ord('a') + lead % 26)}"
