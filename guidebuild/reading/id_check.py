"""Whether an id, or the name of a file that is one, is written as web addresses ask."""

from __future__ import annotations

from guidebuild.guide.findings import At
from guidebuild.guide.ids import LONGEST_ID, can_name_a_file, is_device, is_id, make_id
from guidebuild.reading.notes import Notes


def check_id(key: str, at: At, what: str, notes: Notes, *, account: str = "") -> bool:
    """Whether an id can be used at all; one that is not as ids should be is a finding."""
    if is_id(key):
        return True
    shown = key if len(key) <= LONGEST_ID else f"{key[:20]}…"
    better = make_id(key, "")
    words, mend = "has other signs than a–z, 0–9 and hyphens", f"Rename it to {better}." if better else ""
    if len(key) > LONGEST_ID:
        words, mend = f"is longer than {LONGEST_ID} signs", "Give it a shorter name."
    elif is_device(key):
        words, mend = "is the name of a device on Windows", f"Rename it, such as {better}."
    notes.add("bad-file-name", f"The {what} '{shown}' {words}.", at, mend=mend, account=account)
    return can_name_a_file(key)
