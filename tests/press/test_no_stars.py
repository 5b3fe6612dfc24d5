"""Markdown in any text of a guide is read: no star, bracket or underscore of it stands in any published file.

Every text that is Markdown by the type of its field is planted, so that a new field is looked at as soon as it is declared.
"""

from __future__ import annotations

import datetime as dt
import io
import json
import re
import zipfile
from pathlib import Path

import pypdfium2
import pytest

from guidebuild.guide.guide import Guide
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.guide.texts import find_markdown
from guidebuild.press.engine.progress import Silence
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from guidebuild.session import open_session
from tests.guides.whole_guides import copy_guide
from tests.planted_texts import plant_guide, translate_guide

PLANTED = "*Aus bus* **b** [x](account:deathcap) _u_ 2*3*4 a_b_c 5 * 3"
WORDS = "Aus bus b x u 2*3*4 a_b_c 5 * 3"
# A star that touches a letter, two stars, a link's brackets, an underscore round a word; what is planted as figures and names is none.
SIGN = re.compile(r"(?<=[^\W\d_])\*|\*(?=[^\W\d_])|\*\*|\]\(|\[x|\bx\]|(?<!\w)_u|u_(?!\w)|&#42;|\\\*")
NO_TEXT = frozenset((".css", ".js", ".woff2", ".jpg", ".png", ".webp", ".avif"))
TODAY = dt.date(2026, 11, 28)
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Guide]:
    """A small guide with plants, walks, all prints and a second language, planted."""
    folder = copy_guide("wood-fungi", tmp_path_factory.mktemp("guides"))
    own = open_session(folder).guide
    assert own is not None
    return folder, plant_guide(translate_guide(own), PLANTED)


@pytest.fixture(scope="module")
def files(guide: tuple[Path, Guide]) -> dict[str, str]:
    """The text of every published file that has any, by its path."""
    folder, planted = guide
    made = publish(folder, planted, today=TODAY, progress=Silence(), wishes=Wishes(workers=1))
    assert made.outcome is not None
    assert {problem.what for problem in made.problems} <= {"few-pixels", "left-out"}
    published = folder / "published"
    paths = [path for path in sorted(published.rglob("*")) if path.is_file() and path.suffix not in NO_TEXT]
    return {path.relative_to(published).as_posix(): read_text(path) for path in paths}


def read_text(path: Path) -> str:
    """What a file says; Markdown is read, as whoever opens it does."""
    if path.suffix == ".pdf":
        with pypdfium2.PdfDocument(path) as pdf:
            return "\n".join(page.get_textpage().get_text_range() for page in pdf)
    if path.suffix == ".zip":
        with zipfile.ZipFile(io.BytesIO(path.read_bytes())) as packed:
            return "\n".join(packed.read(name).decode() for name in packed.namelist())
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".json":
        return json.dumps(json.loads(text), ensure_ascii=False)
    return write_plain(text) if path.suffix == ".md" else text.replace("two*three*four", "2*3*4")  # figures as they are heard


def test_every_text_that_is_markdown_is_planted(guide: tuple[Path, Guide]) -> None:
    texts = find_markdown(guide[1])
    assert len(texts) > 200
    assert [text.text for text in texts if PLANTED not in text.text] == []


def test_no_sign_of_markdown_stands_in_any_published_file(files: dict[str, str]) -> None:
    assert {Path(path).suffix for path in files} >= {".html", ".pdf", ".txt", ".vtt", ".srt", ".md", ".ics", ".csv", ".zip", ".json"}
    left = {path: text[max(0, found.start() - 40) : found.end() + 20] for path, text in files.items() if (found := SIGN.search(text))}
    assert left == {}


def test_the_words_are_in_every_output(files: dict[str, str]) -> None:
    said = {path for path, text in files.items() if "Aus bus" in " ".join(text.split())}
    for start in ("site/", "site/es/", "cards/", "scripts/", "posts/", "walks/", "data/"):
        assert [path for path in said if path.startswith(start)], start
    pages = " ".join(" ".join(text.split()) for path, text in files.items() if path.endswith((".txt", ".vtt", ".csv")))
    assert WORDS in pages


@pytest.mark.parametrize("sign", ["*Aus", "bus*", "**b**", "[x]", "](account", "_u_"])
def test_a_sign_as_typed_would_be_found(sign: str) -> None:
    assert sign in PLANTED
    assert SIGN.search(sign)
    assert not SIGN.search(WORDS)
