"""Plain values → shapes, with every mismatch as a finding at its line.

Where a value does not fit, only that value is left out and the rest is read again, so that one slip in an account does
not make all its other facts missing.
"""

from __future__ import annotations

import copy
import difflib
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, RootModel, ValidationError
from pydantic_core import ErrorDetails

from guidebuild.guide.findings import At
from guidebuild.reading.block import Block, Plain, Step
from guidebuild.reading.moved_keys import KeyNow, find_key_now
from guidebuild.reading.notes import Notes

M = TypeVar("M", bound=BaseModel)

_ROUNDS = 6
_PRIVATE = "sensitive"
_EXPECTED = {
    "string_type": ("one text is wanted", "Write one text, in quotation marks if it has signs of YAML in it."),
    "list_type": ("a list is wanted", "Write each item on its own line after a hyphen."),
    "dict_type": ("keys with values are wanted", "Write one key and its value a line, indented."),
    "model_type": ("keys with values are wanted", "Write one key and its value a line, indented."),
    "model_attributes_type": ("keys with values are wanted", "Write one key and its value a line, indented."),
}


def read_shape(block: Block, model: type[M], notes: Notes, *, account: str = "") -> M | None:
    """The block as that shape; None where even the needed keys cannot be read. Findings say what did not fit."""
    _note_unknown_empty(block, model, notes, account)
    data: Any = block.data
    for attempt in range(_ROUNDS):
        try:
            return model.model_validate(data)
        except ValidationError as trouble:
            errors = trouble.errors(include_url=False, include_input=True)
            # All mismatches show at once; later ones only follow from what was left out.
            for error in errors if attempt == 0 else ():
                _note(error, block, model, notes, account)
            data = _without(data, errors, model)
            if data is None:
                return None
    return None


def _note_unknown_empty(block: Block, model: type[BaseModel], notes: Notes, account: str) -> None:
    """Unknown keys without a value: `{season: May, June}` has a key June that would be lost without a word."""
    if block.with_empty is None:
        return
    try:
        model.model_validate(block.with_empty)
    except ValidationError as trouble:
        for error in trouble.errors(include_url=False):
            if error["type"] == "extra_forbidden" and error["input"] is None:
                _note_unknown(error["loc"], block, model, notes, account)


def _note(error: ErrorDetails, block: Block, model: type[BaseModel], notes: Notes, account: str) -> None:
    loc = error["loc"]
    context = error.get("ctx", {})
    if error["type"] == "unreadable":
        code = context["code"]
        notes.add(notes.known(code), context["message"], block.at(*loc), mend=context["mend"], account=account)
    elif error["type"] == "extra_forbidden":
        _note_unknown(loc, block, model, notes, account)
    elif error["type"] == "missing":
        notes.add("missing-key", f"The key '{loc[-1]}' is missing{_inside(loc[:-1])}.", _owner(block, loc[:-1]), account=account)
    else:
        words, mend = _EXPECTED.get(error["type"], (error["msg"].lower(), ""))
        where = f"'{_named(loc)}'" if loc else "this"
        found = _found(error["input"])
        notes.add("wrong-shape", f"For {where} {words}, not {found}.", block.at(*loc), mend=mend, account=account)


def _note_unknown(loc: tuple[Step, ...], block: Block, model: type[BaseModel], notes: Notes, account: str) -> None:
    key = str(loc[-1])
    known = known_keys(model, loc[:-1])
    near = nearest(key, known)
    now = _key_now(loc, block, model)
    if now is not None:
        mend = f"It is called '{now.key}' since {now.since}" if now.since else f"It is written '{now.key}'"
        mend += ": guidebuild mend writes it so."
    else:
        mend = f"Did you mean '{near}'?" if near else f"Known keys are {', '.join(known)}."
    if not near and not now and len(loc) > 1 and block.data_at(*loc) is None:
        mend = f"If '{key}' belongs to the text before it, put the whole text in quotation marks."
    notes.add("unknown-key", f"There is no key '{key}'{_inside(loc[:-1])}.", block.key_at(*loc), mend=mend, account=account)


def _key_now(loc: tuple[Step, ...], block: Block, model: type[BaseModel]) -> KeyNow | None:
    return find_key_now(block.file, loc, known_keys(model, loc[:-1]), in_records=issubclass(model, RootModel))


