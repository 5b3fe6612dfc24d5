"""What is more dangerous among look-alikes is looked for once, however many pages ask."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide import dangers
from guidebuild.guide.accounts import SimilarSpecies, Stated
from tests.fieldwork.invented import account, guide


@dataclass
class Asked:
    """How often something was worked out."""

    times: int = 0


@pytest.fixture
def looked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    asked, own = Asked(), dangers.find_hazards_in

    def count(*given: object) -> tuple[str, ...]:
        asked.times += 1
        return own(*given)  # type: ignore[arg-type]  # handed on as it came

    monkeypatch.setattr(dangers, "find_hazards_in", count)
    return asked


def test_the_pages_of_all_that_name_one_account_do_not_each_ask_of_all_the_others(looked: Asked) -> None:
    ids = [f"bug-{n:03}" for n in range(200)]
    names = Stated((SimilarSpecies(ids[0]),), said=True)
    made = [account(one, "Inventus unus", one, {"adult": "June"}, **({} if one == ids[0] else {"similar": names})) for one in ids]
    published = make_published(guide(*made))
    for one in ids:
        dangers.find_cautions(published, (ids[0], one))
    assert looked.times < 5 * len(ids)
