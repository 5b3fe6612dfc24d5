"""Read first by every Python that a test starts while mutants are tried (its folder is on PYTHONPATH then): see `elsewhere.py`."""

import os
import sys
from pathlib import Path

if os.environ.get("COVERAGE_PROCESS_START"):
    import coverage

    coverage.process_startup()
if os.environ.get("GUIDEBUILD_CHANGED"):
    sys.path.insert(0, str(Path(__file__).resolve().parents[3]))
    from tests.mutants.changed_module import put_in_here

    put_in_here(Path(os.environ["GUIDEBUILD_CHANGED"]))
    del sys.path[0]
