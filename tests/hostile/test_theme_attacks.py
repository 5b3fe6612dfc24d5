"""A theme that comes by mail with the guide and tries to reach Python, the disk, the network, or the whole machine."""

from __future__ import annotations

import io
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path

import pikepdf
import pytest

from guidebuild.cli import exit_code
from guidebuild.shipped import on_disk, themes
from tests.hostile.small_guide import change, write_small

SECRET = "a secret of this machine"
# Each stands in the template of a page of the seasons, on a line of its own, for one page only.
ATTACKS = {
    "the class of a text": "{{ ''.__class__.__mro__ }}",
    "all classes there are": "{{ ''.__class__.__base__.__subclasses__() }}",
    "cycler's globals": "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "joiner's globals": "{{ joiner.__init__.__globals__ }}",
    "namespace's globals": "{{ namespace.__init__.__globals__ }}",
    "lipsum's globals": "{{ lipsum.__globals__['os'] }}",
    "the template's own context": "{{ self._TemplateReference__context }}",
    "the template's own globals": "{{ self.__init__.__globals__ }}",
    "the environment behind the context": "{{ page.__dataclass_fields__.title.__class__.__init__.__globals__ }}",
    "the filter attr": "{{ ''|attr('__class__')|attr('__mro__') }}",
    "the filter attr with a name in pieces": "{{ ''|attr('__cl' ~ 'ass__')|attr('__mro__') }}",
    "the filter attr to format": "{{ ('{0.__class__.__init__.__globals__}'|attr('format'))(page) }}",
    "the filter map to an attribute": "{{ [page]|map(attribute='__class__')|join }}",
    "the filter sum of an attribute": "{{ [page]|sum(attribute='__init__') }}",
    "the filter groupby": "{{ [page]|groupby('__class__.__init__.__globals__')|list }}",
    "square brackets for dots": "{{ page['__class__']['__init__'] }}",
    "format of a text": "{{ '{0.__class__.__init__.__globals__}'.format(page) }}",
    "format of a text kept for later": "{% set f = '{0.__class__.__init__.__globals__}'.format %}{{ f(page) }}",
    "format_map": "{{ '{a.__class__.__init__}'.format_map({'a': page}) }}",
    "format of a safe text": "{{ ('{0.__class__.__init__}'|safe).format(page) }}",
    "percent signs": "{{ '%s' % page }}",
    "the code of a function": "{{ prose.__code__ }}",
    "the closure of a function": "{{ picture.__closure__ }}",
    "the module of a function": "{{ inline.__globals__ }}",
    "a value of the page changed": "{{ page.site.__setattr__('title', 'Mine') }}",
    "a list changed": "{% set l = [1] %}{{ l.append(2) }}",
    "a file of the machine included": "{% include '/etc/passwd' %}",
    "a file above the theme included": "{% include '../../guide.yaml' %}",
    "a file of the machine imported": "{% import 'file:///etc/passwd' as p %}{{ p }}",
    "an endless range": "{{ range(10**9)|list }}",
    "a loop in a loop": "{% for a in range(50000) %}{% for b in range(50000) %}{% endfor %}{% endfor %}",
    "a macro without end": "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
    "a macro that doubles": "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(60) }}",
    "a template that includes itself": "{% include 'site/dekad.html' %}",
    "a text times a number": "{{ 'x' * 10**10 }}",
    "a text doubled again and again": "{% set n = namespace(t='x') %}{% for i in range(60) %}{% set n.t = n.t ~ n.t %}{% endfor %}",
}
PAGES = [f"seasons/{month:02}-{part}.html" for month in range(1, 13) for part in (1, 2, 3)]
FETCHING = """
<link rel="stylesheet" href="https://{host}/a.css"><link rel="stylesheet" href="{secret}">
<link rel="attachment" href="{secret}"><a rel="attachment" href="{secret}">a</a>
<style>@import "https://{host}/b.css"; @import "{secret}"; @import url("../../../secret.txt");
@font-face {{ font-family: Evil; src: url("https://{host}/c.woff2"), url("{secret}") }}
h1 {{ font-family: Evil; background: url("https://{host}/d.png") }}
h1::before {{ content: url("{secret}") }} ul {{ list-style: url("//{host}/e.png") }}
h1::after {{ content: attr(title url) }}</style>
<img src="https://{host}/f.png" alt="a"><img src="{secret}" alt="a"><img src="../../../secret.txt" alt="a">
<img src="pictures/../../../../secret.txt" alt="a"><img src="ftp://{host}/g" alt="a"><img src="gopher://{host}/" alt="a">
<img srcset="https://{host}/h.png 2x" src="data:text/html;base64,PHNjcmlwdD4=" alt="a">
<iframe src="https://{host}/"></iframe><iframe src="{secret}"></iframe>
<object data="{secret}"></object><object data="https://{host}/i.svg"></object><embed src="{secret}">
<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><image href="{secret}" width="5" height="5"/>
<image href="https://{host}/j.png" width="5" height="5"/><use href="https://{host}/k.svg#a"/></svg>
<img src="data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg'%3E%3Cimage href='{secret}'/%3E%3C/svg%3E" alt="a">
<img src="data:image/svg+xml,%3C!DOCTYPE s [%3C!ENTITY x SYSTEM '{secret}'%3E]%3E\
%3Csvg xmlns='http://www.w3.org/2000/svg'%3E%3Ctext%3E%26x;%3C/text%3E%3C/svg%3E" alt="a">
<base href="{secret}/../"><meta http-equiv="refresh" content="0;url=https://{host}/">
"""
IN_STYLE = '@import "https://{host}/l.css";\n@import url("{secret}");\nbody {{ background: url("https://{host}/m.png") }}\n'
IN_PROSE = '<img src="https://{host}/n.png"> <object data="{secret}"></object> <p style="background:url({secret})">a</p>'


