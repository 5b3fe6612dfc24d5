"""What a mutant may change in a module: one small slip each, as a programmer makes them.

Texts, annotations, decorators and `strict=` are left alone: words have tests of their own, and the others change nothing a reader sees.
"""

from __future__ import annotations

import ast
import copy
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

OPERATORS: dict[type, tuple[type, ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Div,),
    ast.Mod: (ast.Mult,),
    ast.BitAnd: (ast.BitOr,),
    ast.BitOr: (ast.BitAnd,),
    ast.BitXor: (ast.BitOr,),
    ast.LShift: (ast.RShift,),
    ast.RShift: (ast.LShift,),
}
NAMES = {
    "min": "max",
    "max": "min",
    "any": "all",
    "all": "any",
    "bisect_left": "bisect_right",
    "bisect_right": "bisect_left",
    "floor": "ceil",
    "ceil": "floor",
}
EMPTY = {
    "bool": "False",
    "int": "0",
    "float": "0.0",
    "str": "''",
    "tuple": "()",
    "list": "[]",
    "dict": "{}",
    "set": "set()",
    "frozenset": "frozenset()",
}


@dataclass(frozen=True)
class Mutant:
    """One change: where it stands, what it was and what it has become, and the whole changed tree."""

    file: str
    line: int
    within: str
    was: str
    becomes: str
    lines: tuple[int, ...]
    """Lines of the statement it stands in, for tests that reach one of them; none where it runs on import: then all tests do."""
    build: Callable[[], ast.Module]
    nth: int = 1
    """Which of the like changes of its function it is, from the top."""

    @property
    def change(self) -> str:
        """The change as one line of a table."""
        return f"{self.was} -> {self.becomes}" + (f" [{self.nth}]" if self.nth > 1 else "")


@lru_cache(maxsize=64)
def parse_file(file: str) -> ast.Module:
    """The tree of a file of the project, parsed once."""
    return ast.parse((ROOT / file).read_text(encoding="utf-8"), file)


def list_mutants(file: str) -> list[Mutant]:
    """All mutants of a file, in order of its lines."""
    tree = parse_file(file)
    found = []
    for path, node, lines, within in _walk(tree, (), (), ""):
        for was, becomes, replacement in _changes(node, path):
            build = _builder(tree, path, replacement)
            line = getattr(node, "lineno", lines[0])
            found.append(Mutant(file, line, within, was, becomes, lines if _in_body(path, tree) else (), build))
    met: Counter[tuple[str, str, str]] = Counter()
    numbered = []
    for mutant in sorted(found, key=lambda m: (m.line, m.was, m.becomes)):
        met[mutant.within, mutant.was, mutant.becomes] += 1
        numbered.append(replace(mutant, nth=met[mutant.within, mutant.was, mutant.becomes]))
    return numbered


Step = tuple[str, int | None]
Replacement = ast.AST | None
"""What takes the node's place; None takes a condition out of a comprehension."""


def _walk(
    node: ast.AST, path: tuple[Step, ...], lines: tuple[int, ...], within: str
) -> Iterator[tuple[tuple[Step, ...], ast.AST, tuple[int, ...], str]]:
    """Every node that may change, with the way to it from the top."""
    if isinstance(node, ast.stmt):
        lines = _own_lines(node)
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        within = f"{within}.{node.name}".lstrip(".")
    yield path, node, lines, within
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list", "bases", "type_params", "format_spec"}:
            continue
        children = list(enumerate(value)) if isinstance(value, list) else [(None, value)]
        for place, child in children:
            if isinstance(child, ast.AST) and not _left_alone(child):
                yield from _walk(child, (*path, (name, place)), lines, within)


def _in_body(path: tuple[Step, ...], tree: ast.Module) -> bool:
    """Whether it stands in a function's body, and so runs when that is called."""
    node: ast.AST = tree
    for name, place in path:
        if isinstance(node, ast.FunctionDef | ast.Lambda) and name == "body":
            return True
        value = getattr(node, name)
        node = value if place is None else value[place]
    return False


def _left_alone(node: ast.AST) -> bool:
    if isinstance(node, ast.keyword):
        return node.arg in {"strict", "slots", "frozen", "maxsize", "encoding"}
    if isinstance(node, ast.Assign):
        return any(isinstance(t, ast.Name) and t.id in {"__slots__", "__all__"} for t in node.targets)
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    return isinstance(node, ast.Import | ast.ImportFrom)


def _own_lines(node: ast.stmt) -> tuple[int, ...]:
    body = getattr(node, "body", None)
    last = body[0].lineno - 1 if body and isinstance(body, list) else node.end_lineno or node.lineno
    return tuple(range(node.lineno, max(last, node.lineno) + 1))


def _changes(node: ast.AST, path: tuple[Step, ...]) -> Iterator[tuple[str, str, Replacement]]:
    for replacement in (*_changed_operators(node), *_changed_values(node), *_changed_conditions(node), *_changed_statements(node)):
        was, becomes = _words_of(node), _words_of(replacement)
        if was != becomes:
            yield was, becomes, replacement


