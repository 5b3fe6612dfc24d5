"""Licences as people write them."""

from __future__ import annotations

import pytest

from guidebuild.guide.licence_text import licence_id, version_of


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("cc-by-4.0", "CC-BY-4.0"),
        ("CC BY 4.0", "CC-BY-4.0"),
        ("CC BY 4", "CC-BY-4.0"),
        ("CC-BY v4.0", "CC-BY-4.0"),
        ("Creative Commons Attribution 4.0 International", "CC-BY-4.0"),
        ("Creative Commons Attribution-NonCommercial-ShareAlike 3.0 Unported", "CC-BY-NC-SA-3.0"),
        ("Attribution-NoDerivs 2.0 Generic", "CC-BY-ND-2.0"),
        ("cc by-sa 2.5", "CC-BY-SA-2.5"),
        ("CC BY-ND-NC 1.0", "CC-BY-NC-ND-1.0"),
        ("cc0", "CC0-1.0"),
        ("CC0 1.0", "CC0-1.0"),
        ("http://creativecommons.org/licenses/by-nc/2.0/", "CC-BY-NC-2.0"),
        ("creativecommons.org/publicdomain/zero/1.0/", "CC0-1.0"),
        ("All rights reserved", "all-rights-reserved"),
        ("used with permission", "used-by-permission"),
    ],
)
def test_a_licence_is_understood_however_it_is_written(typed: str, read: str) -> None:
    assert licence_id(typed) == read


@pytest.mark.parametrize(
    "typed", ["CC BY", "CC-BY-SA", "by permission of Ann", "CC BY-SA-ND 4.0", "CC BY-XX 4.0", "GPL 3.0", "free", "", "4.0"]
)
def test_what_is_no_licence_stays_as_typed(typed: str) -> None:
    assert licence_id(typed) == typed


@pytest.mark.parametrize("version", ["1.0", "2.0", "2.5", "3.0", "4.0"])
def test_a_version_is_never_corrected_to_another(version: str) -> None:
    assert licence_id(f"cc by-nc {version}") == f"CC-BY-NC-{version}"
    assert version_of(f"CC-BY-NC-{version}") == version