@dataclass(frozen=True)
class Attacked:
    """What a make of the guide did and said."""

    code: int
    told: str
    reached_for: list[object]
    published: Path

    def lines(self, page: str) -> list[str]:
        """What was said of a page or card."""
        return [line for line in self.told.splitlines() if line.startswith(f"{page}: ")]


@contextmanager
def listening() -> Iterator[tuple[str, list[object]]]:
    """A host of this machine that nothing may reach for, and whatever did: templates are filled in by other processes than this."""
    reached: list[object] = []
    with socket.create_server(("127.0.0.1", 0)) as listener:
        listener.settimeout(0.05)
        ended = threading.Event()

        def wait() -> None:
            while not ended.is_set():
                with suppress(TimeoutError):
                    connection, address = listener.accept()
                    reached.append(address)
                    connection.close()

        waiting = threading.Thread(target=wait)
        waiting.start()
        try:
            yield f"127.0.0.1:{listener.getsockname()[1]}/evil.example", reached
        finally:
            time.sleep(0.2)
            ended.set()
            waiting.join()


def make(guide: Path, *outputs: str) -> Attacked:
    """Make, and what was said."""
    patch, said = pytest.MonkeyPatch(), io.StringIO()
    with patch.context() as patched:
        patched.setattr("sys.stderr", said)
        code = exit_code(["make", str(guide), *outputs, "--quiet", "--workers", "1"])
    return Attacked(code, said.getvalue(), [], guide / "published")


def one_a_page() -> str:
    """A template in which each page has an attack of its own, one a line."""
    return "\n".join(f'{{% if page.path == "{page}" %}}{text}{{% endif %}}' for page, text in zip(PAGES, ATTACKS.values(), strict=True))


