"""Scientific names as the zoological and botanical Codes write them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum


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
        return "".join(piece.text for piece in self.pieces(authority=False))

    @property
    def sort_key(self) -> str:
        """For alphabetical order: hybrid signs do not count."""
        return self.plain.replace("×", "").replace("  ", " ").strip().casefold()

    def pieces(self, *, authority: bool = True) -> tuple[NamePiece, ...]:
        """The name as runs of italic and upright text."""
        runs: list[NamePiece] = []
        if self.hybrid == "formula":
            for number, parent in enumerate(self.parents):
                runs += [NamePiece(" × ", italic=False)] if number else []
                runs += parent.pieces(authority=authority)
            return _joined(runs)
        if self.hybrid == "genus":
            runs.append(NamePiece("×", italic=False))
        runs.append(NamePiece(self.genus, italic=True))
        if self.subgenus:
            runs.append(NamePiece(f" ({self.subgenus})", italic=True))
        if self.qualifier:
            runs.append(NamePiece(f" {self.qualifier}", italic=False))
        if self.hybrid == "species":
            runs.append(NamePiece(" ×", italic=False))
        if self.epithet:
            runs.append(NamePiece(("" if self.hybrid == "species" else " ") + self.epithet, italic=True))
        if authority and self.species_authority:
            runs.append(NamePiece(f" {self.species_authority}", italic=False))
        if self.rank:
            runs.append(NamePiece(f" {self.rank}", italic=False))
        if self.infraspecific:
            runs.append(NamePiece(f" {self.infraspecific}", italic=True))
        if authority and self.authority:
            runs.append(NamePiece(f" {self.authority}", italic=False))
        return _joined(runs)


def _joined(runs: list[NamePiece]) -> tuple[NamePiece, ...]:
    """Neighbours of one kind as one run: genus and epithet stand in italics together, space and all."""
    joined: list[NamePiece] = []
    for run in runs:
        if joined and joined[-1].italic == run.italic:
            joined[-1] = NamePiece(joined[-1].text + run.text, run.italic)
        else:
            joined.append(run)
    return tuple(joined)
