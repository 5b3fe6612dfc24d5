"""Templates that come with a guide can lay out pages and do nothing else."""

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

import pytest

from guidebuild.press.engine.bounds import bounded_time
from guidebuild.press.theme.sandbox import ThemeError, forget_templates, make_environment
from guidebuild.words import Words


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
    return make_environment((theme,)).get_template("card/page.html").render(**values)


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
    assert make_environment((theme, shipped)).get_template("card/back.html").render() == "shipped back of own page"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("<p>\n{{ nmae }}", "theme/card/page.html:2: 'nmae' is undefined"),
        ("<p>\n\n{% if %}", "theme/card/page.html:3: Expected an expression"),
        ("{{ view.nmae }}", "theme/card/page.html:1: 'tests.press.theme.test_sandbox.View object' has no attribute 'nmae'"),
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
    assert make_environment((theme,), (("loud", str.upper),)).get_template("card/loud.html").render() == "A"


DOUBLED = "{% set n = namespace(t='xx') %}{% for i in range(60) %}{% set n.t = STEP %}{% endfor %}"
BLOWN_UP = {
    "a block set twice": DOUBLED.replace(" = STEP %}", " %}{{ n.t }}{{ n.t }}{% endset %}"),
    "a text added to itself": DOUBLED.replace("STEP", "n.t + n.t"),
    "a text replaced by itself": DOUBLED.replace("STEP", "n.t.replace('x', n.t)"),
    "a text filtered into itself": DOUBLED.replace("STEP", "n.t|replace('x', n.t)"),
    "a text joined by itself": DOUBLED.replace("STEP", "n.t.join(['a', n.t])"),
    "a list joined by itself": DOUBLED.replace("STEP", "['a', n.t]|join(n.t)"),
    "a list added to itself": "{% set n = namespace(t=['x']) %}{% for i in range(60) %}{% set n.t = n.t + n.t %}{% endfor %}",
    "a wide field of format": "{{ '{:>9999999999}'.format(1) }}",
    "a wide field within a field": "{{ '{:>{}}'.format(1, 10**10) }}",
    "a wide field of a pattern": "{{ '%9999999999d'|format(1) }}",
    "a width by a star": "{{ '%*d'|format(10**10, 1) }}",
    "a wide middle": "{{ 'x'|center(10**10) }}",
    "a deep indent": "{{ 'x'|indent(10**10, true) }}",
    "a text filled up": "{{ 'x'.ljust(10**10) }}",
    "figures filled up": "{{ 'x'.zfill(10**10) }}",
    "wide tabs": "{{ '\t'.expandtabs(10**10) }}",
    "a row filled up": "{{ [1]|batch(10**9, 'x')|list }}",
    "countless slices": "{{ [1]|slice(10**9)|list }}",
    "powers upon powers": "{{ 9**(9**9) }}",
}


GROWING = "{% set n = namespace(t=['x']) %}{% for i in range(60) %}{% set n.t = STEP %}{% endfor %}"
LISTS_BLOWN_UP = {
    "nested lists printed": GROWING.replace("STEP", "[n.t, n.t]") + "{{ n.t }}",
    "nested lists compared": GROWING.replace("STEP", "[n.t, n.t]") + "{{ n.t == [n.t, n.t] }}",
    "nested lists as JSON": GROWING.replace("STEP", "[n.t, n.t]") + "{{ n.t|tojson }}",
    "nested lists as text": GROWING.replace("STEP", "[n.t, n.t]") + "{{ n.t|string }}",
    "nested lists laid out": GROWING.replace("STEP", "[n.t, n.t]") + "{{ n.t|pprint }}",
    "nested tuples as keys": GROWING.replace("STEP", "(n.t, n.t)") + "{{ {n.t: 1} }}",
    "nested mappings": GROWING.replace("STEP", "{'a': n.t, 'b': n.t}") + "{{ n.t }}",
    "mappings of a call": GROWING.replace("STEP", "dict(a=n.t, b=n.t)") + "{{ n.t }}",
    "rows of a filter": GROWING.replace("STEP", "[n.t]|batch(2, n.t)|list") + "{{ n.t }}",
    "rows of a loop": GROWING.replace("{% set n.t = STEP %}", "{% for r in [n.t]|batch(2, n.t) %}{% set n.t = r %}{% endfor %}")
    + "{{ n.t }}",
    "arguments of a macro": "{% macro m() %}{{ m(varargs, varargs) }}{% endmacro %}{{ m(1, 2) }}",
    "lists in a sum": GROWING.replace("STEP", "[n.t, n.t]|sum(start=[])"),
    "texts in a list": "{% set t = 'x'.ljust(9999).ljust(9999)|replace('x', 'y') %}{{ [t|center(9000)]|batch(9999, t)|list }}",
    "letters as a list": DOUBLED.replace("range(60)", "range(22)").replace("STEP", "n.t + n.t") + "{{ n.t|list|length }}",
    "letters in groups": GROWING.replace("STEP", "n.t|list + n.t|list") + "{{ n.t|groupby('real')|list }}",
    "all that differ": GROWING.replace("STEP", "n.t + n.t") + "{{ n.t|unique|list }}",
    "a long range": "{% set n = namespace(t=range(90000)|list) %}{% for i in range(9) %}{% set n.t = n.t + n.t %}{% endfor %}",
    "a cycler of cyclers": GROWING.replace("STEP", "[cycler(n.t, n.t).next(), n.t]"),
    "tabs of tabs": DOUBLED.replace("'xx'", "'\\t'").replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ n.t.expandtabs(9999) }}",
    "indents of lines": DOUBLED.replace("'xx'", "'\\n'").replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ n.t|indent(9999, true, true) }}",
    "a long text between letters": DOUBLED.replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ 'abcdefghijklmnopqrstuvw'|join(n.t) }}",
    "a range joined": DOUBLED.replace("range(60)", "range(20)").replace("STEP", "n.t + n.t") + "{{ range(9999)|map('string')|join(n.t) }}",
    "a pattern of many fields": DOUBLED.replace("'xx'", "'{0:>9999}'").replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ n.t.format(1) }}",
    "a pattern of the words": DOUBLED.replace("'xx'", "'{a}'").replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ _(n.t, a=n.t) }}",
    "a wide number": "{{ '{x:3000000000d}'.format(x=1) }}",
    "a number squared": "{% set n = namespace(t=99) %}{% for i in range(60) %}{% set n.t = n.t * n.t %}{% endfor %}",
    "a number read": DOUBLED.replace("'xx'", "'f'").replace("range(60)", "range(23)").replace("STEP", "n.t + n.t")
    + "{{ n.t|int(0, 16) // 3 }}",
    "rounding to nowhere": "{{ 1.5|round(10**9, 'ceil') }}",
    "links in a long text": DOUBLED.replace("'xx'", "'www.a.org ('").replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ n.t|urlize }}",
    "tags in a long text": DOUBLED.replace("'xx'", "'<!---->'").replace("range(60)", "range(20)").replace("STEP", "n.t + n.t")
    + "{{ n.t|striptags }}",
}
REFUSED = {
    "letters changed for texts": "{{ 'x'.translate({120: 'y'}) }}",
    "a text as bytes": "{{ 'x'.encode() }}",
    "a day filled up": "{{ day.strftime('%0999999999d') }}",
    "a whole record": "{{ view }}",
    "whole records in a text": "{{ view|string }}",
    "a macro that calls itself": "{% macro m(n) %}{{ m(n) }}{% endmacro %}{{ m(1) }}",
    "a list in itself": "{% set n = namespace(t=[]) %}{% for i in range(3000) %}{% set n.t = [n.t] %}{% endfor %}{{ n.t }}",
}


