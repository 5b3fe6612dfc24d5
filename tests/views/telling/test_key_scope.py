"""The key says whom it is for: several of a stage in English, the stage alone in a language that has no words for several."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.identify.readings import Scope
from guidebuild.views.telling.key import key_view
from tests.guides.said_prints import read_published
from tests.guides.whole_guides import copy_guide

SAMPLE = Path(__file__).parents[3] / "sample_guide"


@pytest.mark.parametrize(("language", "scope"), [("en", "adults"), ("es", "adulto")])
def test_the_key_of_the_sample_is_for_adults(language: str, scope: str) -> None:
    assert key_view(read_published(SAMPLE), language).scope == scope


def test_a_key_in_plumage_is_for_birds_in_it(tmp_path: Path) -> None:
    waders = read_published(copy_guide("estuary-waders", tmp_path))
    assert key_view(waders).scope == "birds in winter plumage"
    assert key_view(waders, scope=Scope("juvenile", "male")).scope == "male juveniles"
