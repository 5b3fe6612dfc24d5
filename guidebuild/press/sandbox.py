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

from jinja2 import BaseLoader, Environment, StrictUndefined, TemplateNotFound, TemplateSyntaxError
from jinja2.sandbox import ImmutableSandboxedEnvironment

from guidebuild.press.trees import inside

Filter = tuple[str, Callable[..., object]]


class ThemeError(ValueError):
    """A template that cannot be filled in: its file, line and what is wrong, in one sentence."""


@cache
def environment(folders: tuple[Path, ...], filters: tuple[Filter, ...] = ()) -> Environment:
    """Templates of these folders, the guide's own first; compiled once a process.

    Values are escaped, unknown names are errors, and every error is a `ThemeError`.
    """
    made = _ThemeEnvironment(
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


def forget_templates() -> None:
    """Compile templates anew from now on, for a preview whose theme has changed."""
    environment.cache_clear()


class _ThemeLoader(BaseLoader):
    def __init__(self, folders: Sequence[Path]) -> None:
        self.folders = folders

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, None]:
        """Text and place of a template, from the first folder that has it."""
        for folder in self.folders:
            found = inside(folder, template)
            if found is not None and found.is_file():
                return found.read_text(encoding="utf-8"), str(found), None
        raise TemplateNotFound(template)

    def list_templates(self) -> list[str]:
        """Names of all templates that can be loaded."""
        files = (path.relative_to(folder).as_posix() for folder in self.folders for path in folder.rglob("*") if path.is_file())
        return sorted(set(files))


class _ThemeEnvironment(ImmutableSandboxedEnvironment):
    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """As Jinja decides, but at once for what pages ask most: a public field of one of our frozen records."""
        if attr[:1] != "_" and type(obj).__module__.startswith("guidebuild.views.") and is_dataclass(obj):
            return True
        return super().is_safe_attribute(obj, attr, value)

    def handle_exception(self, source: str | None = None) -> NoReturn:
        """Called by Jinja for whatever goes wrong in compiling or filling in; tells where."""
        try:
            super().handle_exception(source)
        except ThemeError:
            raise
        except Exception as error:  # whatever a template does wrong is told in one way
            raise ThemeError(f"{self._place(error)}: {_reason(error)}") from error

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


def _reason(error: Exception) -> str:
    if isinstance(error, TemplateNotFound):
        return f"there is no template “{error.name}” in the theme"
    return str(error) or type(error).__name__
