"""Which pictures may be sold: by their licence, their maker's word, or as one's own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.sale import list_unsold_photos, make_sellable
from guidebuild.guide.guide import Guide
from guidebuild.reading.shipped_lists import licences
from tests.checks.invented import guide


def with_photo(**changes: object) -> Guide:
    base = guide()
    photo = replace(base.photos["red-bug-adult"], **changes)  # type: ignore[arg-type] # a photo's fields by their names
    settings = replace(base.settings, publisher="Larkfold Hedge Group")
    return replace(base, settings=settings, licences=licences(), photos={**base.photos, "red-bug-adult": photo})


@pytest.mark.parametrize("licence", [*licences(), "something unknown"])
def test_what_forbids_sale_is_left_out(licence: str) -> None:
    """Creative Commons: NC forbids sale, in every version; a picture that is under no open licence is not sold unasked."""
    unsold = "-NC" in licence or licence in {"all-rights-reserved", "used-by-permission", "something unknown"}
    told = list_unsold_photos(with_photo(licence=licence))
    assert told == (("red-bug-adult",) if unsold else ())
    sold = make_sellable(make_published(with_photo(licence=licence)))
    assert ("red-bug-adult" in sold.photos) != unsold
    assert "pale-bug-adult" in sold.photos


@pytest.mark.parametrize("said", [{"permission": "in print, by letter of 2026-02-03"}, {"credit": "Larkfold Hedge Group"}])
def test_permission_and_ones_own_picture_may_be_sold(said: dict[str, str]) -> None:
    assert list_unsold_photos(with_photo(licence="all-rights-reserved", **said)) == ()
    assert list_unsold_photos(with_photo(licence="all-rights-reserved")) == ("red-bug-adult",)
