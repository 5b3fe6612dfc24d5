"""Spanish as it is spoken: figures and short forms in words, and syllables (words, and rules of school grammar, from memory)."""

from __future__ import annotations

import pytest

from guidebuild.speech.language import list_languages
from guidebuild.speech.spoken import say_text
from guidebuild.speech.syllables import count_syllables


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Tamaño: 6–9 mm.", "Tamaño: seis a nueve milímetros."),
        ("de 6,5 a 9 mm", "de seis coma cinco a nueve milímetros"),
        ("1 mm, 21 mm, 31 cm", "un milímetro, veintiún milímetros, treinta y un centímetros"),
        ("1 ha y 21 ha", "una hectárea y veintiuna hectáreas"),
        ("1 a 1,1 g", "uno a uno coma uno gramos"),
        ("a 1.250 m", "a mil doscientos cincuenta metros"),
        ("CC BY 4.0", "C C BY cuatro coma cero"),
        ("3 × 4 mm", "tres por cuatro milímetros"),
        ("(5–)6–9(–10) mm", "seis a nueve, rara vez cinco o diez milímetros"),
        ("el 14 de junio de 2026", "el catorce de junio de dos mil veintiséis"),
        ("visto el 2026-06-01", "visto el uno de junio de dos mil veintiséis"),
        ("junio–agosto", "junio a agosto"),
        ("Mayo–principios de junio.", "Mayo a principios de junio."),
        ("50 % a 20 °C", "cincuenta por ciento a veinte grados Celsius"),
        ("ca. 9 mm, p. ej. aquí", "aproximadamente nueve milímetros, por ejemplo aquí"),
        ("el 2.º par, la 3ª pata", "el segundo par, la tercero pata"),
        ("Ni el mar ni la mar, en mayo o en mar", "Ni el mar ni la mar, en mayo o en mar"),
    ],
)
def test_figures_and_short_forms_are_said_in_words(written: str, said: str) -> None:
    assert say_text(written, code="es-ES") == said


SYLLABLES = {
    "aire": 2, "ahora": 3, "seis": 1, "nueve": 2, "milímetros": 4, "caoba": 3, "construían": 4, "muy": 1, "buey": 1, "rey": 1,
    "yema": 2, "mayo": 2, "leía": 3, "guinda": 2, "pingüino": 3, "queso": 2, "ciudad": 2, "río": 2, "cuidado": 3, "huevo": 2, "hay": 1,
    "país": 2, "oía": 3, "hoja": 2, "baúl": 2, "viuda": 2, "antena": 3, "y": 1, "agua": 2, "idea": 3, "teoría": 4, "leyes": 2,
}  # fmt: skip


@pytest.mark.parametrize("word", SYLLABLES)
def test_syllables_are_counted_as_school_grammar_does(word: str) -> None:
    assert count_syllables(word, code="es") == SYLLABLES[word]


def test_there_are_tables_of_these_languages() -> None:
    assert list_languages() == ("en", "es")
