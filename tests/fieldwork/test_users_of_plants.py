"""Which accounts use a plant is read out of the guide once, not for each plant anew: many plants times many accounts would be slow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from guidebuild.fieldwork.asked import ask_of
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.asking import Ask, listen
from tests.fieldwork.invented import guide


class Counted(dict[str, object]):
    """Records that count how often all of them are gone through."""

    times = 0

    def values(self) -> Iterator[object]:  # type: ignore[override]  # as a guide's own mapping
        self.times += 1
        return iter(super().values())


def test_all_plants_are_asked_for_at_the_cost_of_one() -> None:
    made = make_published(guide())
    counted = Counted(made.accounts)
    published = replace(made, accounts=counted)
    found = [[account.id for account in published.host_of(plant)] for plant in ("birch", "alder", "birch", "no-such-plant")]
    assert found == [["parent-bug", "birch-bug"], [], ["parent-bug", "birch-bug"], []]
    assert counted.times == 1


def test_each_who_asks_is_taken_to_have_asked_of_the_plants_of_all_accounts() -> None:
    asked = ask_of(make_published(guide()))
    for _ in range(2):  # also who is given what was kept
        _, asks = listen(asked.host_of, "birch")
        assert {Ask("accounts", ident, "host_plants") for ident in asked.accounts} <= asks
