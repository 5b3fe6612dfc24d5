"""Scientific names against the examples that the Codes print."""

from __future__ import annotations

import pytest

from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable


def taken_apart(text: str) -> tuple[str, ...]:
    name = parse_name(text)
    assert isinstance(name, ScientificName), name
    return name.genus, name.subgenus, name.epithet, name.rank, name.infraspecific, name.authority


# International Code of Zoological Nomenclature, 4th edition (code.iczn.org); the article stands beside each.
ICZN = [
    ("Limax ater Linnaeus, 1758", ("Limax", "", "ater", "", "", "Linnaeus, 1758")),  # 51.3
    ("Arion ater (Linnaeus, 1758)", ("Arion", "", "ater", "", "", "(Linnaeus, 1758)")),  # 51.3
    ('Ctenotus alacer Storr, 1970 ("1969")', ("Ctenotus", "", "alacer", "", "", 'Storr, 1970 ("1969")')),  # Rec. 22A.2.3
    ('Anomalopus truncatus (Peters, 1876 ["1877"])', ("Anomalopus", "", "truncatus", "", "", '(Peters, 1876 ["1877"])')),  # same
    ("Cancer pagurus Linnaeus sensu Latreille", ("Cancer", "", "pagurus", "", "", "Linnaeus sensu Latreille")),  # 51.2.1
    ("Ornithoptera (priamus) lydius", ("Ornithoptera", "priamus", "lydius", "", "", "")),  # 6.2, aggregate of species
]

# International Code of Nomenclature for algae, fungi, and plants (articles 24, H.3, 49 as printed in its editions).
ICN = [
    ("Saxifraga aizoon subf. surculosa Engl. & Irmsch.", ("Saxifraga", "", "aizoon", "subf.", "surculosa", "Engl. & Irmsch.")),  # 24.1
    ("Solanum melongena var. insanum Prain", ("Solanum", "", "melongena", "var.", "insanum", "Prain")),  # 24.1
    ("Salvia grandiflora subsp. willeana Holmboe", ("Salvia", "", "grandiflora", "subsp.", "willeana", "Holmboe")),  # 24.4
    ("Quercus agrifolia var. oxyadenia (Torr.) J.T. Howell", ("Quercus", "", "agrifolia", "var.", "oxyadenia", "(Torr.) J.T. Howell")),
    (
        "Polypodium vulgare nothosubsp. mantoniae (Rothm.) Schidlay",
        ("Polypodium", "", "vulgare", "nothosubsp.", "mantoniae", "(Rothm.) Schidlay"),
    ),
]


@pytest.mark.parametrize(("text", "parts"), ICZN + ICN)
def test_printed_example_is_taken_apart(text: str, parts: tuple[str, ...]) -> None:
    assert taken_apart(text) == parts


def test_autonym_keeps_its_author_after_the_species() -> None:
    # Article 26.1 ICN (printed with Article 24.1 in older editions).
    name = parse_name("Galium verum L. subsp. verum")
    assert isinstance(name, ScientificName)
    assert (name.species_authority, name.authority) == ("L.", "")
    assert "".join(piece.text for piece in name.pieces()) == "Galium verum L. subsp. verum"


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("×Agropogon littoralis (Sm.) C. E. Hubb.", "genus"),
        ("Salix ×capreola Andersson", "species"),
        ("Mentha ×smithiana R. A. Graham", "species"),
        ("Melampsora ×columbiana G. Newc.", "species"),
    ],
)
def test_hybrid_signs_of_article_h3(text: str, kind: str) -> None:
    name = parse_name(text)
    assert isinstance(name, ScientificName)
    assert name.hybrid == kind
    assert [piece.italic for piece in name.pieces() if "×" in piece.text] == [False]
    assert "".join(piece.text for piece in name.pieces()) == text


@pytest.mark.parametrize(
    ("text", "parents"),
    [
        ("Agrostis stolonifera L. × Polypogon monspeliensis (L.) Desf.", 2),
        ("Salix aurita L. × S. caprea L.", 2),
        ("Mentha aquatica L. × M. arvensis L. × M. spicata L.", 3),
    ],
)
def test_formulae_of_article_h2(text: str, parents: int) -> None:
    name = parse_name(text)
    assert isinstance(name, ScientificName)
    assert (name.hybrid, len(name.parents), name.epithet) == ("formula", parents, "")
    assert "".join(piece.text for piece in name.pieces()) == text


def test_a_parent_needs_its_genus() -> None:
    # Article H.2.1 ICN prints this as a wrong formula.
    assert isinstance(parse_name("Kunzea linearis (Kirk) de Lange × robusta de Lange & Toelken"), Unreadable)


@pytest.mark.parametrize(
    ("plain", "qualified"),
    [
        ("Quercus agrifolia", "Quercus aff. agrifolia"),
        ("Quercus agrifolia var. oxyadenia", "Quercus aff. agrifolia var. oxyadenia"),
        ("Rana temporaria", "Rana cf. temporaria"),
    ],
)
def test_qualifiers_are_no_part_of_the_name(plain: str, qualified: str) -> None:
    # Article 5.3 ICZN; the Quercus examples are Darwin Core's for identificationQualifier.
    read, bare = parse_name(qualified), parse_name(plain)
    assert isinstance(read, ScientificName)
    assert isinstance(bare, ScientificName)
    assert (read.genus, read.epithet, read.rank, read.infraspecific) == (bare.genus, bare.epithet, bare.rank, bare.infraspecific)
    assert next(piece.text.strip() for piece in read.pieces() if not piece.italic) == read.qualifier


def test_nothing_stands_between_a_name_and_its_author() -> None:
    # Article 51.2 ICZN: the author follows without any mark of punctuation.
    assert isinstance(parse_name("Limax ater, Linnaeus 1758"), Unreadable)
