"""Put a changed module in place: into the running functions where that is enough, else by importing everything anew."""

from __future__ import annotations

import ast
import copy
import functools
import gc
import sys
import types
from collections.abc import Collection, Iterator

from tests.mutants.changed_module import ChangedModule
from tests.mutants.operators import ROOT, parse_file

OURS = ("guidebuild", "tests")


def module_name(file: str) -> str:
    """The name that a file is imported by."""
    return file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def swap_functions(file: str, changed: ast.Module) -> bool:
    """Give running functions their changed code; False where more than the bodies of functions has changed, or it does not fit."""
    module = sys.modules.get(module_name(file))
    if module is None:
        return False
    before, after = dict(_functions(parse_file(file), "")), dict(_functions(changed, ""))
    if before.keys() != after.keys() or _without_bodies(parse_file(file)) != _without_bodies(changed):
        return False
    codes = _codes(compile(changed, str(ROOT / file), "exec"))
    different = [name for name in after if before[name] is not after[name] and ast.dump(before[name]) != ast.dump(after[name])]
    try:
        for name in different:
            _find_function(module, name).__code__ = codes[name]
    except (AttributeError, KeyError, ValueError):
        return False
    forget_answers()
    return True


def forget_answers() -> None:
    """Empty what functions of ours remember of earlier calls."""
    for remembered in list_remembering():
        remembered.cache_clear()


def list_remembering(files: Collection[str] = ()) -> list[functools._lru_cache_wrapper[object]]:
    """Functions of ours that remember their answers, or only those of some files."""
    names = tuple(map(module_name, files)) or OURS
    found = (thing for thing in gc.get_objects() if isinstance(thing, functools._lru_cache_wrapper))
    return [thing for thing in found if str(thing.__module__).startswith(names)]


def import_anew(file: str, changed: ast.Module) -> None:
    """Forget all modules of ours; the next import of this file gives the changed one."""
    for name in [n for n in sys.modules if n.split(".")[0] in OURS]:
        del sys.modules[name]
    sys.meta_path.insert(0, ChangedModule(module_name(file), str(ROOT / file), changed))


def _functions(node: ast.Module | ast.ClassDef, within: str) -> Iterator[tuple[str, ast.FunctionDef]]:
    for child in node.body:
        if isinstance(child, ast.FunctionDef):
            yield f"{within}{child.name}", child
        elif isinstance(child, ast.ClassDef):
            yield from _functions(child, f"{within}{child.name}.")


def _without_bodies(tree: ast.Module) -> str:
    return ast.dump(_bodies_blanked(tree))


def _bodies_blanked(node: ast.Module | ast.ClassDef) -> ast.Module | ast.ClassDef:
    blank = copy.copy(node)
    blank.body = [
        _bodies_blanked(c) if isinstance(c, ast.ClassDef) else _body_blanked(c) if isinstance(c, ast.FunctionDef) else c for c in node.body
    ]  # type: ignore[misc]
    return blank


def _body_blanked(node: ast.FunctionDef) -> ast.FunctionDef:
    blank = copy.copy(node)
    blank.body = []
    return blank


def _codes(code: types.CodeType) -> dict[str, types.CodeType]:
    found = {}
    for constant in code.co_consts:
        if isinstance(constant, types.CodeType):
            found[constant.co_qualname] = constant
            found |= _codes(constant)
    return found


def _find_function(module: types.ModuleType, name: str) -> types.FunctionType:
    holder: object = module
    for part in name.split("."):
        holder = vars(holder)[part]
    while not isinstance(holder, types.FunctionType):
        inner = [getattr(holder, way, None) for way in ("fget", "func", "__func__", "__wrapped__")]
        holder = next(i for i in inner if i is not None) if any(inner) else None
        if holder is None:
            raise AttributeError(name)
    while hasattr(holder, "__wrapped__"):
        holder = holder.__wrapped__
    if not isinstance(holder, types.FunctionType):
        raise AttributeError(name)
    return holder