@pytest.fixture(scope="module")
def attacked(tmp_path_factory: pytest.TempPathFactory) -> Attacked:
    """The small guide with a hostile theme and hostile prose, published as far as it goes."""
    folder = tmp_path_factory.mktemp("attacked")
    (folder / "secret.txt").write_text(SECRET)
    secret = (folder / "secret.txt").as_uri()
    guide = write_small(folder / "guide")
    (guide / "theme/site").mkdir(parents=True)
    (guide / "theme/site/dekad.html").write_text(one_a_page(), encoding="utf-8")
    shipped = on_disk(themes().joinpath("plate")) / "cards"
    with listening() as (host, reached):
        (guide / "theme/cards").mkdir()
        card = (shipped / "card.html").read_text("utf-8")
        assert "<main>" in card
        (guide / "theme/cards/card.html").write_text(
            card.replace("<main>", f"<main>{FETCHING.format(secret=secret, host=host)}"), encoding="utf-8"
        )
        (guide / "theme/cards/card.css").write_text(
            IN_STYLE.format(secret=secret, host=host) + (shipped / "card.css").read_text("utf-8"), encoding="utf-8"
        )
        change(guide, "accounts/seven-spot.md", "On nettles.", f"On nettles.\n\n{IN_PROSE.format(secret=secret, host=host)}")
        return replace(make(guide, "site", "cards"), reached_for=reached)


@pytest.mark.parametrize(("attack", "page"), [(attack, page) for attack, page in zip(ATTACKS, PAGES, strict=True)])
def test_a_template_that_reaches_further_is_one_clear_line(attacked: Attacked, attack: str, page: str) -> None:
    (line,) = attacked.lines(f"page {page}")
    assert f"theme/site/dekad.html:{PAGES.index(page) + 1}: " in line, attack
    assert "<class" not in line
    assert not (attacked.published / "site" / page).exists()


def test_a_hostile_theme_costs_only_its_own_pages(attacked: Attacked) -> None:
    assert attacked.code == 1
    assert "Traceback" not in attacked.told
    assert (attacked.published / "site/accounts/seven-spot.html").exists()


def test_one_mistake_in_a_template_is_one_line_that_says_how_many_pages_it_costs(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    (guide / "theme/site").mkdir(parents=True)
    (guide / "theme/site/dekad.html").write_text("<p>\n{{ page.no_such_fact }}</p>", encoding="utf-8")
    made = make(guide, "site")
    (line,) = [line for line in made.told.splitlines() if "dekad.html" in line]
    assert line.startswith(f"page {PAGES[0]} and {len(PAGES) - 1} more: error: the page could not be made (theme/site/dekad.html:2: ")
    assert made.code == 1


def test_nothing_that_a_card_names_is_fetched(attacked: Attacked) -> None:
    assert attacked.reached_for == []


def test_the_host_that_listens_would_notice() -> None:
    with listening() as (host, reached):
        socket.create_connection((host.partition(":")[0], int(host.partition(":")[2].partition("/")[0]))).close()
    assert len(reached) == 1


def test_every_address_out_of_the_guide_is_told_of_the_card(attacked: Attacked) -> None:
    told = "\n".join(attacked.lines("card seven-spot"))
    for piece in "abdfij":
        assert f"evil.example/{piece}" in told, piece
    for kind in ("the image", "the stylesheet", "the font", "a file to attach"):
        assert kind in told
    assert "lies outside the guide" in told
    assert "secret.txt" in told


def test_no_file_of_the_machine_is_in_what_was_made(attacked: Attacked) -> None:
    assert any(attacked.published.rglob("*.pdf"))
    for file in (path for path in attacked.published.rglob("*") if path.is_file()):
        assert SECRET not in inside(file), file
        assert file.suffix != ".html" or "evil.example" not in inside(file), file


def inside(file: Path) -> str:
    """All that a file holds, a PDF's streams and attachments unpacked."""
    data = file.read_bytes()
    if file.suffix != ".pdf":
        return data.decode("latin-1")
    with pikepdf.open(io.BytesIO(data)) as document:
        assert not document.attachments
        streams = [thing.read_raw_bytes() for thing in document.objects if isinstance(thing, pikepdf.Stream)]
        plain = io.BytesIO()
        document.save(plain, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized)
        return (plain.getvalue() + b"".join(streams)).decode("latin-1")
