"""Scientific names as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName, Standing
from guidebuild.guide.problem import Unreadable


def read(text: str, authority: str = "") -> ScientificName:
    name = parse_name(text, authority)
    assert isinstance(name, ScientificName), name
    return name


def italics(name: ScientificName) -> str:
    return "".join(f"[{piece.text}]" if piece.italic else piece.text for piece in name.pieces())


@pytest.mark.parametrize("typed", ["Rana x fictilis", "Rana ×fictilis", "Rana ×  fictilis", "Rana X fictilis", "Rana x  fictilis"])
def test_hybrid_signs_however_typed_are_one_name(typed: str) -> None:
    name = read(typed)
    assert (name.plain, name.hybrid, name.sort_key) == ("Rana ×fictilis", "species", "rana fictilis")
    assert italics(name) == "[Rana] ×[fictilis]"


@pytest.mark.parametrize("typed", ["×Fictirana alba", "x Fictirana alba", "× Fictirana alba", "xFictirana alba"])
def test_hybrid_genus_sorts_by_its_letters(typed: str) -> None:
    name = read(typed)
    assert (name.plain, name.hybrid, name.sort_key) == ("×Fictirana alba", "genus", "fictirana alba")


@pytest.mark.parametrize("typed", ["Salix alba × S. fragilis", "Salix alba x S. fragilis", "Salix alba ×S. fragilis"])
def test_formula_has_two_parents_and_no_epithet(typed: str) -> None:
    name = read(typed)
    assert (name.hybrid, name.epithet, [parent.plain for parent in name.parents]) == ("formula", "", ["Salix alba", "S. fragilis"])
    assert name.plain == "Salix alba × S. fragilis"


def test_a_real_x_is_untouched() -> None:
    assert (read("Oryx xanthops").plain, read("Xanthia xerophila").hybrid) == ("Oryx xanthops", "")


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("Bufo bufo (Linnaeus, 1758)", "[Bufo bufo] (Linnaeus, 1758)"),
        ("Aus bus Müller, 1776", "[Aus bus] Müller, 1776"),
        ("Motacilla alba yarrellii", "[Motacilla alba yarrellii]"),
        ("Primula veris subsp. fictilis", "[Primula veris] subsp.[ fictilis]"),
        ("Rana (Rana) temporaria", "[Rana (Rana) temporaria]"),
        ("Rana cf. temporaria", "[Rana] cf.[ temporaria]"),
        ("Rana sp.", "[Rana] sp."),
        ("Rana sp. A", "[Rana] sp. A"),
        ("Rana spp", "[Rana] spp."),
        ("Taraxacum officinale agg.", "[Taraxacum officinale] agg."),
        ("Bufo", "[Bufo]"),
        ("Polygonia c-album", "[Polygonia c-album]"),
        ("Aus bus de Geer, 1773", "[Aus bus] de Geer, 1773"),
        ("Aus bus L. f.", "[Aus bus] L. f."),
    ],
)
def test_only_the_name_itself_is_italic(typed: str, shown: str) -> None:
    assert italics(read(typed)) == shown


def test_a_capital_in_parentheses_after_the_genus_is_a_subgenus() -> None:
    assert (read("Rana (Rana)").subgenus, read("Rana (Rana)").authority) == ("Rana", "")


def test_authority_given_apart_is_kept_as_typed() -> None:
    assert read("Elasmucha grisea", "(Linnaeus, 1758)").authority == "(Linnaeus, 1758)"
    assert read("Aus bus Müller, 1776", "Müller, 1776").authority == "Müller, 1776"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "empty"),
        ("bufo bufo", "Write Bufo bufo."),
        ("BUFO BUFO", "Write Bufo bufo."),
        ("20 x 25 mm", "not a scientific name"),
        ("10×", "not a scientific name"),
        ("*Bufo bufo*", "Write Bufo bufo;"),
        ("<i>Bufo</i> bufo", "Write Bufo bufo;"),
        ("Bufo bufo (Linnaeus, 1758", "not closed"),
        ("Bufo bufo, Linnaeus 1758", "Write Bufo bufo Linnaeus 1758."),
        ("Motacilla alba yarrellii, Gould", "A comma follows 'yarrellii'"),
        ("Rana x", "Nothing follows"),
        ("Salix alba × fragilis", "Salix alba × Salix fragilis."),
        ("Salix alba × S. fragilis (L.", "not closed"),
        ("Salix alba × R2. fragilis", "×"),
        ("Bufo bufo 1758", "neither a name nor an author"),
    ],
)
def test_what_is_no_name_is_told_with_the_right_one(typed: str, says: str) -> None:
    problem = parse_name(typed)
    assert isinstance(problem, Unreadable)
    assert says in f"{problem.message} {problem.mend}"


@pytest.mark.parametrize(
    ("typed", "standing"),
    [
        ("Pelophylax kl. esculentus", Standing.CERTAIN),
        ("Aus bus s.str.", Standing.CERTAIN),
        ("Aus bus subsp. cus", Standing.CERTAIN),
        ("Aus cf. bus", Standing.UNCERTAIN),
        ("Aus bus?", Standing.UNCERTAIN),
        ("?Aus bus", Standing.UNCERTAIN),
        ("Aus ?bus", Standing.UNCERTAIN),
        ("Aus aff. bus L.", Standing.OTHER),
        ("Aus sp. 1", Standing.OTHER),
        ("Aus spp.", Standing.OTHER),
        ("Aus bus agg.", Standing.AGGREGATE),
        ("Aus bus (Smith, 1900) s.l.", Standing.AGGREGATE),
        ("Aus bus s. lat.", Standing.AGGREGATE),
        ("Aus bus complex", Standing.AGGREGATE),
        ("Aus bus auct.", Standing.MISAPPLIED),
        ("Aus bus sensu auctt. nec Smith", Standing.MISAPPLIED),
    ],
)
def test_open_nomenclature_says_how_sure_a_name_is(typed: str, standing: Standing) -> None:
    assert read(typed).standing is standing


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("Vanessa Cardui", "Vanessa cardui"),
        ("Vanessa Cardui (Linnaeus, 1758)", "Vanessa cardui (Linnaeus, 1758)"),
        ("Bellis Perennis L.", "Bellis perennis L."),
        ("Turdus Merula Linnaeus, 1758", "Turdus merula Linnaeus, 1758"),
        ("Rana Bufo", "Rana bufo"),
    ],
)
def test_an_epithet_with_a_capital_is_told(typed: str, right: str) -> None:
    problem = parse_name(typed)
    assert isinstance(problem, Unreadable)
    assert f"Write {right};" in problem.mend


@pytest.mark.parametrize(
    "typed",
    [
        "Vanessa Fabricius, 1807",
        "Vanessa Fabricius",
        "Quercus L.",
        "Cancer Milne Edwards, 1834",
        "Aus De Geer, 1773",
        "Aus Smith & Jones, 1900",
    ],
)
def test_the_author_of_a_genus_is_no_epithet(typed: str) -> None:
    assert read(typed).epithet == ""


@pytest.mark.parametrize(
    "author", ["d'Orbigny, 1835", "(d’Orbigny, 1835)", "O'Brien, 1900", "'t Hart, 1999", "de l'Isle, 1860", "D'Urville, 1834"]
)
def test_authors_with_an_apostrophe_are_authors(author: str) -> None:
    assert read(f"Aus bus {author}").authority == author


def test_two_different_authors_are_a_problem() -> None:
    assert isinstance(parse_name("Bufo bufo Linnaeus", "Laurenti"), Unreadable)


@given(st.text(max_size=60))
def test_any_text_is_read_or_told(text: str) -> None:
    assert isinstance(parse_name(text), ScientificName | Unreadable)


@given(
    st.lists(st.sampled_from(["Rana", "S.", "alba", "×", "x", "subsp.", "(L.)", "L.", "cf.", "sp.", "agg.", "f.", ",", "de"]), max_size=7)
)
def test_any_order_of_words_is_read_or_told_and_reads_back(words: list[str]) -> None:
    name = parse_name(" ".join(words))
    if isinstance(name, ScientificName) and name.hybrid != "formula":
        again = parse_name("".join(piece.text for piece in name.pieces()))
        assert isinstance(again, ScientificName)
        assert (again.plain, again.authority) == (name.plain, name.authority)
