"""Licences against SPDX, as the library license-expression carries its list."""

from __future__ import annotations

import pytest
from license_expression import get_spdx_licensing

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
    assert licence.address == f"https://creativecommons.org/licenses/{code.lower()}/{version}/"


def test_public_domain_marks_need_no_credit() -> None:
    assert [licences()[key].attribution for key in ("CC0-1.0", "CC-PDM-1.0")] == [False, False]
