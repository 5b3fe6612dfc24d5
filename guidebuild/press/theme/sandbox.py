"""Templates of themes, run so that they can lay out a page and do nothing else.

Guides come by mail, themes in them.  A template sees the values it is given, cannot reach Python's inside or change a
value, and can name no file outside its theme folders, not even by a symbolic link.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import is_dataclass
from functools import cache
from pathlib import Path
from typing import Any, NoReturn

from jinja2 import BaseLoader, Environment, StrictUndefined, Template, TemplateNotFound, TemplateSyntaxError, nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment

from guidebuild.errors import SaidInOneLineError
from guidebuild.press.engine.bounds import explain_error
from guidebuild.press.engine.trees import find_inside
from guidebuild.press.theme import guards, limits
from guidebuild.press.theme.figures import hold_figures
from guidebuild.shipped import on_disk, themes
from guidebuild.words import words

_HIGHEST_POWER = 64

Filter = tuple[str, Callable[..., object]]


class ThemeError(SaidInOneLineError, ValueError):
    """A template that cannot be filled in: its file, line and what is wrong, in one sentence."""


@cache
def make_environment(folders: tuple[Path, ...], filters: tuple[Filter, ...] = ()) -> Environment:
    """Templates of these folders, the guide's own first; compiled once a process.

    Values are escaped, unknown names are errors, and every error is a `ThemeError`. The shipped theme by itself is as much
    our own as this file, and is filled in without the sandbox, in half the time.
    """
    kind = _ShippedEnvironment if all(_is_shipped(folder) for folder in folders) else _ThemeEnvironment
    made = kind(
        loader=_ThemeLoader(folders),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        # Folders do not change within a run, and a preview makes new environments.
        auto_reload=False,
    )
    made.filters.update(filters)
    return made


def fill_template(folders: tuple[Path, ...], name: str, language: str, **values: object) -> str:
    """A page of these folders in a language; in the template `_` says an interface word in it."""
    return make_environment(folders).get_template(name).render(language=language, _=words(language), **values)


def forget_templates() -> None:
    """Compile templates anew from now on, for a preview whose theme has changed."""
    make_environment.cache_clear()


def theme_text(data: bytes, name: str) -> str:
    """The text of a theme's file; raises `ThemeError` where it is not UTF-8."""
    try:
        return data.decode()
    except UnicodeDecodeError as error:
        raise ThemeError(f"theme/{name}: the file is not saved as UTF-8") from error


def find_syntax_fault(data: bytes, name: str) -> tuple[str, int] | None:
    """What keeps a template from being understood, and on which line; None where nothing does."""
    try:
        Environment(autoescape=True).parse(theme_text(data, name))
    except TemplateSyntaxError as error:
        return f"The template cannot be understood: {error.message}.", error.lineno
    except ThemeError as error:
        return f"{str(error)[:1].upper()}{str(error)[1:]}.", 0
    return None


def theme_file(folders: Sequence[Path], name: str) -> bytes:
    """A theme's file from the first folder that has it; raises `ThemeError` where none has. Links out of a theme are not followed."""
    for folder in folders:
        found = find_inside(folder, name)
        if found is not None and found.is_file():
            return found.read_bytes()
    raise ThemeError(f"no theme folder has {name}")


class _ThemeLoader(BaseLoader):
    def __init__(self, folders: Sequence[Path]) -> None:
        self.folders = folders

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, None]:
        """Text and place of a template, from the first folder that has it."""
        for folder in self.folders:
            found = find_inside(folder, template)
            if found is not None and found.is_file():
                return theme_text(found.read_bytes(), template), str(found), None
        raise TemplateNotFound(template)


def _is_shipped(folder: Path) -> bool:
    return folder.resolve().is_relative_to(on_disk(themes()).resolve())


class _WholePage(Template):
    """A page is finished once it is filled in: figures on it never break from their units."""

    def render(self, *args: Any, **kwargs: Any) -> str:
        """The page."""
        filled = super().render(*args, **kwargs)
        return hold_figures(filled) if self.name and self.name.endswith(".html") else filled


