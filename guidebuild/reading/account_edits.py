"""Small changes to an account's facts: another name, with the old one kept as a synonym, and a former file name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.accounts import Account
from guidebuild.guide.names import ScientificName
from guidebuild.guide.resolve import fold_name
from guidebuild.reading.typed_file import Edit, NotChangeableError, TypedFile, write_scalar

_ORDER = tuple(field.key for field in ACCOUNT_FIELDS)


def add_former(typed: TypedFile, old: str, new: str) -> Iterator[Edit]:
    """The old file name under `formerly:`; where the new one stands there, since the account gets it back, in its place."""
    yield from _add_to_list(typed, "formerly", old, instead_of=new)


def rename_in_account(typed: TypedFile, account: Account, name: ScientificName) -> Iterator[Edit]:
    """The new name in place of the old one, which becomes a synonym, so that sightings and links by it still count."""
    value, authority = _scalar_at(typed, "name"), _scalar_at(typed, "authority")
    if value is None:
        raise NotChangeableError(f"{typed.file} has no `name:`. Write it first.")
    apart = authority is not None and bool(name.authority)
    yield typed.replace_scalar(value, name.plain if apart else name.typed)
    if authority is not None and apart:
        yield typed.replace_scalar(authority, name.authority)
    if account.name.plain != name.plain:
        old = f"{account.name.plain} {account.name.authority}".strip()
        yield from _add_to_list(typed, "synonyms", old, instead_of=name.plain)


def _scalar_at(typed: TypedFile, key: str) -> ScalarNode | None:
    found = typed.child(key)
    return found[1] if found and isinstance(found[1], ScalarNode) and found[1].value else None


def _add_to_list(typed: TypedFile, key: str, text: str, *, instead_of: str) -> Iterator[Edit]:
    """A further item of a list; in place of one that it takes back."""
    nodes = typed.child(key)
    items = _items(nodes[1]) if nodes else []
    known = any(fold_name(item.value) == fold_name(text) for item in items)
    back = next((item for item in items if _says(item.value, instead_of)), None)
    if back is not None and not known:
        yield typed.replace_scalar(back, text)
    else:
        yield from add_to_list(typed, key, [text])


def add_to_list(typed: TypedFile, key: str, texts: Sequence[str]) -> Iterator[Edit]:
    """Further items of a list of an account, however it is written: not there, nothing, one text, `[a, b]`, or an item a line.

    Those that stand there already are passed over.
    """
    nodes = typed.child(key)
    items = _items(nodes[1]) if nodes else []
    standing = {fold_name(item.value) for item in items}
    new = [write_scalar(text) for text in texts if fold_name(text) not in standing]
    if not new:
        return
    joined = ", ".join(new)
    if nodes is None:
        yield _new_key(typed, key, f"[{joined}]")
        return
    value = nodes[1]
    start, end = typed.span(value)
    if not items:
        yield Edit(start, end, f"[{joined}]" if isinstance(value, SequenceNode) else f" [{joined}]")
    elif isinstance(value, ScalarNode):
        yield Edit(start, end, f"[{write_scalar(value.value)}, {joined}]")
    elif isinstance(value, SequenceNode) and value.flow_style:
        last = typed.span(items[-1])[1]
        yield Edit(last, last, f", {joined}")
    else:
        line = typed.end_line_of(value)
        indent = typed.text[typed.text.rfind("\n", 0, start) + 1 : start]
        for item in new:
            yield _whole_line(typed, line, f"{indent if not indent.strip() else ''}- {item}")


def _says(item: str, name: str) -> bool:
    return fold_name(item) == fold_name(name) or fold_name(item).startswith(f"{fold_name(name)} ")


def _items(value: Node) -> list[ScalarNode]:
    if isinstance(value, ScalarNode):
        return [value] if value.value else []
    return [item for item in value.value if isinstance(item, ScalarNode)] if isinstance(value, SequenceNode) else []


def _new_key(typed: TypedFile, key: str, text: str) -> Edit:
    """A new line below the last of the keys that usually stand before it."""
    before = [pair for name in _ORDER[: _ORDER.index(key)] if (pair := typed.child(name))]
    root = typed.root
    if not before or not isinstance(root, MappingNode):
        raise NotChangeableError(f"{typed.file} has no `name:`. Write it first.")
    value = max((pair[1] for pair in before), key=lambda node: typed.span(node)[0])
    if root.flow_style:
        end = typed.span(value)[1]
        return Edit(end, end, f", {key}: {text}")
    return _whole_line(typed, typed.end_line_of(value), f"{key}: {text}")


def _whole_line(typed: TypedFile, start: int, line: str) -> Edit:
    return Edit(start, start, f"{line}{typed.newline}")
