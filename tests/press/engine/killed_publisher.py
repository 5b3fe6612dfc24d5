"""Publishes again and again and is killed each time at another line; prints what was found wrong afterwards.

Run as `python killed_publisher.py FOLDER ROUNDS exchange|rename|few [exit]`.  Each round forks a child that counts executed lines
of the publishing modules and kills itself at one drawn at random (with `exit`: at each line of a run in turn); the parent then
looks at what a reader would see.
"""

import os
import random
import signal
import sys
from pathlib import Path
from types import FrameType

from guidebuild.press.engine import few_files, swap
from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.trees import MANIFEST, OwnList, files_below, read_list

PAGES = [f"accounts/bug-{number}/index.html" for number in range(4)] + ["index.html", "about.html"]
WATCHED = tuple(
    f"press{os.sep}engine{os.sep}{name}.py" for name in ("staging", "swap", "trees", "retire", "few_files", "coming", "durable")
)


def publish(place: Path, version: int) -> None:
    with Staging(place) as staging:
        for page in PAGES:
            staging.add(page, f"{page} of version {version}".encode(), key=f"{page}-{version}")
        # One page of each version is new and goes with the next.
        staging.add(f"news/{version}.html", f"{version}".encode())
        if not staging.keep("same.html", "same"):
            staging.add("same.html", b"never changes", key="same")
        staging.publish()


def die_at(line: int, *, by_exit: bool) -> None:
    left = line

    def trace(frame: FrameType, event: str, argument: object) -> object:
        nonlocal left
        if not frame.f_code.co_filename.endswith(WATCHED):
            return None
        if event == "line":
            left -= 1
            if left <= 0:
                if by_exit:
                    os._exit(9)
                os.kill(os.getpid(), signal.SIGKILL)
        return trace

    sys.settrace(trace)  # type: ignore[arg-type]


def wrong(place: Path, known: range) -> list[str]:
    """What is amiss in the published folder: it must be one whole version, and hold the author's own file."""
    if not place.exists():
        return ["nothing is published"]
    texts = {path: (place / path).read_bytes() for path in files_below(place)}
    if texts.pop("CNAME", b"") != b"hedge.example":
        return ["the author's own file is gone"]
    texts.pop(MANIFEST)
    if (read_list(place) or OwnList()).files != {path: digest_bytes(data) for path, data in texts.items()}:
        return ["the list does not match the files"]
    versions = {texts[page].rsplit(b" ", 1)[1] for page in PAGES}
    if len(versions) != 1 or int(next(iter(versions))) not in known:
        return [f"versions {versions} are mixed"]
    return []


def find_halves(place: Path, version: int) -> list[str]:
    """What is amiss where a few files were just being replaced: each must be whole, the former or the new one, and a note stand."""
    texts = {page: (place / page).read_bytes() for page in PAGES}
    mixed = len({text.rsplit(b" ", 1)[1] for text in texts.values()}) > 1
    noted = (place.parent / ".guidebuild/published-replacing.json").exists()
    half = [page for page, text in texts.items() if not text.startswith(f"{page} of version ".encode())]
    return [f"{half} are not whole in {version}"] * bool(half) + [f"mixed without a note in {version}"] * (mixed and not noted)


def count_mixed(place: Path) -> bool:
    return place.exists() and len({(place / page).read_bytes().rsplit(b" ", 1)[1] for page in PAGES}) > 1


def main(place: Path, rounds: int, *, few: bool, by_exit: bool) -> None:
    draw = random.Random(20260502)
    publish(place, 0)
    (place / "CNAME").write_bytes(b"hedge.example")
    whole, killed, found = 0, 0, []
    mixed = 0
    for version in range(1, rounds + 1):
        # A round runs some 900 lines, more after a kill; the swap and what follows are tried more often.
        line = version if by_exit else draw.randrange(1, 1200) if version % 2 else draw.randrange(500, 1000)
        child = os.fork()
        if child == 0:
            die_at(line, by_exit=by_exit)
            publish(place, version)
            os._exit(0)
        _, status = os.waitpid(child, 0)
        killed += status != 0
        whole += status == 0
        if few:
            found += find_halves(place, version)
            mixed += count_mixed(place)
        if few or not place.exists():
            # Where two renames stand in for an exchange, the next run begins by putting the folder back; a few files, by finishing them.
            with Staging(place):
                pass
        found += wrong(place, range(version + 1))
    publish(place, rounds + 1)
    found += wrong(place, range(rounds + 1, rounds + 2))
    left = sorted(path.name for path in (place.parent / ".guidebuild").iterdir())
    print(killed, whole, mixed, found, left)


if __name__ == "__main__":
    how = sys.argv[3]
    if how == "rename":
        swap.exchange_folders = lambda one, other: False
    if how == "few":
        few_files.MANY = 0
    main(Path(sys.argv[1]), int(sys.argv[2]), few=how == "few", by_exit=sys.argv[4:] == ["exit"])
