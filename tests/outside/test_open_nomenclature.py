"""Signs of open nomenclature, as taxonomists use them.

P. Bengtson (1988), Open nomenclature, Palaeontology 31: 223–227; M. Sigovini, E. Keppel and D. Tagliapietra (2016), Open Nomenclature in
the biodiversity era, Methods in Ecology and Evolution 7: 1217–1225. What each sign means there is told from memory; the species of the
examples are ours.
"""

from __future__ import annotations

import pytest

from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName, Standing

SIGNS = [
    # cf.: provisional, to be compared: the species, as far as could be seen (Bengtson 3.2; Sigovini, Table 1).
    ("Palomena cf. prasina", "Palomena", "prasina", Standing.UNCERTAIN),
    ("Palomena cf. prasina (Linnaeus, 1761)", "Palomena", "prasina", Standing.UNCERTAIN),
    # A question mark after the epithet or before it: uncertain identification; in records in use beside cf.
    ("Palomena prasina?", "Palomena", "prasina", Standing.UNCERTAIN),
    ("Palomena ? prasina", "Palomena", "prasina", Standing.UNCERTAIN),
    # aff.: near to, and another than the named species (Bengtson 3.1).
    ("Palomena aff. prasina", "Palomena", "prasina", Standing.OTHER),
    ("Palomena nr. prasina", "Palomena", "prasina", Standing.OTHER),
    # sp., spp.: a species, or several, of the genus that is not named; numbers and words after it name nothing that is published.
    ("Palomena sp.", "Palomena", "", Standing.OTHER),
    ("Palomena spp.", "Palomena", "", Standing.OTHER),
    ("Palomena sp. 1", "Palomena", "", Standing.OTHER),
    ("Palomena sp. A", "Palomena", "", Standing.OTHER),
    # sp. nov. stands beside a name that is published with it; gen. et sp. indet.: that it could not be determined.
    ("Palomena sp. indet.", "Palomena", "", Standing.OTHER),
    # Wide senses take in what is not told apart, and are no record of the species in the narrow sense.
    ("Palomena prasina agg.", "Palomena", "prasina", Standing.AGGREGATE),
    ("Palomena prasina s.l.", "Palomena", "prasina", Standing.AGGREGATE),
    ("Palomena prasina sensu lato", "Palomena", "prasina", Standing.AGGREGATE),
    # auct.: in the sense of authors, not of whoever named it.
    ("Palomena prasina auct.", "Palomena", "prasina", Standing.MISAPPLIED),
    ("Palomena prasina sensu auct. non (Linnaeus, 1761)", "Palomena", "prasina", Standing.MISAPPLIED),
    # The narrow sense is the species itself.
    ("Palomena prasina", "Palomena", "prasina", Standing.CERTAIN),
    ("Palomena prasina s.str.", "Palomena", "prasina", Standing.CERTAIN),
    ("Palomena prasina sensu stricto", "Palomena", "prasina", Standing.CERTAIN),
]


@pytest.mark.parametrize(("typed", "genus", "epithet", "standing"), SIGNS)
def test_a_sign_says_what_it_says_to_taxonomists(typed: str, genus: str, epithet: str, standing: Standing) -> None:
    name = parse_name(typed)
    assert isinstance(name, ScientificName), name
    assert (name.genus, name.epithet, name.standing) == (genus, epithet, standing)