@pytest.mark.parametrize("attack", LISTS_BLOWN_UP)
def test_lists_numbers_and_patterns_are_never_blown_up(theme: Path, attack: str) -> None:
    with (
        bounded_time(8, in_a_worker=False),
        pytest.raises(ThemeError, match=r"^theme/card/page.html:1: .*(too long|too large|may ask for|numbers only|never ends|without end)"),
    ):
        render(theme, LISTS_BLOWN_UP[attack], _=Words("en"))


@pytest.mark.parametrize("attack", REFUSED)
def test_what_no_page_needs_is_refused(theme: Path, attack: str) -> None:
    told = r"is not for templates|as a whole; name the field|without end|took more than"
    with bounded_time(8, in_a_worker=False), pytest.raises(ThemeError, match=rf"^theme/card/page.html:1: .*({told})"):
        render(theme, REFUSED[attack], view=View(), day=dt.date(2026, 5, 1))


@pytest.mark.parametrize("attack", BLOWN_UP)
def test_little_is_never_blown_up_to_fill_the_memory(theme: Path, attack: str) -> None:
    with pytest.raises(ThemeError, match=r"^theme/card/page.html:1: .*(is too long|is too large|may ask for|numbers only)"):
        render(theme, BLOWN_UP[attack])


def test_what_a_page_needs_of_widths_loops_and_texts_is_free(theme: Path) -> None:
    text = (
        "{{ '%5.2f'|format(1.5) }}{{ '{:>4}'.format(7) }}{{ 'x'|center(3) }}{{ ['a', 'b']|join(', ') }}{{ 'ab'.replace('b', '&') }}"
        "{{ '<i>'|safe ~ '<b>' }}{% for a in 'ab' recursive %}{{ loop.index }}{{ loop.last }}{{ a }}{% endfor %}"
        "{% for n in range(400) if n > 397 %}{{ n }}{% else %}none{% endfor %}{{ [1]|batch(3, 0)|list }}"
        "{% set t %}<u>{% endset %}{{ t + t }}"
    )
    assert render(theme, text) == " 1.50   7 x a, ba&amp;<i>&lt;b&gt;1Falsea2Trueb398399[[1, 0, 0]]<u><u>"


def test_each_page_has_its_steps_to_itself(theme: Path) -> None:
    text = "{% for a in range(90000) %}{% endfor %}" * 4
    assert [render(theme, text) for _ in range(2)] == ["", ""]


INSIDE = [
    "{{ _('{w.__class__.__init__.__globals__[os].environ}', w=_) }}",
    "{{ _('{w.language}', w=_) }}",
    "{{ _('{w[0]}', w=[1]) }}",
    "{{ _('{w!r}', w=view) }}",
    "{{ _('{w:>9}', w=1) }}",
    "{{ _('{w:{n}}', w=1, n=10) }}",
    "{{ _('{0}', w=1) }}",
    "{{ _('{}', w=1) }}",
    "{{ _.count('{n.real}', '{n.real}', 2) }}",
    "{% set p = '{w.__' ~ 'class__}' %}{{ _(p, w=_) }}",
]


@pytest.mark.parametrize("attack", INSIDE)
def test_words_fill_in_plain_names_only(theme: Path, attack: str) -> None:
    with pytest.raises(ThemeError, match=r"^theme/card/page.html:1: “\{.*\}” is not a plain name"):
        render(theme, attack, _=Words("en"), view=View())
    assert render(theme, "{{ _('{number} of {limit} {{x}}', number='<1>', limit=2) }}", _=Words("en")) == "&lt;1&gt; of 2 {x}"