def find_old_keys(block: Block, model: type[BaseModel]) -> Iterator[tuple[At, str]]:
    """Where a key stands that has another name today, or is typed otherwise, and what it is called; nothing where that stands there too."""
    data = block.data if block.with_empty is None else block.with_empty
    try:
        model.model_validate(data)
    except ValidationError as trouble:
        meant: Counter[tuple[Step, ...]] = Counter()
        found: list[tuple[tuple[Step, ...], str]] = []
        for error in trouble.errors(include_url=False):
            loc = error["loc"]
            now = _key_now(loc, block, model) if error["type"] == "extra_forbidden" else None
            if now is not None:
                found.append((loc, now.key))
                meant[(*loc[:-1], now.key)] += 1
        for loc, key in found:
            target = (*loc[:-1], key)
            if meant[target] == 1 and not block.has_key(*target):
                yield block.key_at(*loc), key


def _owner(block: Block, loc: tuple[Step, ...]) -> At:
    return block.key_at(*loc) if loc else block.at()


def _inside(loc: tuple[Step, ...]) -> str:
    return f" in '{_named(loc)}'" if any(isinstance(step, str) for step in loc) else ""


def _named(loc: tuple[Step, ...]) -> str:
    """`diagnostics, 2nd, at` as one would say it: `diagnostics 2, at`."""
    words = ""
    for step in loc:
        words += f" {step + 1}" if isinstance(step, int) else (f", {step}" if words else step)
    return words


def _found(value: object) -> str:
    if isinstance(value, str):
        return f"the text '{value[:60]}'"
    return "a list" if isinstance(value, list) else "keys with values" if isinstance(value, dict) else "nothing"


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like this one, or nothing."""
    folded = {k.casefold(): k for k in known}
    found = difflib.get_close_matches(word.casefold().replace("_", " ").replace("-", " "), folded, n=1, cutoff=0.6)
    return folded[found[0]] if found else ""


def known_keys(model: type[BaseModel], loc: tuple[Step, ...]) -> tuple[str, ...]:
    """The keys that may stand at a path inside a shape."""
    here = shape_at(model, loc)
    return tuple(fields_of(here)) if here else ()


def shape_at(model: type[BaseModel], loc: tuple[Step, ...]) -> type[BaseModel] | None:
    """The shape of what stands at a path inside a shape; None where that has no keys of its own."""
    here: type[BaseModel] | None = model
    for step in loc:
        field = fields_of(here).get(str(step)) if here else None
        here = shape_in(field) if field is not None else here
    if here is not None and issubclass(here, RootModel):
        here = shape_in(here.model_fields["root"].annotation)
    return here


def fields_of(model: type[BaseModel]) -> dict[str, Any]:
    """The keys of a shape, each with what its value may be."""
    if issubclass(model, RootModel):
        inner = shape_in(model.model_fields["root"].annotation)
        return fields_of(inner) if inner else {}
    return {info.alias or name: (info.annotation, *info.metadata) for name, info in model.model_fields.items()}


def shape_in(annotation: Any) -> type[BaseModel] | None:
    """The first shape mentioned in an annotation."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    parts = annotation if isinstance(annotation, tuple) else get_args(annotation)
    shaped = (getattr(part, "shape", None) or part for part in parts)
    return next((model for part in shaped if (model := shape_in(part))), None)


def _without(data: Plain, errors: list[ErrorDetails], model: type[BaseModel]) -> Plain:
    """The data without the values that did not fit; None where a needed key is missing at the top."""
    data = copy.deepcopy(data)
    # Later items first, so that earlier ones keep their place in the list.
    for error in sorted(errors, key=lambda e: [str(s) if isinstance(s, str) else f"{s:09}" for s in e["loc"]], reverse=True):
        loc = error["loc"][:-1] if error["type"] == "missing" else error["loc"]
        if not loc:
            return None
        unknown = error["type"] == "extra_forbidden"
        misspelt = unknown and nearest(str(loc[-1]), known_keys(model, loc[:-1])) == _PRIVATE
        listed = len(loc) == 1 and issubclass(model, RootModel)  # then it is the id of a record
        _remove(data, loc, keep_secret=not listed and (misspelt or (_PRIVATE in loc and not unknown)))
    return data


def _remove(data: Plain, loc: tuple[Step, ...], *, keep_secret: bool) -> None:
    """Take out the value a path leads to, as deep as the path can be followed."""
    here: Any = data
    place: tuple[Any, Step] | None = None
    for step in loc:
        if not _holds(here, step):
            break
        place = here, step
        here = here[step]
        if step == _PRIVATE:
            break
    if place is None:
        return
    del place[0][place[1]]
    # What cannot be read about secrecy is taken to be as secret as can be: a place must not slip out by a slip.
    if keep_secret and isinstance(place[0], dict):
        place[0][_PRIVATE] = "extreme"


def _holds(value: Any, step: Step) -> bool:
    if isinstance(value, list):
        return isinstance(step, int) and step < len(value)
    return isinstance(value, dict) and step in value