class _Telling(Environment):
    """Whatever goes wrong in compiling or filling in is told in one line, with its place."""

    template_class = _WholePage

    def handle_exception(self, source: str | None = None) -> NoReturn:
        """Called by Jinja for whatever goes wrong in compiling or filling in; tells where."""
        try:
            super().handle_exception(source)
        except ThemeError:
            raise
        except Exception as error:  # whatever a template does wrong is told in one way
            raise ThemeError(f"{self._place(error)}: {_reason(error)}") from error

    def compile(self, source: Any, name: str | None = None, *arguments: Any, **named: Any) -> Any:
        """As Jinja compiles; it works out what stands fast in a template already now, and that can go wrong too."""
        try:
            return super().compile(source, name, *arguments, **named)
        except ThemeError:
            raise
        except Exception as error:  # as above
            raise ThemeError(f"theme/{name}: {_reason(error)}") from error

    def _place(self, error: Exception) -> str:
        if isinstance(error, TemplateSyntaxError):
            return f"{self._named(error.filename or error.name or 'a template')}:{error.lineno}"
        place = None
        trace = error.__traceback__
        while trace is not None:
            # Jinja rewrites frames of compiled templates to name the template's own file and line.
            file = trace.tb_frame.f_code.co_filename
            if self._folder_of(file) is not None:
                place = f"{self._named(file)}:{trace.tb_lineno}"
            trace = trace.tb_next
        return place or "a template"

    def _folder_of(self, file: str) -> Path | None:
        folders: Sequence[Path] = self.loader.folders if isinstance(self.loader, _ThemeLoader) else ()
        return next((folder for folder in folders if Path(file).is_relative_to(folder.resolve())), None)

    def _named(self, file: str) -> str:
        folder = self._folder_of(file)
        return Path(file).name if folder is None else f"{folder.name}/{Path(file).relative_to(folder.resolve()).as_posix()}"


class _ShippedEnvironment(_Telling):
    """For templates that came with the tool."""


class _Page(_WholePage):
    environment: _ThemeEnvironment

    def render(self, *args: Any, **kwargs: Any) -> str:
        """The page, with all steps to itself."""
        self.environment.steps.anew()
        return super().render(*args, **kwargs)


class _ThemeEnvironment(ImmutableSandboxedEnvironment, _Telling):
    # A line of a template must not fill the memory: `"x" * 10**10`, `"%9999999999d" % 1`.
    intercepted_binops = frozenset({"*", "**", "%", "+", "//", "/", "-"})
    template_class = _Page
    concat = staticmethod(limits.concat)

    def __init__(self, **options: Any) -> None:
        super().__init__(**options, finalize=limits.shown)
        self.steps = limits.Steps()
        self.filters.update(guards.guarded_filters(self.filters, self.steps))
        self.filters.update({limits.LOOPED: self.steps.each, limits.JOINED: limits.joined, limits.BUILT: self.steps.bounded})
        del self.globals["lipsum"]

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        return limits.bounded_template(super()._parse(source, name, filename))

    def join_path(self, template: str, parent: str) -> str:
        """The name of a template that another one includes, a step each."""
        self.steps.take()
        return super().join_path(template, parent)

    def call(__self, __context: Context, __obj: Any, *args: Any, **kwargs: Any) -> Any:  # noqa: N805 - as Jinja, for any keyword
        """As Jinja calls, a step each."""
        __self.steps.take()
        given = (*args, *kwargs.values())
        guards.guard_call(__obj, given)
        __self.steps.bounded(given)  # a macro has them all as one list
        return __self.steps.bounded(super().call(__context, __obj, *args, **kwargs))

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """As Python does, with numbers; texts and lists are neither repeated nor filled in, and added up to some length only."""
        if operator == "+" and isinstance(left, str | list | tuple) and isinstance(right, str | list | tuple):
            limits.of_length(len(left) + len(right))
            return self.steps.bounded(super().call_binop(context, operator, left, right))
        if not all(isinstance(side, int | float) for side in (left, right)) or (operator == "**" and abs(right) > _HIGHEST_POWER):
            raise SecurityError(f"“{operator}” is for numbers only, and not for large powers")
        if all(isinstance(side, int) for side in (left, right)):
            limits.of_figures(left)
            limits.of_figures(right)
            if operator == "**" and abs(left) > 1:
                limits.of_count(left.bit_length() * abs(right))
        return self.steps.bounded(super().call_binop(context, operator, left, right))

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """As Jinja decides, but at once for what pages ask most: a public field of one of our frozen records."""
        if attr[:1] != "_" and type(obj).__module__.startswith("guidebuild.views.") and is_dataclass(obj):
            return True
        return super().is_safe_attribute(obj, attr, value)


def _reason(error: Exception) -> str:
    if isinstance(error, TemplateNotFound):
        return f"there is no template “{error.name}” in the theme"
    if isinstance(error, MemoryError | RecursionError):
        return explain_error(error)
    return str(error) or type(error).__name__