def _words_of(node: ast.AST | None) -> str:
    if node is None:
        return "(nothing)"
    if isinstance(node, ast.comprehension):
        return "".join(f" if {ast.unparse(c)}" for c in node.ifs).strip() or "(no condition)"
    text = ast.unparse(node)
    first, *rest = text.splitlines()
    return f"{first} ..." if rest else first


def _edited(node: ast.AST, **fields: object) -> ast.AST:
    new = copy.copy(node)
    for name, value in fields.items():
        setattr(new, name, value)
    return new


def _changed_operators(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.Compare):
        for place, operator in enumerate(node.ops):
            for other in OPERATORS.get(type(operator), ()):
                yield _edited(node, ops=[*node.ops[:place], other(), *node.ops[place + 1 :]])
    elif isinstance(node, ast.BoolOp):
        yield from (_edited(node, op=other()) for other in OPERATORS[type(node.op)])
    elif isinstance(node, ast.BinOp | ast.AugAssign):
        texts = (getattr(node, "left", None), getattr(node, "right", None), getattr(node, "value", None))
        if not any(isinstance(t, ast.JoinedStr) or (isinstance(t, ast.Constant) and isinstance(t.value, str)) for t in texts):
            yield from (_edited(node, op=other()) for other in OPERATORS.get(type(node.op), ()))
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub | ast.Invert):
        yield node.operand


def _changed_values(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.Constant):
        if isinstance(node.value, bool):
            yield _edited(node, value=not node.value)
        elif isinstance(node.value, int | float):
            yield _edited(node, value=node.value + 1)
            yield _edited(node, value=node.value - 1)
    elif isinstance(node, ast.Call):
        called = node.func
        if isinstance(called, ast.Name) and called.id in NAMES:
            yield _edited(node, func=_edited(called, id=NAMES[called.id]))
        elif isinstance(called, ast.Attribute) and called.attr in NAMES:
            yield _edited(node, func=_edited(called, attr=NAMES[called.attr]))
        if isinstance(called, ast.Name) and called.id == "sorted" and not any(k.arg == "reverse" for k in node.keywords):
            yield _edited(node, keywords=[*node.keywords, ast.keyword("reverse", ast.Constant(True))])


def _changed_conditions(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.If | ast.IfExp) and not isinstance(node.test, ast.UnaryOp | ast.Compare):
        yield _edited(node, test=ast.UnaryOp(ast.Not(), node.test))
    elif isinstance(node, ast.comprehension):
        yield from (_edited(node, ifs=[c for other, c in enumerate(node.ifs) if other != place]) for place in range(len(node.ifs)))


def _changed_statements(node: ast.AST) -> Iterator[ast.AST]:
    removed = isinstance(node, ast.AugAssign | ast.Continue | ast.Break | ast.Raise | ast.Delete)
    removed |= isinstance(node, ast.Expr) and isinstance(node.value, ast.Call | ast.Yield | ast.YieldFrom)
    removed |= isinstance(node, ast.Assign) and all(isinstance(t, ast.Subscript | ast.Attribute) for t in node.targets)
    if removed:
        yield ast.Pass()
    if isinstance(node, ast.FunctionDef):
        empty = _empty_answer(node.returns)
        for statement in ast.walk(node):
            if isinstance(statement, ast.Return):
                statement.empty = empty  # type: ignore[attr-defined]
    elif isinstance(node, ast.Return) and node.value is not None:
        yield _edited(node, value=ast.parse(getattr(node, "empty", "None"), mode="eval").body)


def _empty_answer(returns: ast.expr | None) -> str:
    """Nothing, of the kind that a function answers with: None, or an empty text, tuple, number..."""
    text = ast.unparse(returns) if returns is not None else "None"
    if "| None" in text:
        return "None"
    return EMPTY.get(text.split("[")[0], "None")


def _builder(tree: ast.Module, path: tuple[Step, ...], replacement: Replacement) -> Callable[[], ast.Module]:
    def build() -> ast.Module:
        return ast.fix_missing_locations(_replaced(tree, path, replacement))  # type: ignore[arg-type, type-var]

    return build


def _replaced(node: ast.AST, path: tuple[Step, ...], replacement: Replacement) -> ast.AST:
    """Copy the nodes on the way to the change; the rest of the tree is shared."""
    if not path:
        new = copy.copy(replacement)
        if "lineno" in node._attributes and isinstance(new, ast.AST):
            ast.copy_location(new, node)
        return new  # type: ignore[return-value]
    (name, place), *rest = path
    value = getattr(node, name)
    if place is None:
        return _edited(node, **{name: _replaced(value, tuple(rest), replacement)})
    changed = _replaced(value[place], tuple(rest), replacement)
    return _edited(node, **{name: [*value[:place], changed, *value[place + 1 :]]})
