"""The floor of the benchmarks: a bare script with the same libraries, as short as such work can be.

`python floor.py yaml FOLDER` only loads every facts block with PyYAML's C loader.  `python floor.py site FOLDER OUT` loads
them, turns every section into HTML, renders one template an account, and makes the same copies of the same pictures.  No
checks, no references, no lists, no comparisons, no store: nothing that an author would want is done here.
"""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path

import yaml
from jinja2 import Environment
from markdown import Markdown
from PIL import Image

WIDTHS = (360, 720, 1280)
TEMPLATE = """<!doctype html><html lang="en"><title>{{ facts.vernacular }}</title><h1>{{ facts.vernacular }}</h1><p><i>{{ facts.name }}</i>
<ol>{% for mark in facts.diagnostics %}<li>{{ mark.mark }}{% endfor %}</ol><dl>
{% for key, value in facts.items() %}<dt>{{ key }}<dd>{{ value }}{% endfor %}</dl>
{% for section in sections %}<section>{{ section | safe }}</section>{% endfor %}
{% for photo in facts.photos %}<img src="../photos/{{ photo }}-720.jpg" alt="">{% endfor %}</html>"""


def load(folder: Path) -> list[tuple[Path, dict[str, object], str]]:
    """Every account's facts and prose."""
    read = []
    for path in sorted(folder.glob("accounts/*.md")):
        _, facts, prose = path.read_text("utf-8").split("---\n", 2)
        read.append((path, yaml.load(facts, Loader=yaml.CSafeLoader), prose))
    for path in folder.glob("*.yaml"):
        yaml.load(path.read_text("utf-8"), Loader=yaml.CSafeLoader)
    return read


def site(folder: Path, out: Path) -> None:
    """One page an account, and the pictures."""
    (out / "accounts").mkdir(parents=True)
    (out / "photos").mkdir()
    template = Environment(autoescape=True).from_string(TEMPLATE)
    converter = Markdown(extensions=["tables", "sane_lists", "footnotes", "md_in_html"])
    for path, facts, prose in load(folder):
        sections = [converter.reset().convert(part) for part in re.split(r"^## ", prose, flags=re.MULTILINE)]
        page = template.render(facts=facts, sections=sections)
        (out / "accounts" / f"{path.stem}.html").write_text(page, encoding="utf-8")
    for path in sorted(folder.glob("photos/*.jpg")):
        picture(path, out / "photos")


def picture(path: Path, out: Path) -> None:
    """The copies of one picture in the widths, formats and settings of the published site."""
    original = Image.open(io.BytesIO(path.read_bytes()))
    original.draft("RGB", (max(WIDTHS), 1))  # no more is decoded than the largest copy needs
    original = original.convert("RGB")
    for width in sorted({min(wanted, original.width) for wanted in WIDTHS}):
        copy = original.resize((width, round(original.height * width / original.width)), Image.Resampling.LANCZOS)
        copy.save(out / f"{path.stem}-{width}.webp", quality=76, method=2)
        if width == 720:
            copy.save(out / f"{path.stem}-{width}.jpg", quality=80, progressive=True, optimize=True)


if __name__ == "__main__":
    if sys.argv[1] == "yaml":
        load(Path(sys.argv[2]))
    else:
        site(Path(sys.argv[2]), Path(sys.argv[3]))
