"""What the tool is built on: packages of the lists under .ci/, and under which licences they and what they bundle come.

`python -m tests.supply` prints the table that stands in DEVELOPERS.md, from the metadata of the packages that are installed.
"""

from __future__ import annotations

import re
from collections import defaultdict
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LISTS = tuple(sorted((ROOT / ".ci").glob("*.lock")))
_PINNED = re.compile(r"^([a-z0-9][a-z0-9._-]*)(?:\[[^\]]*\])?==(\S+)", re.MULTILINE)
_SPDX = {
    "Apache Software License": "Apache-2.0",
    "Apache 2.0": "Apache-2.0",
    "Artistic License; GNU General Public License (GPL);"
    " GNU General Public License v2 or later (GPLv2+)": "Artistic-1.0-Perl OR GPL-2.0-or-later",
    "BSD License": "BSD-3-Clause",
    "BSD-3-Clause, Apache-2.0, dependency licenses": "BSD-3-Clause AND Apache-2.0",
    "GNU General Public License v2 or later (GPLv2+); GNU Lesser General Public License v2 or later (LGPLv2+);"
    " Mozilla Public License 1.1 (MPL 1.1)": "GPL-2.0-or-later OR LGPL-2.1-or-later OR MPL-1.1",
    "GNU Lesser General Public License v3 (LGPLv3)": "LGPL-3.0-only",
    "GNU Library or Lesser General Public License (LGPL)": "LGPL-2.1-or-later",
    "MIT License": "MIT",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
    "Python Software Foundation License": "PSF-2.0",
    "SIL Open Font License 1.1 (OFL-1.1)": "OFL-1.1",
}
"""What packages say in older ways, as SPDX says it."""
BUNDLED = {
    "lxml": "libxml2, libxslt (MIT)",
    "numpy": "OpenBLAS (BSD), LAPACK (BSD), libgfortran and libquadmath (GPL with the runtime library exception, LGPL)",
    "pi-heif": "libheif, libde265 (LGPL-3.0): decoders only",
    "pikepdf": "qpdf (Apache-2.0), libjpeg-turbo (IJG, BSD)",
    "pillow": "libavif (BSD) with its decoders and encoder, libjpeg-turbo, FreeType (FTL), HarfBuzz (MIT), Little CMS (MIT), "
    "OpenJPEG (BSD), libpng, libtiff, libwebp (BSD), brotli (MIT), zstd (BSD), xz (0BSD), libXau and libxcb (MIT)",
    "pyproj": "PROJ (MIT) with its data, libcurl (curl), nghttp2 (MIT), SQLite (public domain), libtiff",
    "shapely": "GEOS (LGPL-2.1)",
    "pypdfium2": "PDFium (BSD-3-Clause, Apache-2.0) with FreeType, libjpeg-turbo, OpenJPEG, ICU and others of its own list",
}
"""Libraries in other languages that wheels for Linux carry, by what the wheels hold (their `.libs` folders and licence files)."""


def pinned(lock: Path) -> dict[str, str]:
    """Version by name of each package in a list."""
    return dict(_PINNED.findall(lock.read_text(encoding="utf-8")))


def licence_of(name: str) -> str | None:
    """The licence that a package states, in SPDX's words; None where it is not installed, as on another system."""
    try:
        said = metadata(name)
    except PackageNotFoundError:
        return None
    old = "; ".join(line.rpartition(" :: ")[2] for line in said.get_all("Classifier") or () if line.startswith("License"))
    stated = said.get("License-Expression") or old or (said.get("License") or "").split("\n")[0]
    return _SPDX.get(stated, stated)


def licence_table() -> str:
    """The table of DEVELOPERS.md."""
    by_licence: dict[str, list[str]] = defaultdict(list)
    for name in pinned(ROOT / ".ci/guide.lock"):
        licence = licence_of(name)
        if licence is not None:
            by_licence[licence].append(name)
    rows = [f"| {licence} | {', '.join(sorted(names))} |" for licence, names in sorted(by_licence.items())]
    carried = [f"| {name} | {what} |" for name, what in sorted(BUNDLED.items())]
    return "\n".join(["| licence | packages |", "|---|---|", *rows, "", "| wheel | carries |", "|---|---|", *carried])


if __name__ == "__main__":
    print(licence_table())
