"""Names in bytes that are read two by two: what is passed over unread could hold no name."""

import random

import pytest

from guidebuild.fieldwork.hidden_words import read_bytes
from guidebuild.fieldwork.name_finder import NameFinder

CONTENT = b"".join(b"q 1 0 0 1 %d 34.5 cm BT /F1 12 Tf <%04x> Tj ET Q\n" % (n, n * 37) for n in range(400))


def found(finder: NameFinder, content: bytes) -> bool:
    return any(finder.find(read_bytes(content, finder.may_be_in_pairs)))


@pytest.mark.parametrize("name", ["北中", "สวนหลวง", "वनकोना", "ⁿ⁴ⁱ⁷⁹"])
@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_name_of_any_script_is_found_though_all_its_bytes_are_ascii(name: str, encoding: str) -> None:
    assert name.encode(encoding).isascii()
    assert found(NameFinder(((0, name),)), name.encode(encoding))
    assert found(NameFinder(((0, "Withy Corner"), (1, name))), name.encode(encoding) + CONTENT)


def test_readings_without_the_letters_of_a_name_are_left_out() -> None:
    finder = NameFinder(((0, "Withy Corner"),))
    assert len(read_bytes(CONTENT, finder.may_be_in_pairs)) < len(read_bytes(CONTENT)) / 2
    assert found(finder, CONTENT + b"Withy Corner")
    assert found(finder, CONTENT + b"\0" + "Withy Corner".encode("utf-16-le"))


def test_what_is_left_out_changes_nothing_that_is_found() -> None:
    rng = random.Random(5)
    names = ["n40", "mm 20", "hpa", "北中", "北 hpa"]
    finder = NameFinder(tuple(enumerate(names)))
    signs = "⁰⁴ⁿⁱ㍱㎜㍰北中、々㐀≠∈\u2020"
    for _ in range(3000):
        text = "".join(rng.choice(signs) for _ in range(rng.randint(1, 9)))
        content = text.encode("utf-16-le")
        assert sorted(finder.find(read_bytes(content, finder.may_be_in_pairs))) == sorted(finder.find(read_bytes(content)))
