"""Templates that come with a guide can lay out pages and do nothing else."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from guidebuild.press.sandbox import ThemeError, environment, forget_templates


@dataclass(frozen=True)
class View:
    name: str = "Parent Bug"
    marks: tuple[str, ...] = ("<script>alert(1)</script>", "{{ 7 * 7 }}")


@pytest.fixture
def theme(tmp_path: Path) -> Path:
    folder = tmp_path / "guide" / "theme"
    (folder / "card").mkdir(parents=True)
    (tmp_path / "secret.txt").write_text("secret")
    return folder


def render(theme: Path, text: str, **values: object) -> str:
    (theme / "card" / "page.html").write_text(text, encoding="utf-8")
    forget_templates()
    return environment((theme,)).get_template("card/page.html").render(**values)


def test_values_are_escaped_and_never_run_as_templates(theme: Path) -> None:
    told = render(theme, "{{ view.name }}{% for mark in view.marks %}<li>{{ mark }}{% endfor %}", view=View())
    assert told == "Parent Bug<li>&lt;script&gt;alert(1)&lt;/script&gt;<li>{{ 7 * 7 }}"


@pytest.mark.parametrize(
    "text",
    [
        "{{ view.__class__.__mro__ }}",
        "{{ ''.__class__.__base__.__subclasses__() }}",
        "{{ view.__init__.__globals__ }}",
        "{{ self.__init__.__globals__ }}",
        "{{ cycler.__init__.__globals__.os }}",
        "{{ ''|attr('__class__')|attr('__mro__') }}",
        "{{ '{0.__class__}'.format(view) }}",
        "{{ range(10**9)|list }}",
        "{% for x in range(10**9) %}{% endfor %}",
        "{{ function.__code__ }}",
    ],
)
def test_templates_cannot_reach_pythons_inside(theme: Path, text: str) -> None:
    with pytest.raises(ThemeError, match=r"^theme/card/page.html:1: "):
        render(theme, text, view=View(), function=lambda: None)


def test_templates_cannot_change_what_they_are_given(theme: Path) -> None:
    kept = ["egg"]
    with pytest.raises(ThemeError, match="append"):
        render(theme, "{{ stages.append('nymph') }}", stages=kept)
    assert kept == ["egg"]


@pytest.mark.parametrize(
    "name", ["../../secret.txt", "/etc/hostname", "card/../../../secret.txt", "card/link.txt", "folder/secret.txt", "c:secret"]
)
def test_no_file_outside_the_theme_can_be_included(theme: Path, name: str) -> None:
    (theme / "card" / "link.txt").symlink_to(theme.parent.parent / "secret.txt")
    (theme / "folder").symlink_to(theme.parent.parent)
    with pytest.raises(ThemeError, match="there is no template"):
        render(theme, f'{{% include "{name}" %}}')


def test_the_guides_own_theme_comes_first_and_the_shipped_one_fills_in(theme: Path, tmp_path: Path) -> None:
    shipped = tmp_path / "plate"
    (shipped / "card").mkdir(parents=True)
    (shipped / "card" / "page.html").write_text("shipped page")
    (shipped / "card" / "back.html").write_text('shipped back of {% include "card/page.html" %}')
    (theme / "card" / "page.html").write_text("own page")
    forget_templates()
    assert environment((theme, shipped)).get_template("card/back.html").render() == "shipped back of own page"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("<p>\n{{ nmae }}", "theme/card/page.html:2: 'nmae' is undefined"),
        ("<p>\n\n{% if %}", "theme/card/page.html:3: Expected an expression"),
        ("{{ view.nmae }}", "theme/card/page.html:1: 'tests.press.test_sandbox.View object' has no attribute 'nmae'"),
        ("\n{% include 'gone.html' %}", "theme/card/page.html:2: there is no template “gone.html” in the theme"),
    ],
)
def test_errors_name_file_and_line(theme: Path, text: str, told: str) -> None:
    with pytest.raises(ThemeError) as caught:
        render(theme, text, view=View())
    assert str(caught.value).startswith(told)


def test_filters_are_the_callers_own(theme: Path) -> None:
    (theme / "card" / "loud.html").write_text("{{ 'a'|loud }}")
    forget_templates()
    assert environment((theme,), (("loud", str.upper),)).get_template("card/loud.html").render() == "A"
