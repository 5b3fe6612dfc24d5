"""What a run of publishing knows of its files before it ends: which stand, which stay, and with which bytes."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.trees import read_list
from tests.press.engine.staged import publish, texts

OLD = {"site/a.html": "a", "site/b.html": "b", "cards/c.pdf": "c", "siteplan.html": "plan"}


def test_a_run_reads_what_it_added_and_what_stood_before(place: Path) -> None:
    publish(place, OLD)
    with Staging(place) as staging:
        staging.add("site/a.html", b"anew", key="anew")
        assert staging.keep("site/b.html", "b")
        assert staging.read_standing("site/a.html") == b"anew"
        assert staging.read_standing("site/b.html") == b"b"
        assert staging.read_standing("cards/c.pdf") == b"c"  # neither kept nor made yet
        assert staging.read_standing("site/none.html") is None
        (place / "notes.txt").write_text("the author's own")
        assert staging.read_standing("notes.txt") is None
        (place / "cards/c.pdf").unlink()
        assert staging.read_standing("cards/c.pdf") is None
        assert staging.standing("site/a.html").read_bytes() == b"anew"
        assert staging.standing("site/b.html") == place / "site/b.html"
        assert (set(staging.added_paths()), set(staging.kept_paths())) == ({"site/a.html"}, {"site/b.html"})
        assert [staging.digest_of(path) for path in ("site/a.html", "site/b.html", "cards/c.pdf")] == [
            digest_bytes(b"anew"),
            digest_bytes(b"b"),
            None,
        ]
        assert list(staging.digests_below("site").items()) == [("site/a.html", digest_bytes(b"anew")), ("site/b.html", digest_bytes(b"b"))]


def kept_in(place: Path) -> Mapping[str, str] | None:
    """The accounts that the list in a published folder names as kept, each with its day."""
    listed = read_list(place)
    return listed.kept if listed else None


def test_accounts_that_stayed_as_they_were_are_remembered_with_their_day(place: Path) -> None:
    with Staging(place) as staging:
        staging.add("site/a.html", b"a")
        staging.publish({"toad": "2026-05-02"})
    assert kept_in(place) == {"toad": "2026-05-02"}
    with Staging(place) as staging:
        assert staging.keep_below("site") == 1
        # The list changes though no file does.
        staging.publish()
    assert kept_in(place) == {}


def test_what_is_not_made_any_more_can_stay_and_be_let_go(place: Path) -> None:
    publish(place, OLD)
    (place / "site/b.html").write_text("touched")
    with Staging(place) as staging:
        staging.add("site/new.html", b"new")
        staging.let_stay("site")
        assert staging.stayed_paths() == ("site/a.html", "site/b.html")
        assert staging.digest_of("site/a.html") == digest_bytes(b"a")
        assert staging.digest_of("site/b.html") == digest_bytes(b"touched")
        staging.let_go(["site/a.html"])
        assert staging.stayed_paths() == ("site/b.html",)
        outcome = staging.publish()
    assert outcome.removed == ("cards/c.pdf", "site/a.html", "siteplan.html")
    assert texts(place) == {"site/new.html": "new", "site/b.html": "touched"}
    with Staging(place) as staging:
        assert not staging.keep("site/b.html", "b")  # it stands under no key any more
        assert staging.keep_below("site/") == 2


def test_what_stays_does_not_stand_in_the_way_of_what_is_made(place: Path) -> None:
    publish(place, {"site/toad": "a file", "site/frog/index.html": "frog"})
    with Staging(place) as staging:
        staging.add("site/toad/index.html", b"a folder now")
        staging.let_stay("site")
        assert staging.stayed_paths() == ("site/frog/index.html",)
        staging.publish()
    assert texts(place) == {"site/toad/index.html": "a folder now", "site/frog/index.html": "frog"}


def test_a_part_is_whole_only_where_every_file_stands_as_it_was_left(place: Path) -> None:
    with Staging(place) as staging:
        assert not staging.is_intact()
    publish(place, OLD)
    with Staging(place) as staging:
        assert staging.is_intact()
    (place / "cards/c.pdf").write_text("touched")
    with Staging(place) as staging:
        assert not staging.is_intact()
        assert not staging.keep_all(["site/a.html", "cards/c.pdf"], "a")
        assert not staging.keep_all([], "a")
        assert staging.keep_all(["site/a.html"], "a")
        assert not staging.keep_all(["site/b.html"], "a")
    with Staging(place, anew=True) as staging:
        assert not staging.is_intact()
        assert not staging.keep("site/a.html", "a")
