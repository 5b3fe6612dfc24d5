"""Countries by their two letters."""

from __future__ import annotations

import pytest

from guidebuild.guide.problem import Unreadable
from guidebuild.reading.countries import country_codes, parse_country


def test_all_codes_of_the_standard_are_known_and_no_others() -> None:
    # ISO 3166-1 assigns 249 codes (from memory); the others here are reserved, or CLDR's own.
    assert len(country_codes()) == 249
    assert not {"UK", "EU", "XK", "ZZ", "UN", "IC"} & country_codes().keys()
    assert {"AQ", "BQ", "CW", "GB", "GG", "NA", "NO", "SS", "TL", "XA"} - country_codes().keys() == {"XA"}


@pytest.mark.parametrize(("typed", "code"), [("GB", "GB"), ("gb", "GB"), (" es ", "ES"), ("No", "NO")])
def test_a_code_is_read_in_any_case(typed: str, code: str) -> None:
    assert parse_country(typed) == code


@pytest.mark.parametrize(("typed", "mend"), [("UK", "GB"), ("Germany", "DE"), ("new zealand", "NZ"), ("GBR", ""), ("XX", ""), ("826", "")])
def test_what_is_no_code_is_told_with_the_one_that_was_meant(typed: str, mend: str) -> None:
    found = parse_country(typed)
    assert isinstance(found, Unreadable)
    assert found.message == f"'{typed}' is not a country's two letters."
    assert found.mend == (f"Write {mend}." if mend else "Write the two letters of ISO 3166-1, such as GB or ES.")
