"""The wheel of this checkout, and an environment that borrows all but the tool itself."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from tests.conftest import ROOT

_SHIPPED = ("guidebuild", "content", "themes", "sample_guide", "pyproject.toml", "README.md", "LICENSE", "DEVELOPERS.md")


def build_wheel(folder: Path) -> Path:
    """Build the wheel in a folder, of a copy."""
    source = folder / "source"
    source.mkdir()
    for name in _SHIPPED:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("published", ".guidebuild", "__pycache__"))
        else:
            shutil.copy(ROOT / name, source / name)
    command = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "-w", str(folder), str(source)]
    subprocess.run(command, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


def lend_libraries(packages: Path) -> None:
    """Lend an environment our libraries: a path line does so without running the editable install's own path file."""
    lent = [path for path in sys.path if path.endswith("site-packages")]
    (packages / "lent.pth").write_text("\n".join(lent) + "\n", encoding="utf-8")
