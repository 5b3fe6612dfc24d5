"""Which account a row of sightings is of: its names, however many columns hold them, resolved once for each set of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName, Standing
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.resolve import find_account, fold_name, name_index, names_of
from guidebuild.later import imported_when_used

with imported_when_used():
    from guidebuild.reading import nearest_name

_NOT_IT = {
    Standing.OTHER: "says another species, or no more than the genus, and is not counted",
    Standing.AGGREGATE: "says an aggregate, and the species alone is not counted",
    Standing.MISAPPLIED: "says what was called so by mistake, and is not counted",
}
_KINGDOMS = {
    "Animalia": ("animalia", "animals", "animal", "metazoa"),
    "Plantae": ("plantae", "plants", "plant", "viridiplantae"),
    "Fungi": ("fungi", "fungus"),
}
"""Kingdoms of Darwin Core's examples with other words for them. Others are disputed and decide nothing."""


@dataclass(frozen=True, slots=True)
class Named:
    """The account that names mean ("": none), and whether it is no more than likely.

    `fate` says why a row is not counted, `code` and `message` what the author is told, with its `mend`.
    """

    account: str = ""
    doubtful: bool = False
    fate: str = ""
    code: str = ""
    message: str = ""
    mend: str = ""
    word: str = ""


class NameResolver:
    """Resolves the names of rows against one guide."""

    def __init__(self, guide: Guide) -> None:
        """Gather the names that the guide knows."""
        self._guide = guide
        self._known = {fold_name(name): name for account in guide.accounts.values() for name in names_of(account)}
        self._known_list = list(self._known)

    def resolve(self, cells: Mapping[str, str]) -> Named:
        """The account of a row by its cells: the first name that decides does, and none may contradict it."""
        kingdom = plain_kingdom(cells.get("kingdom", ""))
        names = [*_scientific_names(cells)]
        common = cells.get("vernacularName", "").strip()
        if not names and not common:
            return Named(fate="name missing", code="sighting-name-missing", message="There is no name")
        answers = [self._named(name, kingdom) for name in names or [common]]
        named = next((answer for answer in answers if answer.account or answer.fate != "other species"), answers[0])
        if named.fate == "other species" and names and common:
            by_common = self._named(common, kingdom)
            named = by_common if by_common.account and not _is_other_species(names[0]) else named
        if named.account:
            named = self._right_kingdom(named, kingdom, (names or [common])[0])
        if named.account and names and common:
            named = self._one_species(named, names[0], common)
        return _qualified(named, cells, (names or [common])[0]) if named.account else named

    def _named(self, name: str, kingdom: str) -> Named:
        """The account that one name means, through synonyms and former names."""
        account = self._find(name, kingdom)
        if account is not None:
            return Named(account.id)
        parsed = parse_name(name)
        if not isinstance(parsed, Unreadable):
            account = None if parsed.standing is Standing.MISAPPLIED else self._find(parsed.plain, kingdom)
            if account is None and parsed.standing in _NOT_IT:
                return _not_the_species(name, f"“{name}” {_NOT_IT[parsed.standing]}")
            account = account or self._find(f"{parsed.genus} {parsed.epithet}", kingdom)
            if account is not None:
                return _doubtful(Named(account.id), name) if parsed.standing is Standing.UNCERTAIN else Named(account.id)
        wanted = fold_name(name if isinstance(parsed, Unreadable) else parsed.plain)
        near = nearest_name.find_nearest_name(wanted, self._known_list)
        mend = f"Did you mean “{self._known[near]}”?" if near else ""
        return Named("", False, "other species", "sighting-name-unknown", f"“{name}” is no species of this guide", mend, name)

    def _find(self, wanted: str, kingdom: str) -> Account | None:
        """The account of a name; of several that bear it, the one of the kingdom."""
        found = find_account(self._guide, wanted)
        if found is not None or not kingdom:
            return found
        claims = name_index(self._guide).claims.get(fold_name(wanted), ())
        claimed = [self._guide.accounts[a.id] for a in claims if self._guide.stage_set(a).kingdom == kingdom]
        return claimed[0] if len(claimed) == 1 else None

    def _right_kingdom(self, named: Named, of_row: str, name: str) -> Named:
        """A plant and an animal may bear one name: a row of another kingdom than its account's is not counted."""
        account = self._guide.accounts[named.account]
        of_group = self._guide.stage_set(account).kingdom
        if of_group not in _KINGDOMS or not of_row or of_row == of_group:
            return named
        called = account.vernacular or account.id
        told = f"“{name}” is of the kingdom {of_row} here, {called} is of {of_group}, and the row is not counted"
        return Named(fate="kingdom", code="sighting-kingdom", message=told)

    def _one_species(self, named: Named, name: str, common: str) -> Named:
        """Where the vernacular name is that of another species, nobody knows which of the two was meant."""
        other = find_account(self._guide, common)
        if other is None or other.id == named.account:
            return named
        told = f"“{name}” and “{common}” are two species, and the row is not counted"
        return Named(fate="names differ", code="sighting-names-differ", message=told)


