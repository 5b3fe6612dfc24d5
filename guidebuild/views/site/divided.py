"""Lists that are too long for one page: a page that leads on, and the parts it leads to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.ids import make_id
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.facts import head_plant_list
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.site.lists import HeadedList, ListPage, by_family, make_entry

MOST_IN_LIST = 300
"""Entries up to which a list stands on one page: with more, a phone waits for a megabyte of which its reader wants a part."""
PLANTS = "plants/index.html"


@dataclass(frozen=True, slots=True)
class ListPart:
    """A part of a divided list: its page, its title, and what it holds."""

    path: str
    title: str
    plants: tuple[str, ...]


def list_accounts(make: PieceMaker, accounts: list[PublicAccount]) -> ListPage:
    """All accounts by family; of many, the families alone, each of which has a page, and the accounts that have none."""
    if len(accounts) <= MOST_IN_LIST:
        return ListPage(by_family(make, accounts))
    numbers: dict[str, int] = {}
    for account in accounts:
        numbers[account.family] = numbers.get(account.family, 0) + 1
    families = [(make.map.family(family), number) for family, number in sorted(numbers.items()) if family]
    links = (LinkView(link.path, link.text, link.name, _count(make, number)) for link, number in families)
    return ListPage(by_family(make, [account for account in accounts if not account.family]), tuple(links))


def divide_plants(make: PieceMaker) -> tuple[ListPart, ...]:
    """The parts of the list of plants, by first letter; none where all stand on one page."""
    guide = make.guide
    if sum(max(len(guide.host_of(plant)), 1) for plant in guide.plants) <= MOST_IN_LIST:
        return ()
    parts: dict[str, list[str]] = {}
    for plant in guide.plants:
        parts.setdefault(make_id(make.map.plant(plant).text, "0")[0], []).append(plant)
    title = make.words(head_plant_list(guide))
    return tuple(ListPart(f"plants/letters/{letter}.html", f"{title}: {letter.upper()}", tuple(parts[letter])) for letter in sorted(parts))


def list_all_plants(make: PieceMaker) -> ListPage:
    """All plants on one page."""
    return ListPage(_gather_plants(make, make.guide.plants))


def list_part(make: PieceMaker, part: ListPart) -> ListPage:
    """A part of the plants, with the way back to the whole."""
    whole = LinkView(make.map.page(PLANTS), make.words(head_plant_list(make.guide)))
    return ListPage(_gather_plants(make, part.plants), (whole,))


def _gather_plants(make: PieceMaker, plants: Iterable[str]) -> tuple[HeadedList, ...]:
    """Plants, each with the accounts that live on it."""
    links = {plant: make.map.plant(plant) for plant in plants}
    groups = [HeadedList(link.text, tuple(make_entry(make, a) for a in make.guide.host_of(plant)), link) for plant, link in links.items()]
    return tuple(sorted(groups, key=lambda group: group.heading.casefold()))


def list_parts(make: PieceMaker, parts: Iterable[ListPart]) -> ListPage:
    """The page that leads to the parts: of each its letter with its first and last plant, and how many species live on them."""
    links = []
    for part in parts:
        names = sorted((make.map.plant(plant).text for plant in part.plants), key=str.casefold)
        species = {account.id for plant in part.plants for account in make.guide.host_of(plant)}
        held = names[0] if len(names) == 1 else f"{names[0]} – {names[-1]}"
        text = f"{part.title.rpartition(': ')[2]}: {held}"  # a letter alone is too small for a finger
        links.append(LinkView(make.map.page(part.path), text, note=_count(make, len(species))))
    return ListPage(links=tuple(links))


def _count(make: PieceMaker, number: int) -> str:
    return make.words.count("{n} species", "{n} species", number)
