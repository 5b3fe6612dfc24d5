"""Licences against SPDX, as the library license-expression carries its list."""

from __future__ import annotations

import pytest
from license_expression import get_spdx_licensing

from guidebuild.guide.licence_text import licence_id
from guidebuild.reading.shipped_lists import licences

# Words of our own for pictures that are under no open licence.
OUR_OWN = {"all-rights-reserved", "used-by-permission"}


def test_every_shipped_id_is_spdx_or_our_own() -> None:
    known = get_spdx_licensing()
    assert {key for key in licences() if known.unknown_license_keys(key)} == OUR_OWN


@pytest.mark.parametrize("key", [k for k in licences() if k.startswith("CC-BY")])
def test_creative_commons_ids_say_what_they_allow(key: str) -> None:
    licence = licences()[key]
    assert licence.attribution
    assert licence.commercial == ("-NC" not in key)
    assert licence.derivatives == ("-ND" not in key)
    code, version = key.removeprefix("CC-").rsplit("-", 1)
    path = "by-nd-nc" if key == "CC-BY-NC-ND-1.0" else code.lower()  # that one deed has its letters the other way round
    assert licence.address == f"https://creativecommons.org/licenses/{path}/{version}/"


@pytest.mark.parametrize("version", ["1.0", "2.0", "2.5", "3.0", "4.0"])
def test_every_version_of_the_six_licences_is_known(version: str) -> None:
    for code in ("BY", "BY-SA", "BY-NC", "BY-NC-SA", "BY-ND", "BY-NC-ND"):
        assert f"CC-{code}-{version}" in licences()


@pytest.mark.parametrize("key", list(licences()))
def test_a_licence_is_understood_as_its_id_its_title_and_its_address(key: str) -> None:
    licence = licences()[key]
    for typed in (key, key.lower(), key.replace("-", " "), key.replace("-", "_"), licence.title.removesuffix(" of the copyright holder")):
        if typed.startswith(("CC PDM", "cc-pdm", "CC_PDM", "Public", "Open", "ogl", "OGL_")):
            continue  # names of which only the id is written
        assert licence_id(typed) == key, typed
    if "creativecommons.org" in licence.address:
        for address in (
            licence.address,
            licence.address.rstrip("/"),
            f"{licence.address}deed.en",
            licence.address.replace("https", "http"),
        ):
            assert licence_id(address) == key


def test_public_domain_marks_need_no_credit() -> None:
    assert [licences()[key].attribution for key in ("CC0-1.0", "CC-PDM-1.0")] == [False, False]
