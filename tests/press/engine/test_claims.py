"""Which paths of former runs have room beside what is published now."""

from __future__ import annotations

from guidebuild.press.engine.claims import Claims


def test_only_paths_with_nothing_in_their_way_are_free() -> None:
    claims = Claims()
    for path in ("cards/a.pdf", "site/Wren.html", "site/plants"):
        claims.claim(path)
    asked = ("cards/a.pdf", "cards", "CARDS", "site/wren.html", "site/plants/gorse.html", "site/PLANTS/gorse.html", "cards/b.pdf")
    assert list(claims.find_free(asked)) == ["cards/b.pdf"]


def test_what_is_claimed_meanwhile_is_not_free() -> None:
    claims, found = Claims(), []
    for path in claims.find_free(("site/wren.html", "site/Wren.html", "site/finch.html")):
        claims.claim(path)
        found.append(path)
    assert found == ["site/wren.html", "site/finch.html"]
