"""Scientific names as the zoological and botanical Codes write them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import groupby
from operator import itemgetter


@dataclass(frozen=True, slots=True)
class NamePiece:
    """A run of a name; `italic` where the Codes' custom asks for it."""

    text: str
    italic: bool


class Standing(Enum):
    """What a name says of the species it names, by its open nomenclature (Bengtson 1988; Sigovini et al. 2016: from memory)."""

    CERTAIN = "certain"
    UNCERTAIN = "uncertain"
    """`cf.` and `?`: the species, as far as could be seen."""
    OTHER = "another species"
    """`aff.`, `nr.`, `sp.`: near the species or of its genus, and not it."""
    AGGREGATE = "an aggregate"
    """`agg.`, `s.l.`: the species with others that are not told from it."""
    MISAPPLIED = "misapplied"
    """`auct.`: what authors have called so by mistake."""


_STANDINGS = {"cf.": Standing.UNCERTAIN, "?": Standing.UNCERTAIN, "kl.": Standing.CERTAIN}
_MISAPPLIED = re.compile(r"\bauctt?\.")
AGGREGATES = frozenset({"agg.", "s.l.", "s.lat.", "coll.", "complex", "group", "sensu lato"})


@dataclass(frozen=True, slots=True)
class ScientificName:
    """One scientific name, taken apart.

    `hybrid` is "" , "genus", "species" or "formula"; a formula has `parents` and no epithet of its own. `rank` is the rank
    word before `infraspecific` ("subsp.", "var."; empty in zoology), or that of an aggregate ("agg."). `qualifier` ("cf.",
    "aff.", "sp.", "spp.", "?") is never part of the name; `kl.` stands there too, which says that the species is a
    klepton. `authority` is byte for byte as typed, with its parentheses. `typed` is the whole as typed.
    """

    typed: str
    genus: str
    epithet: str = ""
    subgenus: str = ""
    rank: str = ""
    infraspecific: str = ""
    authority: str = ""
    qualifier: str = ""
    hybrid: str = ""
    parents: tuple[ScientificName, ...] = ()
    species_authority: str = ""  # an author between the epithet and a rank word: Galium verum L. subsp. verum

    @property
    def standing(self) -> Standing:
        """Whether the name says this very species for certain."""
        if self.qualifier and self.qualifier != "kl.":
            return _STANDINGS.get(self.qualifier, Standing.OTHER)
        if _MISAPPLIED.search(self.authority):
            return Standing.MISAPPLIED
        return Standing.AGGREGATE if self.rank in AGGREGATES else Standing.CERTAIN

    @property
    def plain(self) -> str:
        """The name without authority, hybrid sign ×, single spaces: what is compared and linked."""
        return "".join([text for text, _ in self._runs(authority=False)])

    @property
    def sort_key(self) -> str:
        """For alphabetical order: hybrid signs do not count."""
        return self.plain.replace("×", "").replace("  ", " ").strip().casefold()

    def pieces(self, *, authority: bool = True) -> tuple[NamePiece, ...]:
        """The name as runs of italic and upright text."""
        return _joined(self._runs(authority=authority))

    def _runs(self, *, authority: bool) -> Iterator[tuple[str, bool]]:
        """Each part of the name, with the space before it, and whether it is italic."""
        if self.hybrid == "formula":
            for number, parent in enumerate(self.parents):
                if number:
                    yield " × ", False
                yield from parent._runs(authority=authority)
            return
        if self.hybrid == "genus":
            yield "×", False
        yield self.genus, True
        if self.subgenus:
            yield f" ({self.subgenus})", True
        if self.qualifier:
            yield f" {self.qualifier}", False
        if self.hybrid == "species":
            yield " ×", False
        if self.epithet:
            yield ("" if self.hybrid == "species" else " ") + self.epithet, True
        if authority and self.species_authority:
            yield f" {self.species_authority}", False
        if self.rank:
            yield f" {self.rank}", False
        if self.infraspecific:
            yield f" {self.infraspecific}", True
        if authority and self.authority:
            yield f" {self.authority}", False


def _joined(runs: Iterator[tuple[str, bool]]) -> tuple[NamePiece, ...]:
    """Neighbours of one kind as one run: genus and epithet stand in italics together, space and all."""
    return tuple(NamePiece("".join([text for text, _ in run]), italic) for italic, run in groupby(runs, key=itemgetter(1)))