def _scientific_names(cells: Mapping[str, str]) -> Iterator[str]:
    """The scientific names of a row: as given, as accepted, in parts, and as first written down."""
    genus, epithet = cells.get("genus", "").strip(), cells.get("specificEpithet", "").strip()
    parts = f"{genus} {epithet} {cells.get('infraspecificEpithet', '')}".strip() if genus and epithet else ""
    given = [cells.get(term, "").strip() for term in ("scientificName", "acceptedNameUsage", "species")]
    yield from dict.fromkeys(name for name in (*given, parts, cells.get("verbatimScientificName", "").strip()) if name)


def _is_other_species(name: str) -> bool:
    """Whether a text is a binomen that can be read, so that it says a species whatever stands beside it."""
    parsed = parse_name(name)
    return isinstance(parsed, ScientificName) and bool(parsed.epithet)


def _not_the_species(name: str, message: str) -> Named:
    return Named("", False, "name not species", "sighting-name-doubtful", message, "", name)


def _doubtful(named: Named, name: str) -> Named:
    told = f"“{name}” is uncertain, and counts for no season"
    return replace(named, doubtful=True, code="sighting-name-doubtful", message=told, word=name)


def _qualified(named: Named, cells: Mapping[str, str], name: str) -> Named:
    """A name with the doubts that stand in other columns: a qualifier, and the name as it was first written down."""
    first_written = cells.get("verbatimScientificName", "").strip()
    parsed = parse_name(first_written) if first_written else None
    if isinstance(parsed, ScientificName) and parsed.standing is not Standing.CERTAIN:
        if parsed.standing in _NOT_IT:
            return _not_the_species(first_written, f"“{first_written}” {_NOT_IT[parsed.standing]}")
        named = _doubtful(named, first_written)
    qualifier = cells.get("identificationQualifier", "").strip()
    standing = qualifier_standing(qualifier)
    if standing not in _NOT_IT:
        return _doubtful(named, name) if standing is Standing.UNCERTAIN else named
    return _not_the_species(name, f"“{name}” with “{qualifier}” is not the species alone, and is not counted")


def plain_kingdom(text: str) -> str:
    """A cell of `kingdom` as Darwin Core spells it; empty for what is none of the three that groups are told apart by."""
    return next((kingdom for kingdom, words in _KINGDOMS.items() if text.strip().casefold() in words), "")


def qualifier_standing(text: str) -> Standing:
    """What signs of open names in a cell of `identificationQualifier` say of the name beside it: `cf.`, `aff. minor`, `agg.`, `?`."""
    words = text.replace("?", " ? ").split()
    standings = [name.standing for word in words if isinstance(name := parse_name(f"Aus {word} bus"), ScientificName)]
    standings += [name.standing for word in words if isinstance(name := parse_name(f"Aus bus {word}"), ScientificName)]
    return next((standing for standing in standings if standing is not Standing.CERTAIN), Standing.CERTAIN)
